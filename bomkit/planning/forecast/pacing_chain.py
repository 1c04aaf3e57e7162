"""What paces each demand: the chain of supplies that set its day, to what waits for nothing."""

import numpy as np
import polars as pl

from bomkit.planning.forecast.peg_graph import DEMAND
from bomkit.planning.netting.arrays import NO_ROW, heads, ints, stretch_of


def pacing_supplies(timed: pl.DataFrame) -> pl.DataFrame:
    """node, pacing_node and its lag: the supply that sets each begin, the first of equal ones."""
    day = pl.col("arrives") - pl.col("lag")
    return (
        timed.filter((day == day.max().over("need_node")) & (day > pl.col("bound")))
        .unique("need_node", keep="first")
        .select(node="need_node", pacing_node="supply_node", pacing_lag="lag")
    )


def pacing_chains(nodes: pl.DataFrame) -> pl.DataFrame:
    """From each demand along pacing supplies to what waits for nothing, numbered from there."""
    link, lag = (ints(nodes[f"pacing_{of}"].fill_null(NO_ROW)) for of in ("node", "lag"))
    asking = nodes.filter(pl.col("kind") == DEMAND)
    demand, node = ints(asking["demand_id"]), ints(asking["node"])
    steps = [(demand[:0], node[:0], node[:0])]
    while len(node):
        waits = link[node] != NO_ROW
        demand, node = demand[waits], node[waits]
        steps.append((demand, link[node], lag[node]))
        node = link[node]
    demand, node, after = (np.concatenate(parts) for parts in zip(*steps, strict=True))
    # what was found last of a chain is the first in time
    order = np.arange(len(demand))[::-1]
    order = order[np.argsort(demand[order], kind="stable")]
    first = heads(demand[order])
    step = np.arange(len(order)) - first[stretch_of(first, len(order))] + 1
    columns = {"demand_id": demand, "node": node, "needed_after": after}
    return pl.DataFrame({name: column[order] for name, column in columns.items()}).select(
        "demand_id", pl.Series("step", step, pl.Int64), "node", "needed_after"
    )
