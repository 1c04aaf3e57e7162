"""Words of the make and print workbooks of a week."""

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
