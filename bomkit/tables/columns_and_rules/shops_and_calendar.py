"""The input tables of the shops, declared once."""

import polars as pl

from bomkit.tables.schema import Column, Rule, Table
from bomkit.tables.shared_columns import ITEM, item_column

MOST_PLATES = 20_000  # in a plan; more is a slip in a quantity, and would take too long to lay out


PROCESSES = Table(
    "processes",
    "The shops' processes.",
    (
        Column("process", "name", "Name of the process, such as lay-up.", required=True),
        Column("scrap_rate", "rate", "Share scrapped, for items without a rate of their own."),
        Column("hours_per_week", "number", "Hours available in a normal week.", at_least=0),
        Column(
            "cures",
            "choice",
            "Whether what it makes has to cure or is tested for a set time: nobody is told to "
            "start it first, as nothing shortens that.",
            default="no",
            choices=("yes", "no"),
        ),
        Column(
            "stage",
            "text",
            "Stage of the build that the board shows for it, such as laminate; else the process.",
        ),
    ),
    key=("process",),
)

CALENDAR = Table(
    "calendar",
    "Days on which nobody works besides Saturdays and Sundays, and those on which somebody does.",
    (
        Column("date", "date", "The closed day, or the Saturday or Sunday that is open.", True),
        Column("reason", "text", "Why, for people."),
        Column(
            "open",
            "choice",
            "yes: this Saturday or Sunday is a working day; no: nobody works on this day.",
            default="no",
            choices=("yes", "no"),
        ),
    ),
    key=("date",),
    rules=(
        Rule(
            "open",
            (pl.col("open") != "yes") | (pl.col("date").dt.weekday() > 5),
            "a day from Monday to Friday is a working day anyway; remove the row, or write no "
            "if nobody works on it",
        ),
    ),
)

MATERIALS = Table(
    "materials",
    "What parts are printed in.",
    (
        Column("material", "name", "The material, as in items.", required=True),
        Column("item", "name", "The item that is its filament.", required=True, refers_to=ITEM),
        Column("spool_kg", "number", "What a full spool holds, in kg.", above=0),
        Column(
            "heat_limit_c",
            "number",
            "Temperature it stands, in degrees C; more than the heat_c of every part printed in "
            "it. What it is, the engineer in charge says.",
            at_least=-273.15,
        ),
        Column(
            "installed",
            "choice",
            "Whether parts of it may be installed in an aircraft; no: tooling only.",
            default="yes",
            choices=("yes", "no"),
        ),
    ),
    key=("material",),
)

PRINTS = Table(
    "prints",
    "How parts are printed; what one takes of its filament is its line in structure.",
    (
        item_column("The printed part."),
        Column("hours", "number", "Printing hours of one part.", required=True, above=0),
        Column(
            "plate_share", "number", "Share of a plate that one part takes.", above=0, at_most=1
        ),
        Column(
            "per_plate",
            "whole",
            "How many parts fill a plate, instead of plate_share.",
            at_least=1,
        ),
        Column(
            "printers",
            "names",
            "Kinds of printer on which its sliced profile is approved.",
            required=True,
        ),
    ),
    key=("item",),
    rules=(
        Rule(
            "plate_share",
            pl.col("plate_share").is_null() != pl.col("per_plate").is_null(),
            "write either plate_share or per_plate, to say how many parts fit on a plate",
        ),
    ),
)

PRINTERS = Table(
    "printers",
    "The printers, by kind.",
    (
        Column("kind", "name", "Kind of printer, such as 'large'.", required=True),
        Column("count", "whole", "How many there are.", required=True, at_least=0),
        Column(
            "hours_per_week", "number", "Hours one of them prints in a normal week.", True, above=0
        ),
        Column("plate_parts", "whole", "Most parts on one plate; empty: any.", at_least=1),
        Column("plate_hours", "number", "Longest print of one plate; empty: any.", above=0),
        Column(
            "newer_kind",
            "name",
            "If this kind is old: the kind that its parts are to be sliced for instead.",
            refers_to=("printers.kind",),
        ),
    ),
    key=("kind",),
    rules=(
        Rule(
            "newer_kind",
            pl.col("kind") != pl.col("newer_kind"),
            "a kind of printer can't be newer than itself",
        ),
    ),
)

MOULDS = Table(
    "moulds",
    "What parts are laid up in; each unit started is a pull.",
    (
        Column("mould", "name", "Number of the mould.", required=True),
        item_column("What is laid up in it."),
        Column("count", "whole", "How many of it there are.", default=1, at_least=1),
        Column(
            "pulls_per_week",
            "number",
            "Pulls that one of them gives in a normal week.",
            required=True,
            above=0,
        ),
        Column(
            "pulls_left",
            "number",
            "Pulls left in all of them together on the plan's first day, orders in work counted; "
            "empty: it lasts.",
            at_least=0,
        ),
        Column(
            "replacement",
            "name",
            "The item that takes its place once it is worn: built when needed.",
            refers_to=ITEM,
        ),
        Column("note", "text", "For people."),
    ),
    key=("mould",),
)
