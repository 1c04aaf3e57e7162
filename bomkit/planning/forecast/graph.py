"""The pegged plan as a graph: who waits for what, and by how many days.

Nodes are the planned orders, the rows of open orders and the demands from outside; an edge leads
from each of them to every supply that one of its needs is pegged to. Phantoms and replaced items
are no nodes: what they hand on is needed by whoever asked for them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import polars as pl

from bomkit.planning.network import Network
from bomkit.planning.pegging.demands import OUTSIDE
from bomkit.planning.pegging.peg import NOTHING, Pegged
from bomkit.planning.pegging.supplies import OPEN_ORDER, PASSED_ON, PLANNED_ORDER, STOCK
from bomkit.planning.structure.levels import low_level_codes

NO_BOUNDS: Mapping[str, int] = {}
DEMAND = "demand"  # the kind of a node that is a demand from outside
IN_WORK = "in work"
NEVER = 1_000_000  # the day on which nothing arrives
_TOP, _BOTTOM = -1, 1_000_000  # levels of demands, and of what is there or never will be
_NOWHERE = 1  # the node of what nothing serves; that of all stock is 0


@dataclass(frozen=True)
class PegGraph:
    """nodes: node (its row number), kind (of a supply, or DEMAND), name, key, supply_id and
    demand_id (null where it has none), not_before (the day before which it can't begin), level (a
    need's is smaller than its supplies'), days (from its beginning to its end: the lead time of a
    planned order, the receipt day of an open one, 0 for a demand).

    edges: need_node, supply_node, lag (days from the need node's beginning to the need), need_day.
    """

    nodes: pl.DataFrame
    edges: pl.DataFrame


def peg_graph(
    network: Network,
    orders: pl.DataFrame,
    pegged: Pegged,
    not_before: Mapping[str, int] = NO_BOUNDS,
) -> PegGraph:
    """The graph of a pegged plan; orders: as planned_orders gives them.

    not_before: by planned order the day before which it can't begin, whatever lies ready.
    """
    nodes = _nodes(network, pegged, not_before)
    served = _served(pegged, nodes)
    by_supply = _node_of(nodes, "supply_id", len(pegged.supplies))
    made = pegged.supplies.select("order_id", "supply_id").drop_nulls()
    by_order = pl.zeros(len(orders), pl.Int64, eager=True).scatter(
        made["order_id"], by_supply.gather(made["supply_id"])
    )
    of_orders = served.filter(pl.col("from_id") != OUTSIDE)
    starts = orders["start"].gather(of_orders["from_id"])
    of_orders = of_orders.with_columns(
        need_node=by_order.gather(of_orders["from_id"]), lag=pl.col("day") - starts
    )
    asked = [
        part.select("need_node", "supply_node", "lag", need_day="day")
        for part in (of_orders, *_outside(served, nodes, pegged))
    ]
    level = nodes["level"]
    edges = (
        pl.concat(asked)
        .group_by("need_node", "supply_node")
        .agg(pl.col("lag", "need_day").min())
        .sort("need_node", "supply_node")
    )
    # an open order that lacks what is made from itself: a loop that no date can untie
    down = level.gather(edges["need_node"]) < level.gather(edges["supply_node"])
    return PegGraph(nodes, edges.filter(down))


def _nodes(network: Network, pegged: Pegged, not_before: Mapping[str, int]) -> pl.DataFrame:
    """All nodes: stock and nothing first, then supplies that come, then demands."""
    reserved = pl.DataFrame({"kind": [STOCK, NOTHING], "days": [0, NEVER], "name": ["", ""]})
    leads = network.items.select("item_id", "lead")
    item = pl.col("key") // network.serial_count
    coming = (
        pegged.supplies.filter(pl.col("kind").is_in([OPEN_ORDER, PLANNED_ORDER]))
        .with_columns(item_id=item)
        .join(leads, on="item_id", maintain_order="left")
        .select(
            *("key", "supply_id", "kind", "usable"),
            name="supply",
            days=pl.when(pl.col("kind") == OPEN_ORDER).then("usable").otherwise("lead"),
        )
    )
    outside = pegged.demands.filter(~pl.col("kind").is_in(["stock", "several", IN_WORK])).select(
        "demand_id", name="demand", kind=pl.lit(DEMAND), days=pl.lit(0, pl.Int64)
    )
    level = pl.when(pl.col("kind") == DEMAND).then(_TOP).otherwise("level").fill_null(_BOTTOM)
    return (
        pl.concat([reserved, coming, outside], how="diagonal")
        .with_columns(item_id=item)
        .join(_levels(network), on="item_id", how="left", maintain_order="left")
        .with_row_index("node")
        .select(
            pl.col("node").cast(pl.Int64),
            *("kind", "name", "key", "supply_id", "demand_id", "usable", "days"),
            not_before=pl.when(pl.col("kind") == PLANNED_ORDER)
            .then(pl.col("name").replace_strict(not_before, default=0, return_dtype=pl.Int64))
            .otherwise(0),
            level=level.cast(pl.Int64),
        )
    )


def _levels(network: Network) -> pl.DataFrame:
    """item_id, level, by which what an open order lacks lies below what it makes.

    Where that would make a loop, the levels of the structure stay.
    """
    own = network.items.select("item_id", "level")
    item = pl.col("key") // network.serial_count
    lacking = network.demands.filter(pl.col("kind") == IN_WORK).select(order="demand", child=item)
    links = network.receipts.select("order", parent=item).join(lacking, on="order")
    of_item = dict(own.rows()) if len(links) else {}
    if all(of_item[parent] < of_item[child] for _, parent, child in links.rows()):
        return own
    lines = network.lines.select(parent="parent_id", child="child_id")
    found = low_level_codes(own["item_id"], pl.concat([lines, links.select("parent", "child")]))
    if len(found.tangled):
        return own
    return found.codes.rename({"item": "item_id"})


def _node_of(nodes: pl.DataFrame, column: str, count: int) -> pl.Series:
    """The node of each supply or demand by its number; the node of stock for all others."""
    named = nodes.filter(pl.col(column).is_not_null())
    return pl.zeros(count, pl.Int64, eager=True).scatter(named[column], named["node"])


def _served(pegged: Pegged, nodes: pl.DataFrame) -> pl.DataFrame:
    """Every peg with its supply_node: day, from_id, demand_id, supply_node."""
    node_of = _node_of(nodes, "supply_id", len(pegged.supplies))
    place = pegged.pegs["supply_id"]
    passing = (pegged.supplies["kind"] == PASSED_ON).gather(place).fill_null(False)
    return (
        pegged.pegs.with_columns(supply_node=node_of.gather(place).fill_null(_NOWHERE))
        .filter(~passing)
        .select("day", "from_id", "demand_id", "supply_node")
    )


def _outside(
    served: pl.DataFrame, nodes: pl.DataFrame, pegged: Pegged
) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The needs of demands and of open orders in work, each with need_node and lag.

    A demand has no beginning of its own: what counts is when the last of its supplies is there. An
    open order is late by as many days as the latest of what it lacks.
    """
    outside = served.filter(pl.col("from_id") == OUTSIDE)
    of_demands = outside.join(
        nodes.filter(pl.col("kind") == DEMAND).select("demand_id", need_node="node"), on="demand_id"
    ).with_columns(lag=pl.lit(0, pl.Int64))
    in_work = pegged.demands.filter(pl.col("kind") == IN_WORK).select("demand_id", name="demand")
    open_orders = nodes.filter(pl.col("kind") == OPEN_ORDER).select("name", need_node="node")
    of_work = outside.join(in_work.join(open_orders, on="name"), on="demand_id").with_columns(
        lag=pl.col("day")
    )
    return of_demands, of_work
