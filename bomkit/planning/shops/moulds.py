"""Moulds: what wears out asks for its replacement in time, and what they give until then."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import accumulate

import polars as pl

from bomkit.planning.levelling.pull_limits import longest_chains
from bomkit.planning.network import Network
from bomkit.planning.shops.in_work import by_week
from bomkit.planning.shops.mould_wear import run_down
from bomkit.problems import Finding

MOULD = "mould"  # the kind of demand that a worn mould makes


def without_mould(
    orders: pl.DataFrame, moulds: pl.DataFrame, gaps: Mapping[str, range]
) -> dict[str, int]:
    """By order the day on which a replacement is there again, of orders that start before it
    without a mould.

    gaps: by worn mould the days without it, as gaps_of gives them.
    """
    again = days_without_any(moulds, gaps)
    _, beyond = run_down(orders, moulds)
    return {
        order: again[item].stop
        for order, item, start in beyond
        if item in again and start < again[item].stop
    }


def days_without_any(moulds: pl.DataFrame, gaps: Mapping[str, range]) -> dict[str, range]:
    """By item the days on which all of its moulds are worn and none is replaced yet."""
    found = {}
    for item, names in moulds.group_by("item", maintain_order=True).agg("mould").iter_rows():
        own = [gaps[name] for name in names if name in gaps]
        if len(own) == len(names):
            found[item] = range(max(g.start for g in own), min(g.stop for g in own))
    return {item: days for item, days in found.items() if days}


def with_mould_demands(network: Network, worn: pl.DataFrame) -> Network:
    """The network with a demand for the replacement of each mould on the day it is worn out."""
    wanted = worn.filter(pl.col("day").is_not_null() & (pl.col("replacement") != ""))
    if wanted.is_empty():
        return network
    ids = network.items.select("item_id", replacement="item")
    demands = wanted.join(ids, on="replacement", maintain_order="left").select(
        "day",
        key=network.keys.of(pl.col("item_id")),
        quantity=pl.col("count").cast(pl.Float64),
        demand="mould",
        serial=pl.lit(""),
        kind=pl.lit(MOULD),
        overdue=pl.lit(False),
        past=pl.lit(False),
    )
    dated = demands.with_columns(date=network.axis.on(demands["day"]))
    columns = network.demands.columns
    return replace(network, demands=pl.concat([network.demands, dated.select(columns)]))


def mould_report(
    network: Network, worn: pl.DataFrame, pegs: pl.DataFrame, orders: pl.DataFrame
) -> pl.DataFrame:
    """The moulds with when they are worn and whether they are replaced in time.

    pegs: as waiting.pegs_table gives them without a forecast. Columns
    row, mould, item, replacement, count, pulls_left, pulls, runs_out (date; null: it lasts),
    start_by (first start of anything its replacement takes), late_days (working days without it).
    """
    mould_pegs = pegs.filter(pl.col("demand_kind") == MOULD)
    starts = (
        mould_pegs.join(orders.select("start_date", supply="order"), on="supply")
        .group_by(mould="demand")
        .agg(start_by=pl.col("start_date").min())
    )
    gaps = _gaps(network, mould_pegs)
    return (
        worn.with_columns(runs_out=network.axis.on(worn["day"]))
        .join(starts, on="mould", how="left", maintain_order="left")
        .join(gaps, on="mould", how="left", maintain_order="left")
        .with_columns(
            runs_out=pl.when(pl.col("day").is_not_null()).then("runs_out"),
            late_days=pl.col("late_days").fill_null(0),
        )
        .drop("day")
    )


def _gaps(network: Network, pegs: pl.DataFrame) -> pl.DataFrame:
    """By mould the working days by which its replacement comes too late: mould, late_days.

    pegs: of moulds' demands. A component that comes late puts off the order that waits for it, and
    so on up to the replacement itself.
    """
    need = network.axis.working_days_before(pegs["need_date"])
    timed = pegs.with_columns(
        need=need,
        arrival=network.axis.working_days_before(pegs["comes"]).fill_null(need),
    )
    by_order: dict[tuple[str, str], list[tuple[str, int]]] = {}
    columns = ("demand", "from_order", "supply", "need", "arrival")
    for mould, asking, supply, need, arrival in timed.select(columns).iter_rows():
        by_order.setdefault((mould, asking), []).append((supply, arrival - need))

    @cache
    def put_off(mould: str, order: str) -> int:
        """By how many days what an order needs comes too late ("": what the demand needs)."""
        found = by_order.get((mould, order), [])
        return max([0, *(late + (put_off(mould, name) if name else 0) for name, late in found)])

    rows = [(mould, max(0, put_off(mould, ""))) for mould in sorted({name for name, _ in by_order})]
    return pl.DataFrame(rows, schema={"mould": pl.String, "late_days": pl.Int64}, orient="row")


def gaps_of(network: Network, worn: pl.DataFrame, late: Mapping[str, int]) -> dict[str, range]:
    """By mould the days without it: from when it is worn until its replacement is there.

    late: by mould the working days by which that comes too late; for good without a replacement.
    """
    rows = worn.filter(pl.col("day").is_not_null()).select("mould", "replacement", "day").rows()
    count = network.axis.count
    return {
        mould: range(day, min(count, day + late.get(mould, 0)) if replacement else count)
        for mould, replacement, day in rows
    }


def soonest_late(network: Network, worn: pl.DataFrame) -> dict[str, int]:
    """By mould the days by which its replacement comes too late if nothing for it is there yet."""
    chains = longest_chains(network)
    own = network.items.select("item", "item_id", pl.col("lead") + pl.col("safety")).rows()
    ready = {item: chains[number] + days for item, number, days in own}
    wanted = worn.filter(pl.col("day").is_not_null() & (pl.col("replacement") != ""))
    rows = wanted.select("mould", "replacement", "day").rows()
    return {mould: max(0, ready[new] - day) for mould, new, day in rows}


def pulls_there(
    network: Network,
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
            own[week] += _given(count * per_week / 5, days, gaps.get(mould), pulls_left)
    return found


def _in_work_by_mould(
    network: Network, moulds: pl.DataFrame, in_work: pl.DataFrame | None
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
    rows = [
        (item, week, each)
        for item, of_weeks in pulls_there(network, moulds, gaps, orders, in_work).items()
        for week, each in zip(names, of_weeks, strict=True)
    ]
    schema = {"item": pl.String, "week": pl.String, "capacity": pl.Float64}
    pulls = orders.group_by("item", week=pl.col("start_date").dt.strftime("%G-W%V")).agg(
        pulls=pl.col("quantity").sort().sum()
    )
    return (
        pl.DataFrame(rows, schema=schema, orient="row")
        .join(pulls, on=["item", "week"], how="left")
        .join(by_week(in_work, "item", "pulls", network.axis), on=["item", "week"], how="left")
        .select(
            "item",
            "week",
            pulls=(pl.col("pulls").fill_null(0.0) + pl.col("in_work").fill_null(0.0)).round(6),
            capacity=pl.col("capacity").round(6),
            in_work=pl.col("in_work").fill_null(0.0).round(6),
        )
        .sort("item", "week")
    )


def mould_findings(report: pl.DataFrame) -> list[Finding]:
    """A warning for each mould that is worn before its replacement can be ready, or has none."""
    found = []
    for row in report.filter(pl.col("runs_out").is_not_null()).iter_rows(named=True):
        worn = f"the mould of {row['item']} is worn out on {row['runs_out']}"
        if not row["replacement"]:
            message = f"{worn} and names no replacement; say which item takes its place"
        elif row["late_days"]:
            message = (
                f"{worn}, {row['late_days']} working days before {row['replacement']} can be "
                f"ready; start it at once, and plan for the gap"
            )
        else:
            continue
        left = f"{row['pulls_left']:g}"
        found.append(Finding("moulds", row["row"], "pulls_left", left, message, "warning"))
    return found
