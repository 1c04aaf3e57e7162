"""The table that accounts for a week that was taken back, declared once."""

from bomkit.tables.schema import Column, Table
from bomkit.units import UNITS

ACCOUNT = Table(
    "account",
    "What was there, what came and went, and what is there now: one row an item.",
    (
        Column("item", "name", "The item.", True),
        Column("description", "text", "What it is, in words.", True),
        Column("unit", "choice", "What it is counted in.", True, choices=tuple(UNITS)),
        Column("opening", "number", "What lay in stock, whatever its state.", True),
        Column("arrived", "number", "What came and was not refused.", True),
        Column("good", "number", "What was finished and good.", True),
        Column("counted", "number", "By how much counts were more or less.", True),
        Column("picked", "number", "What was picked for orders.", True),
        Column("scrapped", "number", "What was found scrapped on the shelf.", True),
        Column("sent", "number", "What left the house.", True),
        Column("closing", "number", "What lies in stock now.", True),
    ),
    key=("item",),
)
