"""The planning record: four rows an item, and of very many items the first ones."""

import pytest

from bomkit.runs.week.plan import Run
from bomkit.words import overview as words
from bomkit.workbooks.overview import overview
from bomkit.workbooks.writing.sheet import Sheet


def record(run: Run) -> Sheet:
    """The sheet of the record."""
    sheets = overview.overview_book(run.report).sheets
    return next(sheet for sheet in sheets if sheet.name == words.SHEET_RECORD)


def items_of(sheet: Sheet) -> list[object]:
    """The item of each line."""
    return [line.cells[0][0] for line in sheet.lines if line.cells[0]]


def test_every_item_has_its_rows_and_nothing_is_said_of_others(tiny_run: Run) -> None:
    sheet = record(tiny_run)
    named = tiny_run.report["projection"]["item"].unique().sort().to_list()
    assert items_of(sheet) == [item for item in named for _ in words.RECORD_ROWS]
    assert list(sheet.notes) == [words.RECORD_NOTE]


def test_of_very_many_items_the_first_are_shown_and_the_sheet_says_so(
    tiny_run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = record(tiny_run)
    monkeypatch.setattr(overview, "_MOST_RECORDS", 2)
    sheet = record(tiny_run)
    count = len(set(items_of(whole)))
    assert count > 2
    assert list(sheet.lines) == list(whole.lines)[: 2 * len(words.RECORD_ROWS)]
    assert sheet.notes[1] == words.RECORD_CUT.format(count=count, shown=2)


def test_as_many_items_as_are_shown_are_not_cut(
    tiny_run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(overview, "_MOST_RECORDS", len(set(items_of(record(tiny_run)))))
    assert len(record(tiny_run).notes) == 1
