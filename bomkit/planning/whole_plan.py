"""Everything that is planned, from the checked tables to the result tables."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

import polars as pl

from bomkit.planning.allocation import no_forecast, stores_tables
from bomkit.planning.buying.buy_lines import buy_lines
from bomkit.planning.buying.cash import cash_by_week
from bomkit.planning.buying.gained_by_asking import relief
from bomkit.planning.buying.moves import Thresholds, proposed_moves, with_gains
from bomkit.planning.buying.supplier_minimum import fill_ups
from bomkit.planning.buying.suppliers_of_open_orders import deliverers
from bomkit.planning.every_need_served import Given, Wear, allotted
from bomkit.planning.fleet.inspections_due import inspection_demands, inspections_due
from bomkit.planning.forecast.peg_tables import needs_table
from bomkit.planning.planned_as_moved import Agreed, all_agreed
from bomkit.planning.shop_loads import shop_loads
from bomkit.planning.shop_plan import ShopPlan
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.planning.usual_places import usual_places
from bomkit.tables.results.finished_plan import USUAL, Choices, FinishedPlan, Levelling, Moulds
from bomkit.tables.schema import Tables
from bomkit.tables.shared_columns import NEVER
from bomkit.tables.weeks import week_of
from bomkit.words.progress import Tell, silent

Frames = dict[str, pl.DataFrame]


@dataclass(frozen=True)
class WholePlan:
    """finished: what the workbooks are made from; shops, given: what it was read off; agreed: the
    moves that count as agreed, if they do."""

    finished: FinishedPlan
    shops: ShopPlan
    given: Given
    agreed: Agreed | None


def whole_plan(tables: Tables, choices: Choices = USUAL, tell: Tell = silent) -> WholePlan:
    """The plan of checked tables with all that stands on it; tell: is given a word now and then.

    Raises TooMuch where quantities go beyond counting.
    """
    settings = tables["plan"].row(0, named=True)
    inspections = inspections_due(tables)
    foreseen = inspection_demands(inspections) if choices.inspections else None
    pull_weeks = settings["pull_ahead_weeks"] if choices.level else 0
    least = Thresholds(settings["move_days"], settings["move_share"])
    agreed = None
    if choices.as_moved:
        agreed = all_agreed(tables, foreseen, pull_weeks, least, tell)
        tables = agreed.tables
    network = build_network(tables, foreseen)
    plan, given = allotted(network, tables, pull_weeks, choices.stores, tell)
    tell("telling what comes when")
    results = _results(plan, given, tables, least) | {"inspections": inspections}
    levelling = Levelling(pull_weeks, plan.moves, plan.value) if pull_weeks else None
    return WholePlan(
        _finished(plan, given, tables, results, levelling, choices), plan, given, agreed
    )


def _finished(
    plan: ShopPlan,
    given: Given,
    tables: Tables,
    results: Frames,
    levelling: Levelling | None,
    choices: Choices,
) -> FinishedPlan:
    """The plan with all that stands on it; results: as _results gives them."""
    settings = tables["plan"].row(0, named=True)
    weeks = _weeks(settings)
    lists = weeks[: settings["list_weeks"]]
    return FinishedPlan(
        choices=choices,
        tables=tables,
        results=results,
        relief=relief(given.stores, results["moves"]),
        deliverers=deliverers(tables),
        to_add=fill_ups(tables, plan.orders, results["buy_lines"], lists),
        usual_places=usual_places(tables["stock"]),
        weeks=sorted({*weeks, *plan.network.axis.weeks()}),
        list_weeks=lists,
        printers=plan.prints.loads,
        reslicing=plan.prints.reslicing,
        levelling=levelling,
        moulds=_moulds(plan, given.wear),
    )


def _results(plan: ShopPlan, given: Given, tables: Tables, least: Thresholds) -> Frames:
    """The result tables that are read off a plan, and stand_ins, by name."""
    network, orders = plan.network, plan.orders
    stores = (
        stores_tables(given.stores) if given.stores else no_forecast(network, given.pegged, orders)
    )
    moves = proposed_moves(network, plan.flows, tables["items"], least)
    lines = buy_lines(network, tables, orders)
    return {
        "orders": orders,
        "projection": plan.projection,
        "needs": needs_table(network, given.pegged, orders),
        **stores,
        "plates": plan.prints.plates,
        "loads": plan.loads,
        "shop_loads": shop_loads(plan, tables),
        "moves": with_gains(moves, stores["pegs"]),
        "buy_lines": lines,
        "cash": cash_by_week(network, tables, lines),
    }


def _weeks(settings: Mapping[str, Any]) -> list[str]:
    """The ISO weeks of the horizon; settings: the row of plan."""
    weeks = range(settings["horizon_weeks"])
    return [week_of(settings["start"] + timedelta(weeks=week)) for week in weeks]


def _moulds(plan: ShopPlan, wear: Wear) -> Moulds:
    """What the moulds do."""
    axis = plan.network.axis
    again = {order: axis.date(day) if day < NEVER else None for order, day in wear.again.items()}
    return Moulds(wear.report, plan.pulls, again)
