"""Words of the pick workbook of a week."""

# pick lists
PICK_TITLE = "Pick {order} · {item}"
PICK_COLUMNS = {
    "picked": "Picked",
    "location": "Location",
    "lot": "Lot",
    "use_by": "Use by",
    "component": "Component",
    "description": "Description",
    "serial": "Serial",
    "quantity": "Quantity",
    "unit": "Unit",
    "needed_on": "Needed on",
    "note": "Note",
}
NOTHING_STARTS_IN = "No orders to make, print or pack start in week {week}."
ROUND_SHEET, CART_SHEET = "Round", "Cart list"
ROUND_TITLE, CART_TITLE = "Round: what to bring out", "Cart list: what goes to which order"
ROUND_LOTS = "{count} to bring out"
ROUND_COLUMNS = {
    "day": "Day",
    "location": "Location",
    "item": "Item",
    "description": "Description, lot",
    "bring_out": "Bring out",
    "unit": "Unit",
    "for": "For",
    "picked": "Picked",
    "other_lot": "Other lot",
}
ROUND_NOTE = (
    "By location, lots that expire first going first. For several orders: how much each gets "
    "stands below where it is measured out, else on the cart list, as does what comes in the week "
    "(filled in below, in the workbook)."
)
ROUND_FRAMED = (
    "Framed: how much was picked; if less than all, the first orders on the cart list got it."
)
ROUND_SHARES, ROUND_SHARE = "{item}: {shares}", "{order} {quantity}"
ROUND_ORDERS, ROUND_USE_BY = "{count} orders", "use by {date}"
ROUND_TO_COME = "To come within the week"
CART_COLUMNS = {
    "day": "Day",
    "order": "Plan no.",
    "makes": "Makes",
    "contents": "On its cart",
    "waits": "Waits",
}
CART_BOX, DANGER = "□", "◆"
CART_DANGERS, CART_DANGER = "◆ Dangerous goods: {kinds}.", "{item} {hazard}"
CART_NOTE = (
    "A box for each component, with its number of pieces; what is measured out is named alone: how "
    "much each order gets, and all places, lots and use by dates, stand on the round. Below: what "
    "is not there, ● comes in time, ▲ late. Needed on the order's day unless another one is named. "
    "Primary: primary structure."
)
CART_FRAMED = "Waits: yes where nothing was brought to it."
FURTHER_SHEET = "Further picks"
FURTHER_TITLE = "Picked besides the lists"
FURTHER_COLUMNS = {
    "line": "Line",
    "order": "Plan or order no.",
    "item": "Component",
    "serial": "Serial",
    "location": "Location",
    "lot": "Lot",
    "picked": "Picked",
}
FURTHER_NOTE = (
    "What was picked of a second lot, or from another place than the round names: a line each. "
    "Serial: only of what is kept for one aircraft."
)
CART_MAKES = "{quantity}{unit} {item}, {description}"
CART_TO_COME = "{when}: {parts}"
CART_PART, CART_PIECES = "{quantity} {unit} {item}", "{quantity} {item}"
CART_LOT, CART_USE_BY = "lot {lot}", "use by {date}"
NEEDED_ON = "for {date}"
OF_SERIAL = "{item} {serial}"

# pick sheets, where asked for
PICK_SHEETS_TITLE = "Pick sheets"
PICK_SHEETS_NOTE = "A sheet for each order that starts in this week; its name leads there."
PICK_CAUTION = (
    "Give out only parts with the papers that the maker's documents ask for. Time out of the "
    "freezer and pot life are not counted here: check the record. Dangerous goods: trained staff."
)
PICK_NOTE = (
    "In the order of locations; the lots named are those that expire first. What is not there "
    "stands last, left open: ● comes in time, ▲ late."
)
PICK_EXPIRES = "▲ use by passes first"
PICK_INSTEAD = "in place of {item}"
PICK_FOR = "for {whom}"
PICK_CAN_START = "can start {date}"
PICK_HEAD = "{quantity} {unit} of {description}"
PICK_START = "start {date}"
PICK_NOTHING = "This order needs no components."
NOT_IN_STORES = "not there"
PICK_NEVER = "▲ nothing is coming"
PICK_COMES = "{mark} comes {date}"
PICK_FROM = "from {supply}"
PICK_SIGN = ("Picked by", "Date")
