"""Who delivers an open order, where the order says so."""

import polars as pl

from bomkit.tables.schema import Tables


def deliverers(tables: Tables) -> pl.DataFrame:
    """order, item, by: the supplier that the first row of an order and item names, if any does."""
    return (
        tables["open_orders"]
        .filter(pl.col("supplier") != "")
        .unique(["order", "item"], keep="first", maintain_order=True)
        .select("order", "item", by="supplier")
    )
