"""The weekly run from the user's tables to a finished folder; prints nothing."""

import hashlib
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import polars as pl
from anytree import Node

from bomkit import __version__, labels
from bomkit.inputs import Inputs, load_inputs
from bomkit.out_folder import RUN_FILE, finished_whole, refuse_to_overwrite
from bomkit.planning.configure import serial_specific_items
from bomkit.planning.mass_limit import mass_findings
from bomkit.planning.moulds import mould_findings, mould_report
from bomkit.planning.net import TOLERANCE
from bomkit.planning.network import Network, build_network
from bomkit.planning.outline import add_amounts, outline
from bomkit.planning.peg import peg
from bomkit.planning.plan import TooMuch
from bomkit.planning.results import needs_table, pegs_table
from bomkit.planning.rollup import Roll, roll_up
from bomkit.planning.shop_plan import ShopPlan, plan_shops
from bomkit.planning.soundness import structure_findings
from bomkit.planning.workdays import iso_weeks
from bomkit.problems import Finding, Problem, ProblemsFound, has_errors, nearest
from bomkit.tables import INPUTS, RESULTS, SHOP_RESULTS, SHOP_TABLES
from bomkit.workbooks.report import Levelling, Moulds, Prints, Report

Tell = Callable[[str], None]


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
    return inputs, [*inputs.problems, *found]


def _problems(inputs: Inputs, findings: list[Finding]) -> list[Problem]:
    """Findings of planning as problems of the files that the tables were read from."""
    return [inputs.sources[finding.table].problem(finding) for finding in findings]


def weekly_run(location: Path, out: Path, replace: bool, tell: Tell, level: bool = True) -> Run:
    """Plans everything and writes OUT whole or not at all; unlevelled if told so.

    Raises ProblemsFound where the data forbid planning or OUT must not be written.
    """
    out = out.resolve()
    refuse_to_overwrite(out, replace)
    tell("reading the tables")
    inputs, problems = checked_inputs(location)
    if has_errors(problems):
        raise ProblemsFound(problems)
    report = _planned(inputs, tell, level)
    with finished_whole(out) as folder:
        _write_results(folder, inputs, report)
        _write_workbooks(folder, report, tell)
    return Run(out, report, [*problems, *_problems(inputs, mould_findings(report.moulds.wear))])


def _planned(inputs: Inputs, tell: Tell, level: bool) -> Report:
    """The plan of checked tables, as what the workbooks are made from."""
    tables = inputs.tables
    network = build_network(tables)
    settings = tables["plan"].row(0, named=True)
    pull_weeks = settings["pull_ahead_weeks"] if level else 0
    try:
        plan = plan_shops(network, tables, pull_weeks, lambda words: tell(f"planning: {words}"))
    except TooMuch as beyond:
        raise ProblemsFound([_too_much(inputs, str(beyond))]) from beyond
    tell("finding out for whom everything is")
    network = plan.network
    pegged = peg(network, plan.flows, plan.orders)
    pegs = pegs_table(network, pegged, plan.orders)
    worn = mould_report(network, plan.worn, pegs, plan.orders)
    mondays = pl.Series(
        [settings["start"] + timedelta(weeks=week) for week in range(settings["horizon_weeks"])]
    )
    weeks = iso_weeks(mondays).to_list()
    return Report(
        run_id=run_id(inputs),
        start=settings["start"],
        title=settings["title"] or labels.DEFAULT_TITLE,
        tables=tables,
        orders=plan.orders,
        projection=plan.projection,
        needs=needs_table(network, pegged),
        pegs=pegs,
        loads=plan.loads,
        weeks=sorted({*weeks, *network.axis.weeks()}),
        release_weeks=weeks[: settings["release_weeks"]],
        asides=(*_asides(network), *_shop_asides(plan, pull_weeks)),
        prints=Prints(plan.prints.plates, plan.prints.loads, plan.prints.reslicing),
        levelling=Levelling(pull_weeks, plan.moves, plan.value) if pull_weeks else None,
        moulds=Moulds(worn, plan.pulls),
    )


def _shop_asides(plan: ShopPlan, pull_weeks: int) -> Iterator[str]:
    """Sentences on what was pulled forward, and on printers with more hours than there are."""
    if pull_weeks:
        added = plan.value["added"]
        yield labels.LEVELLED.format(
            count=len(plan.moves),
            weeks=pull_weeks,
            most=added.max() or 0.0,
            mean=added.mean() or 0.0,
        )
    over = plan.prints.overloads.sort("week", "kind")
    beyond = over.select("kind", "week", pl.col("hours") - pl.col("capacity"))
    yield from _over(labels.PRINTERS_OVER, labels.PRINTERS_OVER_IN, beyond)
    over = plan.pulls.filter(pl.col("pulls") > pl.col("capacity") * (1 + TOLERANCE))
    beyond = over.sort("week", "item").select("item", "week", pl.col("pulls") - pl.col("capacity"))
    yield from _over(labels.MOULDS_OVER, labels.MOULDS_OVER_IN, beyond)


def _over(sentence: str, each: str, beyond: pl.DataFrame) -> Iterator[str]:
    """The first few of what is above capacity, if anything is; columns as the words name them."""
    if len(beyond):
        named = "; ".join(each.format(**row) for row in beyond.head(5).iter_rows(named=True))
        more = labels.AND_MORE.format(count=len(beyond) - 5) if len(beyond) > 5 else ""
        yield sentence.format(named=f"{named} {more}".strip())


def run_id(inputs: Inputs) -> str:
    """The name of a run: its first ISO week and a digest over all inputs and the version."""
    told = json.dumps([__version__, sorted(inputs.digests.items())])
    start = inputs.tables["plan"]["start"]
    return f"{iso_weeks(start)[0]}-{hashlib.sha256(told.encode()).hexdigest()[:8]}"


def _too_much(inputs: Inputs, item: str) -> Problem:
    """The problem that an item is asked for beyond counting."""
    message = (
        "the structure multiplies to more of this item than can be counted; "
        "look for a quantity or unit that is far too large above it"
    )
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
        for when, words in (("overdue", labels.OVERDUE), ("past", labels.PAST_HORIZON))
        if counts[f"{when}_needs"] or counts[f"{when}_receipts"]
    )


def _named(count: int, orders: pl.Series) -> str:
    """How many open orders, and the names of the first few."""
    names = orders.unique().sort().head(5).to_list()
    return f"{count} ({', '.join(names)}{', ...' if count > len(names) else ''})" if count else "0"


def _write_results(folder: Path, inputs: Inputs, report: Report) -> None:
    """run.json and the result tables."""
    tables = folder / "tables"
    tables.mkdir()
    frames = {"orders": report.orders, "projection": report.projection, "needs": report.needs}
    frames |= {"plates": report.prints.plates, "loads": report.loads}
    for name, table in RESULTS.items():
        frames[name].select(table.column_names).write_parquet(tables / f"{name}.parquet")
    shops = any(len(inputs.tables[name]) for name in SHOP_TABLES)
    left_out = () if shops else (*SHOP_TABLES, *SHOP_RESULTS)
    told = {
        "run_id": report.run_id,
        "start": report.start.isoformat(),
        "inputs": inputs.digests,
        "versions": {"bomkit": __version__, "polars": pl.__version__},
        "counts": {
            **{name: len(inputs.tables[name]) for name in INPUTS if name not in left_out},
            **{name: len(frame) for name, frame in frames.items() if name not in left_out},
            "late_orders": int((report.orders["late_days"] > 0).sum()),
        },
        "asides": report.asides,
    }
    (folder / RUN_FILE).write_text(json.dumps(told, indent=2, sort_keys=True) + "\n")


def _write_workbooks(folder: Path, report: Report, tell: Tell) -> None:
    """The workbooks of every release week, the overview and the shortages."""
    from bomkit.workbooks.buy import buy_book
    from bomkit.workbooks.overview import overview_book
    from bomkit.workbooks.shortages import shortages_book
    from bomkit.workbooks.work import make_book, print_book
    from bomkit.workbooks.write import workbook_bytes

    for week in report.release_weeks:
        tell(f"writing the workbooks of {week}")
        (folder / week).mkdir()
        for name, book in (("make", make_book), ("buy", buy_book), ("print", print_book)):
            (folder / week / f"{name}.xlsx").write_bytes(workbook_bytes(book(report, week)))
    tell("writing the overview")
    (folder / "overview.xlsx").write_bytes(workbook_bytes(overview_book(report)))
    (folder / "shortages.xlsx").write_bytes(workbook_bytes(shortages_book(report)))


def item_outline(location: Path, item: str, serial: str, up: bool, depth: int) -> Node:
    """The tree of an item; raises ProblemsFound for an unknown item or serial, or a loop."""
    inputs = _outlined_inputs(location, item, serial)
    return outline(inputs.tables, item, serial, up, depth)


@dataclass(frozen=True)
class RolledTree:
    """The tree of an item with the amount of each node, and what a summary of it needs."""

    top: Node
    lacking: list[str]  # what has no value and nothing in it that has one
    limit_kg: float | None  # where the mass of an airframe has one


def rolled_outline(location: Path, item: str, serial: str, depth: int, kind: Roll) -> RolledTree:
    """The tree of an item with mass, cost or hours rolled up for one serial number.

    Raises ProblemsFound as item_outline does, and where an item needs a serial but none is given.
    """
    inputs = _outlined_inputs(location, item, serial)
    tables = inputs.tables
    specific = serial_specific_items(tables["structure"], tables["build_plan"])
    if not serial and item in specific:
        known = ", ".join(tables["build_plan"]["serial"].head(1))
        message = f"is configured for each airframe; name one with --serial, such as {known}"
        raise ProblemsFound([Problem(str(location), "", "", item, message)])
    top = outline(tables, item, serial, False, depth)
    rolled = roll_up(tables, kind, [serial])
    add_amounts(top, rolled, serial)
    airframes = pl.concat([tables[name]["item"] for name in ("build_plan", "fleet")])
    limited = kind == "mass" and item in airframes
    limit = tables["plan"]["mass_limit_kg"][0] if limited else None
    return RolledTree(top, rolled.lacking(item, serial), limit)


def _outlined_inputs(location: Path, item: str, serial: str) -> Inputs:
    """The inputs, free of errors and with this item and serial in them, else ProblemsFound."""
    inputs, problems = checked_inputs(location)
    if has_errors(problems):
        raise ProblemsFound(problems)
    asked = [("item", item, inputs.tables["items"]["item"].to_list())]
    if serial:
        known = [*inputs.tables["build_plan"]["serial"], *inputs.tables["fleet"]["serial"]]
        asked.append(("serial", serial, known))
    unknown = [
        Problem(
            str(location), "", "", value, f"is no {what} of these tables; {nearest(value, known)}"
        )
        for what, value, known in asked
        if value not in known
    ]
    if unknown:
        raise ProblemsFound(unknown)
    return inputs
