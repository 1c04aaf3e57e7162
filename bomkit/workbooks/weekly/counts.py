"""The counts workbook of a week: the places whose turn it is, with room for what is there."""

import zlib
from collections.abc import Mapping
from typing import Any

from bomkit.tables.weeks import monday_of
from bomkit.words import common
from bomkit.words.weekly import arrivals_and_counts as said
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.picks.order_of_places import by_number
from bomkit.workbooks.writing.sheet import BLANK, Book, Cell, Column, Sheet, text

WEEKS_TO_COUNT_ALL = 13  # a quarter of a year; common practice, no source
_HEADS = said.COUNTS_COLUMNS
_FORM = ListForm(
    {
        "done": Column(_HEADS["done"], 3, "head_centre"),
        "place": Column(_HEADS["place"], 24, shows=True),
        "item": Column(_HEADS["item"], 9, shows=True),
        "description": Column(_HEADS["description"], 38),
        "serial": Column(_HEADS["serial"], 8, shows=True),
        "lot": Column(_HEADS["lot"], 13, shows=True),
        "use_by": Column(_HEADS["use_by"], 11),
        "status": Column(_HEADS["status"], 11),
        "unit": Column(_HEADS["unit"], 5),
        "counted": Column(_HEADS["counted"], 11, "head_right", fills="counted"),
    },
    "counted",
)
_KEY = ("item", "serial", "location", "lot", "status", "expires")


def counts_book(report: Report, week: str) -> Book:
    """What to count in a week: all that lies in the places whose turn it is, place by place."""
    rows = _stock(report, _turn(week))
    lines = [_FORM.row(_cells(report, row), [row[name] for name in _KEY]) for row in rows]
    nothing = said.NOTHING_TO_COUNT.format(week=week)
    return report.book(
        [
            Sheet(
                name=said.COUNTS_SHEET,
                title=said.COUNTS_TITLE.format(week=week),
                subtitle=report.subtitle(),
                columns=_FORM.columns,
                lines=lines or [_FORM.sentence(nothing)],
                notes=(said.COUNTS_NOTE.format(weeks=WEEKS_TO_COUNT_ALL), said.COUNTS_TIME),
                filtered=bool(lines),
                entries=_FORM.entries,
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


def _cells(report: Report, row: Mapping[str, Any]) -> dict[str, Cell]:
    """The row of one lot."""
    item = report.items[row["item"]]
    return {
        "done": (common.BOX, "tick"),
        "place": text(row["location"] or work_words.IN_STORES, "strong_wrapped"),
        "item": text(row["item"], "strong_wrapped"),
        "description": text(item["description"], "wrapped"),
        "serial": text(row["serial"], "wrapped"),
        "lot": text(row["lot"], "wrapped"),
        "use_by": (row["expires"], "year_date") if row["expires"] else BLANK,
        "status": text(row["status"], "faint"),
        "unit": (item["unit"], "unit"),
        **_FORM.to_fill(),
    }
