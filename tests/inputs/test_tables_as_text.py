"""Typed tables are written as a person would type them, and read back as they were."""

from pathlib import Path

import polars as pl
import pytest

from bomkit.checks.everything import load_inputs
from bomkit.checks.table_by_table import check_tables
from bomkit.inputs.tables_as_text import table_files, text_tables
from bomkit.tables.columns_and_rules.by_name import INPUTS
from tests.builders import typed_tables
from tests.samples import FENLARK, TINY


def values(tables: dict[str, pl.DataFrame]) -> dict[str, pl.DataFrame]:
    """The tables without where their rows stood."""
    return {name: frame.drop("row") for name, frame in tables.items()}


@pytest.mark.parametrize("sample", [TINY, FENLARK])
def test_a_sample_written_and_read_again_is_the_same(sample: Path, tmp_path: Path) -> None:
    read = load_inputs(sample).tables
    for name, content in table_files(read).items():
        (tmp_path / name).write_bytes(content)
    again = load_inputs(tmp_path)
    assert not again.problems
    for name, frame in values(again.tables).items():
        assert frame.equals(values(read)[name]), name


def test_tables_turned_into_text_and_typed_again_are_the_same() -> None:
    read = load_inputs(TINY).tables
    frames, findings = check_tables(text_tables(read))
    assert not findings
    assert all(frame.equals(values(read)[name]) for name, frame in values(frames).items())


def test_numbers_keep_their_last_digit_and_words_their_commas_quotes_and_lines() -> None:
    odd = typed_tables(
        {
            "plan": [{"start": "2026-11-30", "horizon_weeks": 4, "title": 'Shop "A", \\ and B'}],
            "items": [
                {
                    "item": "007",
                    "description": 'A "wide", odd\nthing; ø',
                    "source": "buy",
                    "unit": "kg",
                    "minimum": 0.1 + 0.2,
                    "multiple": 1e-9,
                }
            ],
        }
    )
    odd["plan"] = odd["plan"].with_columns(pl.col("start").cast(pl.Date))
    frames, _ = check_tables(text_tables(odd))
    for name in ("plan", "items"):
        assert frames[name].drop("row").equals(odd[name].drop("row"))


def test_columns_that_say_nothing_and_tables_without_rows_are_left_out() -> None:
    read = load_inputs(TINY).tables
    files = table_files(read)
    given = [name for name in INPUTS if len(read[name]) and name != "plan"]
    assert all(f"{name}.csv" in files for name in given)
    empty = [name for name in INPUTS if read[name].is_empty()]
    assert not [name for name in empty if f"{name}.csv" in files and not INPUTS[name].required]
    head = files["items.csv"].decode().splitlines()[0].split(",")
    assert "heat_c" not in head or read["items"]["heat_c"].is_not_null().any()
    assert head[:2] == ["item", "description"]
