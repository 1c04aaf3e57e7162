"""Workbooks are as the library writes them, member by member and byte for byte."""

import datetime as dt
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from xml.etree.ElementTree import fromstring

import pytest
from openpyxl.utils import get_column_letter

from bomkit.runs.week.plan import Run
from bomkit.workbooks.fleet.packing_list import kit_books
from bomkit.workbooks.overview.overview import overview_book
from bomkit.workbooks.shortages.shortages import shortages_book
from bomkit.workbooks.weekly.buy import buy_book
from bomkit.workbooks.weekly.make_and_print import make_book, print_book
from bomkit.workbooks.weekly.picks.book import picks_book
from bomkit.workbooks.weekly.picks.order_sheets import pick_sheets_book
from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.sheet import Book, Chart, Column, Curve, Line, Link, Sheet
from bomkit.workbooks.writing.style import Look
from bomkit.workbooks.writing.write import workbook_members
from bomkit.workbooks.writing.xml_parts.styles import styles
from bomkit.workbooks.writing.xml_parts.text import column_letter
from tests.samples import TINY
from tests.workbooks.writing.by_library import by_library
from tests.workbooks.writing.by_library import styles as by_library_styles

COLUMNS = [Column("first", 10), Column("second <&>", 12.5, "head_right")]
LINE = Line([("words", "text"), (1.5, "mass")])
COUNT = [Column("Item", 10, shows=True), Column("Found <&>", 9, fills="counted")]
KEY = ("AB-1", "", "A1", "", "usable", dt.date(2027, 1, 2))
COUNTED = [
    Line([("AB-1", "text"), ("", "entry")], key=KEY),
    Line([(Link("B", "other"), "link")], key=KEY),
]
PLAIN = Sheet("list", "Title", "subtitle", COLUMNS, [LINE])
CHARTED = replace(PLAIN, columns=[*COLUMNS, *COLUMNS], lines=[LINE] * 14)
RARE = {
    "all": Look(10.25, True, "123456", "ABCDEF", "0.0000", "center", True, "none", True, True, 3,
                open=True),
    "open_rule": Look(below="rule", open=True, quoted=True, form="0.000", across="right", indent=1),
    "indented_number": Look(form='0.000;"<&>"', across="right", indent=2),
    "indented_words": Look(across="right", indent=2, framed=True),
    "indented_left": Look(across="left", form="0", indent=2, below="none", ground="EEEEEE"),
    "as_usual": Look(),
}  # fmt: skip
MAKER = "docProps/app.xml"  # what wrote the workbook


def book(*sheets: Sheet, maker: str = "Maker & Sons") -> Book:
    return Book(sheets, "2026-W49-abc", maker, dt.date(2026, 11, 30))


def assert_as_by_library(made: Book) -> None:
    own, judge = workbook_members(made), by_library(made)
    assert own.keys() == judge.keys()
    for name in own.keys() - {MAKER}:
        assert own[name] == judge[name], name


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
        replace(PLAIN, portrait=True),
        replace(PLAIN, lines=[LINE] * 3, printed=1),
        replace(PLAIN, lines=[LINE] * 3, printed=0, frozen_columns=1),
        replace(PLAIN, lines=[LINE] * 3, printed=3),
        replace(PLAIN, columns=[Column("a", width) for width in (9.2 - 4e-15, 0.1 + 0.2, 13, 1e2)]),
        replace(PLAIN, columns=[Column(f"{number}", 5) for number in range(60)], frozen_columns=53),
        replace(PLAIN, name='it\'s "a" <b> & c'),
        replace(PLAIN, heading_height=40.5),
        replace(PLAIN, lines=[Line([None, (Link("a'b", "a \"'<&> b"), "link")], 31.25)]),
        replace(PLAIN, lines=[Line([("\x01=1+1\t<&>", "text"), (dt.date(2026, 1, 2), "date")])]),
        replace(PLAIN, lines=[Line([("", "entry"), (0.1 + 0.2, "text"), (True, "text")])]),
        replace(PLAIN, columns=COUNT, lines=COUNTED, entries="counted", cautions=("mind",)),
        replace(PLAIN, columns=COUNT, lines=COUNTED, entries="counted", filtered=False),
        replace(PLAIN, columns=COUNT, lines=COUNTED[:1], entries="counted"),
        replace(PLAIN, columns=COUNT, lines=[], entries="counted"),
        replace(CHARTED, chart=Chart(0, 0, 1, 1, "hours")),
        replace(CHARTED, chart=Chart(0, 12, 1, 3, 'a <&> "b"', 13)),
        replace(CHARTED, chart=Chart(1, 3, 1, 2, "hours", None, 5, stacked=False)),
        replace(CHARTED, chart=Chart(0, 2, 0, 60, "hours", 4, 5), name='it\'s <&> "b"'),
        replace(CHARTED, chart=Curve(0, 1, 2, "across <&>", "up"), name='it\'s <&> "b"'),
        replace(CHARTED, chart=Curve(2, 0, 1, "kg", "up", '#,##0.0" <kg>"'), lines=[LINE]),
    ],
)
def test_each_kind_of_page_is_as_the_library_writes_it(sheet: Sheet) -> None:
    made = book(sheet, replace(PLAIN, name="other"), replace(sheet, name="again"))
    assert_as_by_library(made)
    for maker in ("", "Makers of many & long names " * 3):
        assert_as_by_library(book(sheet, maker=maker))


@pytest.fixture
def rare_looks(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Looks that no list has yet are among the styles, which are numbered anew."""
    monkeypatch.setattr(style, "STYLES", {**RARE, **style.STYLES, **RARE})
    for made in (styles, by_library_styles):
        made.cache_clear()
    yield
    for made in (styles, by_library_styles):
        made.cache_clear()


def test_looks_that_no_list_has_yet_are_as_the_library_writes_them(rare_looks: None) -> None:
    lines = [Line([(1.5, name) for name in RARE])]
    columns = [Column("a", 5, name) for name in RARE]
    assert_as_by_library(book(replace(PLAIN, columns=columns, lines=lines)))


def test_characters_that_no_workbook_can_hold_become_spaces() -> None:
    odd = "a\x00\x01\x1f\ufffe\ud800 & <b> \"c\" 'd'"
    columns = [Column(odd, 9), Column(odd, 9)]
    lines = [Line([(odd, "text"), (Link(odd, odd), "link")])]
    curve = Curve(0, 1, 1, odd, odd, odd)
    sheet = Sheet(odd, odd, odd, columns, lines, [odd], [odd], chart=curve)
    made = Book(
        [sheet, replace(sheet, chart=Chart(0, 0, 0, 1, odd))], odd, odd, dt.date(2026, 1, 2)
    )
    found = {name: fromstring(member.encode()) for name, member in workbook_members(made).items()}
    words = {"".join(found[f"docProps/{name}.xml"][0].itertext()) for name in ("core", "custom")}
    assert words == {"bomkit", "a      & <b> \"c\" 'd'"}
    assert found["xl/workbook.xml"][3][1].get("name") == "a      & <b> \"c\" 'd'"


def test_a_workbook_says_that_bomkit_wrote_it() -> None:
    assert "bomkit</Application>" in workbook_members(book(PLAIN))[MAKER]


def test_columns_are_called_as_the_library_calls_them() -> None:
    letters = [column_letter(number) for number in range(1, 16_385)]
    assert letters == [get_column_letter(number) for number in range(1, 16_385)]


def test_a_plan_is_written_without_the_library(tmp_path: Path) -> None:
    script = (
        "import sys; sys.modules['openpyxl'] = None\n"
        "from bomkit.cli import main; main(sys.argv[1:])"
    )
    words = ["plan", TINY, "--out", tmp_path / "out", "--pick-sheets"]
    subprocess.run([sys.executable, "-c", script, *words], check=True, capture_output=True)
    assert (tmp_path / "out" / "overview.xlsx").exists()


def test_every_workbook_of_the_sample_is_as_the_library_writes_it(full_run: Run) -> None:
    report = full_run.report
    books = [shortages_book(report), overview_book(report), *list(kit_books(report).values())[:4]]
    makers = (make_book, print_book, buy_book, picks_book)
    books += [make(report, report.list_weeks[1]) for make in makers]
    books.append(pick_sheets_book(report, report.list_weeks[3]))
    for made in books:
        assert_as_by_library(made)
