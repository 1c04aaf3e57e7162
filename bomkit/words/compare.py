"""Words of what a plan does otherwise than the one before it."""

OLD_RUN = "old run"
BOMKIT_ITSELF = "another version of bomkit"
CHOICES = "options of bomkit plan"
CALLED = {"plan": "plan settings"}  # tables that people call otherwise
TOGETHER = " and "
PLANNING_WITH = "planning with the new {names}"
PLANNING_AGAIN = "planning the tables of the old run again, with the bomkit there is now"
DIFFERENT_THINGS = (
    "These are plans of different things: no airframe is in both, and {both} items are, of "
    "{before} in the old run and {after} in the new one. What each table has to do with it is not "
    "worked out."
)
COMPARED = "{run} compared with the old {since}"

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
    "time that orders depend on them; what each one moved adds up to the whole."
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
PROPOSED = (
    "Orders are those that the plan proposes; one that moved may be larger or smaller as well."
)
STEP_CHANGED = "{count:>6} orders changed with {what}"
STEP_CHANGED_ONE = "     1 order changed with {what}"
STEP_CHANGED_NONE = "    no order changed with {what}"
THE_NEW = "the new {name}"
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
DEMAND_CHANGES = CHANGES | {"new": "new in the plan", "gone": "no longer in the plan"}
CAUSE = "{cause} {days:+d}"
CAUSE_WITHOUT_DAYS = "{cause}"
KINDS_COMPARED = {"airframe": "airframe {demand}", "spares order": "spares {demand}"}
