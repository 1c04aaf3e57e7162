"""Words of the lists of what to ask for of open orders."""

ASK_SHEET = "Ask for"
ASK_BUY_TITLE = "Ask for · by supplier, for the telephone"
ASK_SHOP_TITLE = "Ask for · open orders, by process"
ASK_COLUMNS = {
    "done": "",
    "order": "Order no.",
    "item": "Item",
    "description": "Description",
    "ask": "What to ask for",
    "due": "Due now",
    "right": "Right day",
    "days": "Days",
    "quantity": "On order",
    "right_quantity": "Right quantity",
    "unit": "Unit",
    "value": "Value",
    "waits": "Who waits",
    "date": "New day",
    "number": "New quantity",
    "cancelled": "Called off",
}
ASK_IS_FOR = "for {demand}"
ASK_KINDS = {
    "sooner": "▲ sooner",
    "overdue": "▲ overdue: when?",
    "later": "later will do",
    "less": "less will do",
    "not needed": "not needed",
}
ASK_NOTE = (
    "First what somebody waits for. Right day: the day of the need less the safety days, or the "
    "plan's first day; days: working days sooner, or with a minus later. Framed: the answer; "
    "called off: yes. Who waits: with 'for' nobody is late yet. Orders marked as firm are asked "
    "for sooner only."
)
ASK_FIRST = (
    "Ring first: {party}. If all that is asked sooner comes so, airframes are ready {days} working "
    "days earlier in all: {whom}."
)
ASK_GAIN = "{demand} {saved} d"
ASK_BUY_CAUTION = (
    "A faster delivery changes nothing about approved sources, certificates and the inspection of "
    "what comes in."
)
ASK_SHOP_CAUTION = (
    "Sooner never means a shorter cure or test. The maker's process sheets rule; this list "
    "releases no part to flight."
)
