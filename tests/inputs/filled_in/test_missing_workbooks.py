"""Workbooks that a run wrote to be filled in, and that are gone, are told by their names."""

from pathlib import Path

import openpyxl

from bomkit.inputs.filled_in.missing_workbooks import not_there, to_fill_in
from bomkit.runs.week.plan import Run
from bomkit.tables.entry_keys import LISTS_WRITTEN

WRITTEN = (
    "overview.xlsx",
    "shortages.xlsx",
    "run.txt",
    "tables/orders.parquet",
    "2026-W53/buy.xlsx",
    "2026-W53/pick_sheets.xlsx",
    "2027-W01/buy.xlsx",
    "kits/S-1.xlsx",
    "kits/flying_club-2026-12-31.xlsx",
    "kits/flying_club-2026-12-31_2.xlsx",
)


def test_what_is_filled_in_is_of_the_first_week_or_leaves_the_house() -> None:
    assert to_fill_in(WRITTEN) == ["2026-W53/buy.xlsx", "kits/S-1.xlsx", "shortages.xlsx"]
    assert to_fill_in(()) == []


def test_each_of_them_has_lists_and_no_other_of_that_week_has(tiny_run: Run) -> None:
    written = [path.relative_to(tiny_run.out).as_posix() for path in tiny_run.out.rglob("*.xlsx")]
    first = tiny_run.report.list_weeks[0]
    later = [name for name in written if "-W" in name and not name.startswith(first)]
    with_lists = [
        name
        for name in sorted({*written} - {*later})
        if openpyxl.load_workbook(tiny_run.out / name).custom_doc_props[LISTS_WRITTEN].value != "0"
    ]
    assert to_fill_in(written) == with_lists and len(with_lists) == 8


def test_what_is_gone_is_told_and_what_is_there_is_not(tmp_path: Path) -> None:
    (tmp_path / "kits").mkdir()
    for name in ("kits/S-1.xlsx", "shortages.xlsx"):
        (tmp_path / name).touch()
    [problem] = not_there(tmp_path, WRITTEN)
    assert problem.sentence().startswith(
        "warning: 2026-W53/buy.xlsx: is not where the run wrote it: nothing of it is booked"
    )
