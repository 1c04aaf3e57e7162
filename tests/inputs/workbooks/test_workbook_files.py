import datetime
import io
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from bomkit.checks.everything import load_inputs
from bomkit.inputs.workbooks import safe_to_open
from bomkit.inputs.workbooks.safe_to_open import column_number
from bomkit.tables.columns_and_rules.by_name import INPUTS
from tests.inputs.builders import (
    GOOD_FILES,
    GOOD_SHEETS,
    Rows,
    load_sheets,
    only_sentence,
    sentences,
    with_member,
    workbook_bytes,
)

ITEM_ROWS = GOOD_SHEETS["items"]
ITEMS_MEMBER = "xl/worksheets/sheet2.xml"  # the sheets are plan, items, structure, build_plan


def load_bytes(folder: Path, content: bytes) -> str:
    """The one thing said about a workbook of these bytes."""
    (folder / "kelto.xlsx").write_bytes(content)
    inputs = load_inputs(folder / "kelto.xlsx")
    assert list(inputs.tables) == list(INPUTS)
    return only_sentence(inputs)


def load_items_changed(folder: Path, change: Callable[[bytes], bytes]) -> str:
    """The one thing said after a change to the bytes of the sheet of items."""
    return load_bytes(folder, with_member(workbook_bytes(), ITEMS_MEMBER, change))


def test_a_good_workbook_is_read_like_a_good_folder(tmp_path: Path) -> None:
    inputs = load_sheets(tmp_path)
    assert inputs.problems == []
    assert inputs.tables["items"]["item"].to_list() == ["KELTO", "WING", "00123"]
    assert inputs.tables["items"]["lead_days"].to_list() == [10, 5, 20]
    assert inputs.tables["structure"]["quantity"].to_list() == [2.0, 1.5]
    assert inputs.tables["structure"]["row"].to_list() == [2, 3]
    assert inputs.tables["plan"]["start"].to_list() == [datetime.date(2026, 11, 30)]
    assert inputs.digests.keys() == {"kelto.xlsx"}
    for name, table in INPUTS.items():
        assert inputs.tables[name].columns == [*table.column_names, "row"]


def test_a_folder_with_one_workbook_is_read(tmp_path: Path) -> None:
    load_sheets(tmp_path)
    inputs = load_inputs(tmp_path)
    assert inputs.problems == []
    assert inputs.tables["items"].height == 3


def test_settings_may_stand_beside_the_workbook(tmp_path: Path) -> None:
    (tmp_path / "plan.toml").write_text(GOOD_FILES["plan.toml"])
    inputs = load_sheets(tmp_path, {"plan": None})
    assert inputs.problems == []
    assert inputs.digests.keys() == {"kelto.xlsx", "plan.toml"}
    assert load_inputs(tmp_path).tables["plan"]["horizon_weeks"].to_list() == [12]


def test_settings_beside_a_workbook_that_has_its_own_are_not_read(tmp_path: Path) -> None:
    (tmp_path / "plan.toml").write_text("start = 2020-01-01\nhorizon_weeks = 1\n")
    inputs = load_sheets(tmp_path)
    assert only_sentence(inputs).startswith("warning: plan.toml: is not read")
    assert inputs.tables["plan"]["horizon_weeks"].to_list() == [12]


def test_settings_that_stand_nowhere_are_missing(tmp_path: Path) -> None:
    said = only_sentence(load_sheets(tmp_path, {"plan": None}))
    assert "kelto.xlsx sheet plan: is missing" in said
    assert "or else a file plan.toml beside it" in said


def test_the_sheet_of_settings_has_one_row(tmp_path: Path) -> None:
    heading, row = GOOD_SHEETS["plan"]
    (tmp_path / "a").mkdir()
    said = only_sentence(load_sheets(tmp_path / "a", {"plan": [heading, row, row]}))
    assert "kelto.xlsx sheet plan row 3: plan has one row; remove this one" in said
    (tmp_path / "b").mkdir()
    said = only_sentence(load_sheets(tmp_path / "b", {"plan": [heading]}))
    assert "kelto.xlsx sheet plan: must have one row with the settings" in said


def test_csv_files_and_a_workbook_together_are_refused(tmp_path: Path) -> None:
    load_sheets(tmp_path)
    (tmp_path / "items.csv").write_text(GOOD_FILES["items.csv"])
    assert "holds CSV files and a workbook; keep one or the other" in only_sentence(
        load_inputs(tmp_path)
    )


def test_two_workbooks_in_a_folder_are_refused(tmp_path: Path) -> None:
    load_sheets(tmp_path)
    (tmp_path / "older.xlsx").write_bytes(workbook_bytes())
    said = only_sentence(load_inputs(tmp_path))
    assert "holds more than one workbook; keep one of kelto.xlsx, older.xlsx" in said


def test_an_unknown_sheet_suggests_the_nearest(tmp_path: Path) -> None:
    inputs = load_sheets(tmp_path, {"stok": [["item", "quantity"]], "Zebra": []})
    assert sentences(inputs) == [
        "error: kelto.xlsx sheet stok: is no input table; did you mean stock?",
        "error: kelto.xlsx sheet Zebra: is no input table; remove it or rename it",
    ]


def test_sheet_names_are_compared_without_case(tmp_path: Path) -> None:
    inputs = load_sheets(tmp_path, {"items": None, "ITEMS": ITEM_ROWS})
    assert inputs.problems == []
    assert inputs.sources["items"].sheet == "ITEMS"


def test_a_missing_sheet_is_an_error(tmp_path: Path) -> None:
    said = only_sentence(load_sheets(tmp_path, {"items": None}))
    assert said == "error: kelto.xlsx sheet items: is missing; the workbook must have this sheet"


def test_an_empty_sheet_is_one_problem(tmp_path: Path) -> None:
    said = only_sentence(load_sheets(tmp_path, {"stock": []}))
    assert "kelto.xlsx sheet stock: is empty; its first row must hold the names" in said


def test_a_hidden_sheet_is_read_with_a_warning(tmp_path: Path) -> None:
    def hide(book: Workbook) -> None:
        book["items"].sheet_state = "hidden"

    inputs = load_sheets(tmp_path, change=hide)
    assert only_sentence(inputs) == (
        "warning: kelto.xlsx sheet items: is hidden, and read all the same"
    )
    assert inputs.tables["items"].height == 3


def test_a_problem_names_sheet_and_cell(tmp_path: Path) -> None:
    bad = ["KELTO", "make", "pc", -1]
    rows: Rows = [[], *([None, *row] for row in (ITEM_ROWS[0], bad, *ITEM_ROWS[2:]))]
    said = only_sentence(load_sheets(tmp_path, {"items": rows}))
    assert said == (
        "error: kelto.xlsx sheet items cell E3, column lead_days: '-1' must be at least 0"
    )


def test_values_beside_the_headings_are_refused_and_empty_rows_ignored(tmp_path: Path) -> None:
    rows: Rows = [*ITEM_ROWS[:2], [], [None, "  "], *ITEM_ROWS[2:], [None, None, None, None, "odd"]]
    said = only_sentence(load_sheets(tmp_path, {"items": rows}))
    assert "sheet items row 1: column 5 has values but no heading" in said


def test_real_dates_and_numbers_are_taken_as_such(tmp_path: Path) -> None:
    plan: Rows = [
        ["serial", "item", "ready_date"],
        ["KL-061", "KELTO", datetime.datetime(2027, 1, 29)],
    ]
    stock: Rows = [["item", "quantity", "location"], ["WING", 0.3, 7], ["WING", 3.0, 1.5]]
    inputs = load_sheets(tmp_path, {"build_plan": plan, "stock": stock})
    assert inputs.problems == []
    assert inputs.tables["build_plan"]["ready_date"].to_list() == [datetime.date(2027, 1, 29)]
    assert inputs.tables["stock"]["quantity"].to_list() == [0.3, 3.0]
    assert inputs.tables["stock"]["location"].to_list() == ["7", "1.5"]


@pytest.mark.parametrize(
    ("value", "advice"),
    [
        ("1,5", "use a decimal point, or type it as a number"),
        (True, "'TRUE' must be a number"),
        (datetime.datetime(2026, 1, 1), "'2026-01-01' must be a number"),
        ("#REF!", "is an error of the spreadsheet"),
        ("#N/A", "is an error of the spreadsheet"),
    ],
)
def test_what_is_no_number_in_a_sheet_is_refused(
    tmp_path: Path, value: object, advice: str
) -> None:
    said = only_sentence(load_sheets(tmp_path, {"stock": [["item", "quantity"], ["WING", value]]}))
    assert "sheet stock cell B2, column quantity" in said
    assert advice in said


def test_a_date_with_a_time_or_stored_as_a_number_is_refused(tmp_path: Path) -> None:
    rows: Rows = [
        ["item", "quantity", "expires"],
        ["WING", 1, datetime.datetime(2027, 1, 1, 12, 30)],
        ["WING", 2, 46356],
    ]
    first, second = sentences(load_sheets(tmp_path, {"stock": rows}))
    assert "cell C2, column expires: '2027-01-01 12:30:00'" in first
    assert "without a time of day" in first
    assert "cell C3, column expires: '46356'" in second
    assert "give the cell a date format" in second


def load_name(folder: Path, value: object, number_format: str = "General") -> list[str]:
    """What is said about an item name that is this value in this number format."""

    def set_format(book: Workbook) -> None:
        book["items"]["A5"].number_format = number_format

    return sentences(load_sheets(folder, {"items": [*ITEM_ROWS, [value, "buy", "pc"]]}, set_format))


@pytest.mark.parametrize("value", [4711, 4711.0, 10**15 - 1])
@pytest.mark.parametrize("number_format", ["General", "0", "@"])
def test_a_whole_number_is_a_name_if_nothing_was_lost(
    tmp_path: Path, value: float, number_format: str
) -> None:
    assert load_name(tmp_path, value, number_format) == []
    inputs = load_inputs(tmp_path)
    assert inputs.tables["items"]["item"][3] == str(int(value))


@pytest.mark.parametrize(
    ("value", "number_format", "advice"),
    [
        (123, "00000", "may have lost leading zeros"),
        (123, '"P-"0', "may have lost leading zeros or other signs"),
        (123, "#,##0", "may have lost leading zeros or other signs"),
        (10**15, "General", "may have lost its last digits"),
        (1e20, "General", "may have lost its last digits"),
        (12.5, "General", "is a number with decimals"),
        (True, "General", "was turned into a truth value"),
        (datetime.datetime(2026, 3, 1), "yyyy-mm-dd", "was turned into a date or time"),
        (datetime.time(12, 30), "hh:mm", "was turned into a date or time"),
    ],
)
def test_a_name_of_which_something_was_lost_is_refused_with_advice(
    tmp_path: Path, value: object, number_format: str, advice: str
) -> None:
    (said,) = load_name(tmp_path, value, number_format)
    assert "kelto.xlsx sheet items cell A5, column item" in said
    assert advice in said
    assert said.endswith("format the column as text and type it again")


def test_a_name_that_lost_its_zeros_is_one_problem_though_others_refer_to_it(
    tmp_path: Path,
) -> None:
    def set_format(book: Workbook) -> None:
        book["items"]["A4"].number_format = "00000"

    rows = [*ITEM_ROWS[:3], [123, "buy", "kg", 20]]
    said = only_sentence(load_sheets(tmp_path, {"items": rows}, set_format))
    assert "cell A4, column item: '00123' is stored as a number" in said


def test_a_formula_whose_result_is_not_stored_is_refused(tmp_path: Path) -> None:
    rows: Rows = [["item", "quantity"], ["WING", "=1+1"], ["=A2", 5]]
    first, second = sentences(load_sheets(tmp_path, {"stock": rows}))
    assert "sheet stock cell B2, column quantity: is a formula whose result is not stored" in first
    assert "cell A3, column item: is a formula whose result is not stored" in second


def test_stored_results_of_formulas_are_taken_also_if_they_are_empty(tmp_path: Path) -> None:
    def store(sheet: bytes) -> bytes:
        old = b'<c r="D2"><f>5+5</f><v /></c>'
        empty = b'<c r="D3"><f>""</f><v /></c>'
        assert old in sheet and empty in sheet
        sheet = sheet.replace(old, b'<c r="D2"><f>5+5</f><v>10</v></c>')
        return sheet.replace(empty, b'<c r="D3" t="str"><f>""</f><v></v></c>')

    rows = [ITEM_ROWS[0], ["KELTO", "make", "pc", "=5+5"], ["WING", "make", "pc", '=""']]
    workbook = workbook_bytes({"items": [*rows, ITEM_ROWS[3]]})
    (tmp_path / "kelto.xlsx").write_bytes(with_member(workbook, ITEMS_MEMBER, store))
    inputs = load_inputs(tmp_path)
    assert inputs.problems == []
    assert inputs.tables["items"]["lead_days"].to_list() == [10, 0, 20]


def test_merged_cells_in_the_table_are_one_problem(tmp_path: Path) -> None:
    def merge(book: Workbook) -> None:
        book["items"].merge_cells("B2:B4")
        book["items"].merge_cells("F9:G9")

    said = only_sentence(load_sheets(tmp_path, change=merge))
    assert (
        "kelto.xlsx sheet items cell B2, column source: belongs to the merged cells B2:B4" in said
    )


def test_a_formula_in_merged_cells_is_one_problem(tmp_path: Path) -> None:
    def merge(book: Workbook) -> None:
        book["items"]["D2"] = "=5+5"
        book["items"].merge_cells("D2:D3")

    said = only_sentence(load_sheets(tmp_path, change=merge))
    assert "cell D2, column lead_days: belongs to the merged cells D2:D3" in said


def test_deceptive_names_are_refused_in_sheets_too(tmp_path: Path) -> None:
    (said,) = load_name(tmp_path, "SP\u200bAR")
    assert "U+200B" in said


def test_a_sheet_that_claims_to_be_smaller_than_it_is_loses_nothing(tmp_path: Path) -> None:
    def shrink(sheet: bytes) -> bytes:
        assert b'<dimension ref="A1:D4"' in sheet
        return sheet.replace(b'<dimension ref="A1:D4"', b'<dimension ref="A1:B2"')

    content = with_member(workbook_bytes(), ITEMS_MEMBER, shrink)
    (tmp_path / "kelto.xlsx").write_bytes(content)
    inputs = load_inputs(tmp_path)
    assert inputs.problems == []
    assert inputs.tables["items"]["lead_days"].to_list() == [10, 5, 20]


def test_cells_out_of_order_in_a_row_are_not_lost(tmp_path: Path) -> None:
    def turn_round(sheet: bytes) -> bytes:
        head, _, rest = sheet.partition(b'<c r="A2"')
        row, end, tail = rest.partition(b"</row>")
        cells = [b'<c r="A2"' + row.partition(b'<c r="B2"')[0]]
        cells += [b'<c r="B2"' + row.partition(b'<c r="B2"')[2]]
        return head + b"".join(reversed(cells)) + end + tail

    content = with_member(workbook_bytes(), ITEMS_MEMBER, turn_round)
    (tmp_path / "kelto.xlsx").write_bytes(content)
    inputs = load_inputs(tmp_path)
    assert inputs.problems == []
    assert inputs.tables["items"]["item"][0] == "KELTO"
    assert inputs.tables["items"]["lead_days"][0] == 10


def test_an_old_or_protected_workbook_is_refused(tmp_path: Path) -> None:
    said = load_bytes(tmp_path, b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600))
    assert said == (
        "error: kelto.xlsx: is an old or protected workbook; save it as .xlsx without a password"
    )


@pytest.mark.parametrize("content", [b"", b"item,source\n", b"%PDF-1.7"])
def test_what_is_no_workbook_is_refused(tmp_path: Path, content: bytes) -> None:
    assert "is no .xlsx workbook" in load_bytes(tmp_path, content)


def test_a_damaged_workbook_is_refused(tmp_path: Path) -> None:
    content = workbook_bytes()
    assert "is damaged" in load_bytes(tmp_path, content[: len(content) // 2])
    broken = with_member(content, ITEMS_MEMBER, lambda sheet: sheet[:-40])
    assert "is damaged" in load_bytes(tmp_path, broken)


def test_an_archive_of_something_else_is_refused(tmp_path: Path) -> None:
    saved = io.BytesIO()
    with zipfile.ZipFile(saved, "w") as archive:
        archive.writestr("letter.txt", "Dear customer")
    assert "is damaged or no workbook" in load_bytes(tmp_path, saved.getvalue())


def test_definitions_in_a_sheet_are_refused(tmp_path: Path) -> None:
    bomb = b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>'
    assert "holds definitions" in load_items_changed(tmp_path, lambda sheet: bomb + sheet)


def test_a_sheet_in_an_unusual_encoding_is_refused(tmp_path: Path) -> None:
    said = load_items_changed(tmp_path, lambda sheet: sheet.decode().encode("utf-16"))
    assert "written in an unusual way" in said


def with_row(row: bytes) -> Callable[[bytes], bytes]:
    """A change that adds a row at the end of a sheet."""
    return lambda sheet: sheet.replace(b"</sheetData>", row + b"</sheetData>")


@pytest.mark.parametrize(
    ("row", "advice"),
    [
        (b'<row r="1048576"><c r="A1048576"/></row>', "has something in row 1,048,576"),
        (b'<row r="900000"/>', "has empty rows down to row 900,000"),
        (b"<row r='99999999999'/>", "has something in row 99,999,999,999"),
        (b'<row r="3"><c r="A3"><v>1</v></c></row>', "has rows in disorder"),
        (b'<row r="x"/>', "is damaged"),
        (b'<row r="9"><c r="XFD9"><v>1</v></c></row>', "has something in column 16,384"),
        (b'<row r="9"><c r="ALM9"><v>1</v></c></row>', "has something in column 1,001"),
        (b'<row r="9"><c><v>1</v></c></row>', "has cells without a place"),
        (b'<row r="9"><c r="A9" t="s"><v>99999</v></c></row>', "is damaged"),
    ],
)
def test_rows_and_cells_far_out_or_in_disorder_are_refused(
    tmp_path: Path, row: bytes, advice: str
) -> None:
    assert advice in load_items_changed(tmp_path, with_row(row))


def test_huge_merged_blocks_are_refused(tmp_path: Path) -> None:
    merged = b'</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'
    said = load_items_changed(tmp_path, lambda sheet: sheet.replace(b"</sheetData>", merged))
    assert "has huge blocks of merged cells" in said


def test_a_cell_with_a_giant_text_is_refused(tmp_path: Path) -> None:
    letters = b"".join(b"%d" % number for number in range(200_000))
    row = b'<row r="9"><c r="A9" t="inlineStr"><is><t>' + letters + b"</t></is></c></row>"
    assert "far too long a text" in load_items_changed(tmp_path, with_row(row))


def test_a_small_file_that_unpacks_to_a_huge_one_is_refused(tmp_path: Path) -> None:
    said = load_items_changed(tmp_path, with_row(b" " * 6_000_000))
    assert "unpacks to far more than its size" in said


@pytest.mark.parametrize("members", [1, 3])
def test_too_much_to_unpack_is_refused_without_unpacking_it(
    tmp_path: Path, members: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(safe_to_open, "LARGEST_MEMBER", 300 if members == 1 else 10**9)
    monkeypatch.setattr(safe_to_open, "LARGEST_TOTAL", 10**9 if members == 1 else 3000)
    said = load_bytes(tmp_path, workbook_bytes())
    assert ("a sheet too large" if members == 1 else "too large to read when unpacked") in said


def test_too_many_parts_are_refused(tmp_path: Path) -> None:
    saved = io.BytesIO(workbook_bytes())
    with zipfile.ZipFile(saved, "a") as archive:
        for number in range(5_001):
            archive.writestr(f"x{number}", "")
    assert "parts, which no workbook of tables needs" in load_bytes(tmp_path, saved.getvalue())


def test_too_many_different_texts_are_refused(tmp_path: Path) -> None:
    texts = b"<sst>" + b"".join(b"<si><t>%d</t></si>" % n for n in range(2_000_001)) + b"</sst>"
    saved = io.BytesIO(workbook_bytes())
    with zipfile.ZipFile(saved, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/sharedStrings.xml", texts)
    assert "holds more than 2,000,000 different texts" in load_bytes(tmp_path, saved.getvalue())


def test_a_member_that_needs_a_password_is_refused(tmp_path: Path) -> None:
    content = bytearray(workbook_bytes())
    place = content.find(b"PK\x01\x02")
    content[place + 8] |= 1
    assert "is protected; save it without a password" in load_bytes(tmp_path, bytes(content))


def test_other_kinds_of_workbook_are_refused_with_advice(tmp_path: Path) -> None:
    (tmp_path / "kelto.ods").write_bytes(b"PK\x03\x04")
    assert "save it as .xlsx" in only_sentence(load_inputs(tmp_path / "kelto.ods"))


@pytest.mark.parametrize(("letters", "number"), [("A", 1), ("Z", 26), ("AA", 27), ("XFD", 16384)])
def test_columns_are_counted_by_their_letters(letters: str, number: int) -> None:
    assert column_number(letters) == number


@settings(max_examples=80, deadline=None)
@given(st.binary(max_size=300), st.sampled_from([b"", b"PK\x03\x04", b"\xd0\xcf\x11\xe0"]))
def test_no_bytes_as_a_workbook_ever_raise(content: bytes, start: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        assert load_bytes(Path(folder), start + content).startswith("error: kelto.xlsx: ")


GOOD_WORKBOOK = workbook_bytes()


@settings(max_examples=120, deadline=None)
@given(st.integers(0, len(GOOD_WORKBOOK) - 1), st.binary(min_size=1, max_size=6))
def test_no_damage_to_a_workbook_ever_raises(place: int, damage: bytes) -> None:
    content = GOOD_WORKBOOK[:place] + damage + GOOD_WORKBOOK[place + len(damage) :]
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "kelto.xlsx").write_bytes(content)
        assert list(load_inputs(Path(folder)).tables) == list(INPUTS)


@settings(max_examples=80, deadline=None)
@given(st.text(alphabet='<>/"= rcvft1A9sheetDataow', max_size=60))
def test_no_content_of_a_sheet_ever_raises(text: str) -> None:
    content = with_member(GOOD_WORKBOOK, ITEMS_MEMBER, with_row(text.encode()))
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "kelto.xlsx").write_bytes(content)
        assert list(load_inputs(Path(folder)).tables) == list(INPUTS)


def test_too_many_texts_are_refused_by_the_size_of_their_member(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(safe_to_open, "LARGEST_TEXTS", 100)
    monkeypatch.setattr(safe_to_open, "_refuse_many_texts", None)  # not even unpacked
    path = tmp_path / "tables.xlsx"
    path.write_bytes(workbook_bytes())
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/sharedStrings.xml", "<sst>" + "<si><t>x</t></si>" * 9 + "</sst>")
    assert "of texts; delete old sheets" in only_sentence(load_inputs(path))
