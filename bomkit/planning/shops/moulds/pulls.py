"""How many pulls moulds give in each week, and how many are asked of them."""

import math
from collections.abc import Mapping, Sequence
from itertools import accumulate

import polars as pl

from bomkit.planning.network import Network, Skeleton
from bomkit.planning.shops.in_work import by_week
from bomkit.planning.shops.moulds.wear import run_down
from bomkit.planning.workdays import WORKING_DAYS_IN_WEEK


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
    weeks = network.axis.weeks().to_frame("week").group_by("week", maintain_order=True)
    open_days = weeks.agg(pl.len())["len"].to_list()
    ends = list(accumulate(open_days))
    week_of = [week for week, count in enumerate(open_days) for _ in range(count)]
    left = _left_by_week(orders, moulds, week_of) if orders is not None else {}
    found: dict[str, list[float]] = {}
    spoken_for = _in_work_by_mould(network, moulds, in_work)
    columns = ("mould", "item", "count", "pulls_per_week")
    for mould, item, count, per_week in moulds.select(columns).sort("item", "mould").iter_rows():
        own = found.setdefault(item, [0.0] * len(open_days))
        for week, (length, end) in enumerate(zip(open_days, ends, strict=True)):
            pulls_left = left[mould][week] if mould in left else math.inf
            pulls_left += spoken_for.get((mould, week), 0.0)
            days = range(end - length, end)
            own[week] += _given(
                count * per_week / WORKING_DAYS_IN_WEEK, days, gaps.get(mould), pulls_left
            )
    return found


def _in_work_by_mould(
    network: Network | Skeleton, moulds: pl.DataFrame, in_work: pl.DataFrame | None
) -> dict[tuple[str, int], float]:
    """What open orders pull of each mould by number of the week, shared by pulls a week."""
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
    return {(mould, numbers[week]): pulls for mould, week, pulls in shared.iter_rows()}


def _given(a_day: float, days: range, gap: range | None, left: float) -> float:
    """What a mould gives on the days of a week; gap: days without it, if it wears; left: pulls left
    of it when the week begins."""
    most = a_day * len(days)
    if gap is None:
        return min(most, left)
    if not gap and days.stop > gap.start:
        return most  # replaced in time: there is one to pull from on every day
    worn_before = min(most, left) if days.start <= gap.start else 0.0
    return min(most, worn_before + a_day * sum(day >= gap.stop for day in days))


def _left_by_week(
    orders: pl.DataFrame, moulds: pl.DataFrame, week_of: Sequence[int]
) -> dict[str, list[float]]:
    """By mould that wears the pulls left of it when each week begins."""
    firsts = [week_of.index(week) for week in dict.fromkeys(week_of)]
    return {
        mould.row["mould"]: [
            max(0.0, first_left - sum(pulls for day, pulls in mould.taken if day < first))
            for first in firsts
        ]
        for mould in run_down(orders, moulds)[0]
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
    names = network.axis.weeks().unique(maintain_order=True).to_list()
    there = pulls_there(network, moulds, gaps, orders, in_work)
    capacity = pl.DataFrame(
        [(item, *week) for item, own in there.items() for week in zip(names, own, strict=True)],
        schema={"item": pl.String, "week": pl.String, "capacity": pl.Float64},
        orient="row",
    )
    pulled = orders.group_by("item", week=pl.col("start_date").dt.strftime("%G-W%V")).agg(
        pulls=pl.col("quantity").sort().sum()
    )
    begun = by_week(in_work, "item", "pulls", network.axis)
    return (
        capacity.join(pulled, on=["item", "week"], how="left")
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
