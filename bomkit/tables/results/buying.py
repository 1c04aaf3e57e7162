"""The result tables of the buyer's desk, declared once."""

from bomkit.tables.schema import Column, Table

MOVE_KINDS = ("sooner", "later", "less", "not needed", "overdue")

MOVES = Table(
    "moves",
    "What to ask for of open orders, so that they come when and as much as they are needed.",
    (
        Column("order", "name", "The open order.", True),
        Column("item", "name", "What is ordered.", True),
        Column("serial", "name", "For which airframe; empty for a common item.", True),
        Column("kind", "choice", "What to ask for.", True, choices=MOVE_KINDS),
        Column("due_date", "date", "Day on which it is due.", True),
        Column("right_date", "date", "Day that would be right; empty: it is not needed."),
        Column("days", "whole", "Working days between the two, sooner positive.", True),
        Column("quantity", "number", "How much is on order.", True),
        Column("right_quantity", "number", "How much would be right.", True),
        Column("value", "number", "Cost of what moves; empty if the item has none."),
        Column("demand", "text", "Who waits for it: airframes and orders; for sooner.", True),
        Column("meant_for", "name", "The aircraft that its row of open_orders names; empty: none."),
    ),
)

BUY_LINES = Table(
    "buy_lines",
    "The planned orders of bought items with whom to order from and at what price.",
    (
        Column("order", "name", "The planned order.", True),
        Column("item", "name", "What is bought.", True),
        Column("supplier", "name", "Who has the lowest total of those who come in time.", True),
        Column("quantity", "number", "How much to order.", True),
        Column("price", "number", "Price of one unit at that quantity; empty: none is known."),
        Column("currency", "text", "Its currency.", True),
        Column("value", "number", "Quantity x price."),
        Column("lead_days", "whole", "Working days from ordering to delivery."),
        Column("arrives", "date", "Day on which it arrives.", True),
        Column("late_days", "whole", "Working days by which that is after the day wanted.", True),
        Column("larger_supplier", "name", "Who sells a larger quantity for less in total.", True),
        Column("larger_quantity", "number", "That larger quantity."),
        Column("larger_value", "number", "What it costs in total."),
        Column("faster_supplier", "name", "Who would be faster, where the order is late.", True),
        Column("faster_days", "whole", "By how many working days."),
        Column("faster_value", "number", "What the order costs there in total."),
        Column("faster_currency", "text", "The currency of that.", True),
        Column("faster_extra", "number", "What it costs more; empty in another currency."),
        Column("elsewhere", "text", "Offers in other currencies, which are not compared.", True),
    ),
    key=("order",),
)

CASH = Table(
    "cash",
    "What is to be paid for bought items, one row for each ISO week and currency.",
    (
        Column("week", "text", "ISO 8601 week, such as 2026-W49.", True),
        Column("currency", "text", "The currency; currencies are never added up.", True),
        Column("committed", "number", "For open orders.", True),
        Column("planned", "number", "For planned orders.", True),
    ),
    key=("week", "currency"),
)
