"""One allocation for every list: pegs, forecast, chains, what can start, promises and packing."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import polars as pl

from bomkit.planning.forecast.forecast import Forecast, forecast
from bomkit.planning.forecast.from_house import finishable
from bomkit.planning.forecast.graph import NO_BOUNDS, PegGraph, peg_graph
from bomkit.planning.forecast.ready import ready_table
from bomkit.planning.forecast.stand_ins import no_stand_ins, stand_ins
from bomkit.planning.forecast.tables import forecast_table, pacing_table, pegs_table
from bomkit.planning.netting.flows import Flows
from bomkit.planning.network import Network, Tables
from bomkit.planning.pegging.lasting import Foreseen
from bomkit.planning.pegging.peg import Pegged, peg
from bomkit.planning.promises.packing import GROUNDED, Allocation, Packer
from bomkit.planning.promises.promise_tables import Harm, promise_tables
from bomkit.planning.settling import Made, later_than, settled
from bomkit.tables.results.stores import FORECAST, PACING, PACKING, PROMISES, READY

Bounds = Callable[[Pegged], Mapping[str, int]]  # by order the day before which it can't begin
_MOST_GROUNDED = 20  # orders for each of which all is given out again without it


@dataclass(frozen=True)
class Stores:
    """The allocation of a plan and its forecast, with what it was made from.

    by_plan: the pegs by the plan's own days; foreseen: the days that the allocation counted on;
    graph: who waits for what; moved: how many supplies come on another day by the forecast of the
    allocation itself, so that another one could differ.
    """

    network: Network
    tables: Tables
    flows: Flows
    orders: pl.DataFrame
    pegged: Pegged
    by_plan: Pegged
    foreseen: Foreseen
    graph: PegGraph
    ahead: Forecast
    given: Allocation
    moved: int


def allocated(
    network: Network,
    tables: Tables,
    flows: Flows,
    orders: pl.DataFrame,
    bounds: Bounds = lambda pegged: NO_BOUNDS,
) -> Stores:
    """Gives everything out by the plan's own days, and again by the days of the forecast."""
    first = peg(network, flows, orders, tables)
    turn = settled(Made(network, tables, flows, orders, bounds(first)), first)
    return Stores(
        *(network, tables, flows, orders, turn.pegged, first, turn.counted_on, turn.graph),
        ahead=forecast(turn.graph),
        given=Allocation(turn.pegged, turn.arrivals, turn.box, turn.foreseen.leaves),
        moved=turn.moved,
    )


def stores_tables(stores: Stores) -> dict[str, pl.DataFrame]:
    """The tables pegs (and from_order), forecast, pacing, ready, stand_ins, promises, packing."""
    network, orders, ahead = stores.network, stores.orders, stores.ahead
    pegs = pegs_table(network, stores.pegged, orders, ahead.nodes)
    pacing = pacing_table(network, stores.pegged, ahead)
    late = pegs.filter(pl.col("late_days") > 0)
    spared = _without_grounded(stores)
    harms = {order: _harm(stores, pegged) for order, pegged in spared.items()}
    packer = Packer(network, stores.tables, stores.given, spared)
    return {
        "pegs": pegs,
        "pacing": pacing,
        "forecast": forecast_table(network, stores.pegged, ahead, pacing, finishable(network)),
        "ready": ready_table(network, orders, pegs, ahead),
        "stand_ins": stand_ins(network, stores.tables, stores.pegged, late),
        **promise_tables(network, packer, harms),
    }


def _without_grounded(stores: Stores) -> dict[str, Pegged]:
    """By grounded order the same allocation without it."""
    grounded = stores.pegged.demands.filter(pl.col("kind") == GROUNDED)
    orders = grounded["demand"].unique().sort().head(_MOST_GROUNDED)
    return {
        order: without(stores, grounded.filter(pl.col("demand") == order)["demand_id"])
        for order in orders
    }


def without(stores: Stores, left_out: pl.Series) -> Pegged:
    """The same allocation without some demands, by number."""
    return peg(
        stores.network,
        stores.flows,
        stores.orders,
        stores.tables,
        stores.foreseen,
        left_out,
        stores.pegged,
    )


def _harm(stores: Stores, spared: Pegged) -> Harm:
    """Whom a grounded order makes later the most, and by how many days; spared: without it."""
    graph = peg_graph(stores.network, stores.orders, spared, known=stores.graph)
    later = (
        later_than(graph, stores.ahead.demands)
        .filter(pl.col("late_days") > 0)
        .join(stores.pegged.demands, on="demand_id")
        .sort("days", "rank", "date", "demand", descending=[True, False, False, False])
    )
    if later.is_empty():
        return ("", "", 0)
    worst = later.row(0, named=True)
    return (worst["demand"], worst["kind"], min(worst["days"], worst["late_days"]))


def no_forecast(network: Network, pegged: Pegged, orders: pl.DataFrame) -> dict[str, pl.DataFrame]:
    """The same tables where nobody wants a forecast: orders come by their own lead time."""
    return {
        "pegs": pegs_table(network, pegged, orders, None),
        "pacing": PACING.empty(),
        "forecast": FORECAST.empty(),
        "ready": READY.empty(),
        "stand_ins": no_stand_ins(),
        "promises": PROMISES.empty(),
        "packing": PACKING.empty(),
    }
