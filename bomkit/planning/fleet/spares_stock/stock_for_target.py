"""Chances and expected backorders of a Poisson demand, for many means at once.

By Palm's theorem the pieces on resupply are Poisson with mean demand rate x resupply time (Feeney
and Sherbrooke, Management Science 12(5), 1966). Where nothing is replaced, as on a tour, what is
asked for is Poisson with mean demand rate x its days, and a stock s serves min(X, s) of it. The
weights p(k)/p(k-1) = mean/k are multiplied from the start of a window around the mean and made to
add up to 1, so that no power or factorial overflows. Outside of the window, twelve standard
deviations and forty pieces wide to each side, a double holds no difference.
"""

import polars as pl

_DEVIATIONS, _PIECES = 12, 40
_LAST_BIT = 2.0**-52  # a share near 1 is known no closer


def stock_levels(means: pl.DataFrame, *, replaced: bool = True) -> pl.DataFrame:
    """For each item and each stock s of its window, by item and s: what that stock is good for.

    means: item, mean (0 or more); replaced: whether each piece used is ordered again. Columns item,
    mean, held (s), chance (P(X <= s)), over (P(X > s), which is the fall in expected backorders
    that one more piece brings), backorders (expected, sum of P(X > j) over j >= s), fill_rate (the
    share of demand served at once) and unmet (the rest of it, exact where it is small). With
    replacement unmet is P(X >= s); without it backorders / mean, as E[min(X, s)] / mean is served.
    asked is the mean, served the part of it that is served at once.
    The last row of an item has over = backorders = 0.
    """
    above = pl.col("share").cum_sum(reverse=True).shift(-1, fill_value=0.0)
    return (
        _window(means.sort("item"), from_nothing=not replaced)
        .with_columns(
            chance=pl.col("share").cum_sum().clip(0, 1).over("item"),
            over=above.clip(0, 1).over("item"),
        )
        .with_columns(backorders=pl.col("over").cum_sum(reverse=True).over("item"))
        .with_columns(**(_served_replaced() if replaced else _served_once()))
        .with_columns(served=pl.col("fill_rate") * pl.col("mean"), asked=pl.col("mean"))
        .select(
            *("item", "mean", "held", "chance", "over", "backorders", "fill_rate", "unmet"),
            *("served", "asked"),
        )
    )


def _window(means: pl.DataFrame, from_nothing: bool) -> pl.DataFrame:
    """Each item and stock of its window: item, mean, held, share (P(X = held)).

    from_nothing: whether the window begins at 0, as each piece that is there serves, however few.
    """
    half = pl.col("mean").sqrt() * _DEVIATIONS + _PIECES
    lowest = (pl.col("mean") - half).floor().clip(0).cast(pl.Int64)
    first = pl.lit(0, pl.Int64) if from_nothing else lowest
    last = (pl.col("mean") + half).ceil().cast(pl.Int64)
    factor = pl.when(pl.col("held") > pl.col("first")).then(pl.col("mean") / pl.col("held"))
    size = factor.fill_null(1.0).log().cum_sum().over("item")
    weight = (pl.col("size") - pl.col("size").max().over("item")).exp()
    return (
        means.with_columns(first=first, held=pl.int_ranges(first, last + 1))
        .explode("held")
        .with_columns(size=size)
        .with_columns(weight=weight)
        .with_columns(share=pl.col("weight") / pl.col("weight").sum().over("item"))
    )


def _served_replaced() -> dict[str, pl.Expr]:
    """The share of demand that meets a piece where each one used is ordered again."""
    asked = pl.col("mean") > 0
    before = pl.col("chance").shift(1, fill_value=0.0).over("item")
    beyond = pl.col("over").shift(1, fill_value=1.0).over("item")
    return {
        "fill_rate": pl.when(asked).then(before).otherwise(1.0),
        "unmet": pl.when(asked).then(beyond).otherwise(0.0),
    }


def _served_once() -> dict[str, pl.Expr]:
    """The share of demand that meets a piece where none comes after: E[min(X, s)] / mean."""
    asked = pl.col("mean") > 0
    served = (pl.col("over").cum_sum() - pl.col("over")).over("item")
    return {
        "fill_rate": pl.when(asked).then(served / pl.col("mean")).otherwise(1.0).clip(0, 1),
        "unmet": pl.when(asked).then(pl.col("backorders") / pl.col("mean")).otherwise(0.0),
    }


def smallest_stocks(levels: pl.DataFrame, target: float, fill_rate: bool) -> pl.DataFrame:
    """The smallest stock that reaches the target, for each item: item, hold.

    The chance of no backorder is P(X <= s), the fill rate that of the levels.
    """
    return (
        levels.filter(pl.col("unmet" if fill_rate else "over") <= 1 - target + _LAST_BIT)
        .group_by("item", maintain_order=True)
        .first()
        .select("item", hold="held")
    )


def at_stock(levels: pl.DataFrame, stocks: pl.DataFrame) -> pl.DataFrame:
    """What given stocks are good for: item, held, chance, fill_rate, backorders, served, asked.

    stocks: item, held; a row for each of them, in their order.
    """
    window = levels.group_by("item").agg(
        pl.col("mean", "asked").first(), last=pl.col("held").last()
    )
    placed = stocks.join(window, on="item", maintain_order="left")
    capped = placed.select("item", held=pl.min_horizontal("held", "last"))
    here = capped.join(levels, on=["item", "held"], how="left", maintain_order="left")
    return placed.with_columns(
        here.select(pl.col("chance", "fill_rate", "served").fill_null(0.0)),
        lacking=here["backorders"],
    ).select(
        *("item", "held", "chance", "fill_rate", "served", "asked"),
        # below the window all of what is held, and more, will be asked for
        backorders=pl.coalesce("lacking", pl.col("mean") - pl.col("held")),
    )
