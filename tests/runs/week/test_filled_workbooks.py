"""Workbooks that people filled in are read back as typed, whatever else was done to them; what is
doubtful is named with sheet, cell and value, and then nothing is written."""

import datetime as dt
import json
import shutil
import subprocess
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from bomkit.inputs.filled_in.entries_read import read_entries
from bomkit.runs.week.plan import Run
from bomkit.tables.entry_keys import HEAD_MARK, LISTS_WRITTEN, RUN_NAME, SheetHead, head_of
from bomkit.tables.filled_in_tables import ENTRIES
from scripts.year_parts.filling import fill_in, lines_of
from tests.commands import bomkit
from tests.once import once

WEEK = "2026-W49"
TYPED: dict[str, Any] = {
    "number": 2.5,
    "whole": 3,
    "date": dt.date(2026, 12, 3),
    "name": "007-A",
    "text": "shelf 9",
    "choice": "yes",
}
Typed = dict[tuple[object, ...], dict[str, Any]]


@pytest.fixture
def run(tiny_run: Run, tmp_path: Path) -> Path:
    """A copy of the tiny sample's run."""
    return Path(shutil.copytree(tiny_run.out, tmp_path / "run"))


def fill_everything(folder: Path) -> Typed:
    """Types into every cell of every second row; what was typed by kind and key."""
    typed: Typed = {}

    def fill(kind: str, key: Mapping[str, Any], shown: Mapping[str, Any]) -> Mapping[str, Any]:
        if len(typed) % 2 and (kind, *key.values()) not in typed:
            typed[kind, *key.values()] = {}
            return {}
        own = {
            column.name: TYPED[column.kind]
            for column in ENTRIES[kind].columns
            if column.name not in key
        }
        typed[kind, *key.values()] = own
        return own

    for path in sorted(folder.rglob("*.xlsx")):
        fill_in(path, fill)
    return {key: own for key, own in typed.items() if own}


@pytest.fixture(scope="session")
def filled_once(tiny_run: Run, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Typed]:
    """A filled-in copy of the tiny sample's run, and what was typed; not to be changed."""

    def filled_in(folder: Path) -> tuple[Path, Typed]:
        copy = Path(shutil.copytree(tiny_run.out, folder / "run"))
        return copy, fill_everything(copy)

    return once(tmp_path_factory, "everything-filled-in", filled_in)


@pytest.fixture
def filled(filled_once: tuple[Path, Typed], tmp_path: Path) -> tuple[Path, Typed]:
    """A copy of it to change, and what was typed."""
    folder, typed = filled_once
    return Path(shutil.copytree(folder, tmp_path / "run")), typed


def read(folder: Path) -> Typed:
    """What is read back, by kind and key; nothing may be an error."""
    run_id = openpyxl.load_workbook(folder / "overview.xlsx").custom_doc_props[RUN_NAME].value
    found = read_entries(str(run_id), folder)
    assert [problem for problem in found.problems if problem.severity == "error"] == []
    return {
        (kind, *(row[name] for name in ENTRIES[kind].key)): {
            name: value for name, value in row.items() if name not in (*ENTRIES[kind].key, "where")
        }
        for kind, frame in found.tables.items()
        for row in frame.iter_rows(named=True)
    }


def test_what_was_typed_is_read_back_as_typed(filled_once: tuple[Path, Typed]) -> None:
    run, typed = filled_once
    assert {kind for kind, *_ in typed} > {"ordered", "worked", "brought_out", "packed", "counted"}
    assert read(run) == typed


def heading_row(sheet: Any) -> int:
    return next(
        cell.row
        for row in sheet.iter_rows()
        for cell in row
        if isinstance(cell.value, str) and cell.value.startswith(HEAD_MARK)
    )


def sort_by(sheet: Any, place: int, backwards: bool) -> None:
    """Sorts what stands below the headings by a column, as spreadsheets do: cells and looks."""
    first = heading_row(sheet) + 1
    rows = [[(cell.value, cell._style) for cell in row] for row in sheet.iter_rows(min_row=first)]
    rows.sort(key=lambda row: str(row[min(place, len(row) - 1)][0]), reverse=backwards)
    for number, row in enumerate(rows, first):
        for at, (value, look) in enumerate(row, 1):
            cell = sheet.cell(number, at)
            cell.value, cell._style = value, look


def rearrange(path: Path, place: int) -> None:
    """Sorts every list by a column, hides columns and filters rows out of sight."""
    book = openpyxl.load_workbook(path)
    for sheet in book.worksheets:
        if any(True for _ in lines_of(sheet)):
            sort_by(sheet, place, backwards=place % 2 == 1)
            sheet.column_dimensions["B"].hidden = True
            sheet.row_dimensions[heading_row(sheet) + 2].hidden = True
    book.save(path)


@pytest.mark.parametrize("place", [0, 2, 4, 9])
def test_sorted_and_hidden_rows_are_read_back_the_same(
    filled: tuple[Path, Typed], place: int
) -> None:
    run, typed = filled
    for path in run.rglob("*.xlsx"):
        rearrange(path, place)
    assert read(run) == typed


def saved_by_office(paths: list[Path], scratch: Path) -> None:
    """Has a spreadsheet program open each workbook and save it again as .xlsx."""
    words = ["soffice", f"-env:UserInstallation=file://{scratch}/home", "--headless"]
    words += ["--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(scratch)]
    subprocess.run([*words, *map(str, paths)], check=True, capture_output=True)
    for path in paths:
        shutil.copy(scratch / path.name, path)


@pytest.mark.skipif(shutil.which("soffice") is None, reason="no spreadsheet program here")
def test_saved_by_a_spreadsheet_program_they_are_read_back_the_same(
    filled: tuple[Path, Typed], tmp_path: Path
) -> None:
    run, typed = filled
    paths = [*(run / WEEK).glob("*.xlsx"), run / "kits" / "S-031.xlsx", run / "shortages.xlsx"]
    for path in paths:
        rearrange(path, 2)
    saved_by_office(paths, tmp_path / "office")
    assert read(run) == typed


def test_one_that_was_saved_so_is_read_wherever_the_tests_run() -> None:
    """Rounds of the tiny sample: filled in, sorted, with a hidden column, saved by LibreOffice."""
    saved = Path(__file__).with_name("saved_by_office.xlsx")
    run_id = str(openpyxl.load_workbook(saved).custom_doc_props[RUN_NAME].value)
    found = read_entries(run_id, saved.parent, [saved])
    assert found.problems == []
    rows = found.tables["brought_out"]
    assert len(rows) == 3 and set(rows["picked"]) == {2.5} and set(rows["lot"]) == {"007-A"}
    assert rows["item"].n_unique() == 3


def test_deleted_rows_are_told_and_the_rest_is_read(run: Path) -> None:
    path = run / WEEK / "buy.xlsx"
    book = openpyxl.load_workbook(path)
    sheet = book["Buy list"]
    sheet.delete_rows(next(lines_of(sheet))[2])
    book.save(path)
    result = bomkit("take-back", run, "--into", run.parent / "next")
    assert result.exit_code == 0, result.output
    assert "buy.xlsx sheet Buy list: lacks 1 of the 1 rows that the run wrote" in result.output


def test_a_workbook_that_is_gone_is_told_unless_files_are_named(run: Path, tmp_path: Path) -> None:
    (run / WEEK / "picks.xlsx").unlink()
    (run / "2026-W50" / "picks.xlsx").unlink()
    told = bomkit("take-back", run, "--into", tmp_path / "next")
    words = "picks.xlsx: is not where the run wrote it: nothing of it is booked"
    assert told.exit_code == 0 and f"warning: {WEEK}/{words}" in told.output
    assert "0 errors, 1 warning" in told.output  # later weeks are not filled in yet
    told = bomkit("take-back", run, run / WEEK / "buy.xlsx", "--into", tmp_path / "other")
    assert told.exit_code == 0 and words not in told.output


def test_a_run_that_did_not_list_its_files_misses_none(run: Path, tmp_path: Path) -> None:
    told = json.loads((run / "run.json").read_text())
    del told["files"]
    (run / "run.json").write_text(json.dumps(told))
    (run / WEEK / "picks.xlsx").unlink()
    result = bomkit("take-back", run, "--into", tmp_path / "next")
    assert result.exit_code == 0 and "warning" not in result.output


def change(path: Path, sheet: str, do: Callable[[Any, dict[str, int], int], None]) -> None:
    """Does something to the first row of a list."""
    book = openpyxl.load_workbook(path)
    _, headings, row, _ = next(lines_of(book[sheet]))
    do(book[sheet], headings, row)
    book.save(path)


def type_in(heading: str, value: object) -> Callable[[Any, dict[str, int], int], None]:
    def do(sheet: Any, headings: dict[str, int], row: int) -> None:
        sheet.cell(row, headings[heading]).value = value

    return do


def copy_row(sheet: Any, headings: dict[str, int], row: int) -> None:
    """Doubles a row below the list and fills both in."""
    sheet.cell(row, headings["Order no."]).value = "P-1"
    last = sheet.max_row + 1
    for cell in list(sheet[row]):
        sheet.cell(last, cell.column).value = cell.value


def edit_key(sheet: Any, headings: dict[str, int], row: int) -> None:
    key = sheet.cell(row, sheet.max_column)
    key.value = str(key.value).replace("buy-0001", "buy-0002")


def lose_keys(sheet: Any, headings: dict[str, int], row: int) -> None:
    sheet.delete_cols(sheet.max_column)


def beside_the_list(sheet: Any, headings: dict[str, int], row: int) -> None:
    sheet.cell(sheet.max_row + 1, headings["Ordered"]).value = 5


def move_a_column(sheet: Any, headings: dict[str, int], row: int) -> None:
    """As if items alone had been sorted, or typed over."""
    sheet.cell(row, headings["Item"]).value = "other"
    sheet.cell(row, headings["Order no."]).value = "P-1"


def merge_cells(sheet: Any, headings: dict[str, int], row: int) -> None:
    sheet.merge_cells(start_row=row, end_row=row, start_column=headings["Order no."],
                      end_column=headings["Ordered"])  # fmt: skip


def rename_heading(sheet: Any, headings: dict[str, int], row: int) -> None:
    sheet.cell(heading_row(sheet), headings["Ordered"]).value = "Got"


DOUBTFUL = [
    (type_in("Ordered", "ten"), "column Ordered: 'ten' must be a number"),
    (type_in("Ordered", -1), "column Ordered: '-1' must be at least 0"),
    (type_in("Ordered", "=1+1"), "column Ordered: is a formula without a result"),
    (type_in("Promised for", "soon"), "column Promised for: 'soon' must be a date"),
    (type_in("Order no.", 12.5), "column Order no.: '12.5' is a number with decimals"),
    (type_in("Order no.", "#REF!"), "column Order no.: '#REF!' is an error of the spreadsheet"),
    (type_in("Ordered", 5), "column Order no.: is missing; write the number of the order"),
    (copy_row, "is there twice (also 2026-W49/buy.xlsx sheet Buy list row"),
    (edit_key, "has a key that was changed"),
    (lose_keys, "has 0 of its 1 lists left that can be taken back"),
    (beside_the_list, "is filled in on a row that is no line of the list"),
    (move_a_column, "column Item: 'other' stands on a row that was"),
    (merge_cells, "belongs to merged cells"),
    (rename_heading, "'Ordered' is not among the headings any more"),
]


@pytest.mark.parametrize(("do", "words"), DOUBTFUL)
def test_what_is_doubtful_is_named_with_its_cell_and_nothing_is_written(
    run: Path, do: Callable[[Any, dict[str, int], int], None], words: str
) -> None:
    change(run / WEEK / "buy.xlsx", "Buy list", do)
    result = bomkit("take-back", run, run / WEEK / "buy.xlsx", "--into", run.parent / "next")
    assert result.exit_code == 1 and words in result.output, result.output
    assert "2026-W49/buy.xlsx" in result.output and "nothing was written" in result.output
    assert not (run.parent / "next").exists()


def test_all_that_is_doubtful_is_named_at_once(run: Path) -> None:
    change(run / WEEK / "buy.xlsx", "Buy list", type_in("Ordered", "ten"))
    change(run / "shortages.xlsx", "Airframes", type_in("Delivered on", dt.date(2026, 12, 3)))
    change(run / WEEK / "counts.xlsx", "Counts", type_in("Counted", -2))
    result = bomkit("take-back", run, "--into", run.parent / "next")
    for words in ("'ten' must be a number", "is not built", "'-2' must be at least 0"):
        assert words in result.output
    assert "3 errors" in result.output


def test_a_workbook_of_another_run_is_refused(run: Path) -> None:
    path = run / WEEK / "make.xlsx"
    book = openpyxl.load_workbook(path)
    book.custom_doc_props[RUN_NAME].value = "2026-W48-00000000"
    book.save(path)
    result = bomkit("take-back", run, "--into", run.parent / "next")
    assert result.exit_code == 1
    assert "make.xlsx: is of another run (2026-W48-00000000, not 2026-W49-" in result.output


def test_a_list_moved_into_another_runs_workbook_is_refused(run: Path) -> None:
    path = run / WEEK / "buy.xlsx"
    book = openpyxl.load_workbook(path)
    cell = next(c for row in book["Buy list"] for c in row if str(c.value).startswith(HEAD_MARK))
    head = head_of(cell.value)
    assert head is not None
    cell.value = SheetHead("2026-W48-00000000", head.kind, 0, head.fills, head.shows).words()
    book.save(path)
    result = bomkit("take-back", run, "--into", run.parent / "next")
    assert result.exit_code == 1
    assert "buy.xlsx sheet Buy list: is of another run" in result.output


def test_files_that_are_named_are_read_wherever_they_lie(run: Path, tmp_path: Path) -> None:
    change(run / WEEK / "buy.xlsx", "Buy list", type_in("Order no.", "P-1"))
    away = Path(shutil.move(run / WEEK / "buy.xlsx", tmp_path / "buy (1).xlsx"))
    shutil.copy(run / WEEK / "make.xlsx", tmp_path / "make.xlsx")
    result = bomkit("take-back", run, away, tmp_path / "make.xlsx", "--into", tmp_path / "next")
    assert result.exit_code == 0, result.output
    assert "taken back: 1 order placed\n" in result.output
    assert "P-1" in (tmp_path / "next" / "open_orders.csv").read_text()


def test_a_workbook_that_is_none_of_a_run_is_passed_over_or_refused_by_name(
    run: Path, tmp_path: Path
) -> None:
    openpyxl.Workbook().save(run / "notes.xlsx")
    result = bomkit("take-back", run, "--into", tmp_path / "next")
    assert result.exit_code == 0 and "notes.xlsx: is no workbook of a run" in result.output
    result = bomkit("take-back", run, run / "notes.xlsx", "--into", tmp_path / "other")
    assert result.exit_code == 1 and "has no list that is filled in" in result.output
    (run / "notes.xlsx").write_bytes(b"PK\x03\x04 nothing")
    result = bomkit("take-back", run, "--into", tmp_path / "other")
    assert result.exit_code == 1 and "is damaged or no workbook" in result.output


def test_a_second_copy_of_a_workbook_is_named_once(run: Path, tmp_path: Path) -> None:
    folder = run / WEEK
    fill_in(folder / "counts.xlsx", lambda kind, key, shown: {"counted": 1})
    shutil.copy(folder / "counts.xlsx", folder / "counts (copy).xlsx")
    result = bomkit("take-back", run, "--into", tmp_path / "next")
    assert result.exit_code == 1 and "1 error, " in result.output
    assert "counts.xlsx: is a second copy of 2026-W49/counts (copy).xlsx" in result.output


def test_nothing_is_written_into_the_run(run: Path) -> None:
    result = bomkit("take-back", run, "--into", run / "next")
    assert result.exit_code == 1 and "lies in the folder of the run" in result.output


def test_every_workbook_says_how_many_lists_it_has(run: Path) -> None:
    for path in run.rglob("*.xlsx"):
        book = openpyxl.load_workbook(path)
        lists = sum(any(True for _ in _heads(sheet)) for sheet in book.worksheets)
        assert book.custom_doc_props[LISTS_WRITTEN].value == str(lists), path


def _heads(sheet: Any) -> list[Any]:
    return [
        cell
        for row in sheet.iter_rows()
        for cell in row
        if isinstance(cell.value, str) and cell.value.startswith(HEAD_MARK)
    ]


def test_what_is_filled_in_is_open_and_all_else_is_protected(run: Path) -> None:
    for path in run.rglob("*.xlsx"):
        book = openpyxl.load_workbook(path)
        filled = book.custom_doc_props[LISTS_WRITTEN].value != "0"
        for sheet in book.worksheets:
            assert sheet.protection.sheet == filled and not sheet.protection.password
            opened = {
                (row, headings[heading])
                for head, headings, row, _ in lines_of(sheet)
                for heading in head.fills.values()
                if not sheet.cell(row, headings[heading]).protection.locked
            }
            unlocked = {
                (cell.row, cell.column)
                for row in sheet.iter_rows()
                for cell in row
                if cell.value is None and not cell.protection.locked
            }
            assert opened == unlocked, f"{path.name} {sheet.title}"
            for row, place in opened:
                cell = sheet.cell(row, place)
                assert cell.border.left.style == "thin" and cell.fill.fgColor.rgb[-6:] != "000000"
