"""The weekly run from the user's tables to a finished folder; prints nothing."""

import hashlib
import json
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass, replace
from datetime import timedelta
from pathlib import Path

import polars as pl

from bomkit import __version__
from bomkit.checks.everything import Inputs, load_inputs
from bomkit.checks.fitting import empty_order_findings
from bomkit.checks.mass_limit import mass_findings
from bomkit.checks.soundness import structure_findings
from bomkit.planning.fleet.inspections import forecast_demands, inspections_due
from bomkit.planning.forecast.graph import NEVER
from bomkit.planning.forecast.tables import pegs_table
from bomkit.planning.netting.flows import TooMuch, plan_flows
from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.netting.orders import needs_table
from bomkit.planning.network import Network, build_network
from bomkit.planning.pegging.peg import peg
from bomkit.planning.shop_plan import ShopPlan, plan_shops
from bomkit.planning.shops.moulds import (
    MOULD,
    gaps_of,
    mould_findings,
    mould_loads,
    mould_report,
    without_mould,
)
from bomkit.planning.shops.plate_limit import TooManyPlates, refuse_too_many_plates
from bomkit.planning.shops.shop_loads import shop_loads
from bomkit.planning.stores import no_forecast, waiting_tables
from bomkit.planning.workdays import iso_weeks
from bomkit.problems import Finding, Problem, ProblemsFound, has_errors
from bomkit.runs.out_folder import finished_whole, put_back, refuse_to_overwrite
from bomkit.runs.run_files import write_results
from bomkit.tables.shops import MOST_PLATES
from bomkit.words import asides, common, findings
from bomkit.workbooks.report import Levelling, Moulds, Prints, Report

Tell = Callable[[str], None]


@dataclass(frozen=True)
class Choices:
    """What is chosen for a run."""

    stores: bool = True  # the forecast, the shortages and the pick lists
    inspections: bool = False  # what the fleet's inspections take is planned as forecast demand
    level: bool = True  # work is pulled forward as pull_ahead_weeks says


@dataclass(frozen=True)
class Run:
    """A finished run: where it is, and what a summary needs."""

    out: Path
    report: Report
    warnings: list[Problem]


def checked_inputs(location: Path) -> tuple[Inputs, list[Problem]]:
    """The input tables and every problem in them, those of the structure as a whole included."""
    inputs = load_inputs(location)
    if any(problem.severity == "error" and problem.column == "" for problem in inputs.problems):
        # a table is missing or unreadable: the structure would seem to lack what is only unread
        return inputs, inputs.problems
    found = _problems(inputs, structure_findings(inputs.tables))
    if not has_errors([*inputs.problems, *found]):
        found += _problems(inputs, mass_findings(inputs.tables))
        found += _problems(inputs, empty_order_findings(inputs.tables))
    return inputs, [*inputs.problems, *found]


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


def _problems(inputs: Inputs, findings: list[Finding]) -> list[Problem]:
    """Findings of planning as problems of the files that the tables were read from."""
    return [inputs.sources[finding.table].problem(finding) for finding in findings]


def weekly_run(
    location: Path, out: Path, replace: bool, tell: Tell, choices: Choices = Choices()
) -> Run:
    """Plans everything and writes OUT whole or not at all.

    replace: whether an earlier run in OUT may go. Raises ProblemsFound where the data forbid
    planning or OUT must not be written.
    """
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
    with finished_whole(out, replace) as folder:
        write_results(folder, inputs, report, asdict(choices))
        _write_workbooks(folder, report, choices, tell)
    put = [found] if found else []
    return Run(
        out, report, [*put, *problems, *_problems(inputs, mould_findings(report.moulds.wear))]
    )


def planned(inputs: Inputs, choices: Choices, tell: Tell) -> Report:
    """The plan of checked tables, as what the workbooks are made from."""
    tables = inputs.tables
    inspections = inspections_due(tables)
    network = build_network(tables, forecast_demands(inspections) if choices.inspections else None)
    settings = tables["plan"].row(0, named=True)
    pull_weeks = settings["pull_ahead_weeks"] if choices.level else 0
    try:
        plan = plan_shops(network, tables, pull_weeks, lambda words: tell(f"planning: {words}"))
    except TooMuch as beyond:
        raise ProblemsFound([_too_much(inputs, beyond)]) from beyond
    tell("finding out for whom everything is")
    network, orders = plan.network, plan.orders
    pegged = peg(network, plan.flows, orders)
    mould_pegs = pegs_table(network, pegged.of(MOULD), orders, None)
    worn = mould_report(network, plan.worn, mould_pegs, orders)
    gaps = gaps_of(network, plan.worn, dict(worn.select("mould", "late_days").iter_rows()))
    lacking = without_mould(orders, tables["moulds"], gaps)
    again = {order: day if day < network.axis.count else NEVER for order, day in lacking.items()}
    if choices.stores:
        tell("forecasting what comes when")
        waiting = waiting_tables(network, tables, pegged, orders, again)
    else:
        waiting = no_forecast(network, pegged, orders)
    plan = replace(plan, pulls=mould_loads(network, orders, tables["moulds"], gaps))
    mondays = pl.Series(
        [settings["start"] + timedelta(weeks=week) for week in range(settings["horizon_weeks"])]
    )
    weeks = iso_weeks(mondays).to_list()
    return Report(
        run_id=run_id(inputs, choices),
        start=settings["start"],
        title=settings["title"] or common.DEFAULT_TITLE,
        tables=tables,
        orders=orders,
        projection=plan.projection,
        needs=needs_table(network, pegged, orders),
        **waiting,
        loads=plan.loads,
        shop_loads=shop_loads(plan, tables),
        weeks=sorted({*weeks, *network.axis.weeks()}),
        list_weeks=weeks[: settings["list_weeks"]],
        asides=(
            *_asides(network),
            *_inspections_aside(inspections, choices),
            *_shop_asides(plan, pull_weeks),
        ),
        inspections=inspections,
        inspections_planned=choices.inspections,
        prints=Prints(plan.prints.plates, plan.prints.loads, plan.prints.reslicing),
        levelling=Levelling(pull_weeks, plan.moves, plan.value) if pull_weeks else None,
        moulds=Moulds(
            worn,
            plan.pulls,
            {
                order: network.axis.date(day) if day < NEVER else None
                for order, day in again.items()
            },
        ),
    )


def _shop_asides(plan: ShopPlan, pull_weeks: int) -> Iterator[str]:
    """Sentences on what was pulled forward, and on what has more to do than it can."""
    if pull_weeks:
        added = plan.value["added"]
        yield asides.LEVELLED.format(
            count=len(plan.moves),
            weeks=pull_weeks,
            most=added.max() or 0.0,
            mean=added.mean() or 0.0,
        )
    if not plan.level_settled:
        yield asides.LEVEL_UNSETTLED
    over = plan.loads.filter(pl.col("hours") > pl.col("capacity") * (1 + TOLERANCE))
    beyond = over.sort("week", "process").select(
        "process", "week", pl.col("hours") - pl.col("capacity")
    )
    yield from _over(asides.PROCESSES_OVER, asides.PROCESSES_OVER_IN, beyond)
    over = plan.prints.overloads.sort("week", "kind")
    beyond = over.select("kind", "week", pl.col("hours") - pl.col("capacity"))
    yield from _over(asides.PRINTERS_OVER, asides.PRINTERS_OVER_IN, beyond)
    if not plan.settled:
        yield asides.MOULDS_UNSETTLED
    over = plan.pulls.filter(pl.col("pulls") > pl.col("capacity") * (1 + TOLERANCE))
    beyond = over.sort("week", "item").select("item", "week", pl.col("pulls") - pl.col("capacity"))
    yield from _over(asides.MOULDS_OVER, asides.MOULDS_OVER_IN, beyond)


def _over(sentence: str, each: str, beyond: pl.DataFrame) -> Iterator[str]:
    """The first few of what is above capacity, if anything is; columns as the words name them."""
    if len(beyond):
        named = "; ".join(each.format(**row) for row in beyond.head(5).iter_rows(named=True))
        more = common.AND_MORE.format(count=len(beyond) - 5) if len(beyond) > 5 else ""
        yield sentence.format(named=f"{named} {more}".strip())


def run_id(inputs: Inputs, choices: Choices) -> str:
    """The name of a run: its first ISO week and a digest over inputs, choices and the version."""
    chosen = asdict(choices)
    if choices.level:
        del chosen["level"]  # as it was before there was a choice
    told = json.dumps([__version__, chosen, sorted(inputs.digests.items())])
    start = inputs.tables["plan"]["start"]
    return f"{iso_weeks(start)[0]}-{hashlib.sha256(told.encode()).hexdigest()[:8]}"


def _too_much(inputs: Inputs, beyond: TooMuch) -> Problem:
    """The problem that an item is asked for, or printed, beyond what can be planned."""
    item = str(beyond)
    message = findings.TOO_MUCH
    if isinstance(beyond, TooManyPlates):
        message = findings.TOO_MANY_PLATES.format(most=MOST_PLATES)
    row = inputs.tables["items"].filter(pl.col("item") == item)["row"][0]
    return inputs.sources["items"].problem(Finding("items", row, "item", item, message))


def _counts(network: Network) -> dict[str, int]:
    """How many needs and open orders are overdue or past the horizon."""
    return {
        f"{when}_{what}": int(frame[when].sum())
        for what, frame in (("needs", network.demands), ("receipts", network.receipts))
        for when in ("overdue", "past")
    }


def _asides(network: Network) -> tuple[str, ...]:
    """Sentences about what is overdue and what lies past the horizon; none where there is none."""
    counts = _counts(network)
    return tuple(
        words.format(
            needs=counts[f"{when}_needs"],
            receipts=_named(counts[f"{when}_receipts"], network.receipts.filter(when)["order"]),
        )
        for when, words in (("overdue", asides.OVERDUE), ("past", asides.PAST_HORIZON))
        if counts[f"{when}_needs"] or counts[f"{when}_receipts"]
    )


def _inspections_aside(inspections: pl.DataFrame, choices: Choices) -> tuple[str, ...]:
    """A sentence that inspections are planned, where they are."""
    return (asides.INSPECTED_ASIDE.format(count=len(inspections)),) if choices.inspections else ()


def _named(count: int, orders: pl.Series) -> str:
    """How many open orders, and the names of the first few."""
    names = orders.unique().sort().head(5).to_list()
    return f"{count} ({', '.join(names)}{', ...' if count > len(names) else ''})" if count else "0"


def _write_workbooks(folder: Path, report: Report, choices: Choices, tell: Tell) -> None:
    """The workbooks of every release week, the overview and the shortages."""
    from bomkit.workbooks.fleet.packing_list import kit_books
    from bomkit.workbooks.overview.overview import overview_book
    from bomkit.workbooks.shortages.shortages import shortages_book
    from bomkit.workbooks.weekly.buy import buy_book
    from bomkit.workbooks.weekly.picks import picks_book
    from bomkit.workbooks.weekly.work import make_book, print_book
    from bomkit.workbooks.writing.write import workbook_bytes

    for week in report.list_weeks:
        tell(f"writing the workbooks of {week}")
        (folder / week).mkdir()
        weekly = {"make": make_book, "buy": buy_book, "print": print_book}
        if choices.stores:
            weekly["picks"] = picks_book
        for name, book in weekly.items():
            (folder / week / f"{name}.xlsx").write_bytes(workbook_bytes(book(report, week)))
    tell("writing the overview")
    (folder / "overview.xlsx").write_bytes(workbook_bytes(overview_book(report)))
    if choices.stores:
        (folder / "shortages.xlsx").write_bytes(workbook_bytes(shortages_book(report)))
        kits = kit_books(report)
        if kits:
            (folder / "kits").mkdir()
        for name, kit in kits.items():
            (folder / "kits" / f"{name}.xlsx").write_bytes(workbook_bytes(kit))
