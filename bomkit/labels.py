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
    "These should have started before the plan's first day. Days late are working days; what "
    "waits for them is late by as much, unless time is made up."
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
OVERDUE = "Overdue, counted on the first day: needs {needs}, open orders {receipts}."
PAST_HORIZON = "Past the horizon, left out of the plan: needs {needs}, open orders {receipts}."
CUT = "▲ {count} more rows do not fit on a sheet; see the result tables"
AND_MORE = "and {count} more"

# shortages
SHORTAGES_TITLE = "Shortages by airframe"
SHEET_AIRFRAMES, SHEET_STARTS, SHEET_BY_ITEM, SHEET_SPARES = (
    "Airframes",
    "Ready to start",
    "By item",
    "Spares",
)
STATES = {"complete": "✓ complete", "waiting": "● waiting", "short": "▲ short"}
AIRFRAME_COLUMNS = (
    "For",
    "Ready by",
    "Forecast",
    "Days late",
    "Days to spare",
    "Missing items",
    "Of these late",
    "Set by",
    "From the house",
)
AIRFRAMES_NOTES = (
    "Forecast: the earliest day that stock, orders and lead times allow, but not before it is "
    "wanted. Set by: what comes first in the chain that sets it. Days are working days.",
    "Missing: items needed within the coming {weeks} weeks, or late, that do not lie in stores.",
)
FROM_HOUSE = (
    "If nothing more arrived, these could be finished with what is in the house, in this order: "
    "{serials}."
)
NONE_FROM_HOUSE = "If nothing more arrived, no airframe could be finished."
NEVER = "no date"
STARTS_HELD_UP, STARTS_COMPLETE = "Wait for something: {count}", "Complete: {count}"
STARTS_TITLE = "Orders that start in the coming weeks"
STATES_NOTE = (
    "✓ complete: all components are there on the day they are needed   ● waiting: what is late is "
    "on order, in work or waiting itself   ▲ short: not even ordered, and too late to order in time"
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
    "Serial",
    "State",
    "Can start",
    "In stores",
    "Waits for",
    "Would help",
)
COUNT_OF = "{part} of {whole}"
WAITS_FOR = "{item} from {supply}"
WAITS_FOR_MORE = "{item} from {supply} and {count} more"
WAITS_FOR_NOTHING = "{item}, nothing planned"
STAND_IN = {
    "alternate": "alternate {stand_in}: {quantity} {unit} free{place}",
    "held": "{quantity} {unit} held ({stand_in}){place}",
}
STAND_IN_PLACE = " at {locations}"
BY_ITEM_TITLE = "Missing by item, for the telephone"
BY_ITEM_NOTE = (
    "What comes late, and open orders that the coming {weeks} weeks wait for, by who brings them; "
    "those with late lines first. What is still to be ordered or started in time is on its week's "
    "buy, make and print lists."
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
MISSING_TITLE = "Missing for {who}"
SPARES_TITLE = "Missing for spares orders"
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
CHAIN_STOCK = "in stores"
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
    "Serial",
    "State",
    "Can start",
    "In stores",
    "Waits for",
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
    "Taken instead / note",
)
NOTHING_STARTS_IN = "No orders to make, print or pack start in week {week}."
PICKS_NOTE = "A sheet for each order that starts in this week; its name leads there."
PICK_NOTE = (
    "In the order of locations; the lots named are those that expire first. What is not there "
    "stands last, left open: ● comes in time, ▲ late. Framed: to be filled in."
)
PICK_FOR = "for {whom}"
PICK_CAN_START = "can start {date}"
PICK_HEAD = "{quantity} {unit} of {description}"
PICK_START = "start {date}"
PICK_NOTHING = "This order needs no components."
NOT_IN_STORES = "not there"
PICK_COMES = "{mark} comes {date}"
PICK_FROM = "from {supply}"
PICK_SIGN = ("Picked by", "Date")

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
