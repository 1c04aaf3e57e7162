"""The input tables of the aircraft in the field and what they use, declared once."""

from dataclasses import replace

import polars as pl

from bomkit.tables.schema import Column, Rule, Table
from bomkit.tables.shared_columns import item_column, quantity_column, serial_column

MOST_MONTHS = 1200

FLEET = Table(
    "fleet",
    "The aircraft delivered.",
    (
        Column("serial", "name", "Serial number.", required=True),
        item_column("The item that is this aircraft."),
        Column("options", "names", "Options fitted, separated by spaces or semicolons."),
        Column("delivered", "date", "Day of delivery."),
        Column("base", "text", "Where it flies from."),
        Column("hours", "number", "Hours flown.", at_least=0),
        Column("hours_per_year", "number", "Hours flown in a year.", at_least=0),
        Column("customer", "text", "Whose it is, for people."),
    ),
    key=("serial",),
)

USAGE = Table(
    "usage",
    "How often a part is used up on an aircraft in the field.",
    (
        item_column("The part."),
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
        item_column("What was handed out."),
        Column("date", "date", "Day on which it left the stores.", required=True),
        quantity_column("How much, in the item's unit."),
        Column("serial", "name", "The aircraft it went to, for people."),
    ),
)

INSPECTION_RULES = Table(
    "inspection_rules",
    "What the fleet's inspections take, and when they fall due.",
    (
        item_column("The kit or part it takes."),
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
        Column("work", "name", "What inspection_log calls it; empty: by its item."),
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

INSPECTION_LOG = Table(
    "inspection_log",
    "When the works of inspection_rules were last done.",
    (
        Column("serial", "name", "The aircraft.", required=True, refers_to=("fleet.serial",)),
        Column(
            "work",
            "name",
            "The work or item of inspection_rules; an item stands for all works that take it.",
            required=True,
            refers_to=("inspection_rules.work", "inspection_rules.item"),
        ),
        Column("date", "date", "Day on which it was done.", required=True),
        Column(
            "hours",
            "number",
            "Flight hours then; empty: reckoned back by hours_per_year.",
            at_least=0,
        ),
    ),
    key=("serial", "work", "date"),
)

FITTED = Table(
    "fitted",
    "What was built into which aircraft, written down by whoever installs it.",
    (
        replace(serial_column("The aircraft it is in."), required=True),
        item_column("What was installed."),
        Column("lot", "name", "Its lot or batch."),
        Column("part_serial", "name", "Its own serial number."),
        Column("date", "date", "Day on which it was installed."),
    ),
    rules=(
        Rule(
            "lot",
            (pl.col("lot") != "") | (pl.col("part_serial") != ""),
            "give the lot, the part's own serial number in part_serial, or both",
        ),
    ),
)
