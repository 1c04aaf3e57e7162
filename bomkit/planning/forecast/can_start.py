"""Which orders can start with everything at hand, and what the others wait for."""

import numpy as np
import polars as pl

from bomkit.planning.forecast.peg_tables import beginnings
from bomkit.planning.netting.arrays import (
    NO_ROW,
    Flags,
    Ints,
    Rows,
    at_places,
    heads,
    in_order,
    ints,
)
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.results.stores import READY
from bomkit.tables.shared_columns import NEVER

COMPLETE, WAITING, SHORT = "complete", "waiting", "short"
_COUNTED = ("components", "in_stores", "coming", "missing")


def ready_table(
    network: Network,
    pegged: Pegged,
    orders: pl.DataFrame,
    nodes: pl.DataFrame,
    arrivals: pl.Series,
) -> pl.DataFrame:
    """Every planned order of what is not bought, with its state: the columns of READY.

    complete: all components are there on the day on which each is needed. waiting: what comes late
    is on order, in work or itself waiting. short: something late is not even ordered, and it is
    too late to order it in time.

    orders: as planned_orders gives them; nodes: of the forecast; arrivals: the day on which each
    supply can be there by it.
    """
    begins = orders.with_columns(order_id=pl.int_range(pl.len())).join(
        beginnings(pegged.supplies, nodes), on="order_id", maintain_order="left"
    )
    states = _states(network, pegged, orders, arrivals)
    made = begins.filter(pl.col("source") != "buy").join(
        states, on="order_id", how="left", maintain_order="left"
    )
    starts = made.select(pl.max_horizontal("start", "begin"))["start"]
    return made.with_columns(
        pl.col(_COUNTED).fill_null(0),
        pl.col("waits_for", "waits_from").fill_null(""),
        pl.col("state").fill_null(COMPLETE),
        can_start=pl.when(starts < NEVER).then(network.axis.on(starts)),
    ).select(READY.column_names)


def _states(
    network: Network, pegged: Pegged, orders: pl.DataFrame, arrivals: pl.Series
) -> pl.DataFrame:
    """For each order with components: order_id, how many there are, state (null: complete),
    waits_for and waits_from."""
    waits = _by_order(_components(pegged, orders, arrivals))
    supply = waits["supply_id"].replace(NO_ROW, None)
    late = pl.col("missing") > 0
    return waits.select(
        *("order_id", *_COUNTED),
        state=pl.when("short").then(pl.lit(SHORT)).when(late).then(pl.lit(WAITING)),
        waits_for=pl.when(late).then(network.names[network.keys.item(waits["key"])]),
        waits_from=pl.when(late).then(pegged.supplies["supply"].gather(supply)),
    )


def _components(pegged: Pegged, orders: pl.DataFrame, arrivals: pl.Series) -> Rows:
    """Each component of each order, by order the latest first: order_id, key, late_days, stock (all
    of it lies there), short, supply_id (what comes last, NO_ROW: nothing)."""
    offered, pegs = pegged.ground.offered, pegged.rows_by_order
    # of no supply, in the end: it is not passed on, no stock, and never there
    asked = ~np.append(offered.passing, False)[pegs["supply_id"]] & (pegs["from_id"] != OUTSIDE)
    pegs = at_places(pegs, asked)
    supply = pegs["supply_id"]
    comes = np.append(ints(arrivals), NEVER)[supply] - pegs["day"]
    late = np.where(supply == NO_ROW, NEVER, np.maximum(comes, 0))
    too_late = np.append((orders["late_days"] > 0).to_numpy(), False)
    unordered = np.append(too_late[offered.order_id], True)[supply]
    name = np.append(ints(pegged.supplies["supply"].rank("dense")), 0)[supply]
    order = in_order(pegs["from_id"], pegs["key"], late, name)
    first = heads(pegs["from_id"][order], pegs["key"][order])
    last = np.append(first[1:], len(order))[: len(first)] - 1
    latest = {
        "order_id": pegs["from_id"][order[last]],
        "key": pegs["key"][order[last]],
        "late_days": late[order[last]],
        "stock": _all_of(np.append(offered.stock, False)[supply][order], first),
        "short": ~_all_of(~(unordered & (late > 0))[order], first),
        "supply_id": supply[order[last]],
    }
    return at_places(latest, in_order(latest["order_id"], -latest["late_days"], latest["key"]))


def _all_of(flags: Flags, first: Ints) -> Flags:
    """Of each stretch whether all flags are set; first: at which places they begin."""
    all_set: Flags = np.logical_and.reduceat(flags, first) if len(first) else flags
    return all_set


def _by_order(components: Rows) -> pl.DataFrame:
    """For each order: components (different items), of these in_stores, coming (in time), missing;
    short, and key and supply_id of what comes last of them."""
    late = pl.col("late_days") > 0
    return (
        pl.DataFrame(dict(components))
        .group_by("order_id", maintain_order=True)
        .agg(
            pl.col("key", "supply_id").first(),
            components=pl.len().cast(pl.Int64),
            in_stores=pl.col("stock").sum().cast(pl.Int64),
            coming=(~pl.col("stock") & ~late).sum().cast(pl.Int64),
            missing=late.sum().cast(pl.Int64),
            short=pl.col("short").any(),
        )
    )
