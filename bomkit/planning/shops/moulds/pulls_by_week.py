"""How many pulls moulds give in each week, and how many are asked of them."""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Floats, Ints
from bomkit.planning.shops.capacity_by_week import in_open_days
from bomkit.planning.shops.in_work import by_week
from bomkit.planning.shops.moulds.pulls_left import run_down, that_wear
from bomkit.planning.tables_as_numbers.network import Network, Skeleton
from bomkit.tables.weeks import iso_week


def pulls_there(
    network: Network | Skeleton,
    moulds: pl.DataFrame,
    gaps: Mapping[str, range],
    orders: pl.DataFrame | None = None,
    in_work: pl.DataFrame | None = None,
) -> dict[str, list[float]]:
    """By item the pulls that its moulds give in each week of the axis: no more than are left when
    the week begins, and from the day a mould is worn none until its replacement is there.

    gaps: by worn mould the days without it; orders: what is pulled before (none: nothing is);
    in_work: what open orders take, as work_in_progress gives it; they pull on top of the pulls
    left, as these are what is left after them.
    """
    open_days = np.array(list(network.axis.open_days().values()), np.int64)
    ends = np.cumsum(open_days)
    left = _left_by_week(orders, moulds, ends - open_days) if orders is not None else {}
    spoken_for = _in_work_by_mould(network, moulds, in_work)
    pulls: dict[str, Floats] = {}
    columns = ("mould", "item", "count", "pulls_per_week")
    for mould, item, count, per_week in moulds.select(columns).sort("item", "mould").iter_rows():
        own = pulls.setdefault(item, np.zeros(len(open_days)))
        there = left.get(mould, np.full(len(open_days), np.inf))
        if mould in spoken_for:
            there = there + spoken_for[mould]
        a_day = in_open_days(count * per_week, 1)
        own += _given(a_day, ends - open_days, ends, gaps.get(mould), there)
    return {item: own.tolist() for item, own in pulls.items()}


def _in_work_by_mould(
    network: Network | Skeleton, moulds: pl.DataFrame, in_work: pl.DataFrame | None
) -> dict[str, Floats]:
    """What open orders pull of each mould that they use by week, shared by pulls a week."""
    if in_work is None:
        return {}
    names = network.axis.weeks().unique(maintain_order=True).to_list()
    numbers = {week: number for number, week in enumerate(names)}
    rate = pl.col("count") * pl.col("pulls_per_week")
    shared = (
        moulds.with_columns(share=rate / rate.sum().over("item"))
        .join(by_week(in_work, "item", "pulls", network.axis), on="item")
        .select("mould", "week", pl.col("in_work") * pl.col("share"))
    )
    by_mould: dict[str, Floats] = {}
    for mould, week, pulls in shared.iter_rows():
        by_mould.setdefault(mould, np.zeros(len(names)))[numbers[week]] = pulls
    return by_mould


def _given(a_day: float, starts: Ints, ends: Ints, gap: range | None, left: Floats) -> Floats:
    """What a mould gives in weeks from one day up to another; gap: days without it, if it wears;
    left: pulls left of it when each week begins."""
    most = a_day * (ends - starts).astype(np.float64)
    if gap is None:
        return np.minimum(most, left)
    before = np.where(starts <= gap.start, np.minimum(most, left), 0.0)
    after = np.maximum(0, ends - np.maximum(starts, gap.stop))
    given = np.minimum(most, before + a_day * after)
    # replaced in time: there is one to pull from on every day
    return np.where(ends > gap.start, most, given) if not gap else given


def _left_by_week(orders: pl.DataFrame, moulds: pl.DataFrame, firsts: Ints) -> dict[str, Floats]:
    """By mould that wears the pulls left of it when each week begins; firsts: their first days."""
    return {
        mould.row["mould"]: np.array(
            [
                max(0.0, first_left - sum(pulls for day, pulls in mould.taken if day < first))
                for first in firsts.tolist()
            ]
        )
        for mould in run_down(orders, that_wear(moulds))[0]
        if (first_left := mould.row["pulls_left"]) is not None
    }


def mould_loads(
    network: Network,
    orders: pl.DataFrame,
    moulds: pl.DataFrame,
    gaps: Mapping[str, range],
    in_work: pl.DataFrame,
) -> pl.DataFrame:
    """Pulls by item and week beside those there are: item, week, pulls, capacity, in_work.

    in_work: what open orders take, as work_in_progress gives it; it is part of pulls.
    """
    there = pulls_there(network, moulds, gaps, orders, in_work)
    pulled = _pulled(orders, there)
    begun = by_week(in_work, "item", "pulls", network.axis)
    return (
        _capacity(there, network)
        .join(pulled, on=["item", "week"], how="left")
        .join(begun, on=["item", "week"], how="left")
        .select(
            "item",
            "week",
            pulls=(pl.col("pulls").fill_null(0.0) + pl.col("in_work").fill_null(0.0)).round(6),
            capacity=pl.col("capacity").round(6),
            in_work=pl.col("in_work").fill_null(0.0).round(6),
        )
        .sort("item", "week")
    )


def _capacity(there: Mapping[str, Sequence[float]], network: Network) -> pl.DataFrame:
    """Pulls by item and week of the axis as a frame: item, week, capacity."""
    names = network.axis.weeks().unique(maintain_order=True).to_list()
    return pl.DataFrame(
        [(item, *week) for item, own in there.items() for week in zip(names, own, strict=True)],
        schema={"item": pl.String, "week": pl.String, "capacity": pl.Float64},
        orient="row",
    )


def _pulled(orders: pl.DataFrame, items: Iterable[str]) -> pl.DataFrame:
    """What orders pull of some items: item, week, pulls."""
    return (
        orders.select("item", "start_date", "quantity")
        .filter(pl.col("item").is_in(list(items)))
        .group_by("item", week=iso_week("start_date"))
        .agg(pulls=pl.col("quantity").sort().sum())
    )
