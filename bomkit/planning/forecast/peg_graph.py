"""The pegged plan as a graph: who waits for what, and by how many days.

Nodes are the planned orders, the rows of open orders and the demands from outside; an edge leads
from each of them to every supply that one of its needs is pegged to. Phantoms and replaced items
are no nodes: what they hand on is needed by whoever asked for them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import NO_ROW, Flags, Ints, each_repeated, heads, in_order, ints
from bomkit.planning.pegging.asked_and_offered import NO_ORDER
from bomkit.planning.pegging.order_of_supplies import OPEN_ORDER, PLANNED_ORDER, STOCK
from bomkit.planning.pegging.peg import NOTHING, Pegged
from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.planning.structure.levels import low_level_codes
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.shared_columns import NEVER

NO_BOUNDS: Mapping[str, int] = {}
DEMAND = "demand"  # the kind of a node that is a demand from outside
IN_WORK = "in work"
_TOP, _BOTTOM = -1, 1_000_000  # levels of demands, and of what is there or never will be
_NOWHERE = 1  # the node of what nothing serves; that of all stock is 0
_SIDES: tuple[Literal["left"], Literal["right"]] = ("left", "right")


@dataclass(frozen=True)
class Askers:
    """Whose nodes they are: of_supply, by supply (that of all stock where it has no own; in
    the end that of nothing); of_order, by planned order; starts, on which day each starts by the
    plan.

    demand, node: of each demand from outside the nodes that ask for it, by demand; in_work: whether
    it is what an open order lacks.
    """

    of_supply: Ints
    of_order: Ints
    starts: Ints
    demand: Ints
    node: Ints
    in_work: Flags


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
    askers: Askers


def peg_graph(
    network: Network,
    orders: pl.DataFrame,
    pegged: Pegged,
    not_before: Mapping[str, int] = NO_BOUNDS,
    known: PegGraph | None = None,
) -> PegGraph:
    """The graph of a pegged plan; orders: as planned_orders gives them.

    not_before: by planned order the day before which it can't begin, whatever lies ready. known:
    the graph of another allocation of the same plan, with the same bounds: it has the same nodes.
    """
    nodes = known.nodes if known else _nodes(network, pegged, not_before)
    askers = known.askers if known else _askers(nodes, pegged, orders)
    need, supply, lag, day = _waiting(askers, pegged)
    order = in_order(need, supply)
    first = heads(need[order], supply[order])
    need, supply = need[order][first], supply[order][first]
    level = ints(nodes["level"])
    # an open order that lacks what is made from itself: a loop that no date can untie
    down = level[need] < level[supply]
    edges = {
        "need_node": need,
        "supply_node": supply,
        "lag": _least(lag[order], first),
        "need_day": _least(day[order], first),
    }
    return PegGraph(
        nodes, pl.DataFrame({name: column[down] for name, column in edges.items()}), askers
    )


def _least(values: Ints, first: Ints) -> Ints:
    """The least of each stretch; first: at which places they begin."""
    return np.minimum.reduceat(values, first) if len(first) else values


def _nodes(network: Network, pegged: Pegged, not_before: Mapping[str, int]) -> pl.DataFrame:
    """All nodes: stock and nothing first, then supplies that come, then demands."""
    reserved = pl.DataFrame({"kind": [STOCK, NOTHING], "days": [0, NEVER], "name": ["", ""]})
    outside = pegged.demands.filter(~pl.col("kind").is_in(["stock", "several", IN_WORK])).select(
        "demand_id", name="demand", kind=pl.lit(DEMAND), days=pl.lit(0, pl.Int64)
    )
    level = pl.when(pl.col("kind") == DEMAND).then(_TOP).otherwise("level").fill_null(_BOTTOM)
    bound = pl.col("name").replace_strict(not_before, default=0, return_dtype=pl.Int64)
    return (
        pl.concat([reserved, _coming(network, pegged), outside], how="diagonal")
        .with_columns(item_id=network.keys.item(pl.col("key")))
        .join(_levels(network), on="item_id", how="left", maintain_order="left")
        .with_row_index("node")
        .select(
            pl.col("node").cast(pl.Int64),
            *("kind", "name", "key", "supply_id", "demand_id", "usable", "days"),
            not_before=pl.when(pl.col("kind") == PLANNED_ORDER).then(bound).otherwise(0),
            level=level.cast(pl.Int64),
        )
    )


def _coming(network: Network, pegged: Pegged) -> pl.DataFrame:
    """The supplies that come, as nodes."""
    supplies = pegged.supplies
    coming = supplies.filter(supplies["kind"].is_in([OPEN_ORDER, PLANNED_ORDER]))
    lead = network.items["lead"][network.keys.item(ints(coming["key"]))]
    return coming.select(
        *("key", "supply_id", "kind", "usable"),
        name="supply",
        days=pl.when(pl.col("kind") == OPEN_ORDER).then("usable").otherwise(lead),
    )


def _levels(network: Network) -> pl.DataFrame:
    """item_id, level, by which what an open order lacks lies below what it makes.

    Where that would make a loop, the levels of the structure stay.
    """
    own = network.items.select("item_id", "level")
    if not (network.demands["kind"] == IN_WORK).any():
        return own
    item = network.keys.item(pl.col("key"))
    lacking = network.demands.filter(pl.col("kind") == IN_WORK).select(order="demand", child=item)
    links = network.receipts.select("order", parent=item).join(lacking, on="order")
    of_item = dict(own.rows()) if len(links) else {}
    if all(of_item[parent] < of_item[child] for _, parent, child in links.rows()):
        return own
    lines = network.lines.select(parent="parent_id", child="child_id")
    levels = low_level_codes(own["item_id"], pl.concat([lines, links.select("parent", "child")]))
    if len(levels.tangled):
        return own
    return levels.codes.rename({"item": "item_id"})


def _askers(nodes: pl.DataFrame, pegged: Pegged, orders: pl.DataFrame) -> Askers:
    """Whose the nodes are.

    A demand has no beginning of its own: what counts is when the last of its supplies is there. An
    open order is late by as many days as the latest of what it lacks.
    """
    coming = nodes.filter(pl.col("supply_id").is_not_null())
    of_supply = np.zeros(len(pegged.supplies) + 1, np.int64)
    of_supply[NO_ROW] = _NOWHERE
    of_supply[ints(coming["supply_id"])] = ints(coming["node"])
    order = pegged.ground.offered.order_id
    made = np.flatnonzero(order != NO_ORDER)
    of_order = np.zeros(len(orders), np.int64)
    of_order[order[made]] = of_supply[made]
    of_demands = nodes.filter(pl.col("kind") == DEMAND)
    of_work = _in_work(nodes, pegged)
    demand, node = (
        np.concatenate([ints(part[name]) for part in (of_demands, of_work)])
        for name in ("demand_id", "node")
    )
    in_work = np.arange(len(demand)) >= len(of_demands)
    outside = in_order(demand, node)
    return Askers(
        of_supply=of_supply,
        of_order=of_order,
        starts=ints(orders["start"]),
        demand=demand[outside],
        node=node[outside],
        in_work=in_work[outside],
    )


def _in_work(nodes: pl.DataFrame, pegged: Pegged) -> pl.DataFrame:
    """The demands of what open orders lack, demand_id, each with node: that of the order."""
    lacking = pegged.demands.filter(pl.col("kind") == IN_WORK).select("demand_id", name="demand")
    if lacking.is_empty():
        return pl.DataFrame(schema={"demand_id": pl.Int64, "node": pl.Int64})
    open_orders = nodes.filter(pl.col("kind") == OPEN_ORDER).select("name", "node")
    return lacking.join(open_orders, on="name")


def _waiting(askers: Askers, pegged: Pegged) -> tuple[Ints, Ints, Ints, Ints]:
    """Of every peg, but for what is passed on, need node, supply node, lag and day of the need."""
    pegs = pegged.rows_by_order
    supply, day = pegs["supply_id"], pegs["day"]
    order, demand = pegs["from_id"], pegs["demand_id"]
    node = askers.of_supply[supply]
    counts = ~np.append(pegged.ground.offered.passing, False)[supply]
    of_orders = np.flatnonzero(counts & (order != OUTSIDE))
    outside = np.flatnonzero(counts & (order == OUTSIDE))
    low, high = (np.searchsorted(askers.demand, demand[outside], side) for side in _SIDES)
    asker, row = each_repeated(low, high - low), np.repeat(outside, high - low)
    lags = (
        day[of_orders] - askers.starts[order[of_orders]],
        np.where(askers.in_work[asker], day[row], 0),
    )
    needs = (askers.of_order[order[of_orders]], askers.node[asker])
    rows = np.concatenate([of_orders, row])
    return np.concatenate(needs), node[rows], np.concatenate(lags), day[rows]
