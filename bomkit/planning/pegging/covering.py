"""What no supply may serve becomes a requirement of its own, and the plan is made again."""

from collections.abc import Callable
from dataclasses import replace
from typing import Protocol, TypeVar

import polars as pl

from bomkit.planning.netting.flows import Flows
from bomkit.planning.network import Network
from bomkit.planning.pegging.demands import UNCOVERED
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.pegging.supplies import OPEN_ORDER, PLANNED_ORDER

MOST_PLANS = 6  # the first and those made again; seldom more than one


class Planned(Protocol):
    """A plan of a network: its flows are what netting found, moved by levelling or not."""

    @property
    def network(self) -> Network:
        """What was planned, with all its demands."""

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
        network = _with_requirements(network, made.flows, lacking)
        made = plan(network)
        found = settle(made)
    return made, found


def _lacking(network: Network, found: Pegging) -> pl.DataFrame:
    """What has to become a requirement: key, day, quantity.

    Where a need has to wait for what is meant for a later one, since what netting meant for it may
    not serve it, that need goes first: with an order of its own the later ones have theirs.
    """
    waiting = _borrowed(network, found.by_plan)
    left = unserved(found.pegged).join(waiting, on="key", how="anti")
    return pl.concat([waiting, left]).sort("key", "day")


def _borrowed(network: Network, pegged: Pegged) -> pl.DataFrame:
    """What is served later than needed, and later than an order placed now: key, day, quantity.

    An order that is late by its own lead time alone is not meant, nor an open order that comes
    before a new one could.
    """
    lead = network.items["lead"]
    pegs = pegged.told("usable", "comes", "kind")
    late = pegs.with_columns(lead=lead.gather(pegs["key"] // network.serial_count)).filter(
        (pl.min_horizontal("usable", "comes") > pl.col("day"))
        & (
            ((pl.col("kind") == PLANNED_ORDER) & (pl.col("comes") <= pl.col("usable")))
            | ((pl.col("kind") == OPEN_ORDER) & (pl.col("usable") > pl.col("lead")))
        )
    )
    return late.group_by("key", "day").agg(pl.col("quantity").sum())


def unserved(pegged: Pegged) -> pl.DataFrame:
    """What no supply may serve: key, day, quantity."""
    return (
        pegged.pegs.filter(pl.col("supply_id").is_null())
        .group_by("key", "day")
        .agg(pl.col("quantity").sum())
        .sort("key", "day")
    )


def _with_requirements(network: Network, flows: Flows, lacking: pl.DataFrame) -> Network:
    """The network with a requirement for each, as large as makes netting plan an order for it.

    That is what is unserved and, once for each key, what netting still has left over from that day
    on and the need may not have.
    """
    spare = pl.when(pl.col("key").is_first_distinct()).then("spare").otherwise(0.0)
    found = lacking.with_columns(spare=pl.Series(_left_over(network, flows, lacking)))
    rows = found.select(
        "key",
        "day",
        quantity=pl.col("quantity") + spare,
        demand=pl.lit(UNCOVERED),
        kind=pl.lit(UNCOVERED),
        serial=pl.lit(""),
        date=network.axis.on(lacking["day"]),
        overdue=pl.lit(False),
        past=pl.lit(False),
    )
    columns = network.demands.columns
    return replace(network, demands=pl.concat([network.demands, rows.select(columns)]))


def _left_over(network: Network, flows: Flows, lacking: pl.DataFrame) -> list[float]:
    """The least that netting has left over of each key on any day from the need's on, lots that
    expire by then included."""
    safety = dict(network.items.select("item_id", "safety_stock").iter_rows())
    found = []
    wide = {
        name: {row[0]: row[1:] for row in _rows(getattr(flows, name), lacking["key"])}
        for name in ("supply", "good", "gross")
    }
    for key, day in lacking.select("key", "day").iter_rows():
        supply, good, gross = (wide[name][key] for name in ("supply", "good", "gross"))
        balance, least = -safety[key // network.serial_count], float("inf")
        for number, (came, made, asked) in enumerate(zip(supply, good, gross, strict=True)):
            balance += max(0.0, came) + made - asked
            least = min(least, balance) if number >= day else least
        found.append(max(0.0, least))
    return found


def _rows(flow: pl.DataFrame, keys: pl.Series) -> list[tuple[float, ...]]:
    """The rows of some keys, the key first."""
    own = flow.filter(pl.col("key").is_in(keys.unique().implode()))
    return own.select("key", pl.exclude("key")).rows()
