"""Words of the overview: loads, records, levelling, moulds, inspections."""

# overview
OVERVIEW_TITLE = "Overview"
IN_THIS_BOOK = "In this workbook"
SHEET_LOAD, SHEET_RECORD, SHEET_ORDERS, SHEET_LATE = "Load", "Record", "Orders", "Late orders"
LOAD_TITLE = "Load by process, hours a week"
LOAD_NOTE = (
    "Hours of planned orders, spread evenly from start to due day, and of open orders, from the "
    "plan's first day to theirs (all of their hours, unless hours_left says otherwise). ▲ more "
    "hours than the process has in that week. Printers: the hours of each kind, in the week in "
    "which a print starts."
)
NO_LOAD = "No hours: give items hours_each or hours_per_order, and a process, to see them here."
LOAD_HOURS = "hours"
LOAD_TOTAL, LOAD_LIMIT = "all processes", "hours available"
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
RECORD_CUT = (
    "Of {count} items these are the first {shown}. The record of every item is in "
    "tables/projection.parquet; bomkit why shows that of one."
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
LATE_COLUMNS = {
    "days_late": "Days late",
    "order": "Plan no.",
    "item": "Item",
    "description": "Description",
    "serial": "Serial",
    "quantity": "Quantity",
    "unit": "Unit",
    "kind": "Kind",
    "due": "Due day",
    "whom": "For",
}
NO_LATE = "No order starts too late."
FIGURES = (("orders", "orders planned"), ("late", "start too late"), ("weeks", "weeks planned"))
SHEET_ABOUT = {
    SHEET_LOAD: "hours of each process by week, table and chart",
    SHEET_LATE: "orders whose start lies before the plan's first day",
    SHEET_ORDERS: "how many orders of each kind start in each week",
    SHEET_RECORD: "needed, coming, planned and on hand of every item by week",
}
SHEET_INSPECTIONS, SHEET_INSPECTED = "Inspections", "Inspection parts"
INSPECTIONS_ABOUT = {
    SHEET_INSPECTIONS: "which aircraft of the fleet falls due for what, and when",
    SHEET_INSPECTED: "what these inspections take, by week",
}

# inspections
INSPECTIONS_TITLE, INSPECTED_TITLE = "Coming inspections", "What coming inspections take, by week"
INSPECTIONS_NOTE = (
    "Hours grow evenly from those of the plan's first day. Due: one interval after the last time, "
    "on the first day if that is past. Where no record says when it was last done: at whole "
    "intervals from first_hours or the day of delivery."
)
INSPECTIONS_CAUTION = (
    "Foreseen parts, not a maintenance record: the maker's and the authority's documents and "
    "the aircraft's own log rule. It releases no part to flight."
)
INSPECTED_PLANNED = "Planned as foreseen demand: orders for it are marked as foreseen."
INSPECTED_NOT_PLANNED = (
    "Not in the plan; bomkit plan --with-inspections plans it as foreseen demand."
)
INSPECTION_COLUMNS = {
    "due": "Due",
    "week": "Week",
    "aircraft": "Aircraft",
    "base": "Base",
    "what": "What",
    "item": "Takes",
    "description": "Description",
    "quantity": "Quantity",
    "unit": "Unit",
    "cause": "By",
    "last_done": "Last done",
}
LAST_DONE_UNKNOWN = "no record"
INSPECTION_CAUSES = {"hours": "by hours", "months": "by months"}
INSPECTED_COLUMNS = ("Item", "Description", "Unit", "In all")
NOTHING_DUE = "Nothing falls due within the horizon."

# levelling
SHEET_BEFORE, SHEET_PULLED = "Load before levelling", "Pulled forward"
BEFORE_TITLE = "Load by process before levelling, hours a week"
BEFORE_NOTE = "The same plan as netting puts it, beside the sheet Load."
LOAD_IN_WORK = "of these in work"
LOAD_BEFORE = "before levelling"
LOAD_PRINTERS = "printers: {kind}"
PULLED_TITLE = "Orders pulled forward to level the load"
PULLED_NOTE = (
    "Whole orders or whole pieces of them, never later than without levelling, and not beyond the "
    "shelf life. What they are made from is asked for as much earlier."
)
PULLED_COLUMNS = {
    "item": "Item",
    "description": "Description",
    "serial": "Serial",
    "quantity": "Quantity",
    "unit": "Unit",
    "before": "Was to start",
    "start": "Starts",
    "days": "Days earlier",
}
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
MOULD_COLUMNS = {
    "mould": "Mould",
    "item": "Item",
    "description": "Description",
    "count": "Moulds",
    "planned": "Pulls planned",
    "left": "Pulls left",
    "runs_out": "Runs out on",
    "replacement": "Replacement",
    "start_by": "Start by",
    "state": "State",
}
MOULD_WITHOUT = "▲ no replacement named"
MOULD_GAP = "▲ {days} without"
MOULD_REPLACED = "■ replaced in time"
MOULD_ABOUT = {SHEET_MOULDS: "how long the moulds last, and when to start replacing them"}
MOULD_USED_UP = "■ none left after what is planned"

# payments
SHEET_PAYMENTS = "Payments"
PAYMENTS_TITLE = "Payments for what is bought, week by week, thousand {currency}"
NO_CURRENCY = "(no currency stated)"
PAYMENT_ROWS = {"committed": "open orders", "planned": "planned orders"}
PAID_LATER = "Later"
THOUSAND = "thousand {currency}"
PAYMENTS_NOTE = (
    "In the week in which it is due: the day it arrives and the supplier's payment_days. "
    "What has no price is left out. A sheet for each currency: they are never added up."
)
PAYMENTS_ABOUT = "what is to be paid each week for what is bought"
