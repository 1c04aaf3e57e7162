"""What it saves to ring a supplier: airframes ready earlier if all that is asked came sooner."""

import polars as pl

from bomkit.planning.allocation import Stores
from bomkit.planning.buying.suppliers_of_open_orders import deliverers
from bomkit.planning.forecast.days_from_parts import ForwardPass
from bomkit.planning.forecast.peg_graph import DEMAND, PegGraph
from bomkit.planning.pegging.order_of_supplies import OPEN_ORDER
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables

SCHEMA = {"supplier": pl.String(), "demand": pl.String(), "saved": pl.Int64()}


def relief(stores: Stores | None, moves: pl.DataFrame) -> pl.DataFrame:
    """supplier, demand, saved: by how many working days an airframe is late less.

    Each supplier is looked at alone: all that is asked to come sooner of it comes as asked. moves:
    the result table; stores: none gives no rows, as there is no forecast.
    """
    if stores is None:
        return pl.DataFrame(schema=SCHEMA)
    graph = stores.turn.graph
    waiting = _late_airframes(stores, graph)
    moved = _moved(stores.made.network, graph, _asked(stores.made.tables, moves))
    passes = ForwardPass(graph)
    pacing = stores.ahead.chains.filter(pl.col("demand_id").is_in(waiting["demand_id"].implode()))
    before = passes.run(passes.days)[1]
    savings = []
    for (supplier,), own in moved.partition_by("supplier", as_dict=True).items():
        if not own["node"].is_in(pacing["node"].implode()).any():
            continue  # an airframe comes no sooner unless something on the chain that paces it does
        days = passes.days
        days[own["node"].to_numpy()] -= own["days"].to_numpy()
        earlier = before - passes.run(days)[1]
        for demand, late_days, node in waiting.select("demand", "late_days", "node").iter_rows():
            gain = int(min(late_days, earlier[node]))
            if gain > 0:
                savings.append((supplier, demand, gain))
    table = pl.DataFrame(savings, schema=SCHEMA, orient="row")
    return table.sort("supplier", "saved", "demand", descending=[False, True, False])


def _late_airframes(stores: Stores, graph: PegGraph) -> pl.DataFrame:
    """demand_id, demand, late_days, node of the airframes that are forecast late, by name."""
    late = stores.ahead.demands.filter(pl.col("late_days") > 0).select("demand_id", "late_days")
    airframes = stores.pegged.demands.filter(pl.col("kind") == "airframe")
    nodes = graph.nodes.filter(pl.col("kind") == DEMAND).select("demand_id", "node")
    named = late.join(airframes, on="demand_id").join(nodes, on="demand_id")
    return named.select("demand_id", "demand", "late_days", "node").sort("demand")


def _asked(tables: Tables, moves: pl.DataFrame) -> pl.DataFrame:
    """supplier, order, item, serial, due_date, days of what is asked to come sooner."""
    usual = tables["items"].filter(pl.col("source") == "buy").select("item", usual="supplier")
    return (
        moves.filter(pl.col("kind") == "sooner")
        .unique(["order", "item", "serial", "due_date"], keep="first", maintain_order=True)
        .join(usual, on="item")
        .join(deliverers(tables), on=["order", "item"], how="left")
        .select("order", "item", "serial", "due_date", "days", supplier=pl.coalesce("by", "usual"))
    )


def _moved(network: Network, graph: PegGraph, asked: pl.DataFrame) -> pl.DataFrame:
    """supplier, node, days of the open orders that are asked to come sooner."""
    orders = graph.nodes.filter(pl.col("kind") == OPEN_ORDER).select(
        "node", "key", day="usable", order="name"
    )
    due = network.named(network.receipts.select("key", "day", "order", due_date="date").unique())
    named = orders.join(due, on=["key", "day", "order"]).join(
        asked, on=["order", "item", "serial", "due_date"]
    )
    return named.select("supplier", "node", "days").sort("supplier", "node")
