"""The plan of checked tables, as what the workbooks are made from."""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import timedelta
from typing import Any

import polars as pl

from bomkit import __version__
from bomkit.checks.everything import Inputs
from bomkit.planning.buying.buy_lines import buy_lines
from bomkit.planning.buying.cash import cash_by_week
from bomkit.planning.buying.deliverers import deliverers
from bomkit.planning.buying.fill_ups import fill_ups
from bomkit.planning.buying.moves import Thresholds, proposed_moves, with_gains
from bomkit.planning.buying.relief import relief
from bomkit.planning.fleet.inspections import forecast_demands, inspections_due
from bomkit.planning.forecast.graph import NEVER
from bomkit.planning.netting.flows import TooMuch
from bomkit.planning.netting.orders import needs_table
from bomkit.planning.network import Network, Tables, build_network
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.shop_loads import shop_loads
from bomkit.planning.shop_plan import ShopPlan
from bomkit.planning.shops.moulds.pulls import mould_loads
from bomkit.planning.stores import Stores, no_forecast, stores_tables
from bomkit.planning.usual_places import usual_places
from bomkit.planning.workdays import iso_weeks
from bomkit.problems import ProblemsFound
from bomkit.runs.allotted import Given, Wear, allotted
from bomkit.runs.as_moved import as_moved
from bomkit.runs.asides import allocation_asides, demand_asides, inspections_aside, shop_asides
from bomkit.runs.checked import too_much
from bomkit.words import common
from bomkit.workbooks.report import Levelling, Moulds, Prints, Report

Tell = Callable[[str], None]


@dataclass(frozen=True)
class Choices:
    """What is chosen for a run."""

    stores: bool = True  # the forecast, the shortages and the pick lists
    inspections: bool = False  # what the fleet's inspections take is planned as forecast demand
    level: bool = True  # work is pulled forward as pull_ahead_weeks says
    pick_sheets: bool = False  # besides rounds and cart lists, a pick sheet for each order
    as_moved: bool = False  # open orders come as the proposed moves would have them


USUAL = Choices()


def planned(inputs: Inputs, choices: Choices, tell: Tell) -> Report:
    """The plan of checked tables, as what the workbooks are made from."""
    tables = inputs.tables
    inspections = inspections_due(tables)
    foreseen = forecast_demands(inspections) if choices.inspections else None
    settings = tables["plan"].row(0, named=True)
    pull_weeks = settings["pull_ahead_weeks"] if choices.level else 0
    least = Thresholds(settings["move_days"], settings["move_share"])
    agreed: tuple[str, ...] = ()
    try:
        if choices.as_moved:
            tables, agreed = as_moved(tables, foreseen, pull_weeks, least, tell)
        network = build_network(tables, foreseen)
        plan, given = allotted(network, tables, pull_weeks, choices.stores, tell)
    except TooMuch as beyond:
        raise ProblemsFound([too_much(inputs, beyond)]) from beyond
    tell("telling what comes when")
    return Report(
        run_id=run_id(inputs, choices),
        start=settings["start"],
        title=settings["title"] or common.DEFAULT_TITLE,
        tables=tables,
        **_told(plan, given, tables, least, pull_weeks),
        asides=(
            *(*agreed, *demand_asides(plan.network)),
            *inspections_aside(inspections, choices.inspections),
            *(*shop_asides(plan, pull_weeks), *allocation_asides(plan.network, given)),
        ),
        inspections=inspections,
        inspections_planned=choices.inspections,
        changed=None,
    )


def _told(
    plan: ShopPlan, given: Given, tables: Tables, least: Thresholds, pull_weeks: int
) -> dict[str, Any]:
    """The plan with all that stands on it, by the names of a report."""
    network, orders, wear = plan.network, plan.orders, given.wear
    settings = tables["plan"].row(0, named=True)
    weeks = _weeks(settings)
    lists = weeks[: settings["list_weeks"]]
    waiting = _waiting(given.stores, network, given.pegged, orders)
    pulls = mould_loads(network, orders, tables["moulds"], wear.gaps, plan.in_work)
    plan = replace(plan, pulls=pulls)
    return {
        "orders": orders,
        "projection": plan.projection,
        "needs": needs_table(network, given.pegged, orders),
        **waiting,
        **_buying(plan, given.stores, tables, waiting["pegs"], least, lists),
        **_shops(plan, wear, tables, pull_weeks),
        "usual_places": usual_places(tables["stock"]),
        "weeks": sorted({*weeks, *network.axis.weeks()}),
        "list_weeks": lists,
    }


def _waiting(
    stores: Stores | None, network: Network, pegged: Pegged, orders: pl.DataFrame
) -> dict[str, Any]:
    """What comes when and who waits, by the names of a report."""
    return stores_tables(stores) if stores else no_forecast(network, pegged, orders)


def _weeks(settings: Mapping[str, Any]) -> list[str]:
    """The ISO weeks of the horizon; settings: the row of plan."""
    weeks = range(settings["horizon_weeks"])
    return iso_weeks(
        pl.Series([settings["start"] + timedelta(weeks=week) for week in weeks])
    ).to_list()


def _buying(
    plan: ShopPlan,
    stores: Stores | None,
    tables: Tables,
    pegs: pl.DataFrame,
    least: Thresholds,
    weeks: list[str],
) -> dict[str, Any]:
    """What the buyer's desk is told, by the names of a report; weeks: those with lists."""
    network, orders = plan.network, plan.orders
    moves = proposed_moves(network, plan.flows, tables["items"], least)
    lines = buy_lines(network, tables, orders)
    return {
        "moves": with_gains(moves, pegs),
        "relief": relief(stores, moves),
        "deliverers": deliverers(tables),
        "buy_lines": lines,
        "cash": cash_by_week(network, tables, lines),
        "to_add": fill_ups(tables, orders, lines, weeks),
    }


def _shops(plan: ShopPlan, wear: Wear, tables: Tables, pull_weeks: int) -> dict[str, Any]:
    """What the shops are told, by the names of a report."""
    axis = plan.network.axis
    again = {order: axis.date(day) if day < NEVER else None for order, day in wear.again.items()}
    return {
        "loads": plan.loads,
        "shop_loads": shop_loads(plan, tables),
        "prints": Prints(plan.prints.plates, plan.prints.loads, plan.prints.reslicing),
        "levelling": Levelling(pull_weeks, plan.moves, plan.value) if pull_weeks else None,
        "moulds": Moulds(wear.report, plan.pulls, again),
    }


def run_id(inputs: Inputs, choices: Choices) -> str:
    """The name of a run: its first ISO week and a digest over inputs, choices and the version."""
    chosen = asdict(choices)
    if choices.level:
        del chosen["level"]  # as it was before there was a choice
    if not choices.as_moved:
        del chosen["as_moved"]
    del chosen["pick_sheets"]  # the plan and all other workbooks are the same
    told = json.dumps([__version__, chosen, sorted(inputs.digests.items())])
    start = inputs.tables["plan"]["start"]
    return f"{iso_weeks(start)[0]}-{hashlib.sha256(told.encode()).hexdigest()[:8]}"
