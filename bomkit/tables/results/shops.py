"""The result tables of the shops, declared once."""

from bomkit.tables.schema import Column, Table

PLATES = Table(
    "plates",
    "What is printed on which plate: one row for each order on a plate.",
    (
        Column("plate", "name", "Number of the plate in its week.", True),
        Column("week", "text", "ISO 8601 week in which it is printed.", True),
        Column("kind", "name", "Kind of printer.", True),
        Column("material", "name", "What it is printed in.", True),
        Column("order", "name", "The planned order.", True),
        Column("item", "name", "The part.", True),
        Column("serial", "name", "For which airframe; empty for a common item.", True),
        Column("parts", "whole", "How many of them are on this plate.", True),
        Column("share", "number", "Share of the plate that they take.", True),
        Column("hours", "number", "Printing hours of them.", True),
        Column("grams", "number", "Filament that they take, waste included.", True),
    ),
    key=("plate", "order"),
)

LOADS = Table(
    "loads",
    "Hours that planned and open orders ask of each process in each week.",
    (
        Column("process", "name", "The process.", True),
        Column("week", "text", "ISO 8601 week, such as 2026-W49.", True),
        Column("hours_before", "number", "Hours before levelling.", True),
        Column("hours", "number", "Hours as planned.", True),
        Column("capacity", "number", "Hours available; empty if not stated."),
        Column("in_work", "number", "Hours of open orders; part of both.", True),
    ),
    key=("process", "week"),
)

SHOP_LOADS = Table(
    "shop_loads",
    "Printer hours and mould pulls that planned and open orders ask for in each week.",
    (
        Column("kind", "choice", "printer or mould.", True, choices=("printer", "mould")),
        Column("name", "name", "The kind of printer; the item that has moulds.", True),
        Column("week", "text", "ISO 8601 week, such as 2026-W49.", True),
        Column("load_before", "number", "Hours or pulls before levelling.", True),
        Column("load", "number", "Hours or pulls as planned.", True),
        Column("capacity", "number", "Hours or pulls there are.", True),
        Column("in_work", "number", "Hours or pulls of open orders; part of both.", True),
    ),
    key=("kind", "name", "week"),
)
