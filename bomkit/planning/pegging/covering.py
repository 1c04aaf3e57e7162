"""What no supply may serve gets an order of its own, and the plan is made again."""

from collections.abc import Callable
from dataclasses import replace
from typing import Protocol, TypeVar

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import ints
from bomkit.planning.netting.flows import Flows
from bomkit.planning.network import Network
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.pegging.supplies import OPEN_ORDER, PASSED_ON, PLANNED_ORDER
from bomkit.planning.tolerance import TOLERANCE

MOST_PLANS = 10  # the first and those made again; seldom more than three


class Planned(Protocol):
    """A plan of a network: its flows are what netting found, moved by levelling or not."""

    @property
    def flows(self) -> Flows:
        """What came out."""


class Pegging(Protocol):
    """What stands on the pegs of a plan."""

    @property
    def pegged(self) -> Pegged:
        """The pegs themselves."""

    @property
    def by_plan(self) -> Pegged:
        """The pegs if all supplies come on the plan's own days."""


P = TypeVar("P", bound=Planned)
S = TypeVar("S", bound=Pegging)


def covered(
    network: Network, plan: Callable[[Network], P], settle: Callable[[P], S]
) -> tuple[P, S]:
    """The plan in which every need is served, if a few rounds find it, and what stands on it."""
    made = plan(network)
    found = settle(made)
    for _ in range(MOST_PLANS - 1):
        lacking = _lacking(network, found)
        if lacking.is_empty():
            break
        network = _with_orders_for(network, made.flows, lacking)
        made = plan(network)
        found = settle(made)
    return made, found


def _lacking(network: Network, found: Pegging) -> pl.DataFrame:
    """How much more is to be planned from a day on than is: key, day, change (less: below zero).

    What nothing serves lacks from its day on. What has to wait for an order of a later need, as
    what netting meant for it may not serve it, lacks until that order is there.
    """
    waiting = _borrowed(network, found.by_plan)
    events = [
        unserved(found.pegged),
        waiting.select("key", "day", "quantity"),
        waiting.select("key", day="usable", quantity=-pl.col("quantity")),
    ]
    change = pl.col("quantity").sort().sum()
    return pl.concat(events).group_by("key", "day").agg(change=change).sort("key", "day")


def _borrowed(network: Network, pegged: Pegged) -> pl.DataFrame:
    """What is served later than needed, and later than an order placed now: key, day, usable (when
    it is served), quantity.

    An order that is late by its own lead time alone is not meant, nor an open order that comes
    before a new one could, nor a sliver that sums of all needs of a key leave.
    """
    lead = network.items["lead"]
    planned = pl.col("kind").is_in([PLANNED_ORDER, PASSED_ON])
    pegs = pegged.told("usable", "comes", "kind")
    late = pegs.with_columns(lead=lead.gather(network.keys.item(pegs["key"]))).filter(
        (pl.min_horizontal("usable", "comes") > pl.col("day"))
        & (
            (planned & (pl.col("comes") <= pl.col("usable")))
            | ((pl.col("kind") == OPEN_ORDER) & (pl.col("usable") > pl.col("lead")))
        )
    )
    waiting = late.group_by("key", "day", "usable").agg(pl.col("quantity").sort().sum())
    whole = pegged.needs.group_by("key").agg(whole=pl.col("quantity").sum())
    return (
        waiting.join(whole, on="key")
        .filter(pl.col("quantity") > pl.col("whole") * TOLERANCE)
        .drop("whole")
    )


def unserved(pegged: Pegged) -> pl.DataFrame:
    """What no supply may serve: key, day, quantity."""
    return (
        pegged.pegs.filter(pl.col("supply_id").is_null())
        .group_by("key", "day")
        .agg(pl.col("quantity").sum())
        .sort("key", "day")
    )


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
            "key": keys.gather(row),
            "day": pl.Series(day, dtype=pl.Int64),
            "quantity": (planned + more)[row, day],
        }
    )
    return replace(network, least=pl.concat([network.least, least]))
