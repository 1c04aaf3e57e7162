"""Chances and expected backorders of a Poisson demand, for many means at once.

By Palm's theorem the pieces on resupply are Poisson with mean demand rate x resupply time (Feeney
and Sherbrooke, Management Science 12(5), 1966). The weights p(k)/p(k-1) = mean/k are multiplied
from the start of a window around the mean and made to add up to 1, so that no power or factorial
overflows. Outside of the window, twelve standard deviations and forty pieces wide to each side, a
double holds no difference.
"""

import polars as pl

_DEVIATIONS, _PIECES = 12, 40


def stock_levels(means: pl.DataFrame) -> pl.DataFrame:
    """For each item and each stock s of its window, by item and s: what that stock is good for.

    means: item, mean (0 or more). Columns item, mean, held (s), chance (P(X <= s)), over (P(X > s),
    which is the fall in expected backorders that one more piece brings), backorders (expected,
    sum of P(X > j) over j >= s). The last row of an item has over = backorders = 0.
    """
    half = pl.col("mean").sqrt() * _DEVIATIONS + _PIECES
    first = (pl.col("mean") - half).floor().clip(0).cast(pl.Int64)
    last = (pl.col("mean") + half).ceil().cast(pl.Int64)
    factor = pl.when(pl.col("held") > pl.col("first")).then(pl.col("mean") / pl.col("held"))
    size = factor.fill_null(1.0).log().cum_sum().over("item")
    weight = (pl.col("size") - pl.col("size").max().over("item")).exp()
    return (
        means.sort("item")
        .with_columns(first=first, held=pl.int_ranges(first, last + 1))
        .explode("held")
        .with_columns(size=size)
        .with_columns(weight=weight)
        .with_columns(share=pl.col("weight") / pl.col("weight").sum().over("item"))
        .with_columns(
            chance=pl.col("share").cum_sum().clip(0, 1).over("item"),
            over=(pl.col("share").cum_sum(reverse=True) - pl.col("share")).clip(0, 1).over("item"),
        )
        .with_columns(backorders=pl.col("over").cum_sum(reverse=True).over("item"))
        .select("item", "mean", "held", "chance", "over", "backorders")
    )


def smallest_stocks(levels: pl.DataFrame, target: float, fill_rate: bool) -> pl.DataFrame:
    """The smallest stock that reaches the target, for each item: item, hold.

    The chance of no backorder is P(X <= s); the fill rate, the share of demand served from stock at
    once, P(X <= s - 1), so one piece more wherever there is a demand at all.
    """
    more = (pl.col("mean") > 0).cast(pl.Int64) if fill_rate else 0
    return (
        levels.filter(pl.col("over") <= 1 - target)
        .group_by("item", maintain_order=True)
        .first()
        .select("item", hold=pl.col("held") + more)
    )


def at_stock(levels: pl.DataFrame, stocks: pl.DataFrame) -> pl.DataFrame:
    """What given stocks are good for: item, mean, held, chance, fill_rate, backorders.

    stocks: item, held; a row for each of them, in their order.
    """
    window = levels.group_by("item").agg(
        pl.col("mean").first(), first=pl.col("held").first(), last=pl.col("held").last()
    )
    placed = stocks.join(window, on="item", maintain_order="left")
    found = placed.select("item", held=pl.min_horizontal("held", "last"))
    before = found.select("item", held=pl.col("held") - 1)
    columns = ["item", "held"]
    here = found.join(levels, on=columns, how="left", maintain_order="left")
    there = before.join(levels, on=columns, how="left", maintain_order="left")
    short = pl.col("mean") - pl.col("held")  # below the window all of it will be asked for
    return placed.with_columns(
        chance=here["chance"].fill_null(0.0),
        fill_rate=there["chance"].fill_null(0.0),
        known=here["backorders"],
    ).select(
        "item",
        "mean",
        "held",
        "chance",
        fill_rate=pl.when(pl.col("mean") > 0).then("fill_rate").otherwise(1.0),
        backorders=pl.coalesce("known", short),
    )
