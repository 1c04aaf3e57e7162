"""What it saves to ring a supplier: airframes ready earlier if all that is asked came sooner."""

import polars as pl

from bomkit.planning.forecast.forward_pass import ForwardPass
from bomkit.planning.forecast.graph import DEMAND, PegGraph, peg_graph
from bomkit.planning.network import Network, Tables
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.pegging.supplies import OPEN_ORDER
from bomkit.planning.stores import Stores

SCHEMA = {"supplier": pl.String(), "demand": pl.String(), "saved": pl.Int64()}


def relief(stores: Stores | None, moves: pl.DataFrame) -> pl.DataFrame:
    """supplier, demand, saved: by how many working days an airframe is late less.

    Each supplier is looked at alone: all that is asked to come sooner of it comes as asked. moves:
    the result table; stores: none gives no rows, as there is no forecast.
    """
    if stores is None:
        return pl.DataFrame(schema=SCHEMA)
    graph = peg_graph(stores.network, stores.orders, stores.pegged, stores.not_before)
    late = stores.ahead.demands.select("demand_id", "late_days")
    return saved(stores.network, graph, stores.pegged, late, _asked(stores.tables, moves))


def _asked(tables: Tables, moves: pl.DataFrame) -> pl.DataFrame:
    """supplier, order, item, days of what is asked to come sooner, one row an open order."""
    usual = tables["items"].filter(pl.col("source") == "buy").select("item", usual="supplier")
    orders = tables["open_orders"].select("order", "item", "supplier").unique(["order", "item"])
    own = pl.when(pl.col("supplier") != "").then("supplier").otherwise("usual")
    return (
        moves.filter(pl.col("kind") == "sooner")
        .sort("order", "item", "due_date")
        .unique(["order", "item"], keep="first", maintain_order=True)
        .join(usual, on="item")
        .join(orders, on=["order", "item"])
        .select("order", "item", "days", supplier=own)
    )


def saved(
    network: Network, graph: PegGraph, pegged: Pegged, late: pl.DataFrame, asked: pl.DataFrame
) -> pl.DataFrame:
    """The same; graph: the pegged plan; late: demand_id and late_days of the forecast; asked:
    supplier, order, item, days (sooner)."""
    airframes = pegged.demands.filter(pl.col("kind") == "airframe").select("demand_id", "demand")
    waiting = late.filter(pl.col("late_days") > 0).join(airframes, on="demand_id")
    nodes = graph.nodes.filter(pl.col("kind") == DEMAND).select("demand_id", "node")
    waiting = waiting.join(nodes, on="demand_id").sort("demand")
    if waiting.is_empty() or asked.is_empty():
        return pl.DataFrame(schema=SCHEMA)
    moved = _moved(network, graph, asked)
    passes = ForwardPass(graph)
    before = passes.run(passes.days)[1]
    found = []
    for (supplier,), own in moved.partition_by("supplier", as_dict=True).items():
        days = passes.days
        days[own["node"].to_numpy()] -= own["days"].to_numpy()
        earlier = before - passes.run(days)[1]
        for demand, late_days, node in waiting.select("demand", "late_days", "node").iter_rows():
            gain = int(min(late_days, earlier[node]))
            if gain > 0:
                found.append((supplier, demand, gain))
    table = pl.DataFrame(found, schema=SCHEMA, orient="row")
    return table.sort("supplier", "saved", "demand", descending=[False, True, False])


def _moved(network: Network, graph: PegGraph, asked: pl.DataFrame) -> pl.DataFrame:
    """supplier, node, days of the open orders that are asked to come sooner."""
    items = network.items.select("item_id", "item")
    orders = graph.nodes.filter(pl.col("kind") == OPEN_ORDER).select(
        "node", order="name", item_id=pl.col("key") // network.serial_count
    )
    named = orders.join(items, on="item_id").join(asked, on=["order", "item"])
    return named.select("supplier", "node", "days").sort("supplier", "node")
