"""The pegged plan as a graph: who waits for what, and by how many days.

Nodes are the planned orders, the rows of open orders and the demands from outside; an edge leads
from each of them to every supply that one of its needs is pegged to. Phantoms and replaced items
are no nodes: what they hand on is needed by whoever asked for them.
"""

from dataclasses import dataclass

import polars as pl

from bomkit.planning.levels import low_level_codes
from bomkit.planning.network import Network
from bomkit.planning.peg import NOTHING, Pegged
from bomkit.planning.supplies import OPEN_ORDER, PASSED_ON, PLANNED_ORDER, STOCK

DEMAND = "demand"  # the kind of a node that is a demand from outside
IN_WORK = "in work"
NEVER = 1_000_000  # the day on which nothing arrives
_TOP, _BOTTOM = -1, 1_000_000  # levels of demands, and of what is there or never will be


@dataclass(frozen=True)
class PegGraph:
    """nodes: node (its row number), kind (of a supply, or DEMAND), name, key and demand_id (null
    for the other kind), level (a need's is smaller than its supplies'), days (from its beginning to
    its end: the lead time of a planned order, the receipt day of an open one, 0 for a demand).

    edges: need_node, supply_node, lag (days from the need node's beginning to the need), need_day.
    """

    nodes: pl.DataFrame
    edges: pl.DataFrame


def peg_graph(network: Network, orders: pl.DataFrame, pegged: Pegged) -> PegGraph:
    """The graph of a pegged plan; orders: as planned_orders gives them."""
    nodes = _nodes(network, orders, pegged)
    served = _served(pegged, nodes)
    starts = orders.select("start", from_order="order")
    planned = nodes.filter(pl.col("kind") == PLANNED_ORDER)
    of_orders = (
        served.filter(pl.col("from_order") != "")
        .join(planned.select(need_node="node", from_order="name"), on="from_order")
        .join(starts, on="from_order")
        .with_columns(lag=pl.col("day") - pl.col("start"))
    )
    asked = [
        part.select("need_node", "supply_node", "lag", need_day="day")
        for part in (of_orders, *_outside(served, nodes, pegged))
    ]
    levels = nodes.select("node", "level")
    edges = (
        pl.concat(asked)
        .group_by("need_node", "supply_node")
        .agg(pl.col("lag", "need_day").min())
        .join(levels.rename({"node": "need_node", "level": "need_level"}), on="need_node")
        .join(levels.rename({"node": "supply_node", "level": "supply_level"}), on="supply_node")
        # an open order that lacks what is made from itself: a loop that no date can untie
        .filter(pl.col("need_level") < pl.col("supply_level"))
        .sort("need_node", "supply_node")
        .select("need_node", "supply_node", "lag", "need_day")
    )
    return PegGraph(nodes, edges)


def _nodes(network: Network, orders: pl.DataFrame, pegged: Pegged) -> pl.DataFrame:
    """All nodes, with the day on which netting can use a supply."""
    item = pl.col("key") // network.serial_count
    at_hand = pl.DataFrame({"kind": [STOCK, NOTHING], "days": [0, NEVER], "name": ["", ""]})
    receipts = (
        network.receipts.filter(~pl.col("past"))
        .select("key", days="day", usable="day", name="order", kind=pl.lit(OPEN_ORDER))
        .unique()
        .sort("name", "key", "usable")
    )
    leads = network.items.select("item_id", days="lead")
    planned = (
        orders.with_columns(item_id=item)
        .join(leads, on="item_id", maintain_order="left")
        .select("key", "days", "usable", name="order", kind=pl.lit(PLANNED_ORDER))
    )
    outside = pegged.demands.filter(~pl.col("kind").is_in(["stock", "several", IN_WORK])).select(
        "demand_id", name="demand", kind=pl.lit(DEMAND), days=pl.lit(0, pl.Int64)
    )
    level = pl.when(pl.col("kind") == DEMAND).then(_TOP).otherwise("level").fill_null(_BOTTOM)
    return (
        pl.concat([at_hand, receipts, planned, outside], how="diagonal")
        .with_columns(item_id=item)
        .join(_levels(network), on="item_id", how="left", maintain_order="left")
        .with_row_index("node")
        .select(
            pl.col("node").cast(pl.Int64),
            *("kind", "name", "key", "demand_id", "usable", "days"),
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
    of_item = dict(own.rows())
    if all(of_item[parent] < of_item[child] for _, parent, child in links.rows()):
        return own
    lines = network.lines.select(parent="parent_id", child="child_id")
    found = low_level_codes(own["item_id"], pl.concat([lines, links.select("parent", "child")]))
    if len(found.tangled):
        return own
    return found.codes.rename({"item": "item_id"})


def _served(pegged: Pegged, nodes: pl.DataFrame) -> pl.DataFrame:
    """Every peg with supply_node: day, from_order, demand_id, supply_node."""
    pegs = pegged.pegs.filter(pl.col("kind") != PASSED_ON)
    at_hand = nodes.filter(pl.col("key").is_null()).select("kind", supply_node="node")
    known = nodes.select("kind", "key", "usable", supply="name", supply_node="node")
    parts = (
        pegs.join(at_hand, on="kind"),
        pegs.join(known, on=["kind", "key", "usable", "supply"]),
    )
    columns = ("day", "from_order", "demand_id", "supply_node")
    return pl.concat([part.select(columns) for part in parts])


def _outside(
    served: pl.DataFrame, nodes: pl.DataFrame, pegged: Pegged
) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The needs of demands and of open orders in work, each with need_node and lag.

    A demand has no beginning of its own: what counts is when the last of its supplies is there. An
    open order is late by as many days as the latest of what it lacks.
    """
    outside = served.filter(pl.col("from_order") == "")
    of_demands = outside.join(
        nodes.filter(pl.col("kind") == DEMAND).select("demand_id", need_node="node"), on="demand_id"
    ).with_columns(lag=pl.lit(0, pl.Int64))
    in_work = pegged.demands.filter(pl.col("kind") == IN_WORK).select("demand_id", name="demand")
    open_orders = nodes.filter(pl.col("kind") == OPEN_ORDER).select("name", need_node="node")
    of_work = outside.join(in_work.join(open_orders, on="name"), on="demand_id").with_columns(
        lag=pl.col("day")
    )
    return of_demands, of_work
