"""Marginal analysis: which piece to buy next, so that expected backorders fall most for the price.

Each piece of a part brings less than the one before (P(X > s) falls with s), so buying in the order
of the fall in backorders per price gives, at every sum it passes through, the least backorders that
this sum can buy (Sherbrooke, METRIC, Operations Research 16(1), 1968). Between those sums the best
set is searched for.
"""

from dataclasses import dataclass

import polars as pl

from bomkit.planning.fleet.spares_stock.best_within_limit import best_set

LEAST_GAIN = 1e-6  # expected backorders; a piece that brings less is never bought
_NEVER = 1e-300  # stands for a chance of zero where logarithms are taken


def purchases_in_order(levels: pl.DataFrame, priced: pl.DataFrame) -> pl.DataFrame:
    """Every piece worth buying, the best first: item, held (with it), gain, price.

    levels: as from stock_for_target.stock_levels; priced: item, price, base (the stock it starts
    from). Of equal worth, the part first by name goes first.
    """
    window = levels.group_by("item").agg(first=pl.col("held").min())
    below = (
        window.filter(pl.col("first") > 0)
        .select("item", held=pl.int_ranges(0, "first"), over=pl.lit(1.0))
        .explode("held")
    )
    return (
        pl.concat([below, levels.select("item", "held", "over")])
        .join(priced, on="item")
        .filter((pl.col("held") >= pl.col("base")) & (pl.col("over") >= LEAST_GAIN))
        .sort(pl.col("over") / pl.col("price"), "item", "held", descending=[True, False, False])
        .select("item", "price", held=pl.col("held") + 1, gain="over")
    )


@dataclass(frozen=True)
class Bought:
    """held: item, hold, one row a part. short: expected backorders that some other set within the
    limit may leave fewer, at most; 0 where there is none."""

    held: pl.DataFrame
    short: float


def best_purchases(queue: pl.DataFrame, priced: pl.DataFrame, limit: float) -> Bought:
    """What to hold of each part so that expected backorders are fewest within the limit."""
    roof = limit * (1 + 1e-12)  # a budget for ten pieces at 0.1 buys ten
    gains, prices = (queue[name].cast(pl.Float64).to_numpy() for name in ("gain", "price"))
    best = best_set(gains, prices, roof)
    bought = queue.filter(pl.Series(best.taken)).group_by("item").agg(bought=pl.len())
    held = priced.join(bought, on="item", how="left", maintain_order="left").select(
        "item", hold=pl.col("base") + pl.col("bought").fill_null(0).cast(pl.Int64)
    )
    return Bought(held, best.short)


def assurance_path(
    queue: pl.DataFrame, levels: pl.DataFrame, priced: pl.DataFrame, fill_rate: bool
) -> pl.DataFrame:
    """The assurance of all priced parts together after each purchase: spent, assurance.

    The first row is the stock it starts from. Assurance is the chance that no part is out, the
    product of P(X <= s) over the parts; or the fill rate by demand, the sum of what is served over
    the sum of what is asked for.
    """
    chances = levels.select("item", "held", "asked", score="served" if fill_rate else "chance")
    base = (
        priced.select("item", held="base")
        .join(levels.group_by("item").agg(last=pl.col("held").max()), on="item")
        .with_columns(held=pl.min_horizontal("held", "last"))
    )
    start = _scores(base.select("item", "held"), chances, fill_rate)["after"].sum()
    steps = _scores(queue.select("item", "held"), chances, fill_rate)
    total = pl.concat([pl.Series([float(start)]), steps["after"] - steps["before"]]).cum_sum()
    asked = chances.unique("item").join(priced, on="item", how="semi")["asked"].sum()
    assurance = (total / asked if asked else total * 0 + 1) if fill_rate else total.exp()
    return pl.DataFrame(
        {
            "spent": pl.concat([pl.Series([0.0]), queue["price"].cast(pl.Float64)]).cum_sum(),
            "assurance": assurance.clip(0, 1),
        }
    )


def _scores(stocks: pl.DataFrame, chances: pl.DataFrame, fill_rate: bool) -> pl.DataFrame:
    """What each stock, and one piece less, add to the whole: after, before.

    The logarithm of the chance of no backorder, or the demand served at once.
    """
    columns = {}
    for name, less in (("after", 0), ("before", 1)):
        scored = stocks.select("item", held=pl.col("held") - less).join(
            chances, on=["item", "held"], how="left", maintain_order="left"
        )
        score = scored["score"].fill_null(0.0)
        columns[name] = score if fill_rate else score.clip(_NEVER).log()
    return pl.DataFrame(columns)
