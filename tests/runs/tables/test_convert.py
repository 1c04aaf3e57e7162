"""A folder becomes a workbook and a workbook a folder, and the plan is the same from both."""

import datetime as dt
from pathlib import Path

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from bomkit.checks.everything import load_inputs
from bomkit.problems import ProblemsFound
from bomkit.runs.tables.convert import convert
from bomkit.runs.week.plan import weekly_run
from tests.inputs.builders import load_files, load_sheets, sentences

TINY = Path(__file__).parents[3] / "sample_boms" / "tiny_glider_tail"
FULL = Path(__file__).parents[3] / "sample_boms" / "fenlark"


def assert_same_values(one: Path, other: Path) -> None:
    first, second = load_inputs(one).tables, load_inputs(other).tables
    for name, frame in first.items():
        assert_frame_equal(frame.drop("row"), second[name].drop("row"), check_exact=True)


@pytest.mark.parametrize("data", [TINY, FULL])
def test_every_value_of_a_sample_is_the_same_in_the_workbook_and_in_the_folder_made_of_it(
    data: Path, tmp_path: Path
) -> None:
    convert(data, tmp_path / "book.xlsx")
    convert(tmp_path / "book.xlsx", tmp_path / "again")
    assert_same_values(data, tmp_path / "book.xlsx")
    assert_same_values(data, tmp_path / "again")


def test_the_plan_is_the_same_from_the_folder_and_from_the_workbook(tmp_path: Path) -> None:
    convert(TINY, tmp_path / "book.xlsx")
    weekly_run(TINY, tmp_path / "one", False, print)
    weekly_run(tmp_path / "book.xlsx", tmp_path / "other", False, print)
    names = sorted(path.name for path in (tmp_path / "one" / "tables").iterdir())
    assert "orders.parquet" in names
    for name in names:
        one, other = (pl.read_parquet(tmp_path / run / "tables" / name) for run in ("one", "other"))
        assert_frame_equal(one, other, check_exact=True)


def test_text_that_looks_like_a_formula_or_a_number_stays_text(tmp_path: Path) -> None:
    rows = 'item,description,source,unit\nKELTO,"=1+1",make,pc\nWING,"two\nlines",make,pc\n'
    rows += "00123,-5,buy,kg\n"
    load_files(tmp_path / "data", {"items.csv": rows})
    convert(tmp_path / "data", tmp_path / "book.xlsx")
    said = load_inputs(tmp_path / "book.xlsx").tables["items"]["description"].to_list()
    assert said == ["=1+1", "two\nlines", "-5"]


def test_decimal_commas_become_numbers(tmp_path: Path) -> None:
    load_files(tmp_path / "data", {"structure.csv": "parent;child;quantity\nKELTO;WING;1,5\n"})
    convert(tmp_path / "data", tmp_path / "book.xlsx")
    assert load_inputs(tmp_path / "book.xlsx").tables["structure"]["quantity"].to_list() == [1.5]


def test_the_settings_of_a_workbook_become_plan_toml(tmp_path: Path) -> None:
    sheet = [["start", "horizon_weeks", "title"], [dt.date(2026, 11, 30), 12, 'The "Kelto" works']]
    load_sheets(tmp_path, {"plan": sheet})
    convert(tmp_path / "kelto.xlsx", tmp_path / "data")
    inputs = load_inputs(tmp_path / "data")
    assert inputs.tables["plan"].row(0, named=True)["title"] == 'The "Kelto" works'
    assert inputs.problems == []


def test_data_with_an_error_is_not_converted(tmp_path: Path) -> None:
    load_files(tmp_path / "data", {"structure.csv": "parent,child,quantity\nKELTO,WING,two\n"})
    with pytest.raises(ProblemsFound) as raised:
        convert(tmp_path / "data", tmp_path / "book.xlsx")
    assert "'two' must be a number" in raised.value.problems[0].sentence()
    assert [path.name for path in tmp_path.iterdir()] == ["data"]


def test_what_is_there_already_stays(tmp_path: Path) -> None:
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "mine.txt").write_text("mine")
    with pytest.raises(ProblemsFound) as raised:
        convert(TINY, tmp_path / "other")
    assert "is there already; nothing was written" in raised.value.problems[0].sentence()
    assert [path.name for path in (tmp_path / "other").iterdir()] == ["mine.txt"]
    assert sentences(load_inputs(TINY)) == []
