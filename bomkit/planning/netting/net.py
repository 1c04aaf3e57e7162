"""Netting: from gross requirements and supply by day to planned orders, for all items of a level.

Wide form: one column a day, one row an item (of one serial). Each step of the loop over the days is
a handful of column operations, so that it costs about the same for ten rows and for ten thousand.
"""

from dataclasses import dataclass
from functools import cached_property

import polars as pl

_ONE = pl.Series([1.0])
TOLERANCE = 1e-9  # relative; quantities closer than this count as equal


@dataclass(frozen=True)
class LotRules:
    """How the orders of each row are sized; one value a row."""

    good: pl.Series  # share of what is started that is expected good: 1 - scrap rate
    minimum: pl.Series  # 0: none
    multiple: pl.Series  # 0: none
    whole: pl.Series  # Boolean: counted in whole pieces
    cover: pl.Series  # working days whose needs one order covers, at least 1
    safety_stock: pl.Series

    @cached_property
    def step(self) -> pl.Series:
        """What quantities are rounded up to: the multiple, else whole pieces; 1 if not rounded."""
        return self.multiple.zip_with(self.multiple > 0, _ONE)

    @cached_property
    def stepped(self) -> pl.Series:
        """Whether quantities are rounded up at all."""
        return (self.multiple > 0) | self.whole

    @cached_property
    def broken(self) -> pl.Series:
        """Whether a multiple is not whole but pieces are, and so rounding goes on to whole ones."""
        return self.whole & (self.step % 1.0 > 0)


def planned_starts(
    rules: LotRules, gross: list[pl.Series], supply: list[pl.Series]
) -> list[pl.Series]:
    """The quantity started by the order of each row that is to be usable on each day; 0: no order.

    gross, supply: a Float64 column a day. supply is negative where what is left of a lot is lost.
    The netting rule: an order on day t when D(t) > P(t-1), for the widest D of its cover.
    """
    nothing = rules.good * 0.0
    required = running_sums(gross, rules.safety_stock)
    supplied = running_sums(supply, nothing)
    lacking = [c - s for c, s in zip(required, supplied, strict=True)]
    wanted = widest_needs(lacking, rules.cover)
    planned, lost = nothing, nothing
    starts = []
    for c, change, d, most in zip(required, supply, lacking, wanted, strict=True):
        if (change < 0).any():
            lost = lost + change.clip(upper_bound=0)
        # where D(t) > P(t-1), C + safety stock is the largest quantity involved, but for what
        # has been supplied and lost again
        asks = (d - planned) > (c - lost) * TOLERANCE
        if not asks.any():
            starts.append(nothing)
            continue
        started = lot_sizes(rules, most - planned).zip_with(asks, nothing)
        planned = planned + started * rules.good
        starts.append(started)
    return starts


def lot_sizes(rules: LotRules, wanted_good: pl.Series) -> pl.Series:
    """The quantity to start for a wanted good quantity: scrap, minimum, multiple, whole pieces."""
    started = wanted_good / rules.good
    started = started.zip_with(started >= rules.minimum, rules.minimum)
    if rules.stepped.any():
        started = (_rounded_up(started / rules.step) * rules.step).zip_with(rules.stepped, started)
    if rules.broken.any():
        started = _rounded_up(started).zip_with(rules.broken, started)
    return started


def widest_needs(lacking: list[pl.Series], cover: pl.Series) -> list[pl.Series]:
    """For each day the greatest D over the days that an order of that day covers.

    Sliding maxima by doubling: the maximum over c days is that of two stretches of the largest
    power of two that fits into c.
    """
    widest, doubled, width = lacking, lacking, 1
    for days in cover.unique().sort().to_list():
        if days == 1:
            continue
        while 2 * width <= days:
            doubled, width = _larger_of(doubled, width), 2 * width
        others = cover != days
        covering = _larger_of(doubled, days - width)
        widest = [
            known.zip_with(others, wide) for known, wide in zip(widest, covering, strict=True)
        ]
    return widest


def lot_uses(lots: pl.DataFrame) -> pl.DataFrame:
    """What each expiring lot can serve before it expires, first-expired first; adds column used.

    lots, sorted by expiry: key, day (last working day of use), quantity, gross (cumulative to it).
    With Q the running sum of the lots, used up to lot k is Q(k) + min over j <= k of
    min(0, C(j) - Q(j)): the closed form of u_k = min(q_k, max(0, C(e_k) - u_1 - ... - u_{k-1})).
    """
    running = pl.col("quantity").cum_sum().over("key")
    return (
        lots.with_columns(running=running)
        .with_columns(
            used_up_to=pl.col("running")
            + (pl.col("gross") - pl.col("running")).cum_min().over("key").clip(upper_bound=0)
        )
        .with_columns(
            used=pl.col("used_up_to") - pl.col("used_up_to").shift(1, fill_value=0.0).over("key")
        )
        .drop("running", "used_up_to")
    )


def running_sums(columns: list[pl.Series], first: pl.Series) -> list[pl.Series]:
    """The running sum over the days, starting from `first`."""
    total = first
    sums = []
    for column in columns:
        total = total + column
        sums.append(total)
    return sums


def _larger_of(columns: list[pl.Series], later: int) -> list[pl.Series]:
    """For each day the larger of its value and the one some days later (the last ones as is)."""
    ahead = columns[later:]
    larger = [now.zip_with(now >= then, then) for now, then in zip(columns, ahead, strict=False)]
    return [*larger, *columns[len(ahead) :]]


def _rounded_up(values: pl.Series) -> pl.Series:
    """Rounded up to whole numbers; what is a whole number within the tolerance stays."""
    eased = values * (1 - TOLERANCE)
    whole = eased.cast(pl.Int64).cast(pl.Float64)  # cuts towards zero; far faster than ceil()
    return whole + (whole < eased).cast(pl.Float64)
