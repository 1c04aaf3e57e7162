"""Open orders that should move: sooner, later, fewer, not needed, or overdue.

Of each planning key, U(t) is its usable stock cumulative to day t, less what expires unused, and
C(t) its gross requirement. What is needed beyond stock is N(t), the largest of C(s) + safety stock
- U(s) for s up to t. Its open orders, by day and then by name, have the cumulative expected good
Q(1), Q(2), ...; order k is needed on n(k), the first day with N > Q(k - 1).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Floats
from bomkit.planning.netting.lot_sizes.scrap_and_lot_rules import rounded_up
from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.results.buying import MOVES
from bomkit.units import TOLERANCE, WHOLE_UNITS

SOONER, LATER, LESS, NOT_NEEDED, OVERDUE = "sooner", "later", "less", "not needed", "overdue"


@dataclass(frozen=True)
class Thresholds:
    """What keeps small moves out: working days, and a share of the order."""

    days: int
    share: float


@dataclass(frozen=True)
class BeyondStock:
    """What is needed beyond stock up to each day, N(t), and of how much that is the rest: C(t), the
    safety stock and all stock of the first day. What the tolerance of that hides is no need."""

    needed: Floats
    of: Floats

    def first_above(self, covered: float) -> int | None:
        """The first day on which more is needed than is covered; none if that never happens."""
        above = self.needed - covered > TOLERANCE * np.maximum(self.of, covered)
        return int(np.argmax(above)) if above.any() else None


def proposed_moves(
    network: Network, flows: Flows, items: pl.DataFrame, least: Thresholds
) -> pl.DataFrame:
    """A row for each move of an open order that is due within the horizon.

    items: the items table, for cost. Returns the columns of the result table moves, all but demand,
    by due date, order and kind. serial: of the key; meant_for: of the row of open_orders.
    """
    beyond = _needed_beyond_stock(network, flows)
    about = network.named(_within(network).with_columns(meant_for="serial")).join(
        network.items.select(
            *("item_id", "safety", "minimum", "multiple"),
            whole=pl.col("unit").is_in(WHOLE_UNITS),  # of replaced items too
        ),
        on="item_id",
        maintain_order="left",
    )
    costs = dict(items.select("item", "cost").iter_rows())
    rows = [
        row
        for orders in about.partition_by("key", maintain_order=True)
        for row in _moves_of_key(network, orders, beyond[orders["key"][0]], least)
    ]
    for row in rows:
        row["value"] = _value(row, costs[row["item"]])
    names = [name for name in MOVES.column_names if name != "demand"]
    schema = {name: MOVES.schema[name] for name in names}
    return pl.DataFrame(rows, schema=schema).sort("due_date", "order", "item", "meant_for", "kind")


def _within(network: Network) -> pl.DataFrame:
    """The open orders within the horizon, those of a key by day and then by name."""
    return network.receipts.filter(~pl.col("past")).sort("key", "day", "order", "date", "serial")


def _needed_beyond_stock(network: Network, flows: Flows) -> dict[int, BeyondStock]:
    """By key with open orders what is needed beyond stock."""
    keys = _within(network)["key"].unique().sort()
    wide = flows.gross.join(keys.to_frame(), on="key", how="semi", maintain_order="left")
    gross = np.cumsum(wide.drop("key").to_numpy(), axis=1)
    place = {key: row for row, key in enumerate(wide["key"])}
    kept = network.items.filter(~pl.col("specific")).select("item_id", "safety_stock").rows()
    safety = dict(kept)
    held = np.array([safety.get(network.keys.item(key), 0.0) or 0.0 for key in place])
    there = _stock(network, flows, place, gross.shape[1])
    needed = np.maximum.accumulate(gross - there + held[:, None], axis=1)
    of = gross + held[:, None] + there[:, :1]
    return {key: BeyondStock(needed[row], of[row]) for key, row in place.items()}


def _stock(network: Network, flows: Flows, place: dict[int, int], days: int) -> Floats:
    """U(t) by row: usable stock, less what is left of lots the day after they expire."""
    there = np.zeros((len(place), days))
    for key, quantity in network.stock.select("key", "quantity").iter_rows():
        if key in place:
            there[place[key], 0] += quantity
    lost = flows.lots.filter(~pl.col("beyond") & (pl.col("day") + 1 < days))
    for key, day, left in lost.select(
        "key", "day", pl.col("quantity") - pl.col("used")
    ).iter_rows():
        if key in place:
            there[place[key], day + 1] -= left
    return np.cumsum(there, axis=1)


def _moves_of_key(
    network: Network, orders: pl.DataFrame, beyond: BeyondStock, least: Thresholds
) -> Iterator[dict[str, Any]]:
    """The moves of the open orders of one key."""
    before = 0.0
    for order in orders.iter_rows(named=True):
        after = before + order["quantity"]
        first = beyond.first_above(before)
        right = None if first is None else max(0, first - order["safety"])
        about = {
            "order": order["order"],
            "item": order["item"],
            "serial": order["serial"],
            "meant_for": order["meant_for"],
            "due_date": order["date"],
            "quantity": order["ordered"],
            "right_date": None if right is None else network.axis.date(right),
            "days": 0 if right is None else order["day"] - right,
            "right_quantity": order["ordered"],
        }
        enough = _enough(order, float(beyond.needed[-1]), before, after)
        for kind in _kinds(order, first, right, enough, least):
            yield {**about, "kind": kind, **_of_kind(kind, order["date"], enough)}
        before = after


def _enough(order: dict[str, Any], end: float, before: float, after: float) -> float:
    """The quantity of the order that would be enough; its own where no less would."""
    if end >= after * (1 - TOLERANCE):
        return float(order["ordered"])
    good = order["quantity"] / order["ordered"]
    started = max((end - before) / good, order["minimum"])
    started = rounded_up(started, order["multiple"], order["whole"])
    return min(float(started), float(order["ordered"]))


def _kinds(
    order: dict[str, Any], first: int | None, right: int | None, enough: float, least: Thresholds
) -> Iterator[str]:
    """What to ask for: firm orders only sooner, and a new date where they are overdue."""
    if order["overdue"]:
        yield OVERDUE
    if first is None or right is None:
        if not order["firm"]:
            yield NOT_NEEDED
        return
    if order["day"] > first:
        yield SOONER
    elif not order["firm"] and right - order["day"] > least.days:
        yield LATER
    saved = order["ordered"] - enough
    if not order["firm"] and saved > least.share * order["ordered"] * (1 + TOLERANCE):
        yield LESS


def _of_kind(kind: str, due: Any, enough: float) -> dict[str, Any]:
    """What differs by kind: the day stays where less is asked for, nothing is right of it all."""
    if kind == LESS:
        return {"right_date": due, "days": 0, "right_quantity": enough}
    return {"right_quantity": 0.0} if kind == NOT_NEEDED else {}


def _value(row: dict[str, Any], cost: float | None) -> float | None:
    """The money that moves: of what is asked for on another day, or not at all."""
    if cost is None:
        return None
    moved = row["quantity"] - row["right_quantity"] if row["kind"] == LESS else row["quantity"]
    return float(moved) * cost


def with_gains(moves: pl.DataFrame, pegs: pl.DataFrame) -> pl.DataFrame:
    """The moves with demand: the airframes and orders that an order comes too late for.

    pegs: as the result table.
    """
    late = (
        pegs.filter((pl.col("supply_kind") == "open order") & (pl.col("late_days") > 0))
        .filter(~pl.col("demand_kind").is_in(["stock", "several"]))
        .group_by("item", "serial", order="supply")
        .agg(demand=pl.col("demand").unique().sort().str.join(", "))
    )
    gains = pl.when(pl.col("kind") == SOONER).then(pl.col("demand")).fill_null("")
    return (
        moves.join(late, on=["order", "item", "serial"], how="left", maintain_order="left")
        .with_columns(demand=gains)
        .select(MOVES.column_names)
    )
