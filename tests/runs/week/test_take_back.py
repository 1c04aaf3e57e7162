"""A week taken back: whole or not at all, nothing of anybody's touched, the same each time."""

import hashlib
import shutil
import time
from pathlib import Path

import polars as pl
import pytest

from bomkit.checks.everything import load_inputs
from bomkit.planning.closing.close_week import next_week
from bomkit.problems import ProblemsFound, has_errors
from bomkit.runs.checked_tables import checked_inputs
from bomkit.runs.files.run_files import FinishedRun, whole_run
from bomkit.runs.planned_tables import planned
from bomkit.runs.week.plan import Run
from bomkit.runs.week.take_back import TakenBack, book_into, take_back
from bomkit.screens.take_back import taken_back_lines
from bomkit.tables.results.closing import ACCOUNT
from bomkit.tables.results.finished_plan import USUAL
from bomkit.words.progress import silent
from bomkit.workbooks.report import Report
from tests.children import Children
from tests.planning.closing.filled import Frames, filled_in, week_as_planned
from tests.runs.week.filled_weeks import week_filled_in

OF_AN_ORDER = ["item", "serial", "start_date", "due_date", "quantity"]


def as_planned(run: FinishedRun) -> Frames:
    return week_as_planned(run.inputs, run.tables, next_week(run.inputs))


def digests(folder: Path) -> dict[str, str]:
    """Every file below a folder with the digest of its bytes."""
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def taken(run: FinishedRun, into: Path, replace: bool = False) -> TakenBack:
    return book_into(run, as_planned(run), into, replace)


def planned_from(folder: Path) -> Report:
    """The plan of the tables in a folder; no workbook is written of it."""
    inputs, problems = checked_inputs(folder)
    assert not has_errors(problems)
    return planned(inputs, USUAL, silent)


def orders_both_know(before: Report, after: Report) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The orders from the second plan's first day on, as far as the first plan's horizon goes."""
    old, new = before["orders"], after["orders"]
    last = old["due_date"].max()
    return (
        old.filter(pl.col("start_date") >= after.start).select(OF_AN_ORDER),
        new.filter(pl.col("due_date") <= last).select(OF_AN_ORDER),
    )


def test_a_week_as_planned_gives_the_plan_that_was_there_a_week_on(
    tiny_run: Run, tmp_path: Path
) -> None:
    told = taken(whole_run(tiny_run.out), tmp_path / "next")
    assert told.counts == {"ordered": 1, "worked": 3, "picked": 6}
    after = planned_from(tmp_path / "next")
    assert after.start == told.start
    old, new = orders_both_know(tiny_run.report, after)
    assert old.sort(pl.all()).equals(new.sort(pl.all())) and len(old) == 11


def test_so_do_the_workbooks_of_the_full_size_sample_but_for_what_is_levelled(
    full_run: Run, tmp_path: Path
) -> None:
    folder = shutil.copytree(full_run.out, tmp_path / "old")
    run = whole_run(folder)
    week_filled_in(folder, as_planned(run), full_run.report.list_weeks[0])
    told = take_back(folder, [], tmp_path / "next", False)
    assert sum(told.counts.values()) > 1000
    old, new = orders_both_know(full_run.report, planned_from(tmp_path / "next"))
    other = old.with_columns(pl.col("quantity").round(6)).join(
        new.with_columns(pl.col("quantity").round(6)), on=OF_AN_ORDER, how="anti"
    )
    assert len(old) > 7000
    # printed parts, and their filament, are pulled forward by whole plates
    assert len(other) < 0.01 * len(old)


def test_the_same_entries_give_the_same_bytes_and_nothing_else_is_touched(
    tiny_run: Run, tmp_path: Path
) -> None:
    run = tmp_path / "run"
    shutil.copytree(tiny_run.out, run)
    before = digests(run)
    taken(whole_run(run), tmp_path / "one")
    taken(whole_run(run), tmp_path / "other")
    assert digests(tmp_path / "one") == digests(tmp_path / "other")
    assert digests(run) == before


def test_what_is_written_reads_without_a_problem_beside_the_account(
    tiny_run: Run, tmp_path: Path
) -> None:
    taken(whole_run(tiny_run.out), tmp_path / "next")
    assert load_inputs(tmp_path / "next").problems == []
    beside = sorted(path.name for path in (tmp_path / "next" / "taken_back").iterdir())
    assert beside == ["account.parquet", "account.xlsx", "taken_back.json"]
    account = pl.read_parquet(tmp_path / "next" / "taken_back" / "account.parquet")
    resin = account.filter(pl.col("item") == "resin").row(0, named=True)
    assert (resin["opening"], resin["picked"], resin["closing"]) == (4.42, 1.5, 2.92)


def test_nothing_is_written_where_anything_is_doubtful(tiny_run: Run, tmp_path: Path) -> None:
    run = whole_run(tiny_run.out)
    entries = filled_in(arrived=[{"order": "B-055", "item": "screw-old", "arrived": 8.0}])
    with pytest.raises(ProblemsFound):
        book_into(run, entries, tmp_path / "next", False)
    assert list(tmp_path.iterdir()) == []


def test_tables_that_were_edited_since_are_not_replaced(tiny_run: Run, tmp_path: Path) -> None:
    run, into = whole_run(tiny_run.out), tmp_path / "next"
    taken(run, into)
    with pytest.raises(ProblemsFound) as found:
        taken(run, into)
    assert "add --replace" in found.value.problems[0].message
    taken(run, into, replace=True)
    (into / "spares_orders.csv").write_text("order,item,quantity,need_date\n")
    before = digests(into)
    with pytest.raises(ProblemsFound) as found:
        taken(run, into, replace=True)
    assert "was changed after it was taken back" in found.value.problems[0].message
    assert digests(into) == before


def test_a_folder_of_something_else_is_left_alone(tiny_run: Run, tmp_path: Path) -> None:
    run = tmp_path / "run"
    shutil.copytree(tiny_run.out, run)
    with pytest.raises(ProblemsFound) as found:
        taken(whole_run(run), run, replace=True)
    assert "something other than tables that were taken back before" in (
        found.value.problems[0].message
    )


KILLED = """
from pathlib import Path
from bomkit.planning.closing.close_week import next_week
from bomkit.runs.files.run_files import whole_run
from bomkit.runs.week.take_back import book_into
from tests.planning.closing.filled import week_as_planned
def work(folder, into):
    run = whole_run(Path(folder))
    entries = week_as_planned(run.inputs, run.tables, next_week(run.inputs))
    print("ready", flush=True)
    book_into(run, entries, Path(into), False)
"""


def test_killed_at_any_moment_the_folder_is_whole_or_absent(tiny_run: Run, tmp_path: Path) -> None:
    taken(whole_run(tiny_run.out), tmp_path / "whole")
    whole = digests(tmp_path / "whole")
    with Children(KILLED) as children:
        for number, moment in enumerate((0.0, 0.03, 0.06, 0.1, 0.15, 0.25)):
            into = tmp_path / f"next-{number}"
            children.begin(tiny_run.out, into)
            assert children.line() == "ready"
            time.sleep(moment)
            children.kill()
            assert children.code() in (0, -9)
            assert not into.exists() or digests(into) == whole


def test_the_screen_says_what_was_filled_in_and_what_counts_found(
    tiny_run: Run, tmp_path: Path
) -> None:
    run = whole_run(tiny_run.out)
    entries = filled_in(
        counted=[{"item": "filament", "location": "print room", "status": "usable", "counted": 0.4}]
    )
    told = book_into(run, entries, tmp_path / "next", False)
    assert list(taken_back_lines(told.week, told.start, told.account, told.counts)) == [
        "week 2026-W49 taken back: 1 count",
        "counted filament: -0.05 kg",
        "the next plan starts on 2026-12-07",
    ]
    lines = list(taken_back_lines(told.week, told.start, told.account.clear(), {}))
    assert lines[0] == "week 2026-W49 taken back: nothing was filled in"


def test_the_screen_shows_quantities_as_people_write_them(tiny_run: Run) -> None:
    run = whole_run(tiny_run.out)
    rows = [{**ACCOUNT.when_empty, "item": "screw", "unit": "pc", "counted": 1e7}]
    account = pl.DataFrame(rows, schema=ACCOUNT.schema)
    _, line, _ = taken_back_lines("2026-W49", run.start, account, {})
    assert line == "counted screw: +10,000,000 pc"
