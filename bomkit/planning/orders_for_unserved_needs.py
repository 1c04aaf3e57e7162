"""What no supply may serve gets an order of its own, and the plan is made again."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Generic, Protocol, TypeVar

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import ints
from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.pegging.order_of_supplies import OPEN_ORDER, PASSED_ON, PLANNED_ORDER
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.tables_as_numbers.network import NOTHING_LEAST, Network
from bomkit.units import TOLERANCE

MOST_PLANS = 10  # the first and those made again; seldom more than three
_SAME = 1e-6  # of a unit: by less than this sums differ from plan to plan
NOTHING_LACKS = pl.DataFrame(schema={"key": pl.Int64, "day": pl.Int64, "change": pl.Float64})


class Planned(Protocol):
    """A plan of a network: its flows are what netting found, moved by levelling or not."""

    @property
    def flows(self) -> Flows:
        """What came out."""


class Settled(Protocol):
    """What stands on the pegs of a plan."""

    @property
    def pegged(self) -> Pegged:
        """The pegs that count."""


P = TypeVar("P", bound=Planned)
S = TypeVar("S", bound=Settled)


@dataclass(frozen=True)
class Making(Generic[P, S]):
    """How a plan is made, from the last one where there is one; how it is pegged by its own days,
    from the pegs of the last one; and what then stands on it."""

    plan: Callable[[Network, P | None], P]
    peg: Callable[[P, Pegged | None], Pegged]
    settle: Callable[[P, Pegged], S]


def covered(network: Network, making: Making[P, S]) -> tuple[P, S, pl.DataFrame]:
    """The plan in which every need is served, what stands on it, and what is left to plan.

    That is nothing unless MOST_PLANS found no such plan; it is as _changes gives it.
    """
    made = making.plan(network, None)
    pegged = making.peg(made, None)
    settled, lacking = _tried(network, making, made, pegged, NOTHING_LACKS)
    for _ in range(MOST_PLANS - 1):
        if lacking.is_empty():
            break
        network = _with_orders_for(network, made.flows, lacking)
        made = making.plan(network, made)
        pegged = making.peg(made, pegged)
        settled, lacking = _tried(network, making, made, pegged, lacking)
    return made, making.settle(made, pegged) if settled is None else settled, lacking


def _tried(
    network: Network, making: Making[P, S], made: P, pegged: Pegged, before: pl.DataFrame
) -> tuple[S | None, pl.DataFrame]:
    """What stands on a plan, and how much more is to be planned, as _changes gives it.

    Nothing stands on a plan in which something lacks by its own days, as long as planning more of
    it may help; before: what was planned more in this plan.
    """
    waiting = _borrowed(network, pegged)
    lacking = _changes(unserved(pegged), waiting)
    if not lacking.is_empty() and not _as_before(lacking, before):
        return None, lacking
    settled = making.settle(made, pegged)
    return settled, _changes(unserved(settled.pegged), waiting)


def _as_before(lacking: pl.DataFrame, before: pl.DataFrame) -> bool:
    """Whether just so much lacks as before."""
    same = pl.col("change").is_between(pl.col("was") - _SAME, pl.col("was") + _SAME)
    both = before.rename({"change": "was"}).join(lacking, on=["key", "day"])
    return len(both) == len(lacking) == len(before) and bool(both.select(same.all()).item())


def _changes(unserved: pl.DataFrame, waiting: pl.DataFrame) -> pl.DataFrame:
    """How much more is to be planned from a day on than is: key, day, change (less: below zero).

    What nothing serves lacks from its day on. What has to wait for an order of a later need, as
    what netting meant for it may not serve it, lacks until that order is there.
    """
    if unserved.is_empty() and waiting.is_empty():
        return NOTHING_LACKS
    begins = waiting.select("key", "day", "quantity")
    ends = waiting.select("key", day="usable", quantity=-pl.col("quantity"))
    change = pl.col("quantity").sort().sum()
    events = pl.concat([unserved, begins, ends])
    return events.group_by("key", "day").agg(change=change).sort("key", "day")


def _borrowed(network: Network, pegged: Pegged) -> pl.DataFrame:
    """What is served later than needed, and later than an order placed now: key, day, usable (when
    it is served), quantity.

    An order that is late by its own lead time alone is not meant, nor an open order that comes
    before a new one could, nor a sliver that sums of all needs of a key leave.
    """
    lead = network.items["lead"]
    planned = pl.col("kind").is_in([PLANNED_ORDER, PASSED_ON])
    pegs = pegged.told(pegged.by_order, "usable", "comes", "kind")
    late = pegs.with_columns(lead=lead[network.keys.item(pegs["key"])]).filter(
        (pl.min_horizontal("usable", "comes") > pl.col("day"))
        & (
            (planned & (pl.col("comes") <= pl.col("usable")))
            | ((pl.col("kind") == OPEN_ORDER) & (pl.col("usable") > pl.col("lead")))
        )
    )
    if late.is_empty():
        return late.select("key", "day", "usable", "quantity")
    waiting = late.group_by("key", "day", "usable").agg(pl.col("quantity").sort().sum())
    whole = pegged.by_order.group_by("key").agg(whole=pl.col("quantity").sum())
    return (
        waiting.join(whole, on="key")
        .filter(pl.col("quantity") > pl.col("whole") * TOLERANCE)
        .drop("whole")
    )


def unserved(pegged: Pegged) -> pl.DataFrame:
    """What no supply may serve: key, day, quantity."""
    if not pegged.by_order["supply_id"].null_count():
        return NOTHING_LEAST
    lacking = pegged.by_order.filter(pl.col("supply_id").is_null())
    return lacking.group_by("key", "day").agg(pl.col("quantity").sum()).sort("key", "day")


def _with_orders_for(network: Network, flows: Flows, lacking: pl.DataFrame) -> Network:
    """The network with so much to be planned by each day at the least: what was planned by then,
    and what lacks from a day on. Netting counts it for later needs, so nothing is planned twice.
    """
    keys = lacking["key"].unique().sort()
    more = np.zeros((len(keys), network.axis.count))
    more[ints(keys.search_sorted(lacking["key"])), ints(lacking["day"])] = lacking["change"]
    more = np.cumsum(more, axis=1)
    planned = np.cumsum(flows.good_by_row[flows.structure.rows_of(ints(keys))], axis=1)
    row, day = np.nonzero(more > TOLERANCE * np.abs(more).max(axis=1, keepdims=True))
    least = pl.DataFrame(
        {
            "key": keys[row],
            "day": pl.Series(day, dtype=pl.Int64),
            "quantity": (planned + more)[row, day],
        }
    )
    return replace(network, least=pl.concat([network.least, least]))
