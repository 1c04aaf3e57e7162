"""How long it takes until a part is replaced, and how many pieces of it are there."""

import polars as pl

from bomkit.planning.structure.levels import item_levels, longest_chains, structure_links
from bomkit.planning.structure.replaced import newest_items, passes_on
from bomkit.tables.schema import Tables

_MOST_STOCK = 1e12


def resupply_days(tables: Tables) -> pl.DataFrame:
    """Working days until a piece is replaced: item, resupply_days.

    Lead and safety days of a bought item; of any other those of the longest chain from it down.
    """
    items = tables["items"]
    own = pl.when(~passes_on(tables)).then(pl.col("lead_days") + pl.col("safety_days")).otherwise(0)
    timed = items.select("item", "source", days=own)
    chains = longest_chains(timed.join(item_levels(tables), on="item"), structure_links(tables))
    return timed.join(chains, on="item").select(
        "item",
        resupply_days=pl.when(pl.col("source") == "buy").then("days").otherwise("total"),
    )


def usable(tables: Tables) -> pl.DataFrame:
    """Stock that is usable, not expired and kept for nobody in particular: item, quantity."""
    start = tables["plan"]["start"][0]
    kept = tables["stock"].filter(
        (pl.col("status") == "usable")
        & (pl.col("serial") == "")
        & (pl.col("expires").is_null() | (pl.col("expires") >= start))
    )
    return kept.select("item", "quantity")


def present_stock(tables: Tables, there: pl.DataFrame) -> pl.DataFrame:
    """Whole pieces of what is there (item, quantity): item, stock.

    Stock of a replaced item counts for the one in its place, as it is used up first.
    """
    return (
        there.join(newest_items(tables), on="item")
        .group_by(item="newest")
        .agg(stock=pl.col("quantity").sort().sum().clip(0, _MOST_STOCK).floor().cast(pl.Int64))
    )
