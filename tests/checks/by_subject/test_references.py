"""Names that refer to another table, and what is said of those that stand nowhere."""

from pathlib import Path

import pytest

from bomkit.checks.by_subject import references
from tests.checks.test_table_by_table import ITEMS, load_structure
from tests.inputs.builders import load_files, only_sentence


def test_a_reference_to_nothing_suggests_the_nearest(tmp_path: Path) -> None:
    said = load_structure(tmp_path, "", "KELTO,WNG,1", "KELTO,0123,1", "KELTO,ZZZZZZ,1")
    assert said == [
        "error: structure.csv line 2, column child: 'WNG' is not in items; did you mean WING?",
        "error: structure.csv line 3, column child: '0123' is not in items; did you mean 00123?",
        "error: structure.csv line 4, column child: 'ZZZZZZ' is not in items; "
        "add it to items, or correct it here",
    ]


@pytest.mark.parametrize(("compared", "hints"), [(100_000, 20), (10, 3), (1, 1)])
def test_the_nearest_name_is_looked_up_for_a_few_of_very_many_wrong_ones(
    compared: int, hints: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # of three items ten names may be compared: that is 1 + 10 // 4 = 3 values
    monkeypatch.setattr(references, "MOST_COMPARED", compared)
    wrong = [f"KELTO,WING{letter},1" for letter in "ABCDEFGHIJKLMNOPQRSTUVWXY"]
    said = load_structure(tmp_path, "", *wrong)
    assert len(said) == 25
    assert sum("did you mean WING?" in words for words in said) == hints


def test_names_are_compared_letter_by_letter(tmp_path: Path) -> None:
    (said,) = load_structure(tmp_path, "", "KELTO,wing,1")
    assert "'wing' is not in items; did you mean WING?" in said


def test_a_row_with_a_bad_number_still_counts_as_existing(tmp_path: Path) -> None:
    text = ITEMS + "KELTO,,make,pc,,,,\nWING,,make,pc,x,,,\n00123,,buy,kg,,,,\n"
    said = only_sentence(load_files(tmp_path, {"items.csv": text}))
    assert "items.csv line 3, column lead_days: 'x' must be a number" in said


def test_a_ragged_row_still_counts_as_existing(tmp_path: Path) -> None:
    text = ITEMS + "KELTO,,make,pc,,,,\nWING,Wing, left,make,pc,,,,\n00123,,buy,kg,,,,\n"
    assert "items.csv line 3: has 9 cells" in only_sentence(
        load_files(tmp_path, {"items.csv": text})
    )


def test_a_table_that_could_not_be_read_whole_is_not_held_against_others(tmp_path: Path) -> None:
    text = ITEMS + 'KELTO,,make,pc,,,,\nWING,"x,make,pc,,,,\n'
    said = only_sentence(load_files(tmp_path, {"items.csv": text}))
    assert "items.csv line 3: a quotation mark is opened" in said


def test_a_reference_into_tables_that_nobody_sent_is_let_pass(tmp_path: Path) -> None:
    text = "item,source,unit,process\nKELTO,make,pc,lay-up\nWING,make,pc,\n00123,buy,kg,\n"
    assert load_files(tmp_path / "a", {"items.csv": text}).problems == []
    files = {"items.csv": text, "processes.csv": "process\nlayup\n"}
    said = only_sentence(load_files(tmp_path / "b", files))
    assert "column process: 'lay-up' is not in processes; did you mean layup?" in said


def test_a_serial_may_stand_in_the_build_plan_or_in_the_fleet(tmp_path: Path) -> None:
    stock = "item,quantity,serial\nWING,1,KL-061\nWING,1,KL-001\nWING,1,KL-002\n"
    files = {"stock.csv": stock, "fleet.csv": "serial,item\nKL-001,KELTO\n"}
    said = only_sentence(load_files(tmp_path, files))
    assert "stock.csv line 4, column serial: 'KL-002' is in neither build_plan nor fleet" in said
