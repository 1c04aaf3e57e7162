"""The user's tables, read and checked, with everything that planning them would show."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import polars as pl

from bomkit.checks.by_serial.kit_content import kit_content_findings
from bomkit.checks.by_subject.mass_limit import mass_findings
from bomkit.checks.everything import NOTHING_MORE, Inputs, load_inputs
from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.too_much import TooMuch
from bomkit.planning.shops.printing.too_many_plates import TooManyPlates, refuse_too_many_plates
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.problems import Finding, Problem, ProblemsFound, has_errors, refuse_errors
from bomkit.tables.columns_and_rules.shops_and_calendar import MOST_PLATES
from bomkit.words.problems import findings


def checked_inputs(
    location: Path, more: Mapping[str, Mapping[str, str]] = NOTHING_MORE
) -> tuple[Inputs, list[Problem]]:
    """The input tables and every problem in them, those of the structure as a whole included.

    more: as load_inputs takes it.
    """
    inputs = load_inputs(location, more)
    if any(problem.severity == "error" and problem.column == "" for problem in inputs.problems):
        # a table is missing or unreadable: the structure would seem to lack what is only unread
        return inputs, inputs.problems
    problems = [*inputs.problems, *problems_of(inputs, structure_findings(inputs.tables))]
    if not has_errors(problems):
        problems += problems_of(inputs, mass_findings(inputs.tables))
        problems += problems_of(inputs, kit_content_findings(inputs.tables))
    return inputs, problems


def sound_inputs(
    location: Path, more: Mapping[str, Mapping[str, str]] = NOTHING_MORE
) -> tuple[Inputs, list[Problem]]:
    """The input tables and the warnings about them; raises ProblemsFound where there are errors.

    more: as load_inputs takes it.
    """
    inputs, problems = checked_inputs(location, more)
    refuse_errors(problems)
    return inputs, problems


def all_problems(location: Path) -> list[Problem]:
    """Every problem of the tables, and what only planning them would show."""
    inputs, problems = checked_inputs(location)
    if has_errors(problems):
        return problems
    try:
        network = build_network(inputs.tables)
        refuse_too_many_plates(network, plan_flows(network), inputs.tables)
    except TooMuch as beyond:
        return [*problems, _too_much(inputs, beyond)]
    return problems


@contextmanager
def too_much_refused(inputs: Inputs) -> Iterator[None]:
    """Raises ProblemsFound where planning finds quantities beyond counting."""
    try:
        yield
    except TooMuch as beyond:
        raise ProblemsFound([_too_much(inputs, beyond)]) from beyond


def problems_of(inputs: Inputs, findings: list[Finding]) -> list[Problem]:
    """Findings of planning as problems of the files that the tables were read from."""
    return [inputs.sources[finding.table].problem(finding) for finding in findings]


def _too_much(inputs: Inputs, beyond: TooMuch) -> Problem:
    """The problem that an item is asked for, or printed, beyond what can be planned."""
    item = str(beyond)
    message = findings.TOO_MUCH
    if isinstance(beyond, TooManyPlates):
        message = findings.TOO_MANY_PLATES.format(most=MOST_PLATES)
    row = inputs.tables["items"].filter(pl.col("item") == item)["row"][0]
    return inputs.sources["items"].problem(Finding("items", row, "item", item, message))
