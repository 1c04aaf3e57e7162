"""What `bomkit spares` does: from the user's tables to one workbook; prints nothing."""

from collections.abc import Iterator, Mapping
from dataclasses import asdict
from dataclasses import replace as replaced
from pathlib import Path

import polars as pl

from bomkit import __version__
from bomkit.checks.everything import Inputs
from bomkit.inputs.tables_as_text import csv_file
from bomkit.planning.every_need_served import allotted
from bomkit.planning.fleet.spares_stock.after_plan import left_by_plan, orders_for_stock
from bomkit.planning.fleet.spares_stock.holdings import Question, holdings
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.problems import Problem, ProblemsFound, of_whole
from bomkit.runs.checked_tables import sound_inputs, too_much_refused
from bomkit.runs.files.out_folder import file_finished_whole, refuse_to_overwrite_file
from bomkit.runs.planned_tables import name_from
from bomkit.runs.to_know_first import unsettled_asides
from bomkit.tables.columns_and_rules.orders import SPARES_ORDERS
from bomkit.tables.schema import Tables
from bomkit.words import common
from bomkit.words.did_you_mean import nearest
from bomkit.words.progress import Tell
from bomkit.workbooks.fleet.for_spares_book_and_screen import SparesReport
from bomkit.workbooks.fleet.spares import spares_book


def spares_run(
    location: Path,
    out: Path,
    replace: bool,
    wish: Mapping[str, object],
    after_plan: Tell | None = None,
    orders: Path | None = None,
) -> tuple[SparesReport, list[Problem]]:
    """Writes the workbook of spares to hold, and gives what is in it and the warnings.

    wish: the fields of a Question. after_plan: if given, only what the plan leaves
    counts as there, and it is given a word while that is planned; orders: file for spares_orders
    with what lacks then. Raises ProblemsFound where the data forbid it or a file must stay.
    """
    from bomkit.workbooks.writing.write import workbook_bytes

    for file in filter(None, (out, orders)):
        refuse_to_overwrite_file(file, replace)
    inputs, problems = sound_inputs(location)
    question = Question(**wish)  # type: ignore[arg-type]
    refused = _refused(location, inputs.tables, question)
    if refused:
        raise ProblemsFound(refused)
    left, unsettled = _left_by_plan(inputs, after_plan) if after_plan else (None, ())
    report = replaced(_report(inputs, question, left), unsettled=unsettled)
    if orders:
        rows = orders_for_stock(inputs.tables, report.parts)
        file_finished_whole(orders, csv_file(SPARES_ORDERS, rows), replace)
    file_finished_whole(out, workbook_bytes(spares_book(report)), replace)
    return report, problems


def _left_by_plan(inputs: Inputs, tell: Tell) -> tuple[pl.DataFrame, tuple[str, ...]]:
    """What the plan of the tables leaves of stock and open orders, and where it came to no rest."""
    with too_much_refused(inputs):
        network = build_network(inputs.tables)
        plan, given = allotted(network, inputs.tables, 0, False, tell)
    return left_by_plan(plan.network, given.pegged), tuple(unsettled_asides(plan, given))


def _refused(location: Path, tables: Tables, question: Question) -> list[Problem]:
    """What makes the question one that these tables can't answer."""
    known = tables["fleet"]["serial"].to_list()
    if not known:
        told = "has no fleet; list the aircraft delivered in a table fleet"
        return [_problem(location, "", told)]
    unknown = [serial for serial in question.serials if serial not in known]
    return [
        *(
            _problem(location, serial, f"is no serial number of fleet; {nearest(serial, known)}")
            for serial in unknown
        ),
        *(_problem(location, "", told) for told in _lacking(tables, question.inspections)),
    ]


def _lacking(tables: Tables, inspections: bool) -> Iterator[str]:
    """What the tables say too little of to know what is used; inspections: whether these count."""
    foreseen = inspections and len(tables["inspection_rules"])
    if inspections and not foreseen:
        yield "has no table inspection_rules; write one, or leave out --with-inspections"
    if not len(tables["usage"]) and not len(tables["issues"]) and not foreseen:
        yield (
            "says of no part how often it is used; give rates in a table usage, "
            "or what was handed out in a table issues"
        )
    by_hours = (tables["usage"]["per_1000_hours"] > 0).any()
    if by_hours and tables["fleet"]["hours_per_year"].count() == 0:
        yield (
            "gives rates per_1000_hours, but no aircraft of fleet has hours_per_year; fill them in"
        )


def _problem(location: Path, value: str, message: str) -> Problem:
    return of_whole(location, message, value)


def _report(inputs: Inputs, question: Question, left: pl.DataFrame | None) -> SparesReport:
    """The answer, with what stands on every page."""
    tables = inputs.tables
    held = holdings(tables, question, left)
    settings = tables["plan"].row(0, named=True)
    return SparesReport(
        run_id=_run_id(inputs, question, left is not None),
        start=settings["start"],
        title=settings["title"] or common.DEFAULT_TITLE,
        items={row["item"]: row for row in tables["items"].iter_rows(named=True)},
        parts=held.parts,
        left_out=held.left_out,
        assumed=held.assumed,
        curve=held.curve,
        target=question.target,
        measure=question.measure,
        limited_by=question.limited_by,
        limit=question.limit,
        serials=question.serials,
        days=question.days,
        before=held.before,
        assurance=held.assurance,
        spent=held.spent,
        short=held.short,
        needed=held.needed,
        after_plan=left is not None,
        inspections=question.inspections,
    )


def _run_id(inputs: Inputs, question: Question, after_plan: bool) -> str:
    """The name of the run: its first ISO week and a digest over inputs, version and question."""
    asked = [asdict(question), "after the plan"] if after_plan else [asdict(question)]
    return name_from(inputs.tables, __version__, sorted(inputs.digests.items()), *asked)
