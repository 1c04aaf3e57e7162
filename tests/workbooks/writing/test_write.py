"""Workbooks made from one page of each kind are those that the library writes, byte for byte."""

import datetime as dt
from dataclasses import replace

import pytest

from bomkit.runs.week.plan import Run
from bomkit.workbooks.fleet.packing_list import kit_books
from bomkit.workbooks.overview.overview import overview_book
from bomkit.workbooks.shortages.shortages import shortages_book
from bomkit.workbooks.weekly.buy import buy_book
from bomkit.workbooks.weekly.picks.book import picks_book
from bomkit.workbooks.weekly.picks.sheets import pick_sheets_book
from bomkit.workbooks.weekly.work import make_book, print_book
from bomkit.workbooks.writing.sheet import Book, Chart, Column, Line, Link, Sheet
from bomkit.workbooks.writing.write import by_library, workbook_members

COLUMNS = [Column("first", 10), Column("second <&>", 12.5, "head_right")]
LINE = Line([("words", "text"), (1.5, "mass")])
COUNT = [Column("Item", 10, shows=True), Column("Found <&>", 9, fills="counted")]
KEY = ("AB-1", "", "A1", "", "usable", dt.date(2027, 1, 2))
COUNTED = [
    Line([("AB-1", "text"), ("", "entry")], key=KEY),
    Line([(Link("B", "other"), "link")], key=KEY),
]
PLAIN = Sheet("list", "Title", "subtitle", COLUMNS, [LINE])


def book(*sheets: Sheet, maker: str = "Maker & Sons") -> Book:
    return Book(sheets, "2026-W49-abc", maker, dt.date(2026, 11, 30))


@pytest.mark.parametrize(
    "sheet",
    [
        PLAIN,
        replace(PLAIN, lines=[]),
        replace(PLAIN, columns=[], lines=[]),
        replace(PLAIN, filtered=False),
        replace(PLAIN, frozen_columns=2, notes=("one", "two")),
        replace(PLAIN, cautions=("a caution " * 30,), notes=("<&>",)),
        replace(PLAIN, wall=True, cautions=("mind",)),
        replace(PLAIN, name='it\'s "a" <b> & c'),
        replace(PLAIN, heading_height=40.5),
        replace(PLAIN, lines=[Line([None, (Link("a'b", "a \"'<&> b"), "link")], 31.25)]),
        replace(PLAIN, lines=[Line([("\x01=1+1\t<&>", "text"), (dt.date(2026, 1, 2), "date")])]),
        replace(PLAIN, lines=[Line([("", "entry"), (0.1 + 0.2, "text"), (True, "text")])]),
        replace(PLAIN, columns=COUNT, lines=COUNTED, entries="counted", cautions=("mind",)),
        replace(PLAIN, columns=COUNT, lines=COUNTED, entries="counted", filtered=False),
        replace(PLAIN, columns=COUNT, lines=[], entries="counted"),
    ],
)
def test_each_kind_of_page_is_as_the_library_writes_it(sheet: Sheet) -> None:
    made = book(sheet, replace(PLAIN, name="other"), replace(sheet, name="again"))
    assert workbook_members(made) == by_library(made)
    assert workbook_members(book(sheet, maker="")) == by_library(book(sheet, maker=""))


def test_every_workbook_of_the_sample_is_as_the_library_writes_it(full_run: Run) -> None:
    report = full_run.report
    books = [shortages_book(report), overview_book(report), *list(kit_books(report).values())[:4]]
    makers = (make_book, print_book, buy_book, picks_book)
    books += [make(report, report.list_weeks[1]) for make in makers]
    books.append(pick_sheets_book(report, report.list_weeks[3]))
    for made in books:
        assert workbook_members(made) == by_library(made)


def test_a_sheet_with_a_chart_is_left_to_the_library(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn = replace(PLAIN, chart=Chart(0, 0, 1, 1, "hours"))
    assert "xl/charts/chart1.xml" in workbook_members(book(drawn))
    monkeypatch.setattr("bomkit.workbooks.writing.write.by_library", lambda book: {"whole": b""})
    assert workbook_members(book(PLAIN, drawn)) == {"whole": b""}
