"""Words of the workbooks of a week: make, print, buy, picks."""

# make and print
MAKE_TITLE = "Make · {group}"
PRINT_TITLE = "Print · {group}"
MAKE_CONTENTS, PRINT_CONTENTS = "Make list", "Print list"
WORK_COLUMNS = {
    "done": "",
    "order": "Plan no.",
    "item": "Item",
    "description": "Description",
    "start": "Qty",
    "good": "Good wanted",
    "unit": "Unit",
    "start_date": "Start day",
    "due_date": "Due day",
    "for": "For",
    "begun": "Begun",
    "good_made": "Good",
    "scrapped": "Scrapped",
}
FOR_AND_WHERE = "For / where it lies"  # where components stand below their orders
WORK_NOTE = "Framed: fill in what was begun, and what of it is finished; empty: nothing happened."
TAKES_NOTE = (
    "Bold: what to start. Below it: what to pick from stock (box to tick), the day it is needed "
    "and where it lies. ● still to come, in time   ▲ comes too late."
)
ON_CARTS_NOTE = "What goes into an order stands on the cart list."
BEGUN_BEFORE, MARKED_PRIMARY = "in work", "primary"
FILL_IN_PLATES = "What was begun and finished is filled in on the sheet {sheet}, plate by plate."

WORK_CAUTION = (
    "Laminates, bonds and all primary structure (marked primary): the maker's drawings and process "
    "sheets rule. Time out of the freezer, pot life and cure are not counted here: check the "
    "record. Nothing shortens cure or test times. This list releases no part to flight."
)
PRINT_CAUTION = (
    "Printed parts are never primary structure. Heat, fire and fuel, above all near engine, tanks "
    "and controls: only materials and parts that the maker's documents approve there. This list "
    "releases no part to flight."
)
NOT_THERE = "{mark} comes {date}"
PARTLY_THERE = "{places}; {mark} {quantity} {unit} more {date}"
IN_TIME_MARK, LATE_MARK = "●", "▲ late,"
LOT = "{place}, lot {lot}"
IN_STORES = "in stock"
NO_ORDERS = "No {kind} orders start in week {week}."
COUNT_OF_ORDERS, ONE_ORDER = "{count} orders to start", "1 order to start"
COUNT_LATE, COUNT_IN_WORK = "{count} late", "{count} in work"
HOURS_OF_GROUP, LAST_DUE = "{hours:,.1f} h", "last due {date}"
ON_ITS_SHEET = "see the sheet {sheet}"

# buy
BUY_TITLE = "Buy list"
BUY_COLUMNS = {
    "done": "",
    "order": "Plan no.",
    "item": "Item",
    "description": "Description",
    "quantity": "Order quantity",
    "unit": "Unit",
    "order_by": "Order by",
    "needed": "Due in store",
    "cost": "Cost each",
    "value": "Value",
    "for": "For",
    "number": "Order no.",
    "ordered": "Ordered",
    "promised": "Promised for",
}
COMES_ON = "comes {date}; "
BUY_CAUTION = (
    "Approved sources only; ask for the certificates that the maker's documents name, and inspect "
    "what comes in before it goes into stock. This list approves no part and no supplier."
)
BUY_NOTE = (
    "Quantities are whole order multiples; due in store: the day of the need less the safety "
    "days. Late lines first, with the day on which it comes if ordered as stated: ask for a faster "
    "delivery."
)
BUY_FRAMED = (
    "Framed: fill in what was ordered; with an order number alone it was ordered as it stands here."
)
NO_SUPPLIER = "no supplier stated"
ORDER_MINIMUM = "order minimum {value} {currency}"
BELOW_MINIMUM = "▲ below the order minimum of {value} {currency}"
UNPRICED = "{count} without a cost"
PRICES_NOTE = (
    "Supplier: the lowest total for what is needed of those who come in time if ordered that day, "
    "in one currency. Money in different currencies is neither added up nor compared."
)
BY_COST = {
    "least cost": "■ lots by cost: no other lots cost less",
    "not proven least": "■ lots by cost, not proven least: a minimum, multiple, days covered or "
    "levelling bind",
}
LEAST_SOLD = "■ planned {planned:,.6g} {unit}; no smaller quantity is offered"
LARGER = "■ cheaper in total: {quantity:,.6g} {unit} from {supplier} for {value}, {less} less"
FASTER = "▲ faster from {supplier}: {days} working days sooner, {cost}"
EXTRA = "{value} more"
NOT_COMPARED = "for {value}, not compared"
ELSEWHERE = "■ also offered in other currencies, not compared: {offers}"
TO_ADD = "■ {short} below the order minimum; bring forward, cheapest to hold first: {orders}"
ADDED = "{order} {item} {value}"
NOTHING_TO_ADD = "■ later orders from this supplier do not make up the order minimum"

# pick lists
PICK_TITLE = "Pick {order} · {item}"
PICKS_COLUMNS = (
    "Start day",
    "Plan no.",
    "Item",
    "Description",
    "State",
    "Can start",
    "In stock",
    "Waits for",
    "For",
)
PICK_COLUMNS = (
    "Picked",
    "Location",
    "Lot",
    "Use by",
    "Component",
    "Description",
    "Serial",
    "Quantity",
    "Unit",
    "Needed on",
    "Note",
)
NOTHING_STARTS_IN = "No orders to make, print or pack start in week {week}."
ROUND_SHEET, CART_SHEET = "Round", "Cart list"
ROUND_TITLE, CART_TITLE = "Round: what to bring out", "Cart list: what goes to which order"
ROUND_LOTS = "{count} to bring out"
ROUND_COLUMNS = (
    "Day",
    "Location",
    "Item",
    "Description, lot",
    "Bring out",
    "Unit",
    "For",
    "Picked",
    "Other lot",
)
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
CART_COLUMNS = ("Day", "Plan no.", "Makes", "On its cart", "Waits")
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
FURTHER_COLUMNS = ("Line", "Plan or order no.", "Component", "Serial", "Location", "Lot", "Picked")
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

# print room
PLATE_SHEETS = ("Plates", "Print room")
PLATES_TITLE = "Plates of the week"
PLATE_COLUMNS = {
    "done": "",
    "plate": "Plate",
    "printer": "Printer / plan no.",
    "material": "Material / item",
    "description": "Description",
    "parts": "Parts",
    "hours": "Hours",
    "grams": "Grams",
    "machine": "Printer no.",
    "started": "Begun",
    "good": "Good",
    "failed": "Failed",
}
PLATE_ABOUT = "start {start}, due {due}"
PLATES_NOTES = (
    "Bold: a plate with its first start and due day, below it what is on it; late ones first (▲). "
    "A failed print takes its whole plate: the parts of one plate do not fail one by one. Framed: "
    "parts begun, good and failed; with good or failed alone all of them were begun."
)
PLATES_CAUTION = (
    "Use the approved sliced profile of each part for this kind of printer only. Heat limits are a "
    "caution for the engineer in charge, not an approval. Printed parts are never primary "
    "structure. This list releases no part to flight."
)
PLATE_LATE = "▲ late {days} d"
PLATES_PRINTERS = "Printers: {named}."
PLATES_PRINTERS_OF_KIND = "{count} {kind}, {hours:,.6g} h this week"
NO_PLATES = "No plates are printed in week {week}."
PRINT_ROOM_TITLE = "Print room: spools to pick, and hours"
SPOOL_COLUMNS = (
    "",
    "Material",
    "Filament",
    "Description",
    "Needed, kg",
    "On a spool, kg",
    "Spools",
    "In stock",
    "Unit",
    "Where it lies",
    "To order this week",
    "Spools picked",
)
SPOOLS_NOTE = (
    "Needed: what this week's plates take, waste included. In stock: usable stock on the plan's "
    "first day, without what has expired. To order: what the plan orders this week, for later "
    "weeks too, in whole spools; see the buy list."
)
SPOOLS_TO_BUY = "■ {order}: {spools} spools ({quantity:,.6g} {unit})"
FILAMENT_TO_BUY = "■ {order}: {quantity:,.6g} {unit}"
PRINTER_HOURS_TITLE, LATER_HOURS_TITLE = "Printer hours", "Printer hours of later weeks"
PRINTER_HOURS_COLUMNS = {  # by their place below the columns of the spools
    1: "Printers",
    2: "Week",
    4: "Plates",
    5: "Fewest possible",
    6: "Hours",
    7: "Of these in work",
    8: "Hours available",
    9: "State",
}
PRINTER_HOURS_NOTE = (
    "Hours of all printers of a kind, less closed days. In work: open orders, spread from the "
    "plan's first day to the day they are due. Fewest possible: a number of plates below "
    "which no packing can be. ▲ more hours than are available: overload that bites in that week."
)
PRINTER_OVER = "▲ {hours:,.1f} hours too many"
RESLICE_TITLE = "Approved on old printers only"
RESLICE_COLUMNS = {
    1: "Item",
    2: "Approved on",
    3: "Description",
    4: "Hours freed",
    5: "Most in a week",
    8: "In week",
    9: "Could be sliced for",
}
RESLICE_NOTE = (
    "Hours that these parts take on the old printers over the whole plan, and that slicing them "
    "for the newer kind, tried and approved, would free there."
)

# moulds
WEEK_MOULDS_TITLE = "Moulds of the week"
WEEK_MOULD_COLUMNS = (
    "Item",
    "Moulds",
    "Description",
    "Pulls planned",
    "In work",
    "Available",
    "Pulls made",
    "State",
)
WEEK_MOULDS_NOTE = (
    "Available: pulls a week of all moulds of the item, less closed days. In work: pulls of open "
    "orders, which the pulls left count already. Framed: pulls made, taken off the pulls left; "
    "empty: one for each piece laid up that was begun. On paper only moulds that are short or worn "
    "this week; the others stand below them in the workbook."
)
NO_MOULD = "▲ no mould until {date}"
NO_MOULD_AT_ALL = "▲ no mould, and no replacement planned"
PULLS_OVER = "▲ {pulls:,.1f} pulls too many"
MOULD_WORN = "■ worn this week: {moulds}"
