"""What is to be printed in each week, with the plate shares, hours and grams of the parts."""

import math
from typing import Any

import polars as pl

from bomkit import units
from bomkit.planning.shops.printing.approved_printers import approved_kinds
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables
from bomkit.tables.weeks import week_of
from bomkit.units import TOLERANCE

Job = dict[str, Any]

_GRAMS_IN_KG = 1000.0
FIGURES = 9  # decimals that are kept of hours, grams and shares of a plate


def print_jobs(orders: pl.DataFrame, tables: Tables) -> dict[str, list[Job]]:
    """By week what is to be printed: order, item, serial, material, kinds, pieces, and of one part
    share and hours; start_date, due_date, late_days."""
    if tables["prints"].is_empty() or tables["printers"].is_empty():
        return {}
    about = tables["prints"].select("item", "hours", "plate_share", "per_plate", "printers")
    rows = (
        orders.join(about, on="item")
        .join(tables["items"].select("item", "material"), on="item")
        .sort("order")
    )
    kinds = approved_kinds(tables)
    jobs: dict[str, list[Job]] = {}
    for row in rows.iter_rows(named=True):
        row["kinds"] = kinds[row["item"]]
        row["pieces"] = math.ceil(row["quantity"] * (1 - TOLERANCE))
        row["share"] = row["plate_share"] or 1 / row["per_plate"]
        jobs.setdefault(week_of(row["start_date"]), []).append(row)
    return jobs


def grams_of(
    network: Network, orders: pl.DataFrame, tables: Tables
) -> dict[str, tuple[float, float]]:
    """By order the grams of filament of one part, waste included, and once for the order."""
    filaments = tables["items"].join(
        tables["materials"].select("material", filament="item"), on="material"
    )
    of_items = filaments.select("item", "filament").join(
        network.items.select("unit", filament="item", child_id="item_id"), on="filament"
    )
    held = network.active.with_columns(held=True)
    size = units.size(pl.col("unit")) * _GRAMS_IN_KG
    grams = pl.col("factor") * size
    by_order = (
        network.named(orders.select("key", "order", "start").unique("order"))
        .join(of_items, on="item")
        .join(network.lines, left_on=["item_id", "child_id"], right_on=["parent_id", "child_id"])
        .join(held, on=["condition", "serial_id"], how="left")
        .filter((pl.col("condition") == 0) | pl.col("held").fill_null(False))
        .filter(pl.col("start").is_between("first_start", "last_start"))
        .group_by("order")
        .agg(
            grams=grams.filter(~pl.col("per_order")).sort().sum(),
            grams_once=grams.filter("per_order").sort().sum(),
        )
    )
    return {order: (each, once) for order, each, once in by_order.iter_rows()}
