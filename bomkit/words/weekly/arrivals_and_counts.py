"""Words of the lists of what arrives and of what is counted."""

ARRIVALS_SHEET = "Arrivals"
ARRIVALS_TITLE = "Arrivals · due in week {week}"
ARRIVALS_FIRST_TITLE = "Arrivals · due in week {week}, and overdue"
LATER = "Due after the listed weeks, if they come early"
ARRIVALS_COLUMNS = {
    "done": "",
    "order": "Order no.",
    "item": "Item",
    "description": "Description",
    "due": "Promised for",
    "quantity": "On order",
    "unit": "Unit",
    "usual": "Usual place",
    "arrived": "Arrived",
    "rejected": "Of these refused",
    "lot": "Lot",
    "use_by": "Use by",
    "place": "Put in place",
}
ARRIVALS_CAUTION = (
    "Inspect what comes in, and look at its certificates, before it goes into stock: the maker's "
    "documents say how. What is refused or not yet released stands apart from usable stock."
)
ARRIVALS_NOTE = (
    "Framed: what was delivered in all, how much of it goes back, and where the rest was put. "
    "Usual place: where most of it lies; it counts where no other place is filled in. What is due "
    "after the listed weeks stands below in the workbook, not on paper."
)
IS_OVERDUE = "▲ overdue"
NOTHING_IS_DUE = "No open purchase is due in week {week}."

COUNTS_SHEET = "Counts"
COUNTS_TITLE = "Places to count in week {week}"
COUNTS_COLUMNS = {
    "done": "",
    "place": "Location",
    "item": "Item",
    "description": "Description",
    "serial": "Serial",
    "lot": "Lot",
    "use_by": "Use by",
    "status": "Status",
    "unit": "Unit",
    "counted": "Counted",
}
COUNTS_NOTE = (
    "Every place has its week, once in {weeks}. How much should be there is left out, so that "
    "everybody counts. Framed: how much is there; 0 if nothing is. Empty: not counted."
)
COUNTS_TIME = "Count after the last picks and arrivals of the week are filled in: a count is final."
NOTHING_TO_COUNT = "No place has its turn in week {week}."
