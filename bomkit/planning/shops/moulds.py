"""Moulds: pulls run down along the plan, and what wears out asks for its replacement in time."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

import polars as pl

from bomkit.planning.levelling.pull_limits import longest_chains
from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.problems import Finding

MOULD = "mould"  # the kind of demand that a worn mould makes

_WORN = {
    "row": pl.Int64,
    "mould": pl.String,
    "item": pl.String,
    "replacement": pl.String,
    "count": pl.Int64,
    "pulls_left": pl.Float64,
    "pulls": pl.Float64,
    "day": pl.Int64,
}


@dataclass
class _Mould:
    """One row of moulds while the plan's pulls run down."""

    row: Mapping[str, Any]
    rate: float
    left: float | None
    pulls: float = 0.0
    worn_on: int | None = None
    taken: list[tuple[int, float]] = field(default_factory=list)  # day, pulls

    @property
    def alive(self) -> bool:
        return self.worn_on is None

    def pull(self, wanted: float, day: int) -> float:
        """Takes as many of the pulls wanted as are left; returns how many."""
        taken = wanted if self.left is None else min(wanted, self.left)
        self.pulls += taken
        self.taken.append((day, taken))
        if self.left is not None:
            self.left -= taken
            if wanted - taken > wanted * TOLERANCE:
                self.left, self.worn_on = 0.0, day
        return taken


def wear(network: Network, orders: pl.DataFrame, moulds: pl.DataFrame) -> pl.DataFrame:
    """Every mould with the pulls that the planned orders take of it: row, mould, item, replacement,
    count, pulls_left, pulls, day (null: it lasts).

    day: start day of the first order for which there are no pulls left. Each unit started is a
    pull; the moulds of an item share them by their pulls a week, those worn out left out. What is
    pulled after the last of them is worn is pulled from its replacement.
    """
    kept, _ = _run_down_all(orders, moulds)
    rows = [{**mould.row, "pulls": round(mould.pulls, 9), "day": mould.worn_on} for mould in kept]
    return pl.DataFrame(rows, schema=_WORN).sort("row")


def _run_down_all(
    orders: pl.DataFrame, moulds: pl.DataFrame
) -> tuple[list[_Mould], list[tuple[str, str, int]]]:
    """All moulds after the pulls of the orders; and order, item and start of those for which the
    pulls of the item's moulds did not reach."""
    started = orders.sort("start", "order").select("item", "order", "start", "quantity")
    pulls: dict[str, list[tuple[str, int, float]]] = {}
    for item, order, start, quantity in started.iter_rows():
        pulls.setdefault(item, []).append((order, start, quantity))
    every: list[_Mould] = []
    beyond: list[tuple[str, str, int]] = []
    for own in moulds.sort("item", "mould").partition_by("item", maintain_order=True):
        kept = [
            _Mould(row, row["count"] * row["pulls_per_week"], row["pulls_left"])
            for row in own.iter_rows(named=True)
        ]
        for order, start, quantity in pulls.get(own["item"][0], []):
            if not _run_down(kept, quantity, start):
                beyond.append((order, own["item"][0], start))
        every += kept
    return every, beyond


def _run_down(moulds: list[_Mould], quantity: float, day: int) -> bool:
    """Shares an order's pulls among the moulds that are left; whether these reach."""
    waiting = quantity
    while waiting > quantity * TOLERANCE:
        alive = [mould for mould in moulds if mould.alive]
        rate = sum(mould.rate for mould in alive)
        if rate <= 0:
            return not moulds or any(mould.alive for mould in moulds)
        waiting -= sum(mould.pull(waiting * mould.rate / rate, day) for mould in alive)
    return True


def without_mould(
    orders: pl.DataFrame, moulds: pl.DataFrame, gaps: Mapping[str, range]
) -> dict[str, int]:
    """By order the day on which a replacement is there again, of orders that start before it
    without a mould.

    gaps: by worn mould the days without it, as gaps_of gives them.
    """
    again = days_without_any(moulds, gaps)
    _, beyond = _run_down_all(orders, moulds)
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
        key=pl.col("item_id") * network.serial_count,
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
) -> dict[str, list[float]]:
    """By item the pulls that its moulds give in each week of the axis: no more than are left when
    the week begins, and from the day a mould is worn none until its replacement is there.

    gaps: by worn mould the days without it; orders: what is pulled before (none: nothing is).
    """
    days = network.axis.weeks().to_frame("week").group_by("week", maintain_order=True)
    open_days = days.agg(pl.len())["len"].to_list()
    week_of = [week for week, count in enumerate(open_days) for _ in range(count)]
    found: dict[str, list[float]] = {}
    columns = ("mould", "item", "count", "pulls_per_week")
    left = _left_by_week(orders, moulds, week_of) if orders is not None else {}
    for mould, item, count, per_week in moulds.select(columns).sort("item", "mould").iter_rows():
        gap = gaps.get(mould)
        own = found.setdefault(item, [0.0] * len(open_days))
        for week, days in enumerate(open_days):
            first = week_of.index(week)
            most = count * per_week * days / 5
            if gap is not None and not gap and first + days > gap.start:
                own[week] += most  # replaced in time: there is one to pull from on every day
                continue
            old = most if gap is None or first <= gap.start else 0.0
            if mould in left:
                old = min(old, left[mould][week])
            later = 0 if gap is None else sum(day >= gap.stop for day in range(first, first + days))
            own[week] += min(most, old + count * per_week * later / 5)
    return found


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
        for mould in _run_down_all(orders, moulds)[0]
        if (first_left := mould.row["pulls_left"]) is not None
    }


def mould_loads(
    network: Network, orders: pl.DataFrame, moulds: pl.DataFrame, gaps: Mapping[str, range]
) -> pl.DataFrame:
    """Pulls by item and week beside those there are: item, week, pulls, capacity."""
    names = network.axis.weeks().unique(maintain_order=True).to_list()
    rows = [
        (item, week, each)
        for item, by_week in pulls_there(network, moulds, gaps, orders).items()
        for week, each in zip(names, by_week, strict=True)
    ]
    schema = {"item": pl.String, "week": pl.String, "capacity": pl.Float64}
    pulls = orders.group_by("item", week=pl.col("start_date").dt.strftime("%G-W%V")).agg(
        pulls=pl.col("quantity").sort().sum()
    )
    return (
        pl.DataFrame(rows, schema=schema, orient="row")
        .join(pulls, on=["item", "week"], how="left")
        .select(
            "item",
            "week",
            pulls=pl.col("pulls").fill_null(0.0).round(6),
            capacity=pl.col("capacity").round(6),
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
