"""The input tables that grow from week to week by what was taken back, declared once."""

import polars as pl

from bomkit.tables.schema import Column, Rule, Table
from bomkit.tables.shared_columns import item_column, quantity_column

SCRAP_LOG = Table(
    "scrap_log",
    "What was finished in the past, and how much of it was scrapped; take-back adds to it.",
    (
        Column("date", "date", "Day by which it was finished.", required=True),
        item_column("What was made."),
        Column("process", "name", "The process that made it."),
        Column("plate", "text", "Week and plate, of printed parts."),
        Column("started", "number", "How much was finished, good or not.", required=True, above=0),
        Column("scrapped", "number", "How much of it was scrapped.", default=0, at_least=0),
    ),
    rules=(
        Rule(
            "scrapped",
            pl.col("scrapped") <= pl.col("started"),
            "no more can be scrapped than was started; correct one of the two",
        ),
    ),
)

ARRIVALS_LOG = Table(
    "arrivals_log",
    "What suppliers delivered in the past, and when it was promised; take-back adds to it.",
    (
        Column("order", "name", "Number of the order.", required=True),
        item_column("What was delivered."),
        Column("supplier", "name", "Who delivered it.", refers_to=("suppliers.supplier",)),
        Column("promised", "date", "Day for which it was promised."),
        Column("arrived", "date", "Day by which it came.", required=True),
        quantity_column("How much was taken in, in the item's unit."),
    ),
)
