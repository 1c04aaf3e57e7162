"""Words of what a plan does otherwise than the one before it."""

OLD_RUN = "old run"
BOMKIT_ITSELF = "another version of bomkit"
CHOICES = "options of bomkit plan"

SHEET_CHANGED, SHEET_CHANGED_ORDERS = "Changed", "Changed orders"
CHANGED_ABOUT = {
    SHEET_CHANGED: "whose day is another than in the earlier run, and because of which table",
    SHEET_CHANGED_ORDERS: "orders that are new, gone, moved, larger or smaller",
}
CHANGED_TITLE = "What changed · {title}"
CHANGED_ORDERS_TITLE = "Orders that changed"
SINCE = "since run {run_id}"
CHANGED_COLUMNS = {
    "whom": "For",
    "serial": "Serial",
    "change": "Change",
    "before": "Was",
    "after": "Is now",
    "days": "Days",
    "cause": "Because of",
}
CHANGED_ORDER_COLUMNS = {
    "change": "Change",
    "item": "Item",
    "serial": "Serial",
    "start_before": "Start was",
    "start_date": "Start",
    "due_before": "Due was",
    "due_date": "Due",
    "quantity_before": "Quantity was",
    "quantity": "Quantity",
    "unit": "Unit",
    "order": "Plan no.",
}
CHANGED_NOTE = (
    "Days are calendar days, later with a plus. Because of: the old run's tables were replaced by "
    "the new ones one after the other, in the order in which they stand below, and planned each "
    "time; what each one moved adds up to the whole."
)
CHANGED_ORDERS_NOTE = (
    "Orders of an item and serial are the same order if day and quantity agree, else if the day "
    "does, else in their order in time. Orders that were to begin before this plan's first day "
    "are not listed."
)
NERVOUS = "Orders to begin in the coming four weeks that changed: {percent:.0f} %."
ORDERS_CHANGED = "Orders: {counts}."
NO_ORDER_CHANGED = "No order changed."
NO_FORECAST_MOVED = "No airframe and no spares order has another day."
STEP_CHANGED = "{count:>6} orders changed with the new {name}"
STEPS_NOTE = "an order may change with one table and back with the next"
CHANGES = {
    "new": "new",
    "gone": "gone",
    "later": "▲ later",
    "sooner": "sooner",
    "never": "▲ has no day any more",
    "found": "has a day again",
    "moved": "moved",
    "larger": "larger",
    "smaller": "smaller",
}
CAUSE = "{cause} {days:+d}"
CAUSE_WITHOUT_DAYS = "{cause}"
KINDS_COMPARED = {"airframe": "airframe {demand}", "spares order": "spares {demand}"}
