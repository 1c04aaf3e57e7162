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
    "upkeep": "{demand} (forecast)",
    "stock": "stock",
    "several": "several",
}

# states: a symbol, a word and a colour, so that a grey print says the same
LATE = "▲ late {days} d"
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
    "not in it. ▲ more hours than the process has in that week. Printers: the hours of each kind, "
    "in the week in which a print starts."
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
    "Grounded and other",
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
LACKING_TITLE = "Missing for grounded aircraft and other work"
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
PACK_LATE = "▲ late {days} d"
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
PACK_TOTAL = "Mass and value, to pack now"
PACK_UNWEIGHED = "without a stated mass: {items}"
PACK_FREE = "free"
PACK_TAKEN = "▲ taken from {who}: waits {days} d; nobody would from {date}"
PACK_SPOKEN = "▲ in stock {stock}, free {free}; now, {who} would wait {days} d"
PACK_NOT_THERE = "not in stock, or no lot lasts long enough"
PACK_PARTLY = "in stock {stock}, free {free}"
PACK_WHOLE = "Of the whole order"
PACK_NOTHING_YET = "Nothing can be packed yet."
PACK_DANGEROUS = "▲ Dangerous goods: {goods}."
PACK_FROM = "● from {date}"
PACK_SIGN = ("Packed by", "Checked by", "Date")
PROMISES_TITLE, SHEET_PROMISES = "When spares orders can leave", "Promises"
PROMISES_NOTES = (
    "Routine orders take only stock that nobody in the line needs before it can be there again; "
    "grounded aircraft may take what is spoken for, and the packing list says from whom.",
    "Can leave: the working day on which the last line can be taken, and packed if it is a kit; "
    "what the line needs first counts as if it were ordered anew today.",
    "Promise: when it is wanted, if it can leave by then.",
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
    "Promise",
    "Days late",
    "Can leave from",
    "Lines that wait",
)
NO_SPARES = "There are no spares orders within the horizon."
KIT_TAKE, KIT_WAIT = "take", "from {date}"

# terminal
SUMMARY_HEADS = ("week", "make", "print", "buy", "pack", "late")
SUMMARY_LATER = "later"
SUMMARY_LATE = "Orders that start too late: {count}. The latest:"
SUMMARY_FORECAST = "Forecast late: {count}. The latest:"
SUMMARY_IN_TIME = "By the forecast every airframe and grounded aircraft is in time."
SUMMARY_PROMISES = "Spares orders that leave late: {count} of {all}; see shortages.xlsx, Promises."
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
MISFIT_EMPTY = (
    "nothing would be packed for this aircraft: no line of the kit, nor of what is in it, counts "
    "for it on that day; look at the kit, the serial and the dates"
)
MISFIT_LINE = "{parent} -> {child} {conditions}"
NO_OPTIONS = "none"

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
PLATES_NOTES = (
    "Bold: one plate, below it what is on it, in the order in which to run them: late ones first "
    "(▲), then by the first start day of any order on it.",
    "A failed print takes its whole plate: the parts of one plate do not fail one by one. Framed: "
    "to be filled in.",
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
    "first day, without what has expired. To order: what the plan orders this week, for later "
    "weeks too, in whole spools; see the buy list."
)
SPOOLS_TO_BUY = "■ {order}: {spools} spools ({quantity:,.6g} {unit})"
FILAMENT_TO_BUY = "■ {order}: {quantity:,.6g} {unit}"
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
PROCESSES_OVER = "Processes with more hours than there are: {named}."
PROCESSES_OVER_IN = "{process} in {week} by {hours:,.1f} h"
PRINTERS_OVER = "Printers with more hours than there are: {named}."
PRINTERS_OVER_IN = "{kind} in {week} by {hours:,.1f} h"
SHEET_BEFORE, SHEET_PULLED = "Load before levelling", "Pulled forward"
BEFORE_TITLE = "Load by process before levelling, hours a week"
BEFORE_NOTE = "The same plan as netting puts it, beside the sheet Load."
LOAD_BEFORE = "before levelling"
LOAD_PRINTERS = "printers: {kind}"
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
MOULDS_UNSETTLED = (
    "Moulds: planning again and again for those that wear out came to no rest; look at their days "
    "with care."
)
MOULD_USED_UP = "■ none left after what is planned"
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
GIVES_WAY_AT_ONCE = "First to give way: {what}; it is asked for, but there is none of it."
NOTHING_GIVES_WAY = "Nothing that is stated gives way up to {rate:g} airframes a month."
COULD_BE_SLICED_ANEW = (
    "{count} of the parts printed there are approved on no newer kind of printer: slicing them "
    "anew, tried and approved, would free hours too (sheet Slice anew of the print workbooks)."
)
ONE_MORE = {
    "process": "40 hours a week more in {name} carry to {rate:.2f} a month.",
    "printer": "One more printer of kind {name} carries to {rate:.2f} a month.",
    "mould": "One more of mould {name} carries to {rate:.2f} a month.",
}
THEN = "Then {what} gives way."
