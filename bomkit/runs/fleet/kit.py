"""What `bomkit kit` does: from the user's tables to one packing workbook; prints nothing."""

from collections.abc import Mapping
from dataclasses import replace as dataclass_replace
from pathlib import Path

import polars as pl

from bomkit.planning.promises.packing import GROUNDED
from bomkit.problems import Problem, ProblemsFound, has_errors, nearest, of_whole, refusal
from bomkit.runs.checked import checked_inputs, sound_inputs
from bomkit.runs.files.out_folder import file_finished_whole, refuse_to_overwrite_file
from bomkit.runs.planned import planned
from bomkit.tables.results.finished_plan import Choices
from bomkit.words.tell import Tell
from bomkit.workbooks.fleet.packing_list import packing_book
from bomkit.workbooks.report import Report

TRIED = "tried"  # the name of an order that stands in no table


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
    if has_errors(problems):
        raise ProblemsFound(problems)
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

    wish: item, serial, quantity and need_date, as text. Raises ProblemsFound where the data forbid
    it, or the order is wanted past the horizon.
    """
    inputs, warnings = sound_inputs(location, {"spares_orders": {**wish, "order": TRIED}})
    routine = planned(inputs, Choices(), tell)
    if routine["promises"].filter(pl.col("order") == TRIED).is_empty():
        message = "is wanted past the horizon and so not planned; plan more weeks to try it"
        raise refusal(location, message, wish["item"])
    orders = inputs.tables["spares_orders"]
    urgent = pl.when(pl.col("order") == TRIED).then(pl.lit(GROUNDED)).otherwise("urgency")
    tables = {**inputs.tables, "spares_orders": orders.with_columns(urgency=urgent)}
    grounded = planned(dataclass_replace(inputs, tables=tables), Choices(), tell)
    return routine, grounded, warnings
