"""The result tables of the plan and of who gets what, declared once."""

from bomkit.tables.kinds import NOT_PROVEN, PROVEN, SOURCES, SUPPLY_KINDS
from bomkit.tables.schema import Column, Table
from bomkit.tables.shared_columns import demand_columns, late_column
from bomkit.units import UNITS

ORDERS = Table(
    "orders",
    "The planned orders, one row each.",
    (
        Column("order", "name", "Name of the planned order in this run.", True),
        Column("item", "name", "What is ordered.", True),
        Column("serial", "name", "For which airframe; empty for a common item.", True),
        Column("source", "choice", "make, print, buy or kit.", True, choices=SOURCES),
        Column("process", "name", "The process that makes it; empty if none.", True),
        Column("start_date", "date", "Working day on which it starts or is ordered.", True),
        Column("due_date", "date", "Working day on which it is due.", True),
        Column("quantity", "number", "Quantity started or ordered, scrap included.", True),
        Column("expected_good", "number", "Quantity expected good.", True),
        Column("unit", "choice", "Unit of both quantities.", True, choices=tuple(UNITS)),
        Column("late_days", "whole", "Working days by which it starts too late.", True),
        Column(
            "lots",
            "text",
            f"Of lots by cost whether they are {PROVEN} or {NOT_PROVEN}, as a minimum, a multiple, "
            "days covered or levelling bind; empty: an order as the needs are.",
            True,
        ),
    ),
    key=("order",),
)

PROJECTION = Table(
    "projection",
    "The planning record: one row for each item, serial and ISO week.",
    (
        Column("item", "name", "The item.", True),
        Column("serial", "name", "The airframe; empty for a common item.", True),
        Column("week", "text", "ISO 8601 week, such as 2026-W49.", True),
        Column("gross", "number", "Gross requirement in the week.", True),
        Column("receipts", "number", "Open orders due in the week, expected good.", True),
        Column(
            "planned",
            "number",
            "Planned good, in the week in which it can be used; of a phantom or a replaced item "
            "what passes on.",
            True,
        ),
        Column("projected", "number", "Projected on hand at the end of the week.", True),
    ),
)

NEEDS = Table(
    "needs",
    "Every gross requirement with what it comes from.",
    (
        Column("item", "name", "The item needed.", True),
        Column("serial", "name", "For which airframe; empty for a common item.", True),
        Column("need_date", "date", "Working day on which it is needed.", True),
        Column("quantity", "number", "How much.", True),
        Column("from_order", "name", "The planned order that needs it; empty: from outside.", True),
        Column(
            "demand",
            "name",
            "The airframe, spares order or open order it serves in the end; empty: for stock; "
            "several: more of them than can be told apart.",
            True,
        ),
    ),
)

PEGS = Table(
    "pegs",
    "Which supply serves which need: one row for each part of a need that one supply serves.",
    (
        Column("item", "name", "The item needed.", True),
        Column("serial", "name", "For which airframe; empty for a common item.", True),
        Column("need", "name", "The planned order that needs it, or the outside demand.", True),
        Column("need_date", "date", "Working day on which it is needed.", True),
        Column(
            "supply_kind",
            "choice",
            "stock, open order, planned order, passed on (by a phantom or a replaced item to what "
            "is in it) or none.",
            True,
            choices=SUPPLY_KINDS,
        ),
        Column("supply", "name", "The lot or the order; empty for stock without a lot.", True),
        Column("supply_date", "date", "Day of the supply in the plan; stock: the first day.", True),
        Column("quantity", "number", "How much of the need this supply serves.", True),
        Column("location", "text", "Where stock lies.", True),
        *demand_columns(),
        Column("demand_serial", "name", "The aircraft that the demand names, if any.", True),
        Column("comes", "date", "Day on which the forecast has the supply there; empty: never."),
        late_column("Working days by which that is after the need"),
        Column("from_order", "name", "The planned order that needs it; empty: from outside.", True),
    ),
)

PLANNED_ITEMS = Table(
    "planned_items",
    "The items of the run, so that its other tables can be read by themselves.",
    (
        Column("item", "name", "The item.", True),
        Column("description", "text", "What it is, in words.", True),
        Column("source", "choice", "make, print, buy, phantom or kit.", True, choices=SOURCES),
        Column("process", "name", "The process that makes it; empty if none.", True),
        Column("supplier", "name", "Who delivers it; empty if nobody does.", True),
        Column("unit", "choice", "What it is counted in.", True, choices=tuple(UNITS)),
    ),
    key=("item",),
)
