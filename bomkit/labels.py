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
    "mould": "worn mould {demand}",
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
SHEET_AIRFRAMES, SHEET_MISSING = "Airframes", "Missing"
MISSING_TITLE = "What is not in stores on the day it is needed"
MISSING_NOTE = (
    "Every line that comes late, whenever it is needed, and every line of the coming {weeks} weeks "
    "that stock does not cover. Each order's own lead time; parts that come late delay it further."
)
AIRFRAME_COLUMNS = (
    "For",
    "State",
    "Ready by",
    "▲ Late",
    "■ To start",
    "● On order",
    "Later lines",
    "Days late",
    "Last of these comes",
)
MISSING_COLUMNS = (
    "For",
    "State",
    "Item",
    "Description",
    "Quantity",
    "Unit",
    "Needed on",
    "Comes on",
    "Days late",
    "Comes from",
    "Supplier or process",
)
TO_START_STATE, LATER_STATE, THERE_STATE = "■ to start", "planned in time", "✓ in stores"
NOTHING_MISSING = "Nothing is missing: stock covers every need of the coming weeks."
AIRFRAMES_NOTE = (
    "Lines needed within the coming {weeks} weeks and all late ones; later lines are in time."
)

# terminal
SUMMARY_HEADS = ("week", "make", "print", "buy", "pack", "late")
SUMMARY_LATER = "later"
SUMMARY_LATE = "Orders that start too late: {count}. The latest:"
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

# rolled-up mass, cost and hours
ROLL_AMOUNTS = {"mass": "{amount:,.3f} kg", "cost": "{amount:,.2f}", "hours": "{amount:,.2f} h"}
ROLL_NODE = "  = {amount}"
ROLL_SERIAL = " for {serial}"
ROLL_TOTALS = {
    "mass": "Mass of one {item}{serial}, without scrap and waste: {amount}",
    "cost": "Cost of the parts of one {item}{serial}, scrap and waste included: {amount}",
    "hours": "Working hours in one {item}{serial}, scrap and waste included: {amount}",
}
ROLL_LACKING = {
    "mass": "▲ without a mass, counted as nothing: {items}",
    "cost": "▲ without a cost, counted as nothing: {items}",
    "hours": "▲ without hours, counted as nothing: {items}",
}
MASS_WITHIN = "Limit of the empty mass {limit:,.1f} kg: {spare:,.1f} kg to spare"
MASS_OVER = "▲ Limit of the empty mass {limit:,.1f} kg: {spare:,.1f} kg over"
MASS_CAUTION = "A sum of stated masses; the weighing of the aircraft and its documents rule."

# print room
PLATE_SHEETS = ("Plates", "Spools", "Printer hours", "Slice anew")
PLATES_TITLE = "Plates of the week"
PLATE_COLUMNS = {
    "done": "Done",
    "plate": "Plate",
    "printer": "Printer / order",
    "material": "Material / item",
    "description": "Description",
    "parts": "Parts",
    "share": "Plate full, %",
    "hours": "Hours",
    "grams": "Grams",
    "start": "Start by",
    "due": "First due",
    "machine": "Printer no.",
    "started": "Begun",
    "good": "Good / failed",
}
PLATES_NOTE = (
    "Bold: one plate, below it what is on it. Start by: the first start day of any order on it. "
    "A failed print takes its whole plate: the parts of one plate do not fail one by one. "
    "Framed: to be filled in."
)
PLATES_CAUTION = (
    "Use the approved sliced profile of each part for this kind of printer only. Heat limits are a "
    "caution for the engineer in charge, not an approval. Printed parts are never primary "
    "structure. This list releases no part to flight."
)
NO_PLATES = "No plates are printed in week {week}."
SPOOLS_TITLE = "Spools to draw"
SPOOL_COLUMNS = (
    "Drawn",
    "Material",
    "Filament",
    "Description",
    "Needed, kg",
    "On a spool, kg",
    "Spools",
    "In stores",
    "Unit",
    "Where it lies",
    "To order this week",
    "Spools drawn",
)
SPOOLS_NOTE = (
    "Needed: what this week's plates take, waste included. In stores: usable stock on the plan's "
    "first day. To order: planned for this week by netting, see the buy list."
)
SPOOLS_TO_BUY = "■ {order}: {quantity:,.6g} {unit}"
PRINTER_HOURS_TITLE = "Printer hours"
PRINTER_HOURS_COLUMNS = (
    "Printers",
    "Week",
    "Plates",
    "Fewest possible",
    "Hours",
    "Hours there are",
    "State",
)
PRINTER_HOURS_NOTE = (
    "Hours of all printers of a kind, less closed days. Fewest possible: a number of plates below "
    "which no packing can be. ▲ more hours than there are: overload that bites in that week."
)
PRINTER_OVER = "▲ {hours:,.1f} hours too many"
RESLICE_TITLE = "Approved on old printers only"
RESLICE_COLUMNS = (
    "Item",
    "Description",
    "Approved on",
    "Could be sliced for",
    "Hours freed",
    "Most in a week",
    "In week",
)
RESLICE_NOTE = (
    "Hours that these parts take on the old printers over the whole plan, and that slicing them "
    "for the newer kind, tried and approved, would free there."
)

# levelling
LEVELLED = (
    "Levelled: {count} orders or parts of them pulled forward by at most {weeks} weeks; "
    "this adds {most:,.0f} to the stock's value at most, {mean:,.0f} on average."
)
PRINTERS_OVER = "Printers with more hours than there are: {named}."
PRINTERS_OVER_IN = "{kind} in {week} by {hours:,.1f} h"
SHEET_BEFORE, SHEET_PULLED = "Load before levelling", "Pulled forward"
BEFORE_TITLE = "Load by process before levelling, hours a week"
BEFORE_NOTE = "The same plan as netting puts it, beside the sheet Load."
LOAD_BEFORE = "before levelling"
PULLED_TITLE = "Orders pulled forward to level the load"
PULLED_NOTE = (
    "Whole orders or whole pieces of them, never later than without levelling, and not beyond the "
    "shelf life. What they are made from is asked for as much earlier."
)
PULLED_COLUMNS = (
    "Item",
    "Description",
    "Serial",
    "Quantity",
    "Unit",
    "Was to start",
    "Starts",
    "Days earlier",
)
NOTHING_PULLED = "Nothing had to be pulled forward."
LEVELLING_ABOUT = {
    SHEET_BEFORE: "the same hours as they were before levelling",
    SHEET_PULLED: "which orders start earlier than they need to, and by how much",
}

# moulds
SHEET_MOULDS = "Moulds"
MOULDS_TITLE = "Moulds: how long they last"
MOULDS_NOTE = (
    "Each unit started is a pull; the moulds of an item share them by their pulls a week. Runs out "
    "on: the first start for which there is no pull left. Start by: first start of anything that "
    "the replacement takes."
)
MOULD_COLUMNS = (
    "Mould",
    "Item",
    "Description",
    "Moulds",
    "Pulls planned",
    "Pulls left",
    "Runs out on",
    "Replacement",
    "Start by",
    "State",
)
MOULD_WITHOUT = "▲ no replacement named"
MOULD_GAP = "▲ {days} working days without"
MOULD_REPLACED = "■ replaced in time"
MOULD_ABOUT = {SHEET_MOULDS: "how long the moulds last, and when to start replacing them"}
WEEK_MOULDS_TITLE = "Moulds of the week"
WEEK_MOULD_COLUMNS = (
    "Item",
    "Moulds",
    "Description",
    "Pulls planned",
    "They give",
    "Pulls made",
    "State",
)
WEEK_MOULDS_NOTE = (
    "They give: pulls a week of all moulds of the item, less closed days. Framed: to be filled in, "
    "and taken off the pulls left."
)
PULLS_OVER = "▲ {pulls:,.1f} pulls too many"
MOULD_WORN = "■ worn this week: {moulds}"
MOULDS_OVER = "Moulds with more pulls than they give: {named}."
MOULDS_OVER_IN = "{item} in {week} by {pulls:,.1f}"

# rates
SHEET_RATES, SHEET_FULL = "Rates", "How full"
RATES_TITLE = "Rates · {title}"
FULL_TITLE = "How full everything is, by rate"
FULL_PERCENT = "% of what there is"
RATE, RATE_RESOURCE, RATE_KIND = "Rate", "Resource", "Kind"
RATE_ALL = "all there is"
PER_MONTH = "{rate:g} a month"
RATE_COLUMNS = ("average", "peak", "there is", "full, %")
RATE_KINDS = {"process": "hours a week", "printer": "printer hours", "mould": "pulls a week"}
RATE_NAMES = {"process": "{name}", "printer": "printers ({name})", "mould": "the moulds of {name}"}
RATE_SPOOLS = "Filament spools a month"
RATE_AREA = "Cloth, film and sheet, m2 a month"
RATE_MONEY = "Value in the stores, average"
RATE_AIRFRAMES = "Airframes in the weeks looked at"
RATES_NOTE = (
    "The build plan at a steady rate, its options and items in turn. Averages and peaks of the 32 "
    "weeks in which the plan's start is forgotten and nothing later is missing. Printers: the kind "
    "named first in prints is filled first."
)
GIVES_WAY = (
    "First to give way: {what}, above {rate:.2f} airframes a month (just above that it takes "
    "{percent:.0f} % of what there is)."
)
NOTHING_GIVES_WAY = "Nothing that is stated gives way up to {rate:g} airframes a month."
ONE_MORE = {
    "process": "40 hours a week more in {name} carry to {rate:.2f} a month.",
    "printer": "One more printer of kind {name} carries to {rate:.2f} a month.",
    "mould": "One more of mould {name} carries to {rate:.2f} a month.",
}
THEN = "Then {what} gives way."
RATE_WRITTEN = "written to {path}"
