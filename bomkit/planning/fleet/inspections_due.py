"""Coming inspections: which aircraft of the fleet falls due for what, and when.

The hours of an aircraft are those on the plan's start and grow evenly with its hours_per_year. A
work that inspection_log has falls due every_hours and every_months from when it was last done, and
on the first day where that is past. Of any other it is not known, so it falls due at fixed points:
at first_hours and every every_hours from there, and first_months after delivery and every
every_months from there. A point that is reached on the very first day is due on that day.

With both limits, whichever comes first: the next point by hours or the next by months, the earlier
of the two. From what is then done both count anew, every_hours and every_months from that day.
"""

import calendar
import datetime as dt
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import takewhile
from typing import Any

import polars as pl

from bomkit.planning.structure.options_and_serials import CONDITIONS, fits, option_names
from bomkit.planning.workdays import DAYS_IN_YEAR
from bomkit.tables.schema import Tables
from bomkit.units import TOLERANCE
from bomkit.words.problems import findings

INSPECTION = "inspection"  # the kind of the demand
HOURS, MONTHS = "hours", "months"
_MOST_HOURS = 24 * DAYS_IN_YEAR
_LOGGED = ("serial", "work", "date", "hours")
_SCHEMA = {
    "serial": pl.String,
    "item": pl.String,
    "due_date": pl.Date,
    "cause": pl.String,
    "quantity": pl.Float64,
    "note": pl.String,
    "last_done": pl.Date,
}


@dataclass(frozen=True)
class Done:
    """When a work was last done on an aircraft: the day, and the flight hours then."""

    day: dt.date
    hours: float


def inspections_due(tables: Tables) -> pl.DataFrame:
    """Everything that falls due within the horizon: serial, item, due_date, cause (hours or
    months), quantity, note, last_done (null without a record); by date, serial and item.

    An aircraft without hours or hours_per_year falls due by months alone; one that does not state
    when it was delivered by hours alone, and with both limits at first by hours.
    """
    settings = tables["plan"].row(0, named=True)
    start = settings["start"]
    end = start + dt.timedelta(weeks=settings["horizon_weeks"])
    log = _last_rows(tables["inspection_log"], start)
    rows = [
        (aircraft["serial"], work["item"], day, cause, work["quantity"], work["note"],
         None if done is None else done.day)
        for aircraft in tables["fleet"].iter_rows(named=True)
        for work in tables["inspection_rules"].iter_rows(named=True)
        if applies(work, aircraft)
        for done in [_last_done(log, work, aircraft, start)]
        for day, cause in _due_dates(work, aircraft, done, start, end)
    ]  # fmt: skip
    return pl.DataFrame(rows, schema=_SCHEMA, orient="row").sort(
        "due_date", "serial", "item", "note", "cause", "quantity"
    )


def inspection_demands(due: pl.DataFrame) -> pl.DataFrame:
    """Inspections as demands for planning: item, serial, quantity, date, demand, kind."""
    return due.select(
        "item",
        "serial",
        "quantity",
        date="due_date",
        demand=pl.format(findings.INSPECTED_DEMAND, "serial", "due_date"),
        kind=pl.lit(INSPECTION),
    )


def applies(work: Mapping[str, Any], aircraft: Mapping[str, Any]) -> bool:
    """Whether a row of inspection_rules counts for an aircraft."""
    with_option, without_option, first, last = (work[name] for name in CONDITIONS)
    options = option_names(aircraft["options"])
    return fits((with_option, without_option, first, last), aircraft["serial"], options)


def _last_rows(log: pl.DataFrame, start: dt.date) -> dict[tuple[str, str], tuple[Any, ...]]:
    """By aircraft and work the last row before the start: date, hours."""
    past = log.filter(pl.col("date") < start).sort("date", "row")
    return {(row[0], row[1]): row[2:] for row in past.select(*_LOGGED).iter_rows()}


def _last_done(
    log: Mapping[tuple[str, str], tuple[Any, ...]],
    work: Mapping[str, Any],
    aircraft: Mapping[str, Any],
    start: dt.date,
) -> Done | None:
    """When a work was last done, under its own name or that of its item; None without a record."""
    names = {work["item"], work["work"]} - {""}
    records = [log[aircraft["serial"], name] for name in names if (aircraft["serial"], name) in log]
    if not records:
        return None
    day, hours = max(records, key=lambda row: (row[0], row[1] is not None, row[1] or 0.0))
    if hours is None:
        flown = (start - day).days * (aircraft["hours_per_year"] or 0.0) / DAYS_IN_YEAR
        hours = max(0.0, (aircraft["hours"] or 0.0) - flown)
    return Done(day, float(hours))


def _due_dates(
    work: Mapping[str, Any],
    aircraft: Mapping[str, Any],
    done: Done | None,
    start: dt.date,
    end: dt.date,
) -> Iterator[tuple[dt.date, str]]:
    """The days before `end` on which one work falls due on one aircraft, with the cause."""
    if work["every_hours"] and work["every_months"]:
        yield from _whichever_first(work, aircraft, done, start, end)
        return
    for days in takewhile(
        lambda days: days + TOLERANCE < (end - start).days, _hours_days(work, aircraft, done)
    ):
        yield start + dt.timedelta(days=math.floor(days + TOLERANCE)), HOURS
    for day in takewhile(lambda day: day < end, _month_dates(work, aircraft, done, start)):
        yield day, MONTHS


def _whichever_first(
    work: Mapping[str, Any],
    aircraft: Mapping[str, Any],
    done: Done | None,
    start: dt.date,
    end: dt.date,
) -> Iterator[tuple[dt.date, str]]:
    """The same where both limits are set: the earlier one each time, and both count anew."""
    longest = float((end - start).days)
    interval = _days_for(work["every_hours"], aircraft)
    days = next(_hours_days(work, aircraft, done), math.inf)
    month = next(_month_dates(work, aircraft, done, start), end)
    while True:
        by_hours = start + dt.timedelta(days=math.floor(min(days, longest) + TOLERANCE))
        day = min(by_hours, month)
        if day >= end:
            return
        yield day, HOURS if by_hours <= month else MONTHS
        then = days if by_hours <= month else float((month - start).days)
        days, month = then + interval, months_later(day, work["every_months"])


def _days_for(hours: float, aircraft: Mapping[str, Any]) -> float:
    """How many days an aircraft takes to fly some hours; infinite if it does not say or fly."""
    if aircraft["hours"] is None or not aircraft["hours_per_year"]:
        return math.inf
    return hours / min(float(aircraft["hours_per_year"]), _MOST_HOURS) * DAYS_IN_YEAR


def _hours_days(
    work: Mapping[str, Any], aircraft: Mapping[str, Any], done: Done | None
) -> Iterator[float]:
    """Days from the start to each point by hours, one after the other; none where none is known."""
    every = work["every_hours"]
    if not every or math.isinf(_days_for(every, aircraft)):
        return
    if done is None:
        first = every if work["first_hours"] is None else work["first_hours"]
        number = max(0, math.ceil((aircraft["hours"] - first) / every - TOLERANCE))
    else:
        first, number = max(done.hours + every, aircraft["hours"]), 0
    while True:
        left = first + number * every - aircraft["hours"]
        yield _days_for(max(0.0, left), aircraft)
        number += 1


def _month_dates(
    work: Mapping[str, Any], aircraft: Mapping[str, Any], done: Done | None, start: dt.date
) -> Iterator[dt.date]:
    """Each point by months from the start on, counted from the last time, else from delivery."""
    every, base = work["every_months"], aircraft["delivered"]
    if not every or (base is None and done is None):
        return
    months = every if work["first_months"] is None else work["first_months"]
    if done is not None:
        base, months = done.day, every
        if months_later(base, months) < start:  # past: due now, and counted from now
            base, months = start, 0
    while True:
        day = months_later(base, months)
        if day >= start:
            yield day
        months += every


def months_later(day: dt.date, months: int) -> dt.date:
    """The same day of the month some months later, or the month's last day if it is shorter."""
    years, month = divmod(day.month - 1 + months, 12)
    year = min(day.year + years, dt.MAXYEAR)
    last = calendar.monthrange(year, month + 1)[1]
    return dt.date(year, month + 1, min(day.day, last))
