"""What `bomkit kit` does: from the user's tables to one packing workbook; prints nothing."""

from collections.abc import Mapping
from dataclasses import replace as dataclass_replace
from pathlib import Path

import polars as pl

from bomkit.checks.everything import Inputs
from bomkit.planning.promises.packing import GROUNDED
from bomkit.problems import Finding, Problem, Source, of_whole, refusal, refuse_errors
from bomkit.runs.checked_tables import checked_inputs
from bomkit.runs.files.out_folder import file_finished_whole, refuse_to_overwrite_file
from bomkit.runs.planned_tables import planned
from bomkit.tables.results.finished_plan import Choices
from bomkit.words.did_you_mean import nearest
from bomkit.words.progress import Tell
from bomkit.workbooks.fleet.packing_list import packing_book
from bomkit.workbooks.report import Report

TRIED = "tried"  # the name of an order that stands in no table
_WANTED = "--wanted"
# by column of spares_orders the option that gives it
_OPTIONS = {
    "item": "--try",
    "serial": "--serial",
    "quantity": "--quantity",
    "need_date": _WANTED,
}


def kit_run(
    location: Path, order: str, out: Path, replace: bool, tell: Tell
) -> tuple[Report, list[Problem]]:
    """Writes the packing workbook of a spares order, and gives the plan behind it and warnings.

    Raises ProblemsFound where the data forbid it, the order is unknown or OUT must stay.
    """
    from bomkit.workbooks.writing.write import workbook_bytes

    refuse_to_overwrite_file(out, replace)
    inputs, problems = checked_inputs(location)
    known = inputs.tables["spares_orders"]["order"].to_list()
    if order not in known:
        hint = nearest(order, known) or "look at the orders there"
        message = f"is no order of spares_orders; {hint}"
        problems = [*problems, of_whole(location, message, order)]
    refuse_errors(problems)
    report = planned(inputs, Choices(), tell)
    if report["promises"].filter(pl.col("order") == order).is_empty():
        message = "is wanted past the horizon and so not planned; plan more weeks to pack it"
        raise refusal(location, message, order)
    file_finished_whole(out, workbook_bytes(packing_book(report, order)), replace)
    return report, problems


def kit_tried(
    location: Path, wish: Mapping[str, str], tell: Tell
) -> tuple[Report, Report, list[Problem]]:
    """The plan with one more spares order, TRIED, routine and then grounded, and warnings.

    wish: item, serial, quantity and need_date, as text. Grounded, it is wanted at once. Raises
    ProblemsFound where the data forbid it, or the order is wanted past the horizon.
    """
    inputs, told = checked_inputs(location, {"spares_orders": {**wish, "order": TRIED}})
    source = inputs.sources["spares_orders"]
    problems = [_of_its_option(problem, source) for problem in told]
    refuse_errors(problems)
    routine = planned(inputs, Choices(), tell)
    if routine["promises"].filter(pl.col("order") == TRIED).is_empty():
        message = "is past the horizon, so it is not planned; plan more weeks to try it"
        raise refusal(_WANTED, message, wish["need_date"])
    grounded = planned(_with_it_grounded(inputs), Choices(), tell)
    return routine, grounded, problems


def _with_it_grounded(inputs: Inputs) -> Inputs:
    """The inputs with the tried order grounded: wanted on the first day, as an aircraft waits."""
    wished, first = pl.col("order") == TRIED, inputs.tables["plan"]["start"][0]
    orders = inputs.tables["spares_orders"].with_columns(
        urgency=pl.when(wished).then(pl.lit(GROUNDED)).otherwise("urgency"),
        need_date=pl.when(wished)
        .then(pl.min_horizontal("need_date", pl.lit(first)))
        .otherwise("need_date"),
    )
    return dataclass_replace(inputs, tables={**inputs.tables, "spares_orders": orders})


def _of_its_option(problem: Problem, source: Source) -> Problem:
    """A problem of the tried order as one of the option that gave it; every other one as it is.

    source: of the table of spares orders, in which the tried one has no line of its own.
    """
    of_table = source.problem(Finding("spares_orders", 0, "", "", ""))
    if (problem.file, problem.place) != (of_table.file, of_table.place):
        return problem
    option = _OPTIONS.get(problem.column)
    return dataclass_replace(problem, file=option, place="", column="") if option else problem
