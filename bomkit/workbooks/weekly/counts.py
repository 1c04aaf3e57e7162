"""The counts workbook of a week: the places whose turn it is, with room for what is there."""

import zlib
from collections.abc import Mapping
from typing import Any

from bomkit.tables.weeks import monday_of
from bomkit.words import common
from bomkit.words import shelves as said
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.picks.order_of_places import by_number
from bomkit.workbooks.writing.heights import height_of
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Line,
    Sheet,
    list_columns,
    text,
    to_fill,
)

WEEKS_TO_COUNT_ALL = 13  # a quarter of a year; common practice, no source
_WIDTHS = (3, 24, 9, 38, 8, 13, 11, 11, 5, 11)
_FILLS = {9: "counted"}
_SHOWS = (1, 2, 4, 5)
_KEY = ("item", "serial", "location", "lot", "status", "expires")


def counts_book(report: Report, week: str) -> Book:
    """What to count in a week: all that lies in the places whose turn it is, place by place."""
    rows = _stock(report, _turn(week))
    cells = [_cells(report, row) for row in rows]
    lines = [
        Line(each, height_of(each, _WIDTHS), [row[name] for name in _KEY])
        for each, row in zip(cells, rows, strict=True)
    ]
    nothing = said.NOTHING_TO_COUNT.format(week=week)
    return report.book(
        [
            Sheet(
                name=said.COUNTS_SHEET,
                title=said.COUNTS_TITLE.format(week=week),
                subtitle=report.subtitle(),
                columns=list_columns(
                    said.COUNTS_COLUMNS.values(),
                    _WIDTHS,
                    (9,),
                    [0],
                    fills=_FILLS,
                    shows=_SHOWS,
                ),
                lines=lines or [Line([(nothing, "plain")])],
                notes=(said.COUNTS_NOTE.format(weeks=WEEKS_TO_COUNT_ALL), said.COUNTS_TIME),
                filtered=bool(lines),
                entries="counted",
            )
        ]
    )


def turn_of(row: Mapping[str, Any]) -> int:
    """In which of the weeks a row of the stock is counted: by its place, else by its item.

    The place alone decides, so that a place is counted whole and none is passed over when stock
    comes and goes.
    """
    return zlib.crc32((row["location"] or row["item"]).encode()) % WEEKS_TO_COUNT_ALL


def _turn(week: str) -> int:
    """The turn of an ISO week, one after the other across the years."""
    return monday_of(week).toordinal() // 7 % WEEKS_TO_COUNT_ALL


def _stock(report: Report, turn: int) -> list[dict[str, Any]]:
    """The rows of the stock whose turn it is by place; what agrees in all that tells lots apart is
    one."""
    rows = {
        tuple(row[name] for name in _KEY): row
        for row in report.tables["stock"].iter_rows(named=True)
        if turn_of(row) == turn
    }
    return sorted(
        rows.values(),
        key=lambda row: (
            by_number(row["location"]),
            *(str(row[name] or "") for name in _KEY),
        ),
    )


def _cells(report: Report, row: Mapping[str, Any]) -> list[Cell]:
    """The row of one lot."""
    item = report.items[row["item"]]
    return [
        (common.BOX, "tick"),
        text(row["location"] or work_words.IN_STORES, "strong_wrapped"),
        text(row["item"], "strong_wrapped"),
        text(item["description"], "wrapped"),
        text(row["serial"], "wrapped"),
        text(row["lot"], "wrapped"),
        (row["expires"], "year_date") if row["expires"] else BLANK,
        text(row["status"], "faint"),
        (item["unit"], "unit"),
        to_fill("counted", "counted"),
    ]
