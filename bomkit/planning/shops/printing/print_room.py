"""The print room: orders of a week to printer kinds and plates, and the hours these take.

Planned orders are printed in the ISO week of their start. A failed print takes its whole plate
with it, so the parts of one plate do not fail independently of each other: scrap rates hold on
average, not for a single plate.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.planning.shops.in_work import by_week
from bomkit.planning.shops.printing.plates import Limits, Parts, Plate, fewest_plates, packed
from bomkit.planning.shops.printing.print_jobs import Job, Tables, approved_kinds, print_jobs
from bomkit.planning.shops.printing.printers import Kinds, shared_out
from bomkit.tables.results.by_name import RESULTS

_FIGURES = 9

_LOADS = {
    "kind": pl.String,
    "week": pl.String,
    "in_work": pl.Float64,
    "hours": pl.Float64,
    "capacity": pl.Float64,
    "plates": pl.Int64,
    "fewest": pl.Int64,
}
_RESLICING = {
    "item": pl.String,
    "kind": pl.String,
    "newer_kind": pl.String,
    "hours": pl.Float64,
    "week": pl.String,
    "week_hours": pl.Float64,
}


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


def plan_prints(
    network: Network, orders: pl.DataFrame, tables: Tables, in_work: pl.DataFrame
) -> PrintRoom:
    """The plates of all planned orders whose items stand in prints; empty without either table.

    in_work: what open orders take, as work_in_progress gives it; it comes before what is planned.
    """
    jobs = print_jobs(network, orders, tables)
    printers = {row["kind"]: row for row in tables["printers"].iter_rows(named=True)}
    if tables["prints"].is_empty():
        printers = {}  # nobody said what is printed on them
    printing = by_week(in_work, "item", "print_hours", network.axis)
    spoken_for = _spoken_for(printing, approved_kinds(tables))
    days = dict(network.axis.weeks().value_counts().iter_rows())
    plates: list[dict[str, Any]] = []
    loads: list[dict[str, Any]] = []
    for week in sorted(days):
        capacity = {
            kind: row["count"] * row["hours_per_week"] * days[week] / 5
            for kind, row in printers.items()
        }
        given = shared_out(spoken_for.get(week, {}), capacity)
        taken = {kind: sum(own.get(kind, 0.0) for own in given.values()) for kind in capacity}
        free = {kind: max(0.0, hours - taken[kind]) for kind, hours in capacity.items()}
        shares = _by_printer(jobs.get(week, []), free)
        purged: set[str] = set()  # orders whose grams once an order are on a plate
        for kind in sorted(printers):
            own = shares.get(kind, [])
            found, fewest = _plates_of(own, printers[kind], week, len(plates), purged)
            plates += found
            loads.append(
                {
                    "kind": kind,
                    "week": week,
                    "in_work": round(taken[kind], _FIGURES),
                    "hours": round(sum(row["hours"] for row in found) + taken[kind], _FIGURES),
                    "capacity": round(capacity[kind], _FIGURES),
                    "plates": len({row["plate"] for row in found}),
                    "fewest": fewest,
                }
            )
    dates = {"start_date": pl.Date, "due_date": pl.Date, "late_days": pl.Int64}
    return PrintRoom(
        _numbered(pl.DataFrame(plates, schema={**RESULTS["plates"].schema, **dates})),
        pl.DataFrame(loads, schema=_LOADS).sort("kind", "week"),
        _reslicing(jobs, printers),
    )


def _spoken_for(
    printing: pl.DataFrame, kinds: Mapping[str, Kinds]
) -> dict[str, dict[Kinds, float]]:
    """By week the hours that open orders still print, by the kinds of printer they may go to."""
    found: dict[str, dict[Kinds, float]] = {}
    for item, week, hours in printing.iter_rows():
        if kinds.get(item):
            of_week = found.setdefault(week, {})
            of_week[kinds[item]] = of_week.get(kinds[item], 0.0) + hours
    return found


def _by_printer(jobs: list[Job], capacity: Mapping[str, float]) -> dict[str, list[tuple[Job, int]]]:
    """By printer kind the jobs of a week and how many pieces of each."""
    groups: dict[Kinds, list[Job]] = {}
    for job in jobs:
        groups.setdefault(job["kinds"], []).append(job)
    asked = {kinds: sum(job["pieces"] * job["hours"] for job in g) for kinds, g in groups.items()}
    given = shared_out(asked, capacity)
    room = dict(capacity)
    dealt: list[tuple[Job, dict[str, int]]] = []
    for kinds, group in sorted(groups.items()):
        dealt += _dealt(group, given[kinds], room)
    for job, pieces in sorted(dealt, key=lambda each: (-each[0]["hours"], each[0]["order"])):
        _left_over(job, pieces, room)
    shares: dict[str, list[tuple[Job, int]]] = {}
    for job, pieces in dealt:
        for kind, count in pieces.items():
            if count:
                shares.setdefault(kind, []).append((job, count))
    return shares


def _dealt(
    group: list[Job], given: Mapping[str, float], room: dict[str, float]
) -> list[tuple[Job, dict[str, int]]]:
    """The jobs of one group in whole pieces to the kinds that give it hours, as far as these go.

    room: the hours that each kind has left; what is dealt is taken from it.
    """
    own = dict(given)
    dealt = []
    # the longest first, so that short ones fill what is left of a printer's hours
    for job in sorted(group, key=lambda each: (-each["hours"], each["due_date"], each["order"])):
        pieces = dict.fromkeys(job["kinds"], 0)
        for kind in [kind for kind, hours in given.items() if hours > 0]:
            fit = math.floor(own[kind] / job["hours"] * (1 + TOLERANCE) + TOLERANCE)
            pieces[kind] = max(0, min(job["pieces"] - sum(pieces.values()), fit))
            own[kind] -= pieces[kind] * job["hours"]
            room[kind] -= pieces[kind] * job["hours"]
        dealt.append((job, pieces))
    return dealt


def _left_over(job: Job, pieces: dict[str, int], room: dict[str, float]) -> None:
    """Gives what halves of pieces leave over to a kind that has the hours, the first one named;
    where none has, to where it is the least beyond them."""
    enough = job["hours"] * (1 - TOLERANCE)
    for _ in range(job["pieces"] - sum(pieces.values())):
        fitting = [kind for kind in pieces if room[kind] >= enough]
        kind = fitting[0] if fitting else max(pieces, key=lambda each: room[each])
        pieces[kind] += 1
        room[kind] -= job["hours"]


def _plates_of(
    shares: list[tuple[Job, int]],
    printer: Mapping[str, Any],
    week: str,
    before: int,
    purged: set[str],
) -> tuple[list[dict[str, Any]], int]:
    """The plates of one printer kind in a week, a row for each order on each, and their bound."""
    limits = Limits(printer["plate_parts"] or math.inf, printer["plate_hours"] or math.inf)
    rows: list[dict[str, Any]] = []
    fewest = 0
    for material in sorted({job["material"] for job, _ in shares}):
        own = {job["order"]: (job, pieces) for job, pieces in shares if job["material"] == material}
        batches = [
            Parts(order, pieces, job["share"], job["hours"]) for order, (job, pieces) in own.items()
        ]
        fewest += fewest_plates(batches, limits)
        for number, plate in enumerate(packed(batches, limits)):
            jobs = {order: job for order, (job, _) in own.items()}
            name = f"{before + len(rows)}.{number}"  # a name of its own until all are numbered
            rows += _rows_of(
                plate,
                jobs,
                purged,
                {"plate": name, "week": week} | {"kind": printer["kind"], "material": material},
            )
    return rows, fewest


def _rows_of(
    plate: Plate, jobs: Mapping[str, Job], purged: set[str], about: Mapping[str, str]
) -> Iterator[dict[str, Any]]:
    """A row for each order on a plate; what an order takes once is on its first plate."""
    on_it = [jobs[order] for order in sorted(plate.parts)]
    first, due = min(j["start_date"] for j in on_it), min(j["due_date"] for j in on_it)
    late = max(j["late_days"] for j in on_it)
    for job in on_it:
        pieces = plate.parts[job["order"]]
        once = 0.0 if job["order"] in purged else job["grams_once"] or 0.0
        purged.add(job["order"])
        yield {
            **about,
            "order": job["order"],
            "item": job["item"],
            "serial": job["serial"],
            "parts": pieces,
            "share": round(pieces * job["share"], _FIGURES),
            "hours": round(pieces * job["hours"], _FIGURES),
            "grams": round(pieces * (job["grams"] or 0.0) + once, _FIGURES),
            "start_date": first,
            "due_date": due,
            "late_days": late,
        }


def _numbered(plates: pl.DataFrame) -> pl.DataFrame:
    """The plates with names that number them in each week: the latest first, then by start."""
    about = ("week", "late_days", "start_date", "due_date", "kind", "material", "plate")
    names = plates.select(about).unique("plate")
    names = names.sort(about, descending=[name == "late_days" for name in about])
    number = pl.int_range(1, pl.len() + 1).over("week").cast(pl.String).str.zfill(2)
    named = names.select("plate", name=pl.format("{}-{}", "week", number))
    return (
        plates.join(named, on="plate")
        .with_columns(plate="name")
        .drop("name")
        .sort("plate", "order")
    )


def _newest(kind: str, printers: Mapping[str, Mapping[str, Any]]) -> str:
    """The end of the chain of newer kinds; one that runs in a circle ends before it closes."""
    seen = {kind}
    while (newer := printers.get(kind, {}).get("newer_kind")) and newer not in seen:
        seen.add(newer)
        kind = newer
    return kind


def _reslicing(
    jobs: Mapping[str, list[Job]], printers: Mapping[str, Mapping[str, Any]]
) -> pl.DataFrame:
    """Parts approved on old kinds only, and the hours that the newest kind would take from them.

    Old is what has a newer kind.
    """
    hours: dict[tuple[str, str, str], dict[str, float]] = {}
    for week, of_week in jobs.items():
        for job in of_week:
            if job["kinds"] and all(printers[kind]["newer_kind"] for kind in job["kinds"]):
                old = job["kinds"][0]
                by_week = hours.setdefault((job["item"], old, _newest(old, printers)), {})
                by_week[week] = by_week.get(week, 0.0) + job["pieces"] * job["hours"]
    rows = []
    for (item, old, new), by_week in hours.items():
        week = min(by_week, key=lambda each: (-by_week[each], each))
        total = round(sum(by_week[each] for each in sorted(by_week)), _FIGURES)
        rows.append((item, old, new, total, week, round(by_week[week], _FIGURES)))
    found = pl.DataFrame(rows, schema=_RESLICING, orient="row")
    return found.sort("hours", "item", descending=[True, False])
