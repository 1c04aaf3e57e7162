"""Words of when spares orders can leave."""

PROMISES_TITLE, SHEET_PROMISES = "When spares orders can leave", "Promises"
PROMISES_NOTES = (
    "Grounded aircraft come first, then airframes and work in hand, then routine orders: nobody "
    "waits for an order that comes after him. Stock that is not needed yet goes to whoever needs "
    "it now, if what takes its place is there in time.",
    "Can leave: the working day on which all that is meant for it is there, and packed if it is a "
    "kit. Makes later: whom a grounded order makes wait the longest, and by how many working days.",
    "Promise: when it is wanted, if it can leave by then.",
)
PROMISE_COLUMNS = {
    "order": "Spares order",
    "urgency": "Urgency",
    "item": "Item",
    "description": "Description",
    "quantity": "Quantity",
    "unit": "Unit",
    "aircraft": "Aircraft",
    "customer": "Customer",
    "wanted": "Wanted",
    "promise": "Promise",
    "days_late": "Days late",
    "leaves_from": "Can leave from",
    "waiting": "Lines that wait",
    "later": "Makes later",
}
MAKES_LATER = "{who}: {days} d"
LEFT_WITHOUT_DATE = "{who}: no date"
NO_SPARES = "There are no spares orders within the horizon."
TRIED_GROUNDED = "If it were grounded:  wanted at once"
TRIED_NOBODY = "makes nobody later"
TRIED_EMPTY = "▲ nothing is in it on the plan's first day: its lines count later"
KIT_PICK, KIT_WAIT = "pick", "from {date}"
