"""The three lines below the board: hours, what arrives, spares orders that can leave."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Sequence

import polars as pl

from bomkit.tables.weeks import iso_week, week_of
from bomkit.units import TOLERANCE
from bomkit.words import board as words
from bomkit.words import common
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import Cell, Line

_HEIGHT = 24
_MOST_WORDS = 86  # characters: two lines


def board_lines(report: Report, mondays: Sequence[dt.date], before: int) -> list[Line]:
    """The lines with a cell a column of weeks; before: how many columns stand before these."""
    gap = Line([], 8)
    return [
        gap,
        _hours_line(report, mondays, before),
        _arrivals_line(report, mondays, before),
        _spares_line(report, mondays, before),
    ]


def _line(heading: str, before: int, cells: Iterable[Cell], told: str) -> Line:
    """One line: its heading across the first columns, a cell a week, and this week in words."""
    return Line(
        [(heading, "board_line"), *[None] * (before - 1), *cells, (told, "board_waits")], _HEIGHT
    )


def _columns_of(mondays: Sequence[dt.date]) -> pl.DataFrame:
    """The ISO weeks of each column: week, column."""
    step = (mondays[1] - mondays[0]).days // 7 if len(mondays) > 1 else 1
    weeks = [
        (week_of(monday + dt.timedelta(weeks=more)), number)
        for number, monday in enumerate(mondays)
        for more in range(step)
    ]
    return pl.DataFrame(weeks, schema=["week", "column"], orient="row")


def _hours_line(report: Report, mondays: Sequence[dt.date], before: int) -> Line:
    """Hours of all processes with known hours in percent of these, dark where a process, a kind of
    printer or a mould has too much to do."""
    columns = _columns_of(mondays)
    loads = report["loads"].filter(pl.col("capacity") > 0).join(columns, on="week")
    totals = loads.group_by("column").agg(pl.col("hours").sum(), pl.col("capacity").sum())
    over = _overloads(report).join(columns, on="week")
    dark = set(over["column"])
    shares = {
        column: (round(100 * hours / capacity), "board_over" if column in dark else "board_count")
        for column, hours, capacity in totals.iter_rows()
    }
    first = over.filter(pl.col("week") == week_of(mondays[0])).select("kind", "name")
    named = [words.OVER_KINDS[kind].format(name=name) for kind, name in first.iter_rows()]
    told = words.OVER.format(named=_few(named)) if named else words.NOT_OVER
    cells = (shares.get(number, ("", "board_count")) for number in range(len(mondays)))
    return _line(words.HOURS_LINE, before, cells, told if len(loads) or named else "")


def _overloads(report: Report) -> pl.DataFrame:
    """What has more to do in a week than it can, the most by its share first: kind (process,
    printer, mould), name, week."""
    columns = ("kind", "name", "week", "load", "capacity")
    processes = (
        report["loads"]
        .rename({"process": "name", "hours": "load"})
        .with_columns(kind=pl.lit("process"))
    )
    loads = pl.concat([each.select(columns) for each in (processes, report["shop_loads"])])
    share = pl.col("load") / pl.col("capacity")
    return (
        loads.filter(pl.col("load") > pl.col("capacity") * (1 + TOLERANCE))
        .sort(share, "kind", "name", "week", descending=[True, False, False, False])
        .select("kind", "name", "week")
    )


def _arrivals_line(report: Report, mondays: Sequence[dt.date], before: int) -> Line:
    """How many open orders are due; what is overdue counts on the first day."""
    day = pl.max_horizontal("due_date", pl.lit(report.start))
    due = report.tables["open_orders"].with_columns(day=day).unique(["order", "day"])
    return _counted(words.ARRIVES_LINE, due.select("order", "day"), mondays, before)


def _spares_line(report: Report, mondays: Sequence[dt.date], before: int) -> Line:
    """How many spares orders can leave from a day on: all that is meant for them is there then."""
    there = report["promises"].filter(pl.col("earliest_date").is_not_null())
    leaves = there.select("order", day="earliest_date").unique()
    return _counted(words.SPARES_LINE, leaves, mondays, before)


def _counted(heading: str, events: pl.DataFrame, mondays: Sequence[dt.date], before: int) -> Line:
    """A line that counts what happens in each column, and names that of the first week."""
    weeks = dict(_columns_of(mondays).iter_rows())
    happens = events.select("order", week=iso_week("day")).sort("order")
    counts = Counter(weeks[week] for week in happens["week"] if week in weeks)
    first = happens.filter(pl.col("week") == week_of(mondays[0]))["order"].to_list()
    told = words.ARRIVES.format(named=_few(first)) if first else words.NOTHING_ARRIVES
    cells: list[Cell] = [(_short(counts[number]), "board_count") for number in range(len(mondays))]
    return _line(heading, before, cells, told)


def _short(count: int) -> str:
    """A count in three characters, nothing where there is nothing."""
    return f"{count // 1000}k" if count >= 1000 else str(count or "")


def _few(names: Sequence[str]) -> str:
    """As many names as fit, and how many more there are."""
    for count in range(len(names), 0, -1):
        more = len(names) - count
        told = ", ".join(names[:count])
        told = f"{told} {common.AND_MORE.format(count=more)}" if more else told
        if len(told) <= _MOST_WORDS - len(words.OVER):
            return told
    return common.AND_MORE.format(count=len(names))
