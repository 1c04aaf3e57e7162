import datetime
import hashlib
import random
import tempfile
from pathlib import Path

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bomkit.checks.everything import load_inputs
from bomkit.tables.columns_and_rules.by_name import INPUTS
from tests.inputs.builders import GOOD_FILES, load_files, only_sentence, sentences

ITEMS = GOOD_FILES["items.csv"]
STOCK = "item,quantity,location\n"


def test_a_good_folder_has_no_problem_and_every_table(tmp_path: Path) -> None:
    inputs = load_files(tmp_path)
    assert inputs.problems == []
    assert list(inputs.tables) == list(INPUTS)
    for name, table in INPUTS.items():
        assert dict(inputs.tables[name].schema) == {**table.schema, "row": pl.Int64()}
    assert inputs.tables["plan"].row(0, named=True) == {
        "start": datetime.date(2026, 11, 30),
        "horizon_weeks": 12,
        "list_weeks": 4,
        "title": "",
        "mass_limit_kg": None,
        "pull_ahead_weeks": 0,
        "move_days": 5,
        "move_share": 0.1,
        "holding_rate": None,
        "row": 0,
    }


def test_empty_cells_and_absent_columns_become_the_default(tmp_path: Path) -> None:
    items = load_files(tmp_path).tables["items"]
    assert items["scrap_rate"].to_list() == [None, None, None]
    assert items["cover_days"].to_list() == [1, 1, 1]
    assert items["structure_class"].to_list() == ["none", "none", "none"]
    assert items["process"].to_list() == ["", "", ""]


def test_a_leading_zero_is_kept(tmp_path: Path) -> None:
    assert load_files(tmp_path).tables["items"]["item"].to_list() == ["KELTO", "WING", "00123"]


def test_a_table_that_was_not_sent_is_empty_and_has_a_source(tmp_path: Path) -> None:
    inputs = load_files(tmp_path)
    assert inputs.tables["stock"].is_empty()
    assert inputs.sources["stock"].file == "stock.csv"


def test_digests_are_those_of_the_bytes_read(tmp_path: Path) -> None:
    digests = load_files(tmp_path).digests
    assert digests.keys() == GOOD_FILES.keys()
    assert digests["items.csv"] == hashlib.sha256(ITEMS.encode()).hexdigest()


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
def test_umlauts_survive_every_encoding(tmp_path: Path, encoding: str) -> None:
    text = ITEMS.replace("item,", "item,description,").replace("\n", "\n", 1)
    text = text.replace("KELTO,", "KELTO,Flügel Größe,").replace("WING,", "WING,,")
    inputs = load_files(tmp_path, {"items.csv": text.replace("00123,", "00123,,").encode(encoding)})
    assert inputs.problems == []
    assert inputs.tables["items"]["description"][0] == "Flügel Größe"


def test_bytes_in_no_encoding_are_one_problem_with_its_line(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": ITEMS.encode() + b"A\x81,make,pc,1\n"})
    assert only_sentence(inputs).startswith("error: items.csv line 5: holds bytes that are no text")


def test_zero_bytes_are_one_problem_with_its_line(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": ITEMS.replace("WING", "WI\0NG")})
    assert "items.csv line 3: holds zero bytes" in only_sentence(inputs)


def test_a_workbook_named_csv_is_told_from_a_text(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": b"PK\x03\x04 and so on"})
    assert "is a workbook, not a text file" in only_sentence(inputs)


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_the_separator_is_found_from_the_headings(tmp_path: Path, separator: str) -> None:
    inputs = load_files(tmp_path, {"items.csv": ITEMS.replace(",", separator)})
    assert inputs.problems == []
    assert inputs.tables["items"]["lead_days"].to_list() == [10, 5, 20]


def test_a_first_line_that_names_the_separator_keeps_line_numbers_true(tmp_path: Path) -> None:
    text = "sep=;\r\n" + ITEMS.replace(",", ";").replace("\n", "\r\n")
    assert load_files(tmp_path, {"items.csv": text}).tables["items"]["row"].to_list() == [3, 4, 5]


def test_a_strange_separator_is_refused(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": "sep=|\n" + ITEMS.replace(",", "|")})
    assert "line 1: the separator must be a comma" in only_sentence(inputs)


def test_quoted_line_breaks_keep_line_numbers_true(tmp_path: Path) -> None:
    text = (
        'item,description,source,unit\nKELTO,"two\r\nlines",make,pc\nWING,,make,xx\n00123,,buy,kg\n'
    )
    inputs = load_files(tmp_path, {"items.csv": text})
    assert "items.csv line 4, column unit: 'xx'" in only_sentence(inputs)
    assert inputs.tables["items"]["description"][0] == "two\nlines"
    assert inputs.tables["items"]["row"].to_list() == [2, 4, 5]


def test_lines_may_end_in_every_way(tmp_path: Path) -> None:
    for number, end in enumerate(("\n", "\r\n", "\r")):
        inputs = load_files(tmp_path / str(number), {"items.csv": ITEMS.replace("\n", end)})
        assert inputs.problems == []
        assert inputs.tables["items"]["row"].to_list() == [2, 3, 4]


def test_blank_lines_and_lines_of_separators_are_ignored(tmp_path: Path) -> None:
    text = "\n" + ITEMS.replace("WING", "\n,,,\n ,,\u00a0,\n,,\nWING") + "\n\n"
    inputs = load_files(tmp_path, {"items.csv": text})
    assert inputs.problems == []
    assert inputs.tables["items"]["row"].to_list() == [3, 8, 9]


def test_plain_and_no_break_spaces_at_both_ends_do_not_count(tmp_path: Path) -> None:
    text = ITEMS.replace("WING,make", " WING\u00a0, make ").replace("item,", " Item ,")
    inputs = load_files(tmp_path, {"items.csv": text})
    assert inputs.problems == []
    assert inputs.tables["items"]["item"][1] == "WING"


def test_a_row_with_a_cell_too_many_says_both_numbers_and_suspects_a_comma(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"structure.csv": "parent,child,quantity\nKELTO,WING,1,5\n"})
    said = only_sentence(inputs)
    assert "structure.csv line 2: has 4 cells, but there are 3 headings" in said
    assert "use a decimal point, or separate columns with semicolons" in said


def test_a_row_with_a_cell_too_few_says_both_numbers_and_nothing_else(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": ITEMS.replace("WING,make,pc,5", "WING")})
    assert "items.csv line 3: has 1 cells, but there are 4 headings" in only_sentence(inputs)


def test_a_heading_that_stands_twice_is_refused(tmp_path: Path) -> None:
    text = "parent,child,quantity,Child\nKELTO,WING,2,WING\n"
    inputs = load_files(tmp_path, {"structure.csv": text})
    assert "structure.csv line 1, column child: stands twice" in only_sentence(inputs)


def test_a_column_with_values_but_no_heading_is_refused(tmp_path: Path) -> None:
    text = "parent,child,quantity,\nKELTO,WING,2,\nWING,00123,1,odd\n"
    inputs = load_files(tmp_path, {"structure.csv": text})
    assert "line 1: column 4 has values but no heading" in only_sentence(inputs)


def test_empty_columns_without_heading_do_no_harm(tmp_path: Path) -> None:
    text = "parent,child,quantity,,\nKELTO,WING,2,, \n"
    assert load_files(tmp_path, {"structure.csv": text}).problems == []


def test_an_unknown_column_suggests_the_nearest_and_is_not_missing_as_well(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": ITEMS.replace("source", "sorce")})
    said = only_sentence(inputs)
    assert "items.csv line 1: 'sorce' is not a column of items; did you mean source?" in said


def test_a_missing_column_is_named_once_and_drags_nothing_along(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": "source,unit\nmake,pc\nmake,pc\n"})
    said = only_sentence(inputs)
    assert "items.csv line 1, column item: is missing; this column must be there" in said


def test_a_file_without_any_known_heading_is_one_problem(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": "KELTO,make,pc,5\nWING,make,pc,5\n"})
    assert "must hold the names of the columns; none of these was found" in only_sentence(inputs)


@pytest.mark.parametrize("text", ["", "\n\n", " , ,\n"])
def test_an_empty_file_is_one_problem(tmp_path: Path, text: str) -> None:
    inputs = load_files(tmp_path, {"items.csv": text})
    assert "items.csv: is empty; its first line must hold" in only_sentence(inputs)


def test_a_quotation_mark_never_closed_names_the_line_that_opens_it(tmp_path: Path) -> None:
    text = 'item,description,source,unit\nKELTO,,make,pc\nWING,"12 inch,make,pc\n00123,,buy,kg\n'
    inputs = load_files(tmp_path, {"items.csv": text})
    said = only_sentence(inputs)
    assert "items.csv line 3: a quotation mark is opened in this line and never closed" in said


def test_quotation_marks_that_do_not_pair_up_are_a_problem_with_its_line(tmp_path: Path) -> None:
    text = 'item,description,source,unit\nKELTO,"12" long,make,pc\n'
    inputs = load_files(tmp_path, {"items.csv": text})
    assert "items.csv line 2: the quotation marks do not pair up" in only_sentence(inputs)


def test_a_cell_longer_than_any_spreadsheet_allows_is_refused(tmp_path: Path) -> None:
    for number, length in enumerate((32_768, 200_000)):
        text = f"parent,child,quantity,note\nKELTO,WING,2,{'x' * length}\n"
        said = only_sentence(load_files(tmp_path / str(number), {"structure.csv": text}))
        assert "structure.csv line 2" in said
        assert "long" in said


def test_a_cell_of_the_longest_length_is_accepted(tmp_path: Path) -> None:
    text = f"parent,child,quantity,note\nKELTO,WING,2,{'x' * 32_767}\n"
    assert load_files(tmp_path, {"structure.csv": text}).problems == []


def test_too_many_columns_are_refused(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"stock.csv": "item,quantity" + ",x" * 2000 + "\n"})
    assert "more than 1000 columns" in only_sentence(inputs)


def test_a_decimal_comma_counts_where_no_comma_separates(tmp_path: Path) -> None:
    text = "parent;child;quantity\nKELTO;WING;2\nWING;00123;1,5\n"
    inputs = load_files(tmp_path, {"structure.csv": text})
    assert inputs.problems == []
    assert inputs.tables["structure"]["quantity"].to_list() == [2.0, 1.5]


def test_a_number_with_a_comma_for_thousands_or_decimals_is_judged_by_the_others(
    tmp_path: Path,
) -> None:
    def load(number: int, quantities: str, separator: str = ";") -> tuple[list[str], list[float]]:
        rows = "".join(f"WING{separator}{quantity}\n" for quantity in quantities.split())
        text = f"item{separator}quantity\n{rows}"
        inputs = load_files(tmp_path / str(number), {"stock.csv": text})
        said = [words for words in sentences(inputs) if words.startswith("error")]
        return said, inputs.tables["stock"]["quantity"].to_list()

    assert load(1, "1,500 0,25") == ([], [1.5, 0.25])
    assert load(2, "1.500 0.25") == ([], [1.5, 0.25])
    for number, doubtful in enumerate(("1.500 0,25", "1,500 0.25", "1.500 1,500"), 3):
        said, _ = load(number, doubtful)
        assert "write it without a separator between the thousands" in said[0]
    said, _ = load(6, "1,500 2", "\t")
    assert "'1,500' must be a number" in said[0]
    assert load(7, "1,500 0,25", "\t") == ([], [1.5, 0.25])


def test_an_unknown_file_suggests_the_nearest_known_one(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"strukture.csv": "x", "old.ods": "x", "zzz.tsv": "x"})
    assert sentences(inputs) == [
        "error: old.ods: is no input file; save it as .xlsx",
        "error: strukture.csv: is no input file; did you mean structure.csv?",
        "error: zzz.tsv: is no input file; remove it from the folder",
    ]


def test_notes_and_lock_files_are_ignored(tmp_path: Path) -> None:
    extra = ("README.md", "notes.txt", ".hidden.csv", "~$items.xlsx", ".~lock.items.csv#")
    assert load_files(tmp_path, dict.fromkeys(extra, "x")).problems == []


def test_file_names_are_compared_without_case(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": None, "Items.CSV": ITEMS})
    assert inputs.problems == []
    assert inputs.sources["items"].file == "Items.CSV"


def test_the_same_table_in_two_files_is_refused(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"Items.CSV": ITEMS})
    assert "is the same table as Items.CSV; keep one" in only_sentence(inputs)


def test_a_missing_required_table_is_named_once(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"items.csv": None})
    assert only_sentence(inputs) == "error: items.csv: is missing; this file must be there"


def test_a_folder_without_any_known_file_may_be_the_wrong_one(tmp_path: Path) -> None:
    (tmp_path / "holiday.csv").write_text("x")
    inputs = load_inputs(tmp_path)
    assert "holds no input table; perhaps it is the wrong folder?" in only_sentence(inputs)
    assert all(table.is_empty() for table in inputs.tables.values())


def test_a_place_that_does_not_exist_is_a_problem(tmp_path: Path) -> None:
    assert "does not exist" in only_sentence(load_inputs(tmp_path / "nowhere"))


def test_a_single_csv_file_is_refused_with_advice(tmp_path: Path) -> None:
    load_files(tmp_path)
    assert "give the folder" in only_sentence(load_inputs(tmp_path / "items.csv"))


def test_settings_may_hold_the_date_as_text(tmp_path: Path) -> None:
    inputs = load_files(tmp_path, {"plan.toml": 'start = "2026-11-30"\nhorizon_weeks = 12\n'})
    assert inputs.problems == []
    assert inputs.tables["plan"]["start"][0] == datetime.date(2026, 11, 30)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "horizon_weeks = 12\nstrat = 2026-11-30\n",
            "plan.toml line 2: 'strat' is not a setting; did you mean start?",
        ),
        ("start = 2026-11-30\n", "plan.toml, column horizon_weeks: must not be empty"),
        (
            'start = 2026-11-30\n\nhorizon_weeks = "12"\n',
            "plan.toml line 3, column horizon_weeks: '12' must be a whole number without",
        ),
        (
            "start = 2026-11-30\nhorizon_weeks = true\n",
            "line 2, column horizon_weeks: 'true' must be a whole number",
        ),
        (
            "start = 2026-11-30\nhorizon_weeks = 1.5\n",
            "line 2, column horizon_weeks: '1.5' must be a whole number",
        ),
        (
            "start = 2026-11-30\nhorizon_weeks = 0\n",
            "line 2, column horizon_weeks: '0' must be at least 1",
        ),
        (
            "start = 2026-11-30\nhorizon_weeks = inf\n",
            "line 2, column horizon_weeks: 'inf' must be a number",
        ),
        (
            "start = 2026-11-30\nhorizon_weeks = 12\ntitle = 7\n",
            "line 3, column title: '7' must be text in quotation marks",
        ),
        (
            "start = 5\nhorizon_weeks = 12\n",
            "line 1, column start: '5' must be a date",
        ),
        (
            "start = 2026-11-30T10:00:00\nhorizon_weeks = 12\n",
            "line 1, column start: '2026-11-30 10:00:00' must be a date such as 2026-11-30, with",
        ),
        ("start = 2026-11-30\nhorizon_weeks 12\n", "plan.toml line 2: is not written as"),
        ("start = 2026-11-30\nhorizon_weeks = [12]\n", "must be a whole number"),
        ("a = " + "[" * 5000, "is not written as"),
        ("start = 2026-11-30\nhorizon_weeks = 0x" + "f" * 9000, "must be a number"),
    ],
)
def test_bad_settings_are_one_problem_in_their_line(
    tmp_path: Path, text: str, expected: str
) -> None:
    assert expected in only_sentence(load_files(tmp_path, {"plan.toml": text}))


def test_settings_in_another_encoding_are_one_problem(tmp_path: Path) -> None:
    text = GOOD_FILES["plan.toml"] + 'title = "Flügel"\n'
    inputs = load_files(tmp_path / "a", {"plan.toml": text.encode("cp1252")})
    assert "plan.toml line 3: is not in UTF-8" in only_sentence(inputs)
    for number, encoding in enumerate(("utf-8-sig", "utf-16")):
        inputs = load_files(tmp_path / str(number), {"plan.toml": text.encode(encoding)})
        assert inputs.problems == []
        assert inputs.tables["plan"]["title"][0] == "Flügel"


def test_the_order_of_rows_changes_nothing_but_the_order_of_rows(tmp_path: Path) -> None:
    rows = [f"P{number},make,pc,{number % 7}" for number in range(30)]
    rows += ["KELTO,make,pc,1", "WING,make,pc,2", "00123,buy,kg,3", "BAD,mak,pc,1", "LOW,buy,pc,-1"]
    loads = []
    for number in range(3):
        random.Random(number).shuffle(rows)
        text = "item,source,unit,lead_days\n" + "\n".join(rows) + "\n"
        loads.append(load_files(tmp_path / str(number), {"items.csv": text}))
    frames = [loaded.tables["items"].drop("row").sort("item") for loaded in loads]
    assert frames[0].equals(frames[1])
    assert frames[0].equals(frames[2])
    said = [{(p.column, p.value, p.message) for p in loaded.problems} for loaded in loads]
    assert said[0] == said[1] == said[2]
    assert len(said[0]) == 2


@settings(max_examples=80, deadline=None)
@given(st.binary(max_size=300), st.sampled_from(["", "item,source,unit\n", "item;description\n"]))
def test_no_bytes_in_a_table_ever_raise(content: bytes, start: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        inputs = load_files(Path(folder), {"items.csv": start.encode() + content})
    assert list(inputs.tables) == list(INPUTS)


@settings(max_examples=80, deadline=None)
@given(st.text(alphabet='item,source;unit\t\r\n"\u200b#NV!1.5e-/', max_size=120))
def test_no_text_in_a_table_ever_raises(text: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        inputs = load_files(Path(folder), {"items.csv": "item,description,cost\n" + text})
    assert inputs.problems


@settings(max_examples=80, deadline=None)
@given(st.one_of(st.binary(max_size=200), st.text(alphabet='start="[]{}.-\n2026#', max_size=60)))
def test_no_bytes_in_the_settings_ever_raise(content: bytes | str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        inputs = load_files(Path(folder), {"plan.toml": content})
    assert inputs.problems


def test_a_link_to_nowhere_is_no_missing_table(tmp_path: Path) -> None:
    link = tmp_path / "data" / "stock.csv"
    link.parent.mkdir()
    link.symlink_to(tmp_path / "nowhere.csv")
    (problem,) = load_files(tmp_path / "data", {"stock.csv": None}).problems
    assert problem.file.endswith("stock.csv")
    assert problem.message == "leads to a file that is not there; put the file here"


def test_a_misspelt_setting_hides_nothing_of_one_that_is_there(tmp_path: Path) -> None:
    settings = "start = 2026-11-30\nhorizon_weeks = 400\nhorison = 3\n"
    problems = load_files(tmp_path / "data", {"plan.toml": settings}).problems
    assert [(each.place, each.value) for each in problems] == [
        ("line 2", "400"),
        ("line 3", "horison"),
    ]
