"""What `bomkit compare` does: two finished runs to what changed, and because of which table."""

import datetime as dt
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from dataclasses import replace as dataclass_replace
from itertools import pairwise
from pathlib import Path

import polars as pl

from bomkit.checks.table_by_table import check_tables
from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.inputs.tables_as_text import text_tables
from bomkit.planning.comparing.changed_orders import changed_orders, nervousness
from bomkit.planning.comparing.moved_forecasts import causes, forecast_days, moved_forecasts
from bomkit.planning.comparing.shared_names import shared_names
from bomkit.planning.comparing.without_effect import without_effect
from bomkit.planning.netting.too_much import TooMuch
from bomkit.planning.whole_plan import whole_plan
from bomkit.runs.files.changed_since_written import RUN_FILE
from bomkit.runs.files.out_folder import file_finished_whole, refuse_to_overwrite_file
from bomkit.runs.files.run_files import FinishedRun, whole_run
from bomkit.runs.files.versions import versions
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.results.finished_plan import Choices
from bomkit.tables.schema import Tables
from bomkit.words import common
from bomkit.words import compare as said
from bomkit.words.progress import Tell
from bomkit.workbooks.compare import Comparison, compare_book

# In this order the tables of the old run are replaced: first the days, then all others.
REPLACED = ("plan", "calendar", *(name for name in INPUTS if name not in ("plan", "calendar")))
_MOST_NAMED = 2  # tables that only fit together, where there is little room
_ROWS = pl.int_range(2, pl.len() + 2)  # below the headings


@dataclass(frozen=True)
class _Step:
    """A plan on the way from the old run to the new one, and what was replaced last."""

    replaced: tuple[str, ...]
    forecast: pl.DataFrame
    orders: pl.DataFrame

    @property
    def name(self) -> str:
        """Everything that was replaced."""
        return ", ".join(_called(self.replaced))

    @property
    def short_name(self) -> str:
        """The same in a few words, however many tables only fit together."""
        names = _called(self.replaced)
        if len(names) <= _MOST_NAMED:
            return said.TOGETHER.join(names)
        return common.first_few(names, 1)


@dataclass(frozen=True)
class _Turn:
    """Tables to plan with, those named just replaced; as_after: whether the orders and days are
    those of the new run, as no table is left that they depend on."""

    replaced: tuple[str, ...]
    tables: Tables
    chosen: Mapping[str, bool]
    as_after: bool


def compare_runs(
    old: Path, new: Path, tell: Tell, out: Path | None = None, replace: bool = False
) -> Comparison:
    """What changed from the one run to the other; with `out`, a workbook that says the same.

    Raises ProblemsFound where a folder is no finished run or the file must not be written.
    """
    from bomkit.workbooks.writing.write import workbook_bytes

    if out is not None:
        refuse_to_overwrite_file(out, replace)
    before, after = whole_run(old), whole_run(new)
    compared = comparison(before, after, tell, planned_now(old), planned_now(new))
    if out is not None:
        file_finished_whole(out, workbook_bytes(compare_book(compared)), replace)
    return compared


def planned_now(run: Path) -> bool:
    """Whether a finished run would be planned the same way now."""
    return bool(json.loads((run / RUN_FILE).read_text()).get("versions") == versions())


def comparison(
    before: FinishedRun,
    after: FinishedRun,
    tell: Tell,
    before_now: bool = False,
    after_now: bool = True,
) -> Comparison:
    """What changed, and what each table that differs has to do with it.

    before_now, after_now: whether a run would be planned the same way now, so that its tables need
    not be planned again. Plans of different things are compared without planning anything.
    """
    shared = shared_names(before.inputs, after.inputs)
    steps = _steps(before, after, tell, before_now, after_now) if shared.related else []
    changes = changed_orders(before.tables["orders"], after.tables["orders"], after.start)
    return Comparison(
        before.run_id,
        after.run_id,
        after.start,
        _title(after.inputs),
        changes,
        nervousness(changes, after.start),
        moved_forecasts(_days_of(before), _days_of(after)),
        causes([(step.short_name, step.forecast) for step in steps]),
        _changed_at(steps, after.start),
        "" if shared.related else said.DIFFERENT_THINGS.format(**asdict(shared)),
    )


def _title(tables: Tables) -> str:
    """The title of the plan."""
    return str(tables["plan"]["title"][0])


def _steps(
    before: FinishedRun, after: FinishedRun, tell: Tell, before_now: bool, after_now: bool
) -> list[_Step]:
    """The old run, a plan for every turn, and the new run.

    Nothing is planned for tables that no order and no day depends on, nor where the new run says
    what would come out. Tables that ask for too much are replaced along with the next.
    """
    steps = [_of_run((said.OLD_RUN,), before)]
    waiting: tuple[str, ...] = ()
    for turn in _turns(before, after, before_now):
        replaced = (*waiting, *turn.replaced)
        choices = Choices(**turn.chosen)
        if turn.as_after and after_now:
            steps.append(_of_run(replaced, after))
        elif without_effect(choices).issuperset(replaced):
            steps.append(dataclass_replace(steps[-1], replaced=replaced))
        else:
            tell(_telling(replaced))
            try:
                steps.append(_planned(replaced, turn.tables, choices))
            except TooMuch:
                waiting = replaced
                continue
        waiting = ()
    return [*steps, _of_run(waiting or (said.BOMKIT_ITSELF,), after)]


def _turns(before: FinishedRun, after: FinishedRun, before_now: bool) -> Iterator[_Turn]:
    """The tables to plan with, one turn after the other.

    Tables that can't be planned with those that are still the old ones, as they name something
    new, are replaced along with the next. First the old tables are planned anew, if they would be
    planned otherwise now.
    """
    differing = [name for name in REPLACED if not _alike(before.inputs[name], after.inputs[name])]
    same_choices = before.chosen == after.chosen
    idle = without_effect(Choices(**before.chosen))
    tables = dict(before.inputs)
    waiting: tuple[str, ...] = ()
    if not before_now:
        as_after = same_choices and idle.issuperset(differing)
        yield _Turn((said.BOMKIT_ITSELF,), dict(tables), before.chosen, as_after)
    for count, name in enumerate(differing, 1):
        tables[name] = after.inputs[name]
        waiting = (*waiting, name)
        still_old = differing[count:]
        if not still_old or _sound(tables):
            as_after = same_choices and idle.issuperset(still_old)
            yield _Turn(waiting, dict(tables), before.chosen, as_after)
            waiting = ()
    if not same_choices:
        yield _Turn((said.CHOICES,), tables, after.chosen, True)


def _telling(replaced: tuple[str, ...]) -> str:
    """What is being planned, for whoever waits."""
    if replaced == (said.BOMKIT_ITSELF,):
        return said.PLANNING_AGAIN
    return said.PLANNING_WITH.format(names=common.first_few(_called(replaced), _MOST_NAMED))


def _called(replaced: Iterable[str]) -> list[str]:
    """What people call what was replaced."""
    return [said.CALLED.get(name, name) for name in replaced]


def _alike(one: pl.DataFrame, other: pl.DataFrame) -> bool:
    """Whether two tables say the same; the order of rows says nothing."""
    return one.sort(pl.all()).equals(other.sort(pl.all()))


def _sound(tables: Tables) -> bool:
    """Whether tables, some of one run and some of another, can be planned together."""
    frames, findings = check_tables(text_tables(tables))
    if any(finding.severity == "error" for finding in findings):
        return False
    return all(finding.severity != "error" for finding in structure_findings(frames))


def _planned(replaced: tuple[str, ...], tables: Tables, choices: Choices) -> _Step:
    """The plan of some tables. Raises TooMuch where they ask for too much."""
    numbered = {name: frame.with_columns(row=_ROWS) for name, frame in tables.items()}
    results = whole_plan(numbered, choices).finished.results
    days = forecast_days(results["forecast"], results["promises"])
    return _Step(replaced, days, results["orders"])


def _of_run(replaced: tuple[str, ...], run: FinishedRun) -> _Step:
    """A finished run as a step."""
    return _Step(replaced, _days_of(run), run.tables["orders"])


def _days_of(run: FinishedRun) -> pl.DataFrame:
    """When a finished run has airframes ready and spares orders leave, as forecast_days says."""
    return forecast_days(run.tables["forecast"], run.tables["promises"])


def _changed_at(steps: list[_Step], start: dt.date) -> list[tuple[str, int]]:
    """The name of each step after the first, and how many orders changed there."""
    changed = []
    for one, other in pairwise(steps):
        changes = changed_orders(one.orders, other.orders, start)["change"]
        changed.append((other.name, int((~changes.is_in(["same", "begun"])).sum())))
    return [(name, count) for name, count in changed if count or name != said.BOMKIT_ITSELF]
