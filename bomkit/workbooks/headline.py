"""What matters most this week, in one line."""

from collections.abc import Iterator

import polars as pl

from bomkit.tables.shared_columns import NEVER
from bomkit.words import headline as words
from bomkit.words.common import NO_DATE, first_few, working_days
from bomkit.workbooks.report import Report

_MOST_LEFT_OUT = 5


def headline(report: Report) -> str:
    """The first that applies: a grounded aircraft waits, airframes are late, routine spares orders
    are late, a shop has more to do than it can, orders start too late; else that all is in time."""
    return next(_matters(report))


def _matters(report: Report) -> Iterator[str]:
    """All that applies, what matters most first."""
    late = report["promises"].filter((pl.col("late_days") > 0) | pl.col("promise_date").is_null())
    late = late.sort("late_days", "order", descending=[True, False])
    yield from _counted(late.filter(pl.col("urgency") == "grounded"), words.GROUNDED, "order")
    airframes = (
        report["forecast"]
        .filter((pl.col("demand_kind") == "airframe") & (pl.col("late_days") > 0))
        .sort("late_days", "ready_date", "demand", descending=[True, False, False])
    )
    held_up = pl.when(pl.col("pacing_item") != "").then(
        pl.format(words.HELD_UP_BY.replace("{item}", "{}"), "pacing_item")
    )
    told = airframes.with_columns(held_up=held_up.fill_null(""))
    yield from _counted(told, words.AIRFRAMES, "demand")
    yield from _counted(late.filter(pl.col("urgency") != "grounded"), words.ROUTINE, "order")
    yield from _overloaded(report)
    begins = (
        report["orders"]
        .filter(pl.col("late_days") > 0)
        .sort("late_days", "order", descending=[True, False])
    )
    yield from _counted(begins, words.ORDERS, "order")
    if report.left_out:
        yield words.ALL_IN_TIME_BUT.format(named=first_few(report.left_out, _MOST_LEFT_OUT))
    yield words.ALL_IN_TIME


def _counted(rows: pl.DataFrame, sentence: str, name: str) -> Iterator[str]:
    """How many rows there are, and the first of them, as a sentence; nothing without any."""
    if len(rows):
        first = {"held_up": "", "late_days": 0, **rows.row(0, named=True)}
        late = first["late_days"]
        days = working_days(late) if late < NEVER else NO_DATE
        yield sentence.format(**first, count=len(rows), name=first[name], days=days)


def _overloaded(report: Report) -> Iterator[str]:
    """The process that has the most hours too many in the first week, if any has."""
    beyond = (
        report["loads"]
        .filter(pl.col("week") == report.weeks[0])
        .with_columns(over=pl.col("hours") - pl.col("capacity"))
    )
    beyond = beyond.filter(pl.col("over") > 0.05).sort("over", "process", descending=[True, False])
    yield from _counted(beyond, words.OVERLOADED, "process")
