"""What the pegs of a plan say of each order: what it draws from stores, and what is late for it."""

from typing import Any

import polars as pl

from bomkit.words.weekly import work as work_words
from bomkit.workbooks.rows_by_columns import rows_by

FIGURES = 9  # sums over pegs are cleared of what only arithmetic added


def late_components(pegs: pl.DataFrame) -> dict[str, list[tuple[str, str, str]]]:
    """For each order the items, serials and supplies too late for it, the latest first."""
    late = (
        pegs.select("from_order", "item", "serial", "supply", "supply_kind", "late_days")
        .filter((pl.col("from_order") != "") & (pl.col("late_days") > 0))
        .sort("from_order", "late_days", "item", descending=[False, True, False])
        .filter(pl.col("supply_kind") != "passed on")
        .unique(["from_order", "item", "serial"], keep="first", maintain_order=True)
    )
    by_order: dict[str, list[tuple[str, str, str]]] = {}
    columns = ("from_order", "item", "serial", "supply")
    for order, item, serial, supply in late.select(columns).iter_rows():
        by_order.setdefault(order, []).append((item, serial, supply))
    return by_order


def first_served(pegs: pl.DataFrame) -> dict[tuple[str, str, str], str]:
    """By open order, item and serial of the item the demand that needs it first, if any does."""
    served = (
        pegs.select("supply", "supply_kind", "item", "serial", "demand", "demand_kind", "need_date")
        .filter(
            (pl.col("supply_kind") == "open order")
            & ~pl.col("demand_kind").is_in(["stock", "several"])
        )
        .sort("need_date", "demand")
        .unique(["supply", "item", "serial"], keep="first", maintain_order=True)
    )
    return {
        (order, item, serial): demand
        for order, item, serial, demand in served.select(
            "supply", "item", "serial", "demand"
        ).iter_rows()
    }


def drawn_components(pegs: pl.DataFrame, orders: pl.DataFrame) -> dict[str, list[dict[str, Any]]]:
    """For each of the orders the components it draws from stores.

    Each with item, serial, need_date, quantity, here (of it in stock), places (with lots),
    coming (date of what is still to come), late_days (by which that comes after its need).
    """
    from_stock = pl.col("supply_kind") == "stock"
    lot = work_words.LOT.replace("{place}", "{}").replace("{lot}", "{}")
    lies = pl.format(lot, "location", "supply")
    place = pl.when(pl.col("supply") != "").then(lies).otherwise("location")
    drawn = (
        pegs.join(orders.select(from_order="order"), on="from_order", how="semi")
        .filter(pl.col("supply_kind") != "passed on")
        .group_by("from_order", "item", "serial")
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            here=pl.col("quantity").filter(from_stock).sum().round_sig_figs(FIGURES),
            places=place.filter(from_stock & (place != "")).unique(),
            coming=pl.col("comes").filter(~from_stock).max(),
            late_days=pl.col("late_days").max(),
        )
        .sort("from_order", "item", "serial")
    )
    return rows_by(drawn, "from_order")
