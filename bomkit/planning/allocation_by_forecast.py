"""Allocations by the days of a forecast, one after the other until the days stay as they are."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import polars as pl

from bomkit.planning.forecast.forecast import Passed, foreseen
from bomkit.planning.forecast.peg_graph import PegGraph, peg_graph
from bomkit.planning.forecast.peg_tables import arriving, beginnings
from bomkit.planning.forecast.through_phantoms import with_passed_on
from bomkit.planning.netting.arrays import ints
from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.pegging.must_last import Foreseen
from bomkit.planning.pegging.peg import Pegged, peg
from bomkit.planning.pegging.ranked_demands import RANKS
from bomkit.planning.promises.leaving import boxed, leaving_days
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables

_MOST_TURNS = 5  # allocations by a forecast's days; nearly always one or two are enough


@dataclass(frozen=True)
class Made:
    """What allocations are made of: a plan with its inputs; not_before: by planned order the day
    before which it can't begin."""

    network: Network
    tables: Tables
    flows: Flows
    orders: pl.DataFrame
    not_before: Mapping[str, int]

    def graph(self, pegged: Pegged, known: PegGraph | None = None) -> PegGraph:
        """Who waits for what; known: the graph of another allocation."""
        return peg_graph(self.network, self.orders, pegged, self.not_before, known)

    def pegged(self, by: Foreseen, known: Pegged | None, left_out: Collection[int] = ()) -> Pegged:
        """An allocation by some days or without some demands; known: another one."""
        return peg(self.network, self.flows, self.orders, self.tables, by, left_out, known)


@dataclass(frozen=True)
class Turn:
    """One allocation: counted_on, the days by which it was made; passed: the forward pass over who
    waits for what; arrivals, box, foreseen: what that has, as arriving, boxed and Foreseen say."""

    pegged: Pegged
    counted_on: Foreseen
    passed: Passed
    arrivals: pl.Series
    box: pl.DataFrame
    foreseen: Foreseen

    @property
    def graph(self) -> PegGraph:
        """Who waits for what."""
        return self.passed.graph

    @property
    def moved(self) -> int:
        """How many supplies come on another day than was counted on."""
        return int((self.foreseen.comes != self.counted_on.comes).sum())


def turn_by(made: Made, by: Foreseen, known: Pegged, graph: PegGraph) -> Turn:
    """The allocation by some days; known, graph: another one of the same plan."""
    pegged = made.pegged(by, known)
    passed = foreseen(made.graph(pegged, graph))
    return Turn(pegged, by, passed, *_foreseen(made, pegged, passed.nodes))


def settled(made: Made, first: Pegged) -> Turn:
    """Allocates by the days that the forecast of the one before has, until they stay.

    first: by the plan's own days. From the third on no day that is counted on becomes an earlier
    one, so that two allocations can't follow each other for ever. Where they have not settled after
    some turns, the last one counts in which nobody waits for who comes after him.
    """
    graph = made.graph(first)
    by_plan = _foreseen(made, first, foreseen(graph).nodes)[-1]
    turn = turn_by(made, by_plan, first, graph)
    turns = [turn]
    while turn.moved and len(turns) < _MOST_TURNS:
        by = turn.foreseen if len(turns) == 1 else turn.foreseen.not_before(turn.counted_on)
        if (by.comes == turn.counted_on.comes).all():
            break
        turn = turn_by(made, by, turn.pegged, turn.graph)
        turns.append(turn)
    if not turn.moved:
        return turn
    return next((each for each in reversed(turns) if not made_later(made, each)), turn)


def made_later(made: Made, turn: Turn) -> bool:
    """Whether airframes, or who comes before them, would be ready sooner without all others."""
    others = pl.col("rank") > RANKS["airframe"]
    after = turn.pegged.demands.filter(others)["demand_id"]
    alone = made.graph(made.pegged(turn.counted_on, turn.pegged, after), turn.graph)
    later = later_than(alone, turn.passed.demands)
    return not later.filter(~pl.col("demand_id").is_in(after.implode())).is_empty()


def later_than(alone: PegGraph, demands: pl.DataFrame) -> pl.DataFrame:
    """The demands that would be ready sooner by another allocation's graph, with days: how much.

    demands: demand_id, end, as a forecast has them.
    """
    before = foreseen(alone).demands.select("demand_id", was="end")
    return (
        demands.join(before, on="demand_id")
        .with_columns(days=pl.col("end") - pl.col("was"))
        .filter(pl.col("days") > 0)
    )


def _foreseen(
    made: Made, pegged: Pegged, nodes: pl.DataFrame
) -> tuple[pl.Series, pl.DataFrame, Foreseen]:
    """What the forward pass of an allocation has: arrivals, box, foreseen, as in Turn."""
    orders = made.orders
    arrivals = arriving(pegged.supplies, orders, nodes)["arrival"]
    passed = with_passed_on(made.network, pegged, arrivals)
    begun = beginnings(pegged.supplies, nodes)
    order = ints(begun["order_id"])
    delay = ints(begun["begin"]) - ints(orders["start"])[order]
    later = delay > 0
    delays = dict(zip(order[later].tolist(), delay[later].tolist(), strict=True))
    box = boxed(made.network, pegged, orders, arrivals)
    return arrivals, box, Foreseen(ints(passed), delays, leaving_days(box))
