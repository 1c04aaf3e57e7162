"""Words of a list are read however they are typed."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from bomkit.inputs.filled_in.entries_read import Entries, read_entries
from bomkit.runs.week.plan import Run
from scripts.year_parts.filling import fill_in


def called_off(run: Run, folder: Path, word: str) -> Entries:
    """What is read where the shops were asked and their orders are called off by a word."""

    def fill(kind: str, key: Any, shown: Any) -> dict[str, Any]:
        return {"cancelled": word} if kind == "answered" else {}

    path = Path(shutil.copy(run.out / "2026-W49" / "make.xlsx", folder))
    assert fill_in(path, fill) == 1
    return read_entries(run.report.run_id, folder)


@pytest.mark.parametrize("word", ["yes", "YES", "Yes"])
def test_yes_is_read_in_large_and_small_letters(tiny_run: Run, tmp_path: Path, word: str) -> None:
    read = called_off(tiny_run, tmp_path, word)
    assert read.problems == [] and read.tables["answered"]["cancelled"].to_list() == ["yes"]


def test_another_word_is_named_as_it_was_typed(tiny_run: Run, tmp_path: Path) -> None:
    [problem] = called_off(tiny_run, tmp_path, "Yea").problems
    assert problem.value == "Yea" and "must be one of yes, no" in problem.message
