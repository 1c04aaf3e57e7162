"""The late forecast: a forward pass over the pegged plan.

Every order begins on the earliest day on which all it was pegged to is there when it is needed, at
the soonest on day 0, or when a mould is there for it again (not_before):
begin = max(not_before, max over its needs of (end of the supply - lag)), where lag is how many days
after the order's start the plan needs the component; end = begin + lead time. Stock ends on day 0,
an open order on its receipt day, later by as much as what it lacks is late.
This is the forward pass of the critical-path method (Kelley & Walker, Proc. Eastern Joint Computer
Conference, 1959; from memory), with pegs for precedences.
"""

from dataclasses import dataclass

import polars as pl

from bomkit.planning.forecast.days_from_parts import ForwardPass
from bomkit.planning.forecast.pacing_chain import pacing_chains, pacing_supplies
from bomkit.planning.forecast.peg_graph import DEMAND, PegGraph
from bomkit.planning.netting.arrays import ints
from bomkit.tables.shared_columns import NEVER

_MOST_GAINS = 20  # each takes a forward pass of its own,
_MOST_PASSED = 2_000_000  # and all of them together go over at most so many edges


@dataclass(frozen=True)
class Forecast:
    """nodes: those of the graph with begin, end (days) and pacing_node (the supply that sets the
    begin; null where nothing has to be waited for).

    demands: demand_id, end (day on which all of it is there), late_days, gain_days (how much sooner
    that were if the first link of its chain were there today; of the latest ones only). chains:
    demand_id, step (1 comes first in time), node, needed_after (lag to the next step).
    """

    nodes: pl.DataFrame
    demands: pl.DataFrame
    chains: pl.DataFrame


@dataclass(frozen=True)
class Passed:
    """A forward pass over a graph: nodes with begin and end; timed: as _timed gives it; demands:
    demand_id, end and late_days."""

    graph: PegGraph
    passes: ForwardPass
    nodes: pl.DataFrame
    timed: pl.DataFrame
    demands: pl.DataFrame


def foreseen(graph: PegGraph) -> Passed:
    """The forward pass alone."""
    passes = ForwardPass(graph)
    begin, end = passes.run(passes.days)
    nodes = graph.nodes.with_columns(begin=pl.Series(begin), end=pl.Series(end))
    timed = _timed(graph, nodes)
    return Passed(graph, passes, nodes, timed, _demands(nodes, timed))


def forecast(passed: Passed) -> Forecast:
    """A forward pass with the latest supply of everything, and the chain that paces each demand."""
    nodes = passed.nodes.join(
        pacing_supplies(passed.timed), on="node", how="left", maintain_order="left"
    )
    chains = pacing_chains(nodes)
    demands = passed.demands.join(_gains(passed, chains), "demand_id", "left")
    return Forecast(nodes, demands, chains)


def _timed(graph: PegGraph, nodes: pl.DataFrame) -> pl.DataFrame:
    """The edges with the day on which their supply arrives and the bound of who needs it."""
    return graph.edges.with_columns(
        arrives=nodes["end"][graph.edges["supply_node"]],
        bound=nodes["not_before"][graph.edges["need_node"]],
    )


def _gains(passed: Passed, chains: pl.DataFrame) -> pl.DataFrame:
    """demand_id, gain_days of the latest demands: a pass each without the first link."""
    passes, graph, demands = passed.passes, passed.graph, passed.demands
    schema = {"demand_id": pl.Int64, "gain_days": pl.Int64}
    late = demands.filter((pl.col("late_days") > 0) & (pl.col("end") < NEVER))
    if late.is_empty():
        return pl.DataFrame(schema=schema)
    first = chains.filter(pl.col("step") == 1).select("demand_id", link="node")
    most = min(_MOST_GAINS, _MOST_PASSED // max(1, len(graph.edges)))
    latest = late.sort("late_days", "demand_id", descending=[True, False]).head(most)
    asking = graph.nodes.filter(pl.col("kind") == DEMAND).select("demand_id", "node")
    gains = [
        (demand, end - int(passes.run(passes.days, there=link)[1][node]))
        for demand, end, link, node in latest.join(first, on="demand_id")
        .join(asking, on="demand_id")
        .select("demand_id", "end", "link", "node")
        .iter_rows()
    ]
    return pl.DataFrame(gains, schema=schema, orient="row")


def _demands(nodes: pl.DataFrame, timed: pl.DataFrame) -> pl.DataFrame:
    """For each demand the day on which all of it is there, and how late its latest part is (NEVER
    of what nothing brings)."""
    asks = (nodes["kind"] == DEMAND).to_numpy()[ints(timed["need_node"])]
    own = timed.filter(asks)
    whose = nodes["demand_id"][own["need_node"]]
    late = pl.when(pl.col("arrives") < NEVER).then(pl.col("arrives") - pl.col("need_day"))
    return (
        own.group_by(demand_id=whose)
        .agg(end=pl.col("arrives").max(), late_days=late.fill_null(NEVER).clip(0).max())
        .sort("demand_id")
    )
