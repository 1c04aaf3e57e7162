"""The print room: orders of a week to printer kinds and plates, and the hours these take.

Planned orders are printed in the ISO week of their start. A failed print takes its whole plate
with it, so the parts of one plate do not fail independently of each other: scrap rates hold on
average, not for a single plate.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from bomkit.planning.shops.capacity_by_week import in_open_days
from bomkit.planning.shops.in_work import by_week
from bomkit.planning.shops.printing.approved_printers import approved_kinds
from bomkit.planning.shops.printing.hours_by_printer import Kinds, shared_out
from bomkit.planning.shops.printing.pieces_by_printer import by_printer
from bomkit.planning.shops.printing.plates_of_week import PlateRows
from bomkit.planning.shops.printing.print_jobs import (
    FIGURES,
    Job,
    grams_of,
    print_jobs,
)
from bomkit.planning.shops.printing.reslicing import reslicing
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables
from bomkit.units import TOLERANCE

Share = tuple[Job, int]  # a job and how many of its pieces

_LOADS = {
    "kind": pl.String,
    "week": pl.String,
    "in_work": pl.Float64,
    "hours": pl.Float64,
    "capacity": pl.Float64,
}


@dataclass(frozen=True)
class PrinterLoads:
    """loads: kind, week, in_work (hours of open orders), hours (these too), capacity; reslicing: as
    in PrintRoom."""

    loads: pl.DataFrame
    reslicing: pl.DataFrame


@dataclass(frozen=True)
class PrintRoom:
    """What the printers do in the weeks of the plan.

    plates: as the result table, and start_date, due_date (the first of any order on it) and
    late_days (the most of any); numbered in the order in which to run them.
    loads: kind, week, in_work (hours of open orders), hours (these too), capacity, plates, fewest
    (a number of plates below which no packing can be). reslicing: parts approved only on an old
    kind: item, kind, newer_kind, hours (over the plan, that slicing it for the newer kind would
    free on the old), week (in which the most of them fall), week_hours (in that week).
    """

    plates: pl.DataFrame
    loads: pl.DataFrame
    reslicing: pl.DataFrame

    @property
    def overloads(self) -> pl.DataFrame:
        """The rows of loads with more hours than there are."""
        return self.loads.filter(pl.col("hours") > pl.col("capacity") * (1 + TOLERANCE))


@dataclass(frozen=True)
class _Hours:
    """The hours of each kind of printer in a week, and what open orders take of them."""

    capacity: Mapping[str, float]
    taken: Mapping[str, float]

    @property
    def free(self) -> dict[str, float]:
        """What is left for planned orders."""
        return {kind: max(0.0, there - self.taken[kind]) for kind, there in self.capacity.items()}

    def load(self, kind: str, week: str, shares: Sequence[Share]) -> dict[str, Any]:
        """A row of loads: what one kind has to do in the week."""
        hours = sum(round(pieces * job["hours"], FIGURES) for job, pieces in shares)
        return {
            "kind": kind,
            "week": week,
            "in_work": round(self.taken[kind], FIGURES),
            "hours": round(hours + self.taken[kind], FIGURES),
            "capacity": round(self.capacity[kind], FIGURES),
        }


@dataclass(frozen=True)
class _Shared:
    """What one kind of printer has to do in a week: a row of loads, and the jobs with how many of
    their pieces."""

    load: dict[str, Any]
    shares: list[Share]


def plan_prints(
    network: Network, orders: pl.DataFrame, tables: Tables, in_work: pl.DataFrame
) -> PrintRoom:
    """The plates of all planned orders whose items stand in prints; empty without either table.

    in_work: what open orders take, as work_in_progress gives it; it comes before what is planned.
    """
    jobs, printers = print_jobs(orders, tables), _printers(tables)
    shared = _shared(network, jobs, tables, in_work)
    plates = PlateRows(grams_of(network, orders, tables) if jobs else {})
    filled = [
        plates.fill(each.shares, printers[each.load["kind"]], each.load["week"]) for each in shared
    ]
    loads = _loads(shared).with_columns(
        plates=pl.Series([each.plates for each in filled], dtype=pl.Int64),
        fewest=pl.Series([each.fewest for each in filled], dtype=pl.Int64),
    )
    return PrintRoom(plates.table(), loads.sort("kind", "week"), reslicing(jobs, printers))


def printer_loads(
    network: Network, orders: pl.DataFrame, tables: Tables, in_work: pl.DataFrame
) -> PrinterLoads:
    """What plan_prints says of the hours, without laying out any plate."""
    jobs = print_jobs(orders, tables)
    loads = _loads(_shared(network, jobs, tables, in_work)).sort("kind", "week")
    return PrinterLoads(loads, reslicing(jobs, _printers(tables)))


def _printers(tables: Tables) -> dict[str, dict[str, Any]]:
    """The printers by kind; none if nobody said what is printed on them."""
    if tables["prints"].is_empty():
        return {}
    return {row["kind"]: row for row in tables["printers"].iter_rows(named=True)}


def _shared(
    network: Network, jobs: Mapping[str, list[Job]], tables: Tables, in_work: pl.DataFrame
) -> list[_Shared]:
    """The jobs of each week shared out among the kinds of printer, by week and kind."""
    printers = _printers(tables)
    printing = by_week(in_work, "item", "print_hours", network.axis)
    spoken_for = _spoken_for(printing, approved_kinds(tables))
    days = network.axis.open_days()
    shared = []
    for week in sorted(days):
        hours = _hours(printers, days[week], spoken_for.get(week, {}))
        shares = by_printer(jobs.get(week, []), hours.free)
        for kind in sorted(printers):
            own = shares.get(kind, [])
            shared.append(_Shared(hours.load(kind, week, own), own))
    return shared


def _loads(shared: Sequence[_Shared]) -> pl.DataFrame:
    return pl.DataFrame([each.load for each in shared], schema=_LOADS)


def _hours(
    printers: Mapping[str, Mapping[str, Any]], days: int, asked: Mapping[Kinds, float]
) -> _Hours:
    """The hours of a week with so many working days; asked: by open orders, by kinds they fit."""
    capacity = {
        kind: in_open_days(row["count"] * row["hours_per_week"], days)
        for kind, row in printers.items()
    }
    given = shared_out(asked, capacity)
    taken = {kind: sum(own.get(kind, 0.0) for own in given.values()) for kind in capacity}
    return _Hours(capacity, taken)


def _spoken_for(
    printing: pl.DataFrame, kinds: Mapping[str, Kinds]
) -> dict[str, dict[Kinds, float]]:
    """By week the hours that open orders still print, by the kinds of printer they may go to."""
    of_weeks: dict[str, dict[Kinds, float]] = {}
    for item, week, hours in printing.iter_rows():
        if kinds.get(item):
            of_week = of_weeks.setdefault(week, {})
            of_week[kinds[item]] = of_week.get(kinds[item], 0.0) + hours
    return of_weeks
