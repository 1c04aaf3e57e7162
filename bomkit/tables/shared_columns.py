"""The columns that many tables have, declared once, and what they may hold."""

from bomkit.tables.kinds import DEMAND_KINDS
from bomkit.tables.schema import Column

ITEM = ("items.item",)
SERIAL = ("build_plan.serial", "fleet.serial")
LONGEST_DAYS = 2000  # working days; longer lead times are slips of the keyboard
LONGEST_SHELF = 3653  # calendar days, ten years
NEVER = 1_000_000  # so many working days late is what nothing brings
OWN_DAY = "on a day that is not a working day it counts on the last working day before it"


def item_column(help_text: str) -> Column:
    """The item that a row is about."""
    return Column("item", "name", help_text, required=True, refers_to=ITEM)


def quantity_column(help_text: str) -> Column:
    """How much, in the item's own unit."""
    return Column("quantity", "number", help_text, required=True, above=0)


def serial_column(help_text: str) -> Column:
    """The serial number of an aircraft on the line or in the fleet."""
    return Column("serial", "name", help_text, refers_to=SERIAL)


def days_column(name: str, help_text: str, default: int = 0) -> Column:
    """A number of working days."""
    return Column(name, "whole", help_text, default=default, at_least=0, at_most=LONGEST_DAYS)


def late_column(help_text: str) -> Column:
    """By how many working days something comes too late in the forecast."""
    return Column("late_days", "whole", f"{help_text}; {NEVER}: nothing brings it.", True)


def demand_columns() -> tuple[Column, ...]:
    """What asks for a part in the end, and what kind of demand it is."""
    return (
        Column("demand", "name", "The airframe or spares order.", True),
        Column("demand_kind", "choice", "What kind of demand.", True, choices=DEMAND_KINDS),
    )
