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
    ),
)
