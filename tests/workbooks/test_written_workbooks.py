"""The workbooks as a spreadsheet program reads them."""

import datetime as dt
import hashlib
import io
import os
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl
import pytest

from bomkit.runs.week.plan import Run, weekly_run
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.results.by_name import RESULTS
from bomkit.tables.results.finished_plan import Choices
from bomkit.words import board, shortages
from bomkit.words.progress import silent
from bomkit.words.weekly import asking
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.shortages.shortages import shortages_book
from bomkit.workbooks.weekly.make_and_print import make_book
from bomkit.workbooks.writing.sheet import Book, Chart, Column, Line, Link, Sheet
from bomkit.workbooks.writing.sheet_names import sheet_names
from bomkit.workbooks.writing.write import workbook_bytes
from tests.samples import TINY
from tests.workbooks.other_reports import with_plan, with_results

UPRIGHT = ("picks.xlsx Round", "picks.xlsx Further picks", "print.xlsx Plates", "make.xlsx Moulds")
WEEKLY = ("make", "buy", "print", "picks", "arrivals", "counts")


def sheet(*cells: Any, **more: Any) -> Sheet:
    """A sheet with one line of cells."""
    columns = [Column(f"head {number}", 10) for number in range(max(1, len(cells)))]
    return Sheet("list", "Title", "subtitle", columns, [Line(cells)], **more)


def opened(*sheets: Sheet) -> Any:
    """The workbook of the sheets, read back."""
    book = Book(sheets, "2026-W49-abc", "Maker & Sons", dt.date(2026, 11, 30))
    return openpyxl.load_workbook(io.BytesIO(workbook_bytes(book)))


def first_line(workbook: Any) -> list[Any]:
    """The cells below the headings of the first sheet."""
    return next(iter(workbook.worksheets[0].iter_rows(min_row=5, max_row=5)))


def all_workbooks(out: Path) -> Iterator[tuple[str, Any]]:
    """Every workbook of a run by its path in it."""
    for path in sorted(out.rglob("*.xlsx")):
        yield str(path.relative_to(out)), openpyxl.load_workbook(path)


@pytest.mark.parametrize("words", ["=1+1", "+1", "-1", "@SUM(1)", "=HYPERLINK(1)", "\t=1"])
def test_a_text_that_looks_like_a_formula_stays_text(words: str) -> None:
    [cell] = first_line(opened(sheet((words, "text"))))
    assert (cell.value, cell.data_type) == (words, "s")


@pytest.mark.parametrize(
    "words", ["a & b < c > d", 'say "so"', "two\nlines", "  spaces  ", "Ω ü ▲"]
)
def test_any_words_come_back_as_they_were(words: str) -> None:
    [cell] = first_line(opened(sheet((words, "text"))))
    assert cell.value == words


def test_what_no_workbook_can_hold_is_replaced_and_cut() -> None:
    control, long = first_line(opened(sheet(("a\x00b\x1f", "text"), ("x" * 40_000, "text"))))
    assert control.value == "a b "
    assert len(long.value) == 32_767


def test_numbers_and_dates_are_real_values_with_a_format() -> None:
    number, date = first_line(opened(sheet((12.5, "mass"), (dt.date(2026, 12, 24), "date"))))
    assert number.value == 12.5 and number.number_format.startswith("#,##0.000")
    assert date.value == dt.datetime(2026, 12, 24) and date.is_date


def test_a_sheet_with_too_many_rows_says_how_many_are_left_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("bomkit.workbooks.writing.layout._MOST_ROWS", 10)
    lines = [Line([(number, "pieces")]) for number in range(20)]
    page = opened(Sheet("list", "T", "s", [Column("a", 5)], lines)).worksheets[0]
    # four rows stand above the list, so 24 in all: nine stay, and the tenth tells of fifteen
    assert page.max_row == 10
    assert page["A10"].value == "▲ 15 more rows do not fit on a sheet; see the result tables"


def test_a_link_leads_to_its_sheet() -> None:
    other = Sheet("other's", "T", "s", [Column("a", 5)], [])
    [cell] = first_line(opened(sheet((Link("go", "other's"), "link")), other))
    assert cell.value == "go"
    assert cell.hyperlink.location == "'other''s'!A1"


def test_the_claimed_size_of_a_sheet_is_its_size() -> None:
    workbook = opened(sheet((1, "pieces"), (2, "pieces"), (3, "pieces")))
    assert workbook.worksheets[0].dimensions == "A1:C5"


def test_the_same_book_gives_the_same_bytes() -> None:
    book = Book([sheet((1.5, "mass"))], "run", "maker", dt.date(2026, 11, 30))
    assert workbook_bytes(book) == workbook_bytes(book)


def test_no_time_of_the_clock_stands_in_a_workbook() -> None:
    book = Book([sheet((1.5, "mass"))], "run", "maker", dt.date(2001, 2, 3))
    with zipfile.ZipFile(io.BytesIO(workbook_bytes(book))) as archive:
        core = archive.read("docProps/core.xml").decode()
        assert {member.date_time for member in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert set(re.findall(r"\d{4}-\d\d-\d\d", core)) == {"2001-02-03"}


def test_a_chart_stands_on_its_sheet_and_reads_its_rows() -> None:
    chart = Chart(0, 0, 1, 2, "hours")
    workbook = opened(sheet(("bond", "text"), (3, "pieces"), (4, "pieces"), chart=chart))
    [drawn] = workbook.worksheets[0]._charts
    assert drawn.series[0].val.numRef.f == "'list'!$B$5:$C$5"


def test_sheet_names_are_allowed_short_and_different() -> None:
    names = sheet_names(["lay/up", "lay:up", "x" * 40, "contents", "History"], taken=["contents"])
    assert names["lay/up"] == "lay-up"
    assert names["lay:up"] == "lay-up (2)"
    assert len(names["x" * 40]) == 31
    assert names["contents"] == "contents (2)"
    assert names["History"] == "History (2)"


def test_a_run_writes_its_workbooks_tables_and_run_file(tiny_run: Run) -> None:
    written = {
        str(path.relative_to(tiny_run.out)) for path in tiny_run.out.rglob("*") if path.is_file()
    }
    assert written == {
        "run.json",
        "overview.xlsx",
        "shortages.xlsx",
        "kits/S-031.xlsx",
        *(f"2026-W{week}/{name}.xlsx" for week in (49, 50) for name in WEEKLY),
        *(f"tables/{name}.parquet" for name in RESULTS),
        *(f"inputs/{name}.parquet" for name in INPUTS),
    }


def test_every_sheet_prints_one_page_wide_with_its_run_at_the_foot(
    tiny_run: Run,
) -> None:
    for name, workbook in all_workbooks(tiny_run.out):
        for page in workbook.worksheets:
            where = f"{name} {page.title}"
            upright = where.split("/")[-1] in UPRIGHT
            assert page.page_setup.orientation == ("portrait" if upright else "landscape"), where
            on_wall = page.title in (board.BOARD, board.SPARES)
            assert int(page.page_setup.paperSize) == (8 if on_wall else 9), where
            assert page.sheet_properties.pageSetUpPr.fitToPage, where
            assert page.page_setup.fitToHeight == int(on_wall), where
            assert page.print_title_rows, where
            assert page.freeze_panes, where
            assert "run 2026-W49-" in page.oddFooter.left.text, where
            assert page.oddFooter.right.text == "&A\npage &P of &N", where
            assert not page.merged_cells.ranges, where


def test_two_runs_of_the_same_input_are_the_same_to_the_byte(tiny_run: Run, tmp_path: Path) -> None:
    again = tmp_path / "again"
    command = [sys.executable, "-m", "bomkit", "plan", str(TINY), "--out", str(again)]
    others = {"POLARS_MAX_THREADS": "3", "PYTHONHASHSEED": "12"}
    subprocess.run(command, env=os.environ | others, check=True, stdout=subprocess.DEVNULL)
    for path in tiny_run.out.rglob("*"):
        if path.is_file():
            other = again / path.relative_to(tiny_run.out)
            assert digest(path) == digest(other), path.name


def digest(path: Path) -> str:
    """A digest over the bytes of a file."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def made_without_stores(run: Run, week: str) -> list[list[Any]]:
    """The rows of a make list where no pick lists are written."""
    book = make_book(with_results(run.report, ready=run.report["ready"].clear()), week)
    return [
        [cell[0] if cell else None for cell in line.cells]
        for sheet in book.sheets
        if sheet.name != asking.ASK_SHEET
        for line in sheet.lines
        if len(line.cells) == len(work_words.WORK_COLUMNS)
    ]


def test_the_make_list_shows_the_order_and_without_pick_lists_its_components(
    tiny_run: Run,
) -> None:
    rows = made_without_stores(tiny_run, "2026-W49")
    skins = [row for row in rows if row[2] == "rudder-skin" and row[5]]
    # 1.92 lacking / 0.92 rounded up: 2 started; see the sample's README
    assert skins and skins[0][4] == 2
    order = skins[0][1]
    drawn = [row[2] for row in rows if row[1] == order and row[2] != "rudder-skin"]
    assert {"glass-cloth", "resin"} <= set(drawn)
    assert "late 3 d" in skins[0][9]
    workbook = openpyxl.load_workbook(tiny_run.out / "2026-W49" / "make.xlsx")
    written = {cell.value for page in workbook.worksheets for row in page for cell in row}
    assert "rudder-skin" in written and "glass-cloth" not in written


def test_the_make_list_says_where_components_lie_only_where_they_stand_on_it(
    tiny_run: Run,
) -> None:
    def headings(run: Run) -> set[str]:
        sheets = make_book(run.report, "2026-W49").sheets
        return {column.heading for sheet in sheets if sheet.entries == "worked"
                for column in sheet.columns}  # fmt: skip

    without = replace(
        tiny_run, report=with_results(tiny_run.report, ready=tiny_run.report["ready"].clear())
    )
    assert "For" in headings(tiny_run) and "For / where it lies" not in headings(tiny_run)
    assert "For / where it lies" in headings(without) and "For" not in headings(without)


def test_processes_stand_below_one_another_and_a_long_one_has_a_sheet_of_its_own(
    full_run: Run,
) -> None:
    first, *others = make_book(full_run.report, full_run.report.list_weeks[0]).sheets
    bands = [line.cells[0][0] for line in first.lines
             if line.cells[0] and line.cells[0][1].startswith("section")]  # fmt: skip
    alone = [sheet for sheet in others if sheet.entries == "worked"]
    links = [band.sheet for band in bands if isinstance(band, Link)]
    assert len(bands) > 5 and links == [sheet.name for sheet in alone] and alone
    assert all(len(sheet.lines) > 75 for sheet in alone)


def written_numbers(out: Path) -> Iterator[float]:
    """Every number in the cells of a run's workbooks, from the files themselves."""
    for path in out.rglob("*.xlsx"):
        with zipfile.ZipFile(path) as archive:
            for name in archive.namelist():
                if name.startswith("xl/worksheets/sheet"):
                    found = re.findall(rb"<v>([^<]*)</v>", archive.read(name))
                    yield from (float(number) for number in found)


def test_no_cell_shows_what_only_arithmetic_added(tiny_run: Run, full_run: Run) -> None:
    numbers = [*written_numbers(tiny_run.out), *written_numbers(full_run.out)]
    noisy = [value for value in numbers if 0 < abs(value - round(value, 6)) < 1e-10]
    assert len(numbers) > 10_000 and noisy == []


@cache
def read_once(path: Path) -> Any:
    """A workbook, which takes a second or so to read."""
    return openpyxl.load_workbook(path)


def rows_of(path: Path, sheet_number: int, first: int = 0) -> list[list[Any]]:
    """The values of a sheet's rows from one on, else of those below its headings."""
    page = read_once(path).worksheets[sheet_number]
    first = first or int(page.print_title_rows.split("$")[-1]) + 1
    return [[cell.value for cell in row] for row in page.iter_rows(min_row=first)]


def test_the_buy_list_puts_late_lines_first_and_says_so_in_words(full_run: Run) -> None:
    states = [str(row[6]) for row in rows_of(full_run.out / "2026-W49" / "buy.xlsx", 1)]
    worst = [state for state in states if state.startswith("▲ late")]
    assert worst and max(int(state.split()[2]) for state in worst) == int(worst[0].split()[2])
    latest = int(worst[0].split()[2])
    late = full_run.report["orders"].filter(late_days=latest, source="buy")
    assert len(late) == states.count(f"▲ late {latest} d") > 0


def test_the_buy_list_orders_no_second_engine_beside_one_that_comes_within_the_lead_time(
    full_run: Run,
) -> None:
    # PO-7323 brings one on 2027-02-24; ordered today it would be there in March
    on_order = full_run.report.tables["open_orders"].filter(item="0031006", order="PO-7323")
    assert on_order["due_date"].to_list() == [dt.date(2027, 2, 24)]
    engines = full_run.report["orders"].filter(item="0031006").sort("due_date")
    assert engines["due_date"][0] > dt.date(2027, 2, 24) and engines["late_days"].max() == 0
    rows = rows_of(full_run.out / "2026-W49" / "buy.xlsx", 1)
    assert [row[6] for row in rows if row[2] == "0031006" and str(row[6]).startswith("▲")] == []


def test_the_make_list_names_the_lot_to_pick_first(full_run: Run) -> None:
    weeks = full_run.report.list_weeks
    rows = [row for week in weeks for row in made_without_stores(full_run, week)]
    lots = {
        row["lot"]
        for row in full_run.report.tables["stock"].iter_rows(named=True)
        if row["item"] == "MA301" and row["status"] == "usable"
    }
    drawn = {
        part.split("lot ")[1].split(";")[0].split(",")[0]
        for row in rows
        if row[2] == "MA301"
        for part in [row[9]]
        if part and "lot " in part
    }
    assert drawn and drawn <= lots


def test_the_load_sheet_draws_hours_and_says_so_where_there_are_none(
    tiny_run: Run, full_run: Run
) -> None:
    drawn = openpyxl.load_workbook(full_run.out / "overview.xlsx")["Load"]
    # a series of columns a process, and a line for the hours there are
    bars = drawn._charts[0]
    assert len(bars.series) == full_run.report["loads"]["process"].n_unique()
    empty = openpyxl.load_workbook(tiny_run.out / "overview.xlsx")["Load"]
    assert not empty._charts
    assert "No hours" in str(empty["A3"].value)


def test_every_airframe_stands_on_the_shortage_front_sheet(full_run: Run) -> None:
    rows = rows_of(full_run.out / "shortages.xlsx", 0)
    told = {row[0]: row[1:5] for row in rows}
    assert set(told) == set(full_run.report.tables["build_plan"]["serial"])
    ready, forecast, late, _ = told["FN-066"]
    assert late > 0 and forecast > ready


def test_a_week_without_orders_says_so(tmp_path: Path) -> None:
    data = tmp_path / "data"
    data.mkdir()
    (data / "plan.toml").write_text("start = 2026-11-30\nhorizon_weeks = 3\n")
    (data / "items.csv").write_text("item,source,unit,lead_days\ntop,make,pc,0\nbolt,buy,pc,0\n")
    (data / "structure.csv").write_text("parent,child,quantity\ntop,bolt,4\n")
    (data / "build_plan.csv").write_text("serial,item,ready_date\nX-1,top,2026-12-10\n")
    run = weekly_run(data, tmp_path / "out", replace=False, tell=silent)
    for name in WEEKLY:
        page = openpyxl.load_workbook(run.out / "2026-W49" / f"{name}.xlsx").worksheets[0]
        words = [cell.value for row in page.iter_rows() for cell in row if cell.value]
        assert any(str(word).startswith("No ") and "2026-W49" in str(word) for word in words)


def test_a_run_without_stores_has_the_same_orders_and_none_of_their_sheets(
    tmp_path: Path, tiny_run: Run
) -> None:
    run = weekly_run(TINY, tmp_path / "out", False, silent, Choices(stores=False))
    left_out = {
        "shortages.xlsx",
        "picks.xlsx",
        "pick_sheets.xlsx",
        "forecast.parquet",
        "pacing.parquet",
    }
    names = {path.name for path in run.out.rglob("*")}
    assert not names & {*left_out, "ready.parquet"}
    for table in ("orders", "needs", "projection"):
        path = Path("tables") / f"{table}.parquet"
        assert (run.out / path).read_bytes() == (tiny_run.out / path).read_bytes()


def test_sheets_that_share_their_setup_differ_only_in_their_rows() -> None:
    columns = [Column("first", 10), Column("second", 22)]
    pages = [
        Sheet(name, f"Title {name}", "subtitle", columns, [Line([(name, "text")])] * count,
              notes=("note",), filtered=False, frozen_columns=1)
        for name, count in (("a", 1), ("b", 2), ("c", 3), ("d", 2))
    ]  # fmt: skip
    workbook = opened(*pages)
    assert workbook.sheetnames == ["a", "b", "c", "d"]
    for page, sheet_read in zip(pages, workbook.worksheets, strict=True):
        assert sheet_read["A1"].value == page.title
        assert [row[0].value for row in sheet_read.iter_rows(min_row=6)] == [page.name] * len(
            page.lines
        )
        assert sheet_read.column_dimensions["B"].width == 22
        assert sheet_read.freeze_panes == "B6"
        assert sheet_read.print_title_rows == "$5:$5"
        assert sheet_read.page_setup.orientation == "landscape"
    # a spreadsheet program edits all selected sheets at once: only the first may be
    assert [page.sheet_view.tabSelected for page in workbook.worksheets[1:]] == [None] * 3


def test_the_ready_sheet_names_what_orders_wait_for_and_what_would_help(full_run: Run) -> None:
    rows = rows_of(full_run.out / "shortages.xlsx", 1)
    states = {row[1]: row for row in rows if str(row[4]).startswith(("✓", "○", "▲"))}
    released = full_run.report["ready"].filter(full_run.report.released)
    assert set(states) == set(released["order"])
    for row in released.iter_rows(named=True):
        shown = states[row["order"]]
        in_time = row["state"] == "complete" and row["coming"]
        assert shown[4] == (shortages.COMES_IN_TIME if in_time else shortages.STATES[row["state"]])
        lacking = row["missing"] > 0 or row["order"] in full_run.report.plan.moulds.lacking
        assert bool(shown[7]) == lacking
    assert any("alternate HW197" in str(row[9]) for row in states.values())


def test_the_contents_of_the_overview_lead_to_every_other_sheet(full_run: Run) -> None:
    book = read_once(full_run.out / "overview.xlsx")
    (contents,) = (sheet for sheet in book if sheet.title == "Overview")
    led_to = [row[0].value for row in contents.iter_rows(max_row=40) if row[0].hyperlink]
    assert sorted(led_to) == sorted(sheet for sheet in book.sheetnames if sheet != "Overview")


def test_every_spares_order_stands_on_the_promises_sheet_grounded_ones_first(
    full_run: Run,
) -> None:
    rows = rows_of(full_run.out / "shortages.xlsx", 4)
    assert [row[0] for row in rows[:2]] == ["SP-2623", "SP-2624"]
    assert {row[0] for row in rows} == set(full_run.report.tables["spares_orders"]["order"])


def test_each_late_airframe_has_a_sheet_that_says_what_sets_its_date(full_run: Run) -> None:
    workbook = read_once(full_run.out / "shortages.xlsx")
    late = full_run.report["forecast"].filter(
        (pl.col("late_days") > 0) & (pl.col("demand_kind") == "airframe")
    )
    assert len(late) > 3
    for row in late.iter_rows(named=True):
        cells = [
            [cell.value for cell in line] for line in workbook[row["demand"]].iter_rows(max_row=20)
        ]
        chain = [line[1] for line in cells if isinstance(line[0], int)]
        told = full_run.report["pacing"].filter(pl.col("demand") == row["demand"])
        assert chain == told["item"].to_list()


def test_the_lists_by_item_and_shop_name_each_late_line_and_who_brings_it(full_run: Run) -> None:
    path = full_run.out / "shortages.xlsx"
    bought, made = rows_of(path, 2), rows_of(path, 3)
    late = (
        full_run.report["pegs"]
        .filter(
            (pl.col("late_days") > 0)
            & pl.col("supply_kind").is_in(["open order", "planned order"])
            & (pl.col("demand_kind") != "stock")
            & (pl.col("item") != "FENLARK")
        )
        .join(full_run.report.tables["items"].select("item", "source"), on="item")
    )
    for rows, own in ((bought, pl.col("source") == "buy"), (made, pl.col("source") != "buy")):
        shown = {(row[1], row[5]) for row in rows if row[1]}
        assert set(late.filter(own).select("item", "supply").rows()) <= shown
    suppliers = full_run.report.tables["suppliers"]
    parties = {row[0]: row[5] for row in bought if row[0] and not row[1]}
    assert dict(suppliers.select("name", "email").rows()).items() >= parties.items()


def test_an_overdue_open_order_is_marked_as_such(full_run: Run) -> None:
    rows = rows_of(full_run.out / "shortages.xlsx", 2)
    [overdue] = [row for row in rows if row[5] == "PO-7405"]
    assert overdue[0] == "▲ overdue" and "was due Tue 24 Nov" in overdue[2]
    assert overdue[7] == "no new date"
    front = rows_of(full_run.out / "shortages.xlsx", 0, 3)
    assert any("PO-7405 (PP707, due Tue 24 Nov)" in str(row[0]) for row in front)


def test_overdue_work_is_told_apart_from_overdue_purchases(full_run: Run) -> None:
    report = full_run.report
    orders = report.tables["open_orders"]
    made = report.tables["items"].filter(source="make")["item"].implode()
    late = orders.filter(pl.col("item").is_in(made)).head(1)
    moved = late.with_columns(due_date=pl.lit(dt.date(2026, 11, 20)))
    tables = {**report.tables, "open_orders": pl.concat([orders, moved])}
    notes = shortages_book(with_plan(report, tables=tables)).sheets[0].notes
    order, item = moved["order"][0], moved["item"][0]
    (work,) = [note for note in notes if "in work" in note and order in note]
    assert f"{order} ({item}, due Fri 20 Nov)" in work and "what it lacks is there" in work
    (bought,) = [note for note in notes if "PO-7405" in note]
    assert "counted as arriving" in bought and order not in bought


def test_airframes_wanted_after_the_release_weeks_list_only_what_is_late(full_run: Run) -> None:
    report = full_run.report
    last = max(report.list_weeks)
    later = {
        row["demand"]: row["ready_date"].strftime("%G-W%V") > last
        for row in report["forecast"].iter_rows(named=True)
        if row["demand_kind"] == "airframe"
    }
    book = read_once(full_run.out / "shortages.xlsx")
    days_late = {
        name: [
            row[7]
            for row in book[name].iter_rows(min_row=8, values_only=True)
            if isinstance(row[7], int | float)
        ]
        for name in later
        if name in book.sheetnames
    }
    assert any(0 in days for name, days in days_late.items() if not later[name])
    beyond = {name: days for name, days in days_late.items() if later[name]}
    assert len(beyond) > 3 and all(min(days) > 0 for days in beyond.values())
