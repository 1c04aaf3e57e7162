"""The weekly run from the user's tables to a finished folder; prints nothing."""

from dataclasses import asdict, dataclass
from dataclasses import replace as dataclass_replace
from pathlib import Path

from bomkit.checks.everything import Inputs
from bomkit.planning.shops.moulds.replacement_moulds import mould_findings
from bomkit.problems import Problem, refusal
from bomkit.runs.checked_tables import problems_of, sound_inputs
from bomkit.runs.files.out_folder import finished_whole, put_back, refuse_to_overwrite
from bomkit.runs.files.run_files import this_run, whole_run, write_results, write_run_file
from bomkit.runs.planned_tables import planned
from bomkit.runs.week.compare import comparison, planned_now
from bomkit.tables.results.finished_plan import USUAL, Choices
from bomkit.words.progress import Tell
from bomkit.workbooks.report import Report


@dataclass(frozen=True)
class Run:
    """A finished run: where it is, and what a summary needs."""

    out: Path
    report: Report
    warnings: list[Problem]


def weekly_run(
    location: Path,
    out: Path,
    replace: bool,
    tell: Tell,
    choices: Choices = USUAL,
    since: Path | None = None,
) -> Run:
    """Plans everything and writes OUT whole or not at all.

    replace: whether an earlier run in OUT may go; since: a finished run to compare with. Raises
    ProblemsFound where the data forbid planning, OUT must not be written, or `since` is no run.
    """
    from bomkit.runs.week.workbooks import write_workbooks

    earlier = whole_run(since) if since else None
    out = out.resolve()
    restored = put_back(out)
    refuse_to_overwrite(out, replace)
    inputs, problems = _inputs_for(location, choices, tell)
    report = planned(inputs, choices, tell)
    if since and earlier:
        run = this_run(inputs, report, asdict(choices))
        changed = comparison(earlier, run, tell, planned_now(since))
        report = dataclass_replace(report, changed=changed)
    with finished_whole(out, replace) as folder:
        write_workbooks(folder, report, choices, tell)
        write_run_file(folder, write_results(folder, inputs, report, asdict(choices)))
    worn = problems_of(inputs, mould_findings(report.plan.moulds.wear))
    return Run(out, report, [*filter(None, [restored]), *problems, *worn])


def _inputs_for(location: Path, choices: Choices, tell: Tell) -> tuple[Inputs, list[Problem]]:
    """The tables and the warnings about them.

    Raises ProblemsFound where the data forbid planning, or there are no inspections to plan with.
    """
    tell("reading the tables")
    inputs, problems = sound_inputs(location)
    if choices.inspections and inputs.tables["inspection_rules"].is_empty():
        message = (
            "has no table inspection_rules to plan with; write one, or leave out --with-inspections"
        )
        raise refusal(location, message)
    return inputs, problems
