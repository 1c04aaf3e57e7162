"""The input tables of who delivers and at what price, declared once."""

from bomkit.tables.schema import Column, Table
from bomkit.tables.shared_columns import LONGEST_DAYS, LONGEST_SHELF, item_column

SUPPLIERS = Table(
    "suppliers",
    "Who delivers.",
    (
        Column("supplier", "name", "Short name of the supplier.", required=True),
        Column("name", "text", "Full name."),
        Column("email", "text", "Where orders go."),
        Column("order_minimum", "number", "Least value of an order.", at_least=0),
        Column("currency", "text", "Currency of its prices, such as EUR."),
        Column(
            "payment_days",
            "whole",
            "Calendar days after delivery on which it is paid.",
            default=0,
            at_least=0,
            at_most=LONGEST_SHELF,
        ),
    ),
    key=("supplier",),
)

PRICES = Table(
    "prices",
    "What suppliers ask for an item, by quantity; without a row its cost and supplier count.",
    (
        item_column("What is bought."),
        Column(
            "supplier", "name", "Who asks it.", required=True, refers_to=("suppliers.supplier",)
        ),
        Column(
            "from_quantity",
            "number",
            "Least quantity of an order at this price; rising from line to line.",
            required=True,
            at_least=0,
        ),
        Column("price", "number", "Price of one unit.", required=True, at_least=0),
        Column("currency", "text", "Its currency; empty: that of the supplier."),
        Column(
            "lead_days",
            "whole",
            "Working days from ordering to delivery; empty: those of the item.",
            at_least=0,
            at_most=LONGEST_DAYS,
        ),
        Column("valid_to", "date", "Last day on which it may be ordered at this price."),
    ),
    key=("item", "supplier", "from_quantity", "valid_to"),
)
