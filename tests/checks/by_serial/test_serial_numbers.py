"""Serial ranges that make no sense, and aircraft both to be built and delivered."""

from pathlib import Path

import pytest

from tests.checks.test_table_by_table import load_structure
from tests.inputs.builders import load_files, only_sentence


@pytest.mark.parametrize(
    ("first", "last", "advice"),
    [
        ("KT", "", "column from_serial: 'KT' must end in a number"),
        ("KL-1a", "KL-9", "column from_serial: 'KL-1a' must end in a number"),
        ("", "KL-", "column to_serial: 'KL-' must end in a number"),
        ("KL-1234567890123456", "", "a number of at most 15 digits"),
        ("KL-061", "KX-070", "column to_serial: 'KX-070' must start like from_serial KL-061"),
        ("KL-070", "KL-061", "column to_serial: 'KL-061' must not lie before from_serial KL-070"),
        ("KL-10", "KL-9", "must not lie before from_serial KL-10"),
    ],
)
def test_serial_ranges_that_make_no_sense_are_refused(
    tmp_path: Path, first: str, last: str, advice: str
) -> None:
    (said,) = load_structure(tmp_path, ",from_serial,to_serial", f"KELTO,WING,1,{first},{last}")
    assert said.startswith("error: structure.csv line 2, ")
    assert advice in said


@pytest.mark.parametrize(
    ("first", "last"), [("KL-061", "KL-070"), ("KL-9", "KL-10"), ("61", "61"), ("", "KL-1")]
)
def test_serial_ranges_compare_the_number_at_the_end(tmp_path: Path, first: str, last: str) -> None:
    row = f"KELTO,WING,1,{first},{last}"
    assert load_structure(tmp_path, ",from_serial,to_serial", row) == []


def test_a_serial_is_either_to_be_built_or_delivered(tmp_path: Path) -> None:
    files = {"fleet.csv": "serial,item\nKL-001,KELTO\nKL-061,KELTO\n"}
    said = only_sentence(load_files(tmp_path, files))
    assert "build_plan.csv line 2, column serial: 'KL-061' is in the fleet as well (line 3)" in said
