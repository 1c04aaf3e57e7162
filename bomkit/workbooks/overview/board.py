"""The board: one page for the wall, a row an airframe (or spares order), weeks across."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from textwrap import shorten
from typing import Any

import polars as pl

from bomkit.tables.shared_columns import NEVER
from bomkit.words import board as words
from bomkit.words import common
from bomkit.workbooks.headline import headline
from bomkit.workbooks.overview.below_board import board_lines
from bomkit.workbooks.overview.board_stages import Bands, short_names, stage_bands, stages_of
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import Cell, Column, Line, Sheet, in_a_sentence
from bomkit.workbooks.writing.style import STAGES

MOST_ROWS = 26  # more would print below 9 points
_MOST_WEEKS = 30  # columns; of a longer plan a column stands for several weeks
_WEEKS_WIDTH = 100.0
_DAY_WIDTHS = (10.5, 10.5, 9)
_NAME_WIDTH, _LONG_NAME = 13.5, 8  # characters; longer names are written smaller
_WAITS_WIDTH = 45
_ROW_HEIGHT = 24
_MOST_WORDS = 88  # characters of what a row waits for: two lines


@dataclass(frozen=True)
class Row:
    """One row of a board."""

    name: str
    wanted: dt.date
    forecast: dt.date | None
    late_days: int | None  # none: there is no forecast
    waits_for: str


def board_sheets(report: Report) -> list[Sheet]:
    """The board of the airframes, and that of the spares orders if there are any."""
    spares = list(_spares(report))
    sheets = [_board(report, words.BOARD, words.BOARD_TITLE, words.AIRFRAME, _airframes(report))]
    if spares:
        sheets.append(_board(report, words.SPARES, words.SPARES_BOARD_TITLE, words.ORDER, spares))
    return sheets


def _airframes(report: Report) -> list[Row]:
    """The airframes of the build plan by the day they are wanted."""
    told = {
        row["demand"]: row
        for row in report["forecast"].iter_rows(named=True)
        if row["demand_kind"] == "airframe"
    }
    planned = report.tables["build_plan"].sort("ready_date", "serial")
    return [
        _row(report, serial, wanted, told.get(serial))
        for serial, wanted in planned.select("serial", "ready_date").iter_rows()
    ]


def _spares(report: Report) -> Iterator[Row]:
    """The spares orders by the day they are wanted, those for grounded aircraft first."""
    asked = report["promises"].sort(pl.col("urgency") != "grounded", "need_date", "order", "item")
    for row in asked.iter_rows(named=True):
        leaves = {"demand": row["order"], "demand_kind": row["urgency"], **row}
        leaves["earliest_date"] = row["promise_date"]
        order = _row(report, row["order"], row["need_date"], leaves, _MOST_WORDS // 2)
        yield replace(order, waits_for=_what(report, row, order.waits_for))


def _what(report: Report, row: Mapping[str, Any], waits_for: str) -> str:
    """What a spares order asks for, and what it waits for."""
    item = report.items[row["item"]]
    told = words.ASKS_FOR.format(
        quantity=in_a_sentence(row["quantity"]),
        unit=item["unit"],
        item=item["description"] or row["item"],
    )
    after = words.AND_WAITS.format(waits_for=waits_for) if waits_for else ""
    return shorten(told, _MOST_WORDS - len(after), placeholder=" …") + after


def _row(
    report: Report,
    name: str,
    wanted: dt.date,
    told: Mapping[str, Any] | None,
    room: int = _MOST_WORDS,
) -> Row:
    """A row with its forecast, not before it is wanted; what sets it if that is later.

    room: for so many characters of what sets it.
    """
    if told is None:
        return Row(name, wanted, None, None, "")
    late = told["late_days"]
    forecast = told["earliest_date"] if late or told["earliest_date"] is None else wanted
    return Row(name, wanted, forecast, late, _waits_for(report, told, room) if late else "")


def _waits_for(report: Report, told: Mapping[str, Any], room: int) -> str:
    """What comes first in the chain that sets the date, in a few words."""
    chain = report.chains.get((told["demand"], told["demand_kind"]))
    if chain is None:
        return ""
    first = chain.sort("step").row(0, named=True)
    item = report.items[first["item"]]["description"] or first["item"]
    day = report.day(first["finish_date"]) if first["finish_date"] else ""
    sentence = words.THERE_ON if day else words.THERE_NEVER
    source = sentence.format(supply=first["supply"], date=day)
    item = shorten(item, room - len(source) - 2, placeholder=" …")
    return words.WAITS_FOR_ITEM.format(item=item, supply=source)


def _board(report: Report, name: str, title: str, heading: str, rows: Sequence[Row]) -> Sheet:
    """One page: the rows with their bands, and below them the week in three lines."""
    mondays = _mondays(report)
    names = short_names(list(dict.fromkeys(stages_of(report).values())))
    shown = rows[:MOST_ROWS]
    bands = stage_bands(report, mondays, {row.name for row in shown})
    lines = [Line(_row_cells(row, mondays, bands, names), _ROW_HEIGHT) for row in shown]
    if len(rows) > len(shown):
        more = words.MORE_ROWS.format(count=len(rows) - len(shown))
        lines.append(Line([(more, "board_note")], _ROW_HEIGHT))
    if not rows:
        lines = [Line([(words.NO_ROWS, "board_note")], _ROW_HEIGHT)]
    if name == words.BOARD:
        lines += board_lines(report, mondays, 1 + len(_DAY_WIDTHS))
    return Sheet(
        name=name,
        title=f"{title} · {report.title}",
        subtitle=report.subtitle(),
        columns=_columns(mondays, heading),
        lines=lines,
        notes=(headline(report), _legend(names, mondays)),
        filtered=False,
        frozen_columns=1,
        wall=True,
    )


def _mondays(report: Report) -> list[dt.date]:
    """The first day of each column: a week, or several of a plan too long for that."""
    first = report.start - dt.timedelta(days=report.start.weekday())
    step = -(-len(report.weeks) // _MOST_WEEKS)
    return [first + dt.timedelta(weeks=week) for week in range(0, len(report.weeks), step)]


def _columns(mondays: Sequence[dt.date], heading: str) -> list[Column]:
    """Name, days, the weeks, and what it waits for."""
    headings, widths = (heading, *words.DAYS), (_NAME_WIDTH, *_DAY_WIDTHS)
    width = round(min(6.0, _WEEKS_WIDTH / len(mondays)), 2)
    return [
        *(Column(head, wide, "board_head") for head, wide in zip(headings, widths, strict=True)),
        *(Column(f"{monday:%V}", width, "board_week") for monday in mondays),
        Column(words.WAITS[heading], _WAITS_WIDTH, "board_waits_head"),
    ]


def _row_cells(
    row: Row, mondays: Sequence[dt.date], bands: Bands, names: Mapping[str, str]
) -> list[Cell]:
    """One row of the board."""
    late = bool(row.late_days)
    look = "board_late" if late else "board_date"
    no_day: Cell = (common.NO_DATE if late else "", look)
    return [
        (row.name, "board_name" if len(row.name) <= _LONG_NAME else "board_small_name"),
        (row.wanted, "board_date"),
        (row.forecast, look) if row.forecast else no_day,
        (_state(row.late_days), look),
        *_week_cells(row, mondays, bands, names),
        (row.waits_for, "board_waits"),
    ]


def _state(late: int | None) -> str:
    """How late it is, in a few words: nothing where no forecast tells."""
    if late is None:
        return ""
    if late >= NEVER:
        return words.NEVER
    return words.DAYS_LATE.format(days=late) if late else words.IN_TIME


def _week_cells(
    row: Row, mondays: Sequence[dt.date], bands: Bands, names: Mapping[str, str]
) -> Iterator[Cell]:
    """The bands, with the week in which it is wanted and, if later, that of the forecast."""
    wanted = _column(row.wanted, mondays)
    forecast = _column(row.forecast, mondays) if row.forecast and row.late_days else None
    last = _column(row.forecast or row.wanted, mondays)
    places = {stage: number % len(STAGES) for number, stage in enumerate(names)}
    for number in range(len(mondays)):
        stage = bands.get((row.name, number), "") if last is None or number <= last else ""
        mark = words.FORECAST if number == forecast else words.WANTED if number == wanted else ""
        look = f"stage_{places[stage]}" if stage in places else "stage_none"
        edge = "today_" if number == 0 else ""
        yield (mark or names.get(stage, ""), f"{edge}{look}")


def _column(day: dt.date, mondays: Sequence[dt.date]) -> int | None:
    """The number of the column that a day stands in; none if it lies outside."""
    step = (mondays[1] - mondays[0]).days if len(mondays) > 1 else 7
    if not mondays[0] <= day < mondays[-1] + dt.timedelta(days=step):
        return None
    return sum(monday <= day for monday in mondays) - 1


def _legend(names: Mapping[str, str], mondays: Sequence[dt.date]) -> str:
    """What the letters and marks mean."""
    letters = ", ".join(f"{short} {stage}" for stage, short in names.items())
    step = (mondays[1] - mondays[0]).days // 7 if len(mondays) > 1 else 1
    across = words.WEEKS if step == 1 else words.WEEKS_OF.format(count=step)
    told = words.BANDS.format(letters=letters) if letters else ""
    return common.BETWEEN.join(filter(None, (told, words.MARKS, across)))
