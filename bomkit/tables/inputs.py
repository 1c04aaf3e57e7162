"""Every input and result table, declared once: reading, checks, templates and docs follow from it.

To add a column, add it here; nothing else has to know about it but the rule that uses it.
"""

import polars as pl

from bomkit.problems import nearest
from bomkit.tables.results import RESULTS as RESULTS
from bomkit.tables.results import SOURCES as SOURCES
from bomkit.tables.schema import Column, Rule, Table, renamed
from bomkit.tables.shops import SHOP_TABLES
from bomkit.units import UNITS, WHOLE_UNITS

# Sources that are planned by their structure.
STRUCTURED = ("make", "print", "phantom", "kit")
ITEM = ("items.item",)
SERIAL = ("build_plan.serial", "fleet.serial")
LONGEST_DAYS = 2000  # working days; longer lead times are slips of the keyboard
MOST_WEEKS = 156  # three years; a record by week has a column for each
MOST_LIST_WEEKS = 26  # each has four workbooks of its own
LONGEST_SHELF = 3653  # calendar days, ten years
MOST_MONTHS = 1200

_own_date = "on a day that is not a working day it counts on the last working day before it"


def _item(help_text: str) -> Column:
    return Column("item", "name", help_text, required=True, refers_to=ITEM)


def _quantity(help_text: str) -> Column:
    return Column("quantity", "number", help_text, required=True, above=0)


def _serial(help_text: str) -> Column:
    return Column("serial", "name", help_text, refers_to=SERIAL)


def _days(name: str, help_text: str, default: int = 0) -> Column:
    return Column(name, "whole", help_text, default=default, at_least=0, at_most=LONGEST_DAYS)


PLAN = Table(
    "plan",
    "The plan's own settings: plan.toml in a folder, the sheet 'plan' with one row in a workbook.",
    (
        Column("start", "date", "First day of the plan, as 2026-11-30.", required=True),
        Column(
            "horizon_weeks",
            "whole",
            "How many calendar weeks are planned.",
            required=True,
            at_least=1,
            at_most=MOST_WEEKS,
        ),
        Column(
            "list_weeks",
            "whole",
            "For how many weeks workbooks are written.",
            default=4,
            at_least=1,
            at_most=MOST_LIST_WEEKS,
            formerly="release_weeks",
        ),
        Column("title", "text", "What stands on every sheet, such as the maker's name."),
        Column(
            "mass_limit_kg",
            "number",
            "Greatest empty mass of an airframe; rolled-up masses are held against it.",
            above=0,
        ),
        Column(
            "pull_ahead_weeks",
            "whole",
            "By how many weeks work may be pulled forward where a week holds too much; 0: by none.",
            default=0,
            at_least=0,
            at_most=MOST_WEEKS,
        ),
    ),
    required=True,
    one_row=True,
)

_is_print = pl.col("source") == "print"
_is_phantom = pl.col("source") == "phantom"
_phantom_ignores = ("lead_days", "safety_days", "safety_stock", "minimum", "multiple", "scrap_rate")

ITEMS = Table(
    "items",
    "Everything that is built, printed, bought or kept.",
    (
        Column("item", "name", "The item's number or name; text, leading zeros count.", True),
        Column("description", "text", "What it is, in words."),
        Column(
            "source",
            "choice",
            "make (in the shops), print, buy, phantom (passes straight through) or kit (packed).",
            required=True,
            choices=SOURCES,
        ),
        Column(
            "process",
            "name",
            "The process that makes it, such as lay-up.",
            refers_to=("processes.process",),
        ),
        Column("unit", "choice", "What it is counted in.", True, choices=tuple(UNITS)),
        _days("lead_days", "Working days from the start of an order to the day it is due."),
        _days("safety_days", "Working days by which an order is due ahead of the need."),
        Column("scrap_rate", "rate", "Share that is scrapped; empty: the rate of the process."),
        Column("minimum", "number", "Smallest quantity of an order.", default=0, at_least=0),
        Column(
            "multiple",
            "number",
            "Orders are rounded up to a multiple of this; 0: no multiple.",
            default=0,
            at_least=0,
        ),
        _days("cover_days", "Working days whose needs one order covers; 0 counts as 1.", default=1),
        Column(
            "safety_stock",
            "number",
            "Quantity always kept; not for serial-specific items.",
            default=0,
            at_least=0,
        ),
        Column(
            "longest_cover_days",
            "whole",
            "Longest cover of an order, in working days, because it spoils.",
            at_least=1,
            formerly="shelf_life_days",
        ),
        Column("supplier", "name", "Who delivers it.", refers_to=("suppliers.supplier",)),
        Column("cost", "number", "Cost of one unit.", at_least=0),
        Column("mass_g", "number", "Mass of one unit in grams.", at_least=0),
        Column(
            "hours_each", "number", "Working hours for each unit started.", default=0, at_least=0
        ),
        Column("hours_per_order", "number", "Working hours for each order.", default=0, at_least=0),
        Column("material", "text", "What it is laid up or printed in; needed for print."),
        Column(
            "structure_class",
            "choice",
            "primary, secondary, none or tooling. Printed parts are never primary structure.",
            default="none",
            choices=("primary", "secondary", "none", "tooling"),
            formerly="structure",
        ),
        Column("heat_c", "number", "Temperature it must stand, in degrees C.", at_least=-273.15),
        Column(
            "hazard",
            "text",
            "UN number and class if it is dangerous goods, such as UN 1263, class 3.",
        ),
    ),
    key=("item",),
    required=True,
    rules=(
        Rule(
            "material",
            ~_is_print | (pl.col("material") != ""),
            "a printed item must say what it is printed in; write its material",
        ),
        Rule(
            "structure_class",
            ~(_is_print & (pl.col("structure_class") == "primary")),
            "printed parts are not primary structure; make it another way, "
            "or have the engineer in charge correct the class",
        ),
        Rule(
            "multiple",
            ~pl.col("unit").is_in(WHOLE_UNITS) | (pl.col("multiple") % 1 == 0),
            "pieces are whole: orders will be rounded up to a whole number as well",
            "warning",
        ),
        Rule(
            "source",
            ~(
                _is_phantom
                & (pl.any_horizontal(pl.col(name) > 0 for name in _phantom_ignores)).fill_null(
                    False
                )
            ),
            "a phantom has no order of its own: its lead, safety and lot columns are not used; "
            "empty them",
            "warning",
        ),
    ),
)

STRUCTURE = Table(
    "structure",
    "What goes into what: one line for each child of a parent.",
    (
        Column("parent", "name", "The item that is built.", required=True, refers_to=ITEM),
        Column("child", "name", "The item that goes into it.", required=True, refers_to=ITEM),
        Column("quantity", "number", "How much of the child.", required=True, above=0),
        Column(
            "unit",
            "choice",
            "Unit of the quantity, of the same dimension as the child's own; empty: the child's.",
            choices=tuple(UNITS),
        ),
        Column(
            "per",
            "choice",
            "each: for each unit of the parent; order: once for each order, whatever its size.",
            default="each",
            choices=("each", "order"),
        ),
        Column("waste", "rate", "Share of the child lost in cutting or pouring.", default=0.0),
        Column(
            "offset_days",
            "whole",
            "Working days after the parent's start on which the child is needed.",
            default=0,
            at_least=-LONGEST_DAYS,
            at_most=LONGEST_DAYS,
        ),
        Column("position", "text", "Where it stands on the drawing."),
        Column("with_option", "names", "Only if all of these options are fitted."),
        Column("without_option", "names", "Only if none of these options is fitted."),
        Column("from_serial", "name", "Only from this serial number on (inclusive)."),
        Column("to_serial", "name", "Only up to this serial number (inclusive)."),
        Column("from_date", "date", "Only in orders that start on this day or later."),
        Column("to_date", "date", "Only in orders that start on this day or earlier."),
        Column("note", "text", "For people."),
    ),
    required=True,
    rules=(
        Rule("child", pl.col("parent") != pl.col("child"), "an item can't go into itself"),
        Rule(
            "to_date",
            pl.col("from_date") <= pl.col("to_date"),
            "to_date must not lie before from_date; as it stands the line is never used",
        ),
    ),
)

BUILD_PLAN = Table(
    "build_plan",
    "The airframes to be built: one row a serial number, one piece each.",
    (
        Column("serial", "name", "Serial number, such as KT-061.", required=True),
        _item("The item that is this airframe."),
        Column("ready_date", "date", f"Day it must be ready; {_own_date}.", required=True),
        Column("options", "names", "Options fitted, separated by spaces or semicolons."),
    ),
    key=("serial",),
    required=True,
)

PROCESSES = Table(
    "processes",
    "The shops' processes.",
    (
        Column("process", "name", "Name of the process, such as lay-up.", required=True),
        Column("scrap_rate", "rate", "Share scrapped, for items without a rate of their own."),
        Column("hours_per_week", "number", "Hours available in a normal week.", at_least=0),
    ),
    key=("process",),
)

STOCK = Table(
    "stock",
    "What lies in the stores.",
    (
        _item("What it is."),
        Column("quantity", "number", "How much, in the item's unit.", required=True, at_least=0),
        Column("location", "text", "Where it lies."),
        Column("lot", "name", "Lot or batch number."),
        Column(
            "status",
            "choice",
            "usable, hold or quarantine; only usable stock is planned with.",
            default="usable",
            choices=("usable", "hold", "quarantine"),
        ),
        Column("expires", "date", "Last day on which it may be used."),
        _serial("For whom it is kept; needed for a serial-specific item."),
        Column("reason", "text", "Why it is on hold or in quarantine; shown wherever it is named."),
    ),
)

OPEN_ORDERS = Table(
    "open_orders",
    "What is ordered or in work already.",
    (
        Column("order", "name", "Number of the order.", required=True),
        _item("What is ordered."),
        _quantity("How much is on order or started, scrap included."),
        Column(
            "due_date",
            "date",
            "Day it arrives or is finished; on a day that is not a working day it counts on the "
            "first working day after it.",
            required=True,
        ),
        _serial("For whom; needed for a serial-specific item."),
        Column("supplier", "name", "Who delivers it.", refers_to=("suppliers.supplier",)),
    ),
    key=("order", "item", "serial", "due_date"),
)

ALLOCATIONS = Table(
    "allocations",
    "What open make, print and kit orders still lack; an order without any has all it needs.",
    (
        Column(
            "order",
            "name",
            "The open order that lacks it.",
            required=True,
            refers_to=("open_orders.order",),
        ),
        _item("The component it lacks."),
        _quantity("How much it lacks."),
        Column("need_date", "date", f"Day it is needed; {_own_date}.", required=True),
        _serial("For whom; needed for a serial-specific item."),
    ),
)

SPARES_ORDERS = Table(
    "spares_orders",
    "What the fleet has ordered.",
    (
        Column("order", "name", "Number of the order.", required=True),
        _item("What is ordered."),
        _quantity("How much."),
        Column("need_date", "date", f"Day it must leave; {_own_date}.", required=True),
        _serial("The aircraft it goes to; needed for a serial-specific item."),
        Column(
            "urgency",
            "choice",
            "grounded (an aircraft waits for it) or routine.",
            default="routine",
            choices=("grounded", "routine"),
        ),
        Column("customer", "text", "Who ordered it."),
        Column(
            "min_shelf_days",
            "whole",
            "Calendar days for which what is packed must still be good when it leaves.",
            default=90,
            at_least=0,
            at_most=LONGEST_SHELF,
        ),
    ),
    key=("order", "item", "serial", "need_date"),
)

FLEET = Table(
    "fleet",
    "The aircraft delivered.",
    (
        Column("serial", "name", "Serial number.", required=True),
        _item("The item that is this aircraft."),
        Column("options", "names", "Options fitted, separated by spaces or semicolons."),
        Column("delivered", "date", "Day of delivery."),
        Column("base", "text", "Where it flies from."),
        Column("hours", "number", "Hours flown.", at_least=0),
        Column("hours_per_year", "number", "Hours flown in a year.", at_least=0),
    ),
    key=("serial",),
)

REPLACEMENTS = Table(
    "replacements",
    "Items that another one takes the place of once the old one is used up.",
    (
        Column("old", "name", "The item that is used up.", required=True, refers_to=ITEM),
        Column("new", "name", "The item that takes its place.", required=True, refers_to=ITEM),
        Column("note", "text", "For people."),
    ),
    key=("old",),
    rules=(Rule("new", pl.col("old") != pl.col("new"), "an item can't replace itself"),),
)

ALTERNATES = Table(
    "alternates",
    "Approved stand-ins: their free stock is proposed where an item is missing, never taken.",
    (
        Column("item", "name", "The item that may be missing.", required=True, refers_to=ITEM),
        Column("alternate", "name", "What is approved to be used instead.", True, refers_to=ITEM),
        Column("note", "text", "For people, such as who approved it and for what."),
    ),
    key=("item", "alternate"),
    rules=(
        Rule(
            "alternate", pl.col("item") != pl.col("alternate"), "an item can't stand in for itself"
        ),
    ),
)

CALENDAR = Table(
    "calendar",
    "Days on which nobody works, besides Saturdays and Sundays.",
    (
        Column("date", "date", "The closed day.", required=True),
        Column("reason", "text", "Why, for people."),
    ),
    key=("date",),
)

SUPPLIERS = Table(
    "suppliers",
    "Who delivers.",
    (
        Column("supplier", "name", "Short name of the supplier.", required=True),
        Column("name", "text", "Full name."),
        Column("email", "text", "Where orders go."),
        Column("order_minimum", "number", "Least value of an order.", at_least=0),
        Column("currency", "text", "Currency of its prices, such as EUR."),
    ),
    key=("supplier",),
)

USAGE = Table(
    "usage",
    "How often a part is used up on an aircraft in the field.",
    (
        _item("The part."),
        Column(
            "per_1000_hours",
            "number",
            "Pieces used on one aircraft in 1000 flight hours; this or per_year.",
            at_least=0,
        ),
        Column(
            "per_year",
            "number",
            "Pieces used on one aircraft in a year; this or per_1000_hours.",
            at_least=0,
        ),
    ),
    key=("item",),
    rules=(
        Rule(
            "per_1000_hours",
            pl.col("per_1000_hours").is_null() != pl.col("per_year").is_null(),
            "give one of per_1000_hours and per_year, and leave the other one empty",
        ),
    ),
)

ISSUES = Table(
    "issues",
    "What the stores handed out to the fleet in the past.",
    (
        _item("What was handed out."),
        Column("date", "date", "Day on which it left the stores.", required=True),
        _quantity("How much, in the item's unit."),
        Column("serial", "name", "The aircraft it went to, for people."),
    ),
)

INSPECTION_RULES = Table(
    "inspection_rules",
    "What the fleet's inspections take, and when they fall due.",
    (
        _item("The kit or part it takes."),
        Column("quantity", "number", "How much of it, each time.", default=1, above=0),
        Column("every_hours", "number", "Due every so many flight hours.", at_least=1),
        Column(
            "every_months",
            "whole",
            "Due every so many calendar months; with every_hours, whichever comes first.",
            at_least=1,
            at_most=MOST_MONTHS,
        ),
        Column(
            "first_hours",
            "number",
            "Flight hours at which it is due for the first time; empty: every_hours.",
            at_least=0,
        ),
        Column(
            "first_months",
            "whole",
            "Months from delivery to the first time; empty: every_months.",
            at_least=0,
            at_most=MOST_MONTHS,
        ),
        Column("with_option", "names", "Only aircraft with all of these options."),
        Column("without_option", "names", "Only aircraft with none of these options."),
        Column("from_serial", "name", "Only from this serial number on (inclusive)."),
        Column("to_serial", "name", "Only up to this serial number (inclusive)."),
        Column("note", "text", "What it is, in words."),
    ),
    rules=(
        Rule(
            "every_hours",
            pl.col("every_hours").is_not_null() | pl.col("every_months").is_not_null(),
            "say how often: give every_hours, every_months or both",
        ),
        *(
            Rule(
                f"first_{unit}",
                pl.col(f"first_{unit}").is_null() | pl.col(f"every_{unit}").is_not_null(),
                f"goes with every_{unit}; give that as well, or empty this",
            )
            for unit in ("hours", "months")
        ),
    ),
    formerly="upkeep",
)

INPUTS: dict[str, Table] = {
    table.name: table
    for table in (
        PLAN,
        ITEMS,
        STRUCTURE,
        BUILD_PLAN,
        PROCESSES,
        STOCK,
        OPEN_ORDERS,
        ALLOCATIONS,
        SPARES_ORDERS,
        FLEET,
        REPLACEMENTS,
        ALTERNATES,
        CALENDAR,
        SUPPLIERS,
        USAGE,
        ISSUES,
        INSPECTION_RULES,
        *SHOP_TABLES,
    )
}


def table_hint(name: str) -> str:
    """What to do about a file or sheet that is no table: the name it has now, or the nearest."""
    return renamed(name, INPUTS.values()) or nearest(name, INPUTS)
