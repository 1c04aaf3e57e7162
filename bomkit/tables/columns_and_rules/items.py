"""The input tables of what parts are and what goes into them, declared once."""

import polars as pl

from bomkit.tables.kinds import SOURCES
from bomkit.tables.schema import Column, Rule, Table
from bomkit.tables.shared_columns import ITEM, LONGEST_DAYS, days_column
from bomkit.units import UNITS, WHOLE_UNITS

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
        days_column("lead_days", "Working days from the start of an order to the day it is due."),
        days_column("safety_days", "Working days by which an order is due ahead of the need."),
        Column("scrap_rate", "rate", "Share that is scrapped; empty: the rate of the process."),
        Column("minimum", "number", "Smallest quantity of an order.", default=0, at_least=0),
        Column(
            "multiple",
            "number",
            "Orders are rounded up to a multiple of this; 0: no multiple.",
            default=0,
            at_least=0,
        ),
        days_column("cover_days", "Working days that one order covers; 0 counts as 1.", default=1),
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
        Column(
            "lot_rule",
            "choice",
            "cover: an order covers the needs of cover_days; least_cost: as many days as cost the "
            "least, by order_cost, cost and the holding_rate of plan.toml.",
            default="cover",
            choices=("cover", "least_cost"),
        ),
        Column("order_cost", "number", "Cost of one order, whatever its size.", at_least=0),
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
            "order_cost",
            (pl.col("lot_rule") != "least_cost") | (pl.col("order_cost").fill_null(0) > 0),
            "lots of least cost need the cost of an order above 0; write it, or take lot_rule away",
        ),
        Rule(
            "cost",
            (pl.col("lot_rule") != "least_cost") | (pl.col("cost").fill_null(0) > 0),
            "lots of least cost need the cost of one unit above 0; write it, or take lot_rule away",
        ),
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
    "Approved stand-ins: stock of theirs that nobody has is proposed where an item is missing, "
    "never taken.",
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
