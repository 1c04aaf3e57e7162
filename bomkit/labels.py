"""Every word that a person reads on sheets and screens, in one place."""

# pages and sheets
PAGE, OF = "page", "of"
BETWEEN = "   |   "
PLAN_FROM = "plan from {date}"
RUN = "run {run_id}"
DEFAULT_TITLE = "Weekly plan"
WEEK = "week {week}"
CONTENTS = "contents"

SOURCES = {
    "make": "make",
    "print": "print",
    "buy": "buy",
    "phantom": "passed through",
    "kit": "pack",
}
DEMAND_KINDS = {
    "airframe": "{demand}",
    "in work": "{demand} in work",
    "grounded": "spares {demand} (grounded)",
    "routine": "spares {demand}",
    "upkeep": "{demand} (forecast)",
    "stock": "stock",
    "several": "several",
}

# states: a symbol, a word and a colour, so that a grey print says the same
LATE = "▲ late {days} d"
LATE_WORD = "▲ late"
TO_START = {"make": "■ to make", "print": "■ to print", "buy": "■ to order", "kit": "■ to pack"}
COMING = "● on order"
STATES_LEGEND = (
    "▲ comes after the day it is needed     ■ planned, not yet started or ordered     "
    "● on order or in work, in time"
)
BOX = "☐"

# make and print
MAKE_TITLE = "Make · {group}"
PRINT_TITLE = "Print · {group}"
MAKE_CONTENTS, PRINT_CONTENTS = "Make list", "Print list"
MAKE_HEADING, PRINT_HEADING = "Process", "Material"
NO_PROCESS = "no process"
PACKING = "packing"
WORK_COLUMNS = {
    "done": "Done",
    "order": "Order",
    "item": "Item",
    "description": "Description",
    "serial": "Serial",
    "start": "Start",
    "good": "Good wanted",
    "allowance": "Scrap allowance",
    "unit": "Unit",
    "start_date": "Start day",
    "due_date": "Due day",
    "for": "For / where it lies",
    "good_made": "Good",
    "scrapped": "Scrapped",
}
WORK_NOTE = (
    "Bold: what to start. Below it: what to draw from stores (box to tick), the day it is needed "
    "and where it lies. ● still to come, in time   ▲ comes too late. Framed: to be filled in."
)
WORK_CAUTION = (
    "Laminates, bonds and anything marked primary structure: the maker's drawings and process "
    "sheets rule. This list releases no part to flight."
)
PRINT_CAUTION = (
    "Printed parts are never primary structure. Heat limits and approved materials: see the "
    "maker's documents. This list releases no part to flight."
)
PRIMARY = "primary structure"
TOOLING = "tooling"
NOT_THERE = "{mark} comes {date}"
PARTLY_THERE = "{places}; {mark} {quantity} {unit} more {date}"
IN_TIME_MARK, LATE_MARK = "●", "▲ late,"
LOT = "{place}, lot {lot}"
PRESS = "press {order} ({date})"
IN_STORES = "in stores"
NO_ORDERS = "No {kind} orders start in week {week}."
GROUP_COLUMNS = ("Orders", "Of these late", "Hours", "First start", "Last due")

# buy
BUY_TITLE = "Buy list"
BUY_COLUMNS = {
    "done": "Done",
    "order": "Plan no.",
    "state": "State",
    "item": "Item",
    "description": "Description",
    "quantity": "Order quantity",
    "unit": "Unit",
    "order_by": "Order by",
    "needed": "Wanted by",
    "comes": "Comes if ordered then",
    "cost": "Cost each",
    "value": "Value",
    "for": "For",
    "number": "Order no.",
    "promised": "Promised for",
}
BUY_NOTE = (
    "Quantities are whole order multiples; wanted by: the safety days before the need. Late lines "
    "first: ask for a faster delivery, or press the open order named. Framed: to be filled in."
)
NO_SUPPLIER = "no supplier stated"
ORDER_MINIMUM = "order minimum {value} {currency}"
BELOW_MINIMUM = "▲ below the order minimum of {value} {currency}"
UNPRICED = "{count} without a cost"

# overview
OVERVIEW_TITLE = "Overview"
IN_THIS_BOOK = "In this workbook"
SHEET_LOAD, SHEET_RECORD, SHEET_ORDERS, SHEET_LATE = "Load", "Record", "Orders", "Late orders"
LOAD_TITLE = "Load by process, hours a week"
LOAD_NOTE = (
    "Hours of the planned orders, spread evenly from start to due day; orders already in work are "
    "not in it. ▲ more hours than the process has in that week."
)
NO_LOAD = "No hours: give items hours_each or hours_per_order, and a process, to see them here."
LOAD_HOURS = "hours"
LOAD_TOTAL, LOAD_LIMIT = "all processes", "hours there are"
LOAD_PROCESS = "Process"
WEEK_HEAD, ALL_KINDS = "Week", "all"
COUNT_TITLE = "Orders by start week"
RECORD_TITLE = "Planning record by item and week"
RECORD_NOTE = (
    "Needed: gross requirement. Coming: open orders, expected good. Planned: good quantity of "
    "planned orders in the week they are to be used, even if they start too late. On hand: at the "
    "end of the week. "
    "Items configured by airframe are added up over their serials."
)
RECORD_ROWS = (
    ("gross", "needed"),
    ("receipts", "coming"),
    ("planned", "planned"),
    ("projected", "on hand"),
)
RECORD_COLUMNS = ("Item", "Description", "Unit", "Figure")
LATE_TITLE = "Orders that start too late"
LATE_NOTE = (
    "These should have started before the plan's first day, by so many working days. Whether an "
    "airframe waits for them, and how long, is in the shortages: not all of them delay one."
)
LATE_COLUMNS = (
    "Days late",
    "Order",
    "Item",
    "Description",
    "Serial",
    "Quantity",
    "Unit",
    "Kind",
    "Due day",
    "For",
)
NO_LATE = "No order starts too late."
FIGURES = (("orders", "orders planned"), ("late", "start too late"), ("weeks", "weeks planned"))
SHEET_ABOUT = {
    SHEET_LOAD: "hours of each process by week, table and chart",
    SHEET_LATE: "orders whose start lies before today",
    SHEET_ORDERS: "how many orders of each kind start in each week",
    SHEET_RECORD: "needed, coming, planned and on hand of every item by week",
}
SHEET_INSPECTIONS, SHEET_UPKEEP = "Inspections", "Inspection parts"
INSPECTIONS_ABOUT = {
    SHEET_INSPECTIONS: "which aircraft of the fleet falls due for what, and when",
    SHEET_UPKEEP: "what these inspections take, by week",
}
OVERDUE = "Overdue, counted on the first day: needs {needs}, open orders {receipts}."
PAST_HORIZON = "Past the horizon, left out of the plan: needs {needs}, open orders {receipts}."
CUT = "▲ {count} more rows do not fit on a sheet; see the result tables"
AND_MORE = "and {count} more"

# shortages
SHORTAGES_TITLE = "Shortages by airframe"
SHEET_AIRFRAMES, SHEET_STARTS, SHEET_BY_ITEM, SHEET_BY_SHOP, SHEET_SPARES = (
    "Airframes",
    "Ready to start",
    "By item",
    "By shop",
    "Spares orders",
)
STATES = {"complete": "✓ complete", "waiting": "● waiting", "short": "▲ short"}
COMES_IN_TIME = "✓ comes in time"
AIRFRAME_COLUMNS = (
    "Airframe",
    "Ready by",
    "Forecast",
    "Days late",
    "Days to spare",
    "Missing items",
    "Of these late",
    "Set by",
    "Place from the house",
)
AIRFRAMES_NOTES = (
    "Forecast: the earliest day that stock, orders and lead times allow, but not before it is "
    "wanted. Set by: what comes first in the chain that sets it. Days are working days.",
    "Missing: items needed within the coming {weeks} weeks, or late, that do not lie in stores. "
    "Place from the house: in which order they could be finished if nothing more arrived.",
)
OVERDUE_ORDERS = "Overdue and taken as arriving today: {orders}."
OVERDUE_ORDER = "{order} ({item}, due {date})"
FROM_HOUSE = (
    "If nothing more arrived, these could be finished with what is in the house, in this order: "
    "{serials}."
)
NONE_FROM_HOUSE = "If nothing more arrived, no airframe could be finished."
NEVER = "no date"
STARTS_HELD_UP = "Wait for something: {count}"
STARTS_COMPLETE = "Complete in stores: {count}"
STARTS_IN_TIME = "What lacks comes in time: {count}"
STARTS_TITLE = "Orders that start in the coming weeks"
STATES_NOTES = (
    "✓ complete: all components lie in stores   ✓ comes in time: the others will be there on the "
    "day each is needed",
    "● waiting: what is late is on order, in work or waiting itself   ▲ short: what is late is not "
    "even ordered or begun, and too late for it",
)
STAND_IN_CAUTION = (
    "What would help is a proposal: stand-ins only where the maker's documents approve them, held "
    "stock only once it is released by those entitled to."
)
STARTS_COLUMNS = (
    "Start day",
    "Order",
    "Item",
    "Description",
    "State",
    "Can start",
    "In stores",
    "Waits for",
    "For",
    "Would help",
)
COUNT_OF = "{part} of {whole}"
WAITS_FOR = "{item} from {supply}"
WAITS_FOR_NOTHING = "{item}, nothing planned"
STAND_IN = {
    "alternate": "alternate {stand_in}: {quantity} {unit} free{place}",
    "held": "{quantity} {unit} held ({stand_in}){place}",
}
STAND_IN_PLACE = " at {locations}"
BY_ITEM_TITLE = "Bought items by supplier, for the telephone"
BY_SHOP_TITLE = "Made and printed items by shop"
ORDER_NOW, PRESS_IT, START_NOW = "▲ order now", "▲ press", "▲ hurry"
BY_ITEM_NOTE = (
    "What comes late, and open orders that the coming {weeks} weeks wait for; those with late "
    "lines first. What is still to be ordered or started in time is on its week's lists."
)
BY_ITEM_COLUMNS = (
    "State",
    "Item",
    "Description",
    "Missing",
    "Unit",
    "Order",
    "Needed on",
    "Comes on",
    "Days late",
    "For",
)
OVERDUE_STATE = "▲ overdue"
OVERDUE_SINCE = "was due {date}"
NO_NEW_DATE = "no new date"
MISSING_TITLE = "Missing for {who}"
LACKING_TITLE = "Missing for spares orders and other work"
LACKING_SERIAL = "{who} for {serial}"
LATE_SECTION = "Late"
MISSING_NOTE = (
    "Items that are late, or needed within the coming {weeks} weeks, and do not lie in stores, by "
    "process and by the day they are needed."
)
MISSING_COLUMNS = (
    "State",
    "Item",
    "Description",
    "Quantity",
    "Unit",
    "Needed on",
    "Comes on",
    "Days late",
    "Comes from",
    "Would help",
)
SPARES_FOR = "For"
CHAIN_TITLE = "What sets the date"
CHAIN_PLANNED = "{supply}: {days} days from {start}, there on {finish}"
CHAIN_OPEN = "{supply}: there on {finish}"
CHAIN_OPEN_LATE = "{supply}: there on {finish}, {days} days later by what it lacks"
CHAIN_AFTER = ", needed {days} days after the next one starts"
CHAIN_STOCK = "in stores"
GAIN = "If {item} were there today: {days} days sooner."
NO_GAIN = "If {item} were there today nothing would be gained: something else is as late."
CHAIN_OVERDUE = ", was due {date} and counts on the first day"
BOUGHT = "bought"
TO_START_STATE, LATER_STATE, THERE_STATE = "■ to start", "planned in time", "✓ in stores"
NOTHING_MISSING = "Nothing is missing: stock covers every need of the coming weeks."
NOTHING_STARTS = "No orders start in the coming weeks."

# pick lists
PICKS_TITLE = "Pick lists"
PICK_TITLE = "Pick {order} · {item}"
PICKS_COLUMNS = (
    "Start day",
    "Order",
    "Item",
    "Description",
    "State",
    "Can start",
    "In stores",
    "Waits for",
    "For",
)
PICK_COLUMNS = (
    "Taken",
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
PICKS_NOTE = "A sheet for each order that starts in this week; its name leads there."
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
PICK_COMES = "{mark} comes {date}"
PICK_FROM = "from {supply}"
PICK_SIGN = ("Picked by", "Date")

# kits and parts to pack for the fleet
PACK_TITLE = "Pack {order} · {item}"
PACK_TO = "to {serial}"
PACK_BASE = "at {base}"
PACK_CUSTOMER = "for {customer}"
PACK_WANTED = "wanted {date}"
PACK_LEAVES = "can leave {date}"
PACK_LATE = "▲ {days} working days late"
URGENCY = {"grounded": "▲ grounded", "routine": "routine"}
PACK_COLUMNS = (
    "Packed",
    "Pos.",
    "Item",
    "Description",
    "Quantity",
    "Unit",
    "Location",
    "Lot",
    "Use by",
    "Batch packed",
    "Mass each, g",
    "Mass, kg",
    "Value",
    "Stock and line",
)
PACK_NOTE = (
    "The lots named expire first of those that last {days} days from the day it leaves. Lines to "
    "wait for stand last. Framed: to be filled in."
)
PACK_CAUTION = (
    "This list releases nothing: parts are released for flight only under the maker's and the "
    "authority's rules, by licensed staff."
)
PACK_NOW, PACK_WAIT = "To pack", "To wait for"
PACK_HAZARD = "Dangerous goods: pack apart"
HAZARD_CAUTION = (
    "Dangerous goods are packed and declared by trained staff under the carrier's rules; "
    "this list is no declaration."
)
PACK_TOTAL = "Mass and value of what is to pack now"
PACK_UNWEIGHED = "without a stated mass: {items}"
PACK_FREE = "free"
PACK_TAKEN = "▲ taken from {who}: waits {days} d"
PACK_SPOKEN = "▲ {free} of {stock} free; now, {who} would wait {days} d"
PACK_NOT_THERE = "not in stock, or no lot lasts long enough"
PACK_PARTLY = "only {free} of {stock} free"
PACK_FROM = "● from {date}"
PACK_SIGN = ("Packed by", "Checked by", "Date")
PROMISES_TITLE, SHEET_PROMISES = "When spares orders can leave", "Promises"
PROMISES_NOTES = (
    "Routine orders take only stock that nobody in the line needs before it can be there again; "
    "grounded aircraft may take what is spoken for, and the packing list says from whom.",
    "Can leave: the working day on which the last line can be taken, and packed if it is a kit. "
    "By the plan: the day that served everybody by need date alone.",
)
PROMISE_COLUMNS = (
    "Order",
    "Urgency",
    "Item",
    "Description",
    "Quantity",
    "Unit",
    "Aircraft",
    "Customer",
    "Wanted",
    "Can leave",
    "Days late",
    "Lines that wait",
    "By the plan",
)
NO_SPARES = "There are no spares orders within the horizon."
KIT_HEADS = ("", "line", "part", "quantity", "", "where")
KIT_TAKE, KIT_WAIT = "take", "from {date}"

# terminal
SUMMARY_HEADS = ("week", "make", "print", "buy", "pack", "late")
SUMMARY_LATER = "later"
SUMMARY_LATE = "Orders that start too late: {count}. The latest:"
SUMMARY_FORECAST = "Forecast late: {count}. The latest:"
SUMMARY_IN_TIME = "By the forecast every airframe and spares order is in time."
TREE_MORE = "... {count} more lines below, not shown"
TREE_REPLACES = "takes its place once used up"
TREE_PER_ORDER = " per order"
TREE_WASTE = "waste {share:.0%}"
TREE_CONDITIONS = {
    "with_option": "with {value}",
    "without_option": "without {value}",
    "from_serial": "from {value}",
    "to_serial": "up to {value}",
    "from_date": "from {value}",
    "to_date": "until {value}",
}
WHY_UP = "Where it goes:"
WHY_DOWN = "What it waits for:"
WHY_NO_WAITING = "Nothing comes too late for it."
WHY_NOTHING = "Nobody needs it within the horizon."
WHY_MORE_WEEKS = "    ... and {count} more weeks (--all)"
WHY_MORE = "... and {count} more (--all)"
WHY_SEEN = "(see above)"
WHY_ORDER = "{date}  {order}, {item}"
WHY_PLANNED = "{order}, {item}: {quantity} {unit} from {start}, due {due}"
WHY_THERE = ", there on {date}"
WHY_KINDS = {
    "stock": "stock {supply} {location}",
    "open order": "open order {supply}, {item}, due {date}",
    "planned order": "{supply}, {item}",
    "none": "nothing planned, {item}",
}
WHY_DEMAND = "{who}, wanted {date}"
WHY_FORECAST = ", forecast {date}"

# spares to hold
SPARES_TITLE, KIT_TITLE = "Spares to hold for the fleet", "Travelling kit · {serials} · {days} days"
SHEET_HOLD, SHEET_CURVE, SHEET_LEFT_OUT = "Hold", "Assurance", "Left out"
SPARES_MEASURES = {
    "no-backorder": "Chance of none out: that no more pieces are asked for than are held, before "
    "others come (target {target:.4g} %).",
    "fill-rate": "Served at once: the share of what is asked for that is there when asked for "
    "(target {target:.4g} %).",
}
SPARES_METHOD = (
    "Demand over the resupply time is taken as Poisson, with mean use a year × resupply working "
    "days ÷ (5 × 52.18). Resupply: lead and safety days; of made and printed parts those of the "
    "longest chain."
)
KIT_METHOD = (
    "Demand over the tour is taken as Poisson, with mean use a year of these aircraft × {days} ÷ "
    "365.25. Nothing is replaced on tour."
)
SPARES_USE = (
    "Use: rates where stated, else all issues ÷ years since the first issue of any part, at least "
    "one; only aircraft that have the part count. In stock: usable, not expired, kept for nobody; "
    "the build plan draws on it too."
)
SPARES_LIMIT = {
    "cost": "Chosen for a budget of {limit:,.2f} on top of what is in stock: each time the piece "
    "that lowers expected backorders most for its cost. Spent: {spent:,.2f}.",
    "mass": "Chosen for {limit:,.1f} kg, packed from nothing: each time the piece that lowers "
    "expected backorders most for its mass. Packed: {spent:,.3f} kg.",
}
SPARES_TOGETHER = {
    "no-backorder": "Chance that no part at all is out: {shares}.",
    "fill-rate": "Share of all demand served at once: {shares}.",
}
SPARES_SHARES = {
    "cost": "{before:.1%} with what is in stock, {after:.1%} once what lacks is there",
    "mass": "{after:.1%} with this set",
}
SPARES_NEEDED = {
    "cost": "For {target:.4g} % over all parts together {needed:,.2f} would have to be spent.",
    "mass": "For {target:.4g} % over all parts together {needed:,.3f} kg would have to be packed.",
}
SPARES_ASSUMED = (
    "▲ hours_per_year is not stated for {serials}: taken to fly as much as the others on the "
    "average."
)
SPARES_CAUTION = (
    "A statistical proposal: life limits, service bulletins and the maker's and the authority's "
    "documents rule. It releases no part to flight."
)
SPARES_COLUMNS = {
    "state": "State",
    "item": "Part",
    "description": "Description",
    "aircraft": "Aircraft that have it",
    "yearly": "Use a year",
    "source": "Known from",
    "resupply": "Resupply days",
    "mean": "Mean use till then",
    "hold": "Hold",
    "reached": "Chance of none out",
    "stock": "In stock",
    "gap": "Lacking",
    "cost": "Cost each",
    "to_buy": "Cost of what lacks",
    "value": "Value held",
    "mass": "Mass held, kg",
}
SPARES_SERVED = "Served at once"
SPARES_LACKING, SPARES_THERE, SPARES_NOT_HELD = "■ lacking", "✓ there", "none to hold"
SPARES_SOURCES = {"usage": "rate", "issues": "issues"}
SPARES_NONE = "No part with a use a year is left to hold."
CURVE_TITLE = "What more spares bring"
CURVE_NOTE = (
    "Pieces in the order of what they bring for their {unit}. Parts without a {unit} are not in it."
)
CURVE_UNITS = {"cost": "cost", "mass": "mass"}
CURVE_SPENT = {"cost": "Spent on top of stock", "mass": "Packed, kg"}
CURVE_REACHED = {"no-backorder": "Chance that no part is out", "fill-rate": "Served at once"}
CURVE_TARGET = "Target"
LEFT_OUT_TITLE = "Parts that are left out"
LEFT_OUT_COLUMNS = ("Part", "Description", "Why")
LEFT_OUT_REASONS = {
    "measure": "is measured, not counted in pieces",
    "phantom": "is never kept by itself; give the use of its parts",
    "specific": "is configured for each aircraft and cannot be kept for all",
    "nobody": "no aircraft asked about has it",
    "too many": "is used by the ten thousand meanwhile; give it a safety_stock instead",
    "unpriced": "has no cost in items",
    "unweighed": "has no mass_g in items",
}
SPARES_HEADS = ("part", "mean", "hold", "stock", "lacking", "cost")
SPARES_MORE = "... and {count} more that lack, all in the workbook"
SPARES_LEFT_OUT = "left out: {items}: {reason}"

# inspections
UPKEEP_DEMAND = "upkeep {} {}"  # aircraft and due date
UPKEEP_ASIDE = "Coming inspections planned as forecast demand: {count}."
INSPECTIONS_TITLE, UPKEEP_TITLE = "Coming inspections", "What coming inspections take, by week"
INSPECTIONS_NOTE = (
    "Hours grow evenly from those of the plan's first day. When a work was last done is not known: "
    "due points are whole intervals from first_hours or the day of delivery."
)
INSPECTIONS_CAUTION = (
    "A forecast of parts, not a maintenance record: the maker's and the authority's documents and "
    "the aircraft's own log rule. It releases no part to flight."
)
UPKEEP_PLANNED = "Planned as forecast demand: orders for it are marked as forecast."
UPKEEP_NOT_PLANNED = "Not in the plan; bomkit plan --with-upkeep plans it as forecast demand."
INSPECTION_COLUMNS = (
    "Due",
    "Week",
    "Aircraft",
    "Base",
    "What",
    "Takes",
    "Description",
    "Quantity",
    "Unit",
    "By",
)
INSPECTION_CAUSES = {"hours": "by hours", "months": "by months"}
UPKEEP_COLUMNS = ("Item", "Description", "Unit", "In all")
NOTHING_DUE = "Nothing falls due within the horizon."

# orders that do not fit the aircraft
MISFIT_HAS = (
    "does not fit {serial} (options: {options}): it goes in only by {lines}; look at the item and "
    "the serial ordered, or correct the aircraft's options"
)
MISFIT_PACKS = (
    "does not fit {serial} (options: {options}): nothing would be packed, as its lines are "
    "{lines}; look at the kit and the serial ordered, or correct the aircraft's options"
)
MISFIT_NOWHERE = (
    "does not fit {serial}: no line of {item} leads to it; look at the item and the serial ordered"
)
MISFIT_LINE = "{parent} -> {child} {conditions}"
NO_OPTIONS = "none"
