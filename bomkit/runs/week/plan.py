"""The weekly run from the user's tables to a finished folder; prints nothing."""

from collections.abc import Callable
from dataclasses import asdict, dataclass
from dataclasses import replace as dataclass_replace
from pathlib import Path

from bomkit.planning.shops.moulds.worn import mould_findings
from bomkit.problems import Problem, ProblemsFound, has_errors
from bomkit.runs.checked import checked_inputs, problems_of
from bomkit.runs.files.out_folder import finished_whole, put_back, refuse_to_overwrite
from bomkit.runs.files.run_files import this_run, whole_run, write_results
from bomkit.runs.garbage import seldom_collected
from bomkit.runs.planned import USUAL, Choices, planned
from bomkit.runs.week.compare import comparison
from bomkit.workbooks.report import Report

Tell = Callable[[str], None]


@dataclass(frozen=True)
class Run:
    """A finished run: where it is, and what a summary needs."""

    out: Path
    report: Report
    warnings: list[Problem]


@seldom_collected()
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
    earlier = whole_run(since) if since else None
    out = out.resolve()
    found = put_back(out)
    refuse_to_overwrite(out, replace)
    tell("reading the tables")
    inputs, problems = checked_inputs(location)
    if has_errors(problems):
        raise ProblemsFound(problems)
    if choices.inspections and inputs.tables["inspection_rules"].is_empty():
        message = (
            "has no table inspection_rules to plan with; write one, or leave out --with-inspections"
        )
        raise ProblemsFound([Problem(str(location), "", "", "", message)])
    report = planned(inputs, choices, tell)
    if earlier:
        this = this_run(inputs, report, asdict(choices))
        report = dataclass_replace(report, changed=comparison(earlier, this, tell))
    with finished_whole(out, replace) as folder:
        write_results(folder, inputs, report, asdict(choices))
        _write_workbooks(folder, report, choices, tell)
    put = [found] if found else []
    return Run(
        out, report, [*put, *problems, *problems_of(inputs, mould_findings(report.moulds.wear))]
    )


def _write_workbooks(folder: Path, report: Report, choices: Choices, tell: Tell) -> None:
    """The workbooks of every release week, the overview and the shortages."""
    from bomkit.workbooks.fleet.consignment import consignment_books
    from bomkit.workbooks.fleet.packing_list import kit_books
    from bomkit.workbooks.overview.overview import overview_book
    from bomkit.workbooks.shortages.shortages import shortages_book
    from bomkit.workbooks.weekly.arrivals import arrivals_book
    from bomkit.workbooks.weekly.buy import buy_book
    from bomkit.workbooks.weekly.counts import counts_book
    from bomkit.workbooks.weekly.picks import picks_book
    from bomkit.workbooks.weekly.picks_sheets import pick_sheets_book
    from bomkit.workbooks.weekly.work import make_book, print_book
    from bomkit.workbooks.writing.write import workbook_bytes

    for week in report.list_weeks:
        tell(f"writing the workbooks of {week}")
        (folder / week).mkdir()
        weekly = {"make": make_book, "buy": buy_book, "print": print_book}
        weekly |= {"arrivals": arrivals_book, "counts": counts_book}
        if choices.stores:
            weekly["picks"] = picks_book
        if choices.stores and choices.pick_sheets:
            weekly["pick_sheets"] = pick_sheets_book
        for name, book in weekly.items():
            (folder / week / f"{name}.xlsx").write_bytes(workbook_bytes(book(report, week)))
    tell("writing the overview")
    (folder / "overview.xlsx").write_bytes(workbook_bytes(overview_book(report)))
    if choices.stores:
        (folder / "shortages.xlsx").write_bytes(workbook_bytes(shortages_book(report)))
        kits = kit_books(report)
        kits |= consignment_books(report, kits)
        if kits:
            (folder / "kits").mkdir()
        for name, kit in kits.items():
            (folder / "kits" / f"{name}.xlsx").write_bytes(workbook_bytes(kit))
