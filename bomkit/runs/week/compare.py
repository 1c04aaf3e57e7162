"""What `bomkit compare` does: two finished runs to what changed, and because of which table."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import polars as pl

from bomkit.checks.everything import Inputs
from bomkit.checks.soundness import structure_findings
from bomkit.checks.tables import check_tables
from bomkit.inputs.as_text import text_tables
from bomkit.planning.comparing.changed_orders import changed_orders, nervousness
from bomkit.planning.comparing.moved_forecasts import causes, forecast_days, moved_forecasts
from bomkit.problems import ProblemsFound
from bomkit.runs.files.out_folder import file_finished_whole, refuse_to_overwrite_file
from bomkit.runs.files.run_files import FinishedRun, whole_run
from bomkit.runs.planned import planned
from bomkit.tables.inputs.by_name import INPUTS
from bomkit.tables.results.finished_plan import Choices
from bomkit.tables.schema import Tables
from bomkit.words import compare as said
from bomkit.words.tell import Tell, silent
from bomkit.workbooks.compare import Comparison, compare_book

# In this order the tables of the old run are replaced: first the days, then all others.
REPLACED = ("plan", "calendar", *(name for name in INPUTS if name not in ("plan", "calendar")))


@dataclass(frozen=True)
class _Step:
    """A plan on the way from the old run to the new one, and what was replaced last."""

    name: str
    forecast: pl.DataFrame
    orders: pl.DataFrame


def compare_runs(
    old: Path, new: Path, tell: Tell, out: Path | None = None, replace: bool = False
) -> Comparison:
    """What changed from the one run to the other; with `out`, a workbook that says the same.

    Raises ProblemsFound where a folder is no finished run or the file must not be written.
    """
    from bomkit.workbooks.writing.write import workbook_bytes

    if out is not None:
        refuse_to_overwrite_file(out, replace)
    found = comparison(whole_run(old), whole_run(new), tell)
    if out is not None:
        file_finished_whole(out, workbook_bytes(compare_book(found)), replace)
    return found


def comparison(before: FinishedRun, after: FinishedRun, tell: Tell) -> Comparison:
    """What changed, and what each table that differs has to do with it."""
    steps = [_of_run(said.OLD_RUN, before)]
    for name, tables, chosen in _replacements(before, after):
        tell(f"planning with the new {name}")
        try:
            steps.append(_planned(name, tables, chosen))
        except ProblemsFound:
            continue  # the next tables are replaced along with these
    steps.append(_of_run(said.BOMKIT_ITSELF, after))
    changes = changed_orders(before.tables["orders"], after.tables["orders"], after.start)
    days = [(step.name, step.forecast) for step in steps]
    return Comparison(
        before.run_id,
        after.run_id,
        after.start,
        _title(after.inputs),
        changes,
        nervousness(changes, after.start),
        moved_forecasts(days[0][1], days[-1][1]),
        causes(days),
        _changed_at(steps, after.start),
    )


def _title(tables: Tables) -> str:
    """The title of the plan."""
    return str(tables["plan"]["title"][0])


def _replacements(
    before: FinishedRun, after: FinishedRun
) -> Iterator[tuple[str, dict[str, pl.DataFrame], dict[str, bool]]]:
    """The tables to plan with, one step after the other, and the name of what is replaced.

    Tables that can't be planned with those that are still the old ones, as they name something
    new, are replaced along with the next. First the old tables are planned anew.
    """
    tables, chosen, waiting = dict(before.inputs), before.chosen, []
    yield said.BOMKIT_ITSELF, dict(tables), chosen
    for name in REPLACED:
        if _alike(tables[name], after.inputs[name]):
            continue
        tables[name] = after.inputs[name]
        waiting.append(name)
        if _sound(tables):
            yield ", ".join(waiting), dict(tables), chosen
            waiting = []
    if chosen != after.chosen:
        yield said.CHOICES, tables, after.chosen


def _alike(one: pl.DataFrame, other: pl.DataFrame) -> bool:
    """Whether two tables say the same; the order of rows says nothing."""
    return one.sort(pl.all()).equals(other.sort(pl.all()))


def _sound(tables: Tables) -> bool:
    """Whether tables, some of one run and some of another, can be planned together."""
    frames, found = check_tables(text_tables(tables))
    if any(finding.severity == "error" for finding in found):
        return False
    return all(finding.severity != "error" for finding in structure_findings(frames))


def _planned(name: str, tables: dict[str, pl.DataFrame], chosen: Mapping[str, bool]) -> _Step:
    """The plan of some tables. Raises ProblemsFound where they ask for too much."""
    texts = text_tables(tables)
    numbered = {
        table: frame.with_columns(texts[table].frame["row"]) for table, frame in tables.items()
    }
    sources = {table: text.source for table, text in texts.items()}
    report = planned(Inputs(numbered, sources, {}, []), Choices(**chosen), silent)
    return _Step(
        name,
        forecast_days(report["forecast"], report["promises"]),
        report["orders"],
    )


def _of_run(name: str, run: FinishedRun) -> _Step:
    """A finished run as a step."""
    forecast = forecast_days(run.tables["forecast"], run.tables["promises"])
    return _Step(name, forecast, run.tables["orders"])


def _changed_at(steps: list[_Step], start: dt.date) -> list[tuple[str, int]]:
    """The name of each step after the first, and how many orders changed there."""
    found = []
    for one, other in pairwise(steps):
        changes = changed_orders(one.orders, other.orders, start)["change"]
        found.append((other.name, int((~changes.is_in(["same", "begun"])).sum())))
    return [(name, count) for name, count in found if count or name != said.BOMKIT_ITSELF]
