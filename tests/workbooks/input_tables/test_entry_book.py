"""The workbook that people fill in: what it shows, what it lets them type, what reads back."""

import datetime as dt
import io
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

from bomkit.checks.everything import load_inputs
from bomkit.problems import ProblemsFound
from bomkit.runs.checked_tables import all_problems
from bomkit.runs.tables.convert import write_template_workbook
from bomkit.tables.columns_and_rules.by_name import EXAMPLE_MARK, INPUTS, START_SHEET
from bomkit.workbooks.input_tables.book import entry_workbook
from tests.inputs.builders import sentences
from tests.workbooks.input_tables.office import OFFICE, typed_and_saved

FOUR_SHEETS: dict[str, list[tuple[str, ...]]] = {
    "plan": [("2026-11-30", "8")],
    "items": [
        ("0042", "Trolley", "make", "", "pc", "5"),
        ("00123", "Wheel", "buy", "", "pc", "10"),
    ],
    "structure": [("0042", "00123", "4")],
    "build_plan": [("0007", "0042", "2026-12-18")],
}
TYPED = {
    (sheet, f"{get_column_letter(column)}{row}"): text
    for sheet, rows in FOUR_SHEETS.items()
    for row, cells in enumerate(rows, 3)
    for column, text in enumerate(cells, 1)
    if text
}


@pytest.fixture(scope="module")
def book() -> Any:
    """The template as the library reads it."""
    return openpyxl.load_workbook(io.BytesIO(entry_workbook()))


def column_letter(table: str, column: str) -> str:
    return get_column_letter(INPUTS[table].column_names.index(column) + 1)


def limit_of(book: Any, table: str, column: str) -> Any:
    """The one limit on what may be typed below a heading; None if all may."""
    first = f"{column_letter(table, column)}2:"
    limits = book[table].data_validations.dataValidation
    return next((limit for limit in limits if str(limit.sqref).startswith(first)), None)


def fill_in_four_sheets(path: Path) -> None:
    """Types the four sheets below the examples, numbers as numbers and dates as dates."""
    book = openpyxl.load_workbook(path)
    for (sheet, cell), text in TYPED.items():
        number = sheet + cell[0] in ("planB", "itemsF", "structureC")
        is_date = "-" in text
        value = int(text) if number else dt.date.fromisoformat(text) if is_date else text
        book[sheet][cell] = value
    book.save(path)


def assert_reads_back(path: Path) -> None:
    """The four sheets hold what was typed, zeros, dates and numbers included."""
    inputs = load_inputs(path)
    assert [problem.severity for problem in inputs.problems] == ["warning"], sentences(inputs)
    tables = inputs.tables
    assert tables["items"]["item"].to_list() == ["0042", "00123"]
    assert tables["items"]["lead_days"].to_list() == [5, 10]
    assert tables["structure"].select("parent", "child", "quantity").rows() == [
        ("0042", "00123", 4.0)
    ]
    assert tables["build_plan"].select("serial", "item", "ready_date").rows() == [
        ("0007", "0042", dt.date(2026, 12, 18))
    ]
    assert tables["plan"].select("start", "horizon_weeks").rows() == [(dt.date(2026, 11, 30), 8)]


def test_there_is_a_sheet_a_table_behind_the_one_that_says_where_to_start(book: Any) -> None:
    assert book.sheetnames == [START_SHEET, *INPUTS]
    said = [str(cell.value) for row in book[START_SHEET].iter_rows() for cell in row if cell.value]
    first = [said[place + 1] for place, words in enumerate(said) if words == "fill in first"]
    assert first == [name for name, table in INPUTS.items() if table.required]


def test_every_heading_is_frozen_has_a_note_and_a_frame_by_whether_it_is_required(
    book: Any,
) -> None:
    for name, table in INPUTS.items():
        assert book[name].freeze_panes == "B2"
        for number, column in enumerate(table.columns, 1):
            cell = book[name].cell(1, number)
            assert cell.value == column.name
            assert column.help in cell.comment.text
            assert cell.border.left.style == ("medium" if column.required else "hair")


def test_names_are_text_in_the_whole_column_and_dates_are_dates(book: Any) -> None:
    for name, table in INPUTS.items():
        for column in table.columns:
            form = book[name].column_dimensions[column_letter(name, column.name)].number_format
            if column.kind in ("name", "names"):
                assert form == "@", column
            if column.kind == "date":
                assert form == "yyyy-mm-dd", column


def test_choices_drop_down_and_anything_else_is_refused(book: Any) -> None:
    for name, table in INPUTS.items():
        for column in table.columns:
            limit = limit_of(book, name, column.name)
            if column.choices:
                assert (limit.type, limit.formula1) == ("list", f'"{",".join(column.choices)}"')
                assert len(limit.formula1) <= 255  # a spreadsheet takes no longer list
                assert limit.errorStyle in (None, "stop")
                assert limit.showErrorMessage and limit.allow_blank


def test_what_refers_to_another_sheet_drops_down_from_there(book: Any) -> None:
    for name, table in INPUTS.items():
        for column in table.columns:
            if not column.refers_to:
                continue
            sheet, target = column.refers_to[0].split(".")
            limit = limit_of(book, name, column.name)
            letter = column_letter(sheet, target)
            assert limit.formula1 == f"{sheet}!${letter}$2:${letter}$5000"
            assert limit.errorStyle == "warning"  # it may be entered there later


def test_dates_and_numbers_are_held_to_the_limits_of_their_column(book: Any) -> None:
    date = limit_of(book, "build_plan", "ready_date")
    assert (date.type, date.operator) == ("date", "between")
    # the spreadsheet's day 18264 is 1950-01-01 and 109939 is 2200-12-31 (day 1 is 1899-12-31)
    assert (date.formula1, date.formula2) == ("18264", "109939")
    days = limit_of(book, "items", "lead_days")
    assert (days.type, days.formula1, days.formula2) == ("whole", "0", "2000")
    rate = limit_of(book, "items", "scrap_rate")
    assert (rate.type, rate.formula1) == ("decimal", "0") and float(rate.formula2) < 1


def test_the_template_lacks_only_the_settings_and_its_examples_do_not_count(
    tmp_path: Path,
) -> None:
    write_template_workbook(tmp_path / "my.xlsx")
    inputs = load_inputs(tmp_path / "my.xlsx")
    assert sentences(inputs) == ["error: my.xlsx sheet plan: must have one row with the settings"]
    assert all(frame.is_empty() for frame in inputs.tables.values())


def test_filling_in_four_sheets_is_enough_and_the_examples_are_told_of(tmp_path: Path) -> None:
    path = tmp_path / "my.xlsx"
    write_template_workbook(path)
    fill_in_four_sheets(path)
    assert_reads_back(path)
    (warning,) = all_problems(path)
    assert "sheets plan, items, structure, build_plan" in warning.sentence()
    assert f"begin with '{EXAMPLE_MARK}'" in warning.sentence()


def test_a_slip_is_told_with_sheet_cell_and_value(tmp_path: Path) -> None:
    path = tmp_path / "my.xlsx"
    write_template_workbook(path)
    fill_in_four_sheets(path)
    book = openpyxl.load_workbook(path)
    book["structure"]["C3"] = "four"
    book.save(path)
    told = [line for line in sentences(load_inputs(path)) if line.startswith("error")]
    assert told == [
        "error: my.xlsx sheet structure cell C3, column quantity: 'four' must be a number, "
        "without a unit or any other text"
    ]


def test_an_example_typed_over_counts(tmp_path: Path) -> None:
    path = tmp_path / "my.xlsx"
    write_template_workbook(path)
    fill_in_four_sheets(path)
    book = openpyxl.load_workbook(path)
    book["items"]["A2"] = "WHEEL-01"
    book.save(path)
    assert load_inputs(path).tables["items"]["item"].to_list() == ["WHEEL-01", "0042", "00123"]


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "my.xlsx"
    path.write_text("mine")
    with pytest.raises(ProblemsFound):
        write_template_workbook(path)
    assert path.read_text() == "mine" and list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(OFFICE is None, reason="no spreadsheet program here")
def test_typed_into_a_spreadsheet_program_and_saved_it_reads_back_as_typed(tmp_path: Path) -> None:
    path = tmp_path / "my.xlsx"
    write_template_workbook(path)
    saved = typed_and_saved(path, TYPED, tmp_path)
    assert_reads_back(saved)
    kept = openpyxl.load_workbook(saved)
    assert limit_of(kept, "items", "source").formula1 == '"make,print,buy,phantom,kit"'
    assert "leading zeros count" in kept["items"]["A1"].comment.text


def test_what_a_spreadsheet_program_saved_once_reads_back_as_typed() -> None:
    assert_reads_back(Path(__file__).parent / "saved_by_a_spreadsheet.xlsx")
