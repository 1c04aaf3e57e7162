"""A week taken back: what was filled into a run's workbooks, to the tables of the week after."""

import datetime as dt
import io
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from bomkit import __version__
from bomkit.checks.table_by_table import check_tables
from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.inputs.filled_in.entries_read import Entries, read_entries
from bomkit.inputs.filled_in.missing_workbooks import not_there
from bomkit.inputs.tables_as_text import table_files, text_tables
from bomkit.planning.closing.close_week import Closed, close_week
from bomkit.problems import Problem, ProblemsFound, refusal, refuse_errors
from bomkit.runs.files.changed_since_written import digest, files_written
from bomkit.runs.files.out_folder import (
    TAKEN_BACK_FILE,
    finished_whole,
    put_back,
    refuse_to_overwrite,
)
from bomkit.runs.files.run_files import FinishedRun, whole_run
from bomkit.tables.schema import Tables
from bomkit.tables.weeks import week_of
from bomkit.words import account_of_week as said
from bomkit.workbooks.account_of_week import account_book
from bomkit.workbooks.writing.write import workbook_bytes


@dataclass(frozen=True)
class TakenBack:
    """A week that was taken back: the week, the next first day, the account, and what to tell.

    tables: those of the week after; counts: how many rows were filled in, by kind of entry.
    """

    week: str
    start: dt.date
    tables: dict[str, pl.DataFrame]
    account: pl.DataFrame
    counts: dict[str, int]
    notes: list[Problem]


def take_back(location: Path, files: Sequence[Path], into: Path, replace: bool) -> TakenBack:
    """Reads what was filled into the workbooks of a run and books it.

    files: the workbooks to read; none: all that lie in the folder of the run, which stays as it is;
    then it is told which of those that it wrote are gone. Raises ProblemsFound, with nothing
    written, where anything is doubtful.
    """
    run = whole_run(location)
    if into.resolve().is_relative_to(location.resolve()):
        raise refusal(into, said.INSIDE_RUN)
    entries = read_entries(run.run_id, location, files)
    if not files:
        entries.problems += not_there(location, files_written(location))
    return book_into(run, entries.tables, into, replace, entries)


def book_into(
    run: FinishedRun,
    filled: Tables,
    into: Path,
    replace: bool,
    read: Entries | None = None,
) -> TakenBack:
    """Books what was filled into a run and writes the tables of the week after, whole or not.

    read: what was found when the workbooks were read, if there are any. Raises ProblemsFound, with
    nothing written, where anything is doubtful, or the folder must not be written.
    """
    into, read = into.resolve(), read or Entries()
    restored = put_back(into)
    refuse_to_overwrite(into, replace, TAKEN_BACK_FILE)
    _refuse_edited(into)
    closed = close_week(run.inputs, run.tables, filled, read.unread)
    problems = [*read.problems, *map(read.placed, closed.problems)]
    refuse_errors(problems)
    _refuse_unsound(closed.tables)
    counts = {name: len(frame) for name, frame in filled.items() if len(frame)}
    week = week_of(run.inputs["plan"]["start"][0])
    with finished_whole(into, replace, TAKEN_BACK_FILE) as folder:
        _write_taken_back(folder, run, closed, week, counts)
    notes = [*filter(None, [restored]), *problems]
    start = closed.tables["plan"]["start"][0]
    return TakenBack(week, start, closed.tables, closed.account, counts, notes)


def _write_taken_back(
    folder: Path, run: FinishedRun, closed: Closed, week: str, counts: Mapping[str, int]
) -> None:
    """The tables of the week after, the account, and what the folder is known by."""
    files = table_files(closed.tables)
    for name, content in files.items():
        (folder / name).write_bytes(content)
    _write_account((folder / TAKEN_BACK_FILE).parent, run, closed, week)
    known = {**_known_by(run, closed, week, files), "entries": counts}
    (folder / TAKEN_BACK_FILE).write_text(json.dumps(known, indent=2, sort_keys=True) + "\n")


def _write_account(folder: Path, run: FinishedRun, closed: Closed, week: str) -> None:
    """The account of a week as a table and a workbook."""
    folder.mkdir()
    table = io.BytesIO()
    closed.account.write_parquet(table)
    (folder / "account.parquet").write_bytes(table.getvalue())
    costs = dict(run.inputs["items"].select("item", "cost").drop_nulls().iter_rows())
    title = run.inputs["plan"]["title"][0]
    start = closed.tables["plan"]["start"][0]
    book = account_book(closed.account, costs, week, run.run_id, title, start)
    (folder / "account.xlsx").write_bytes(workbook_bytes(book))


def _known_by(
    run: FinishedRun, closed: Closed, week: str, files: Mapping[str, bytes]
) -> dict[str, object]:
    """What the folder is known by: the run and week it was taken back from, and each file."""
    return {
        "run_id": run.run_id,
        "week": week,
        "version": __version__,
        "files": {name: digest(content) for name, content in files.items()},
        "notes": [problem.sentence() for problem in closed.problems],
    }


def _refuse_edited(into: Path) -> None:
    """Raises ProblemsFound where tables taken back before were changed by somebody since."""
    try:
        written: dict[str, str] = json.loads((into / TAKEN_BACK_FILE).read_text())["files"]
        there = {path.name: path.read_bytes() for path in into.iterdir() if path.is_file()}
    except FileNotFoundError:
        return  # there is none
    except (OSError, ValueError, KeyError, TypeError):
        written, there = {}, {"": b""}
    if {name: digest(content) for name, content in there.items()} != written:
        raise refusal(into, said.CHANGED_SINCE)


def _refuse_unsound(tables: Tables) -> None:
    """Raises ProblemsFound where the tables that were made could not be planned."""
    texts = text_tables(tables)
    frames, findings = check_tables(texts)
    errors = [finding for finding in findings if finding.severity == "error"]
    if not errors:
        errors = [each for each in structure_findings(frames) if each.severity == "error"]
    problems = [texts[each.table].source.problem(each) for each in errors]
    if problems:
        raise ProblemsFound(problems)
