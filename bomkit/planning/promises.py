"""What can be packed today for each spares order, from whom it is taken, and when the rest can be.

Orders are taken one after the other: grounded aircraft first, then by need date. Each line takes
free stock (see free_stock), first expired first, of lots that last long enough. A grounded order
may take what is spoken for as well, and it is told from whom. A routine order waits instead.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import partial
from math import floor
from typing import Any

import polars as pl

from bomkit import units
from bomkit.planning.free_stock import Balance, Harm, balances
from bomkit.planning.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.planning.packing import UNPACKED, Contents, Part, Tables
from bomkit.planning.peg import RANKS, Pegged
from bomkit.planning.plan import Flows
from bomkit.planning.supplies import OPEN_ORDER, PLANNED_ORDER

GROUNDED = "grounded"


@dataclass
class Lot:
    """What is left of a row of stock."""

    lot: str
    location: str
    expires: date | None
    meant_for: str
    left: float


@dataclass
class Line:
    """One part of an order: what is taken from which lot, and what has to wait."""

    part: Part
    key: int
    picks: list[tuple[Lot, float]]
    lacking: float
    there: float  # what lots that last long enough hold
    free: float  # what of all stock nobody in the line needs in time
    day: int  # on which all of it can be taken
    supply: str  # the order that brings what lacks, if the plan has one for it
    harms: list[Harm]  # whom taking it today makes wait, or would


@dataclass
class Packed:
    """One row of spares_orders: its lines and the day on which it can leave."""

    order: dict[str, Any]
    demand_id: int
    lines: list[Line] = field(default_factory=list)
    leaves: int = 0


def pack_orders(
    network: Network,
    flows: Flows,
    pegged: Pegged,
    tables: Tables,
    ends: Mapping[int, int],
    arrivals: pl.Series,
) -> list[Packed]:
    """Every spares order within the horizon, in the order in which they are served.

    ends: by demand_id the day that the forecast allows; a grounded order, which may take anything,
    leaves by then. arrivals: the day on which each supply of the pegs can be there.
    """
    counter = _Counter(network, flows, pegged, tables, ends, arrivals)
    return [counter.packed(order) for order in counter.orders]


class _Counter:
    """The stores' counter: hands out what there is, one order after the other."""

    def __init__(
        self,
        network: Network,
        flows: Flows,
        pegged: Pegged,
        tables: Tables,
        ends: Mapping[int, int],
        arrivals: pl.Series,
    ) -> None:
        self.network = network
        self.coming = _coming(pegged, arrivals)
        self.ends = ends
        self.contents = Contents(tables)
        self.items = {row["item"]: row for row in network.items.iter_rows(named=True)}
        self.serials = dict(network.serials.select("serial", "serial_id").iter_rows())
        self.successor = dict(tables["replacements"].select("old", "new").iter_rows())
        self.orders = _in_turn(network, pegged, tables)
        self.lots = _lots(network)
        self.start = network.axis.dates[0]
        self.parts = [self._asked(order) for order in self.orders]
        keys = [
            key
            for order, parts in zip(self.orders, self.parts, strict=True)
            for name in [order["item"], *(part.item for part in parts)]
            for key in self._keys(name, order["serial"])
        ]
        self.balances: dict[int, Balance] = balances(network, flows, pegged, keys) if keys else {}

    def packed(self, order: dict[str, Any]) -> Packed:
        """Hands out one order: packed kits first, then what further ones are made of."""
        found = Packed(order, order["demand_id"])
        wanted, lead = order["quantity"], 0
        if self.contents.source[order["item"]] in UNPACKED:
            ready = self._line(Part(order["item"], wanted), order, only_stock=True)
            if ready.picks:
                found.lines.append(ready)
                wanted -= sum(quantity for _, quantity in ready.picks)
            lead = self.items[order["item"]]["lead"]
        if wanted > order["quantity"] * TOLERANCE:
            for part in self._asked(order, wanted):
                found.lines += self._lines(part, order)
        else:
            lead = 0
        found.leaves = max((line.day for line in found.lines), default=0) + lead
        if order["urgency"] == GROUNDED and order["demand_id"] in self.ends:
            found.leaves = min(found.leaves, self.ends[order["demand_id"]])
            for line in found.lines:
                line.day = min(line.day, max(0, found.leaves - lead))
        return found

    def _asked(self, order: dict[str, Any], quantity: float | None = None) -> list[Part]:
        """The content of an order, or of a part of it."""
        lead = self.items[order["item"]]["lead"]
        day = max(0, order["day"] - lead)
        return self.contents.parts(
            order["item"],
            order["quantity"] if quantity is None else quantity,
            order["serial"],
            self.network.axis.dates[day],
        )

    def _lines(self, part: Part, order: dict[str, Any]) -> list[Line]:
        """A part, in two lines where an old item is used up and its replacement goes on."""
        lines = []
        while part.item in self.successor:
            old = self._line(part, order, only_stock=True)
            if old.picks:
                lines.append(old)
            left = part.quantity - sum(quantity for _, quantity in old.picks)
            if left <= part.quantity * TOLERANCE:
                return lines
            part = Part(self.successor[part.item], left, part.position, part.note)
        return [*lines, self._line(part, order)]

    def _line(self, part: Part, order: dict[str, Any], only_stock: bool = False) -> Line:
        """Takes what may be taken of a part; only_stock: nothing of it is waited for.

        Lines of routine orders are taken whole or not at all; what is ready in stock, as far as it
        goes.
        """
        key = self._keys(part.item, order["serial"])[0]
        balance, own = self.balances[key], order["demand_id"]
        lots = self._fitting(key, order)
        stock = sum(lot.left for lot in lots)
        there = min(part.quantity, stock)
        free = balance.free(0, own)
        grounded = order["urgency"] == GROUNDED
        may = self._whole(part.item, there if grounded else min(there, free))
        if not grounded and not only_stock and may < part.quantity * (1 - TOLERANCE):
            may = 0.0
        lacking = part.quantity - may
        if only_stock or lacking <= part.quantity * TOLERANCE:
            lacking = 0.0
        harms = balance.harms(there if lacking else may, own) if there > free else []
        line = Line(part, key, _taken(lots, may), lacking, stock, free, 0, "", list(harms))
        if lacking:
            earliest = balance.comes if grounded else partial(balance.earliest, without=own)
            arriving, day, line.supply = self.coming.get((own, key), (0.0, 0, ""))
            # what the plan would give from stock waits until it is free; the rest is on its way
            withheld = arriving < lacking * (1 - TOLERANCE)
            line.day = max(day, earliest(part.quantity) if withheld else 0)
        balance.promised += part.quantity if grounded and not only_stock else may
        return line

    def _whole(self, item: str, quantity: float) -> float:
        """The quantity, in whole pieces where pieces are counted."""
        if self.items[item]["unit"] in units.WHOLE_UNITS:
            return float(floor(quantity * (1 + TOLERANCE)))
        return quantity

    def _fitting(self, key: int, order: dict[str, Any]) -> list[Lot]:
        """The lots that an order may have: not kept for another aircraft, and lasting enough."""
        leaves = max(self.start, order["need_date"])
        good_until = leaves + timedelta(days=order["min_shelf_days"])
        return [
            lot
            for lot in self.lots.get(key, [])
            if lot.left > 0
            and lot.meant_for in ("", order["serial"])
            and (lot.expires is None or lot.expires >= good_until)
        ]

    def _keys(self, item: str, serial: str) -> list[int]:
        """The keys of an item for a serial, and of those that replace it."""
        keys = []
        while True:
            row = self.items[item]
            serial_id = self.serials[serial] if row["specific"] else 0
            keys.append(row["item_id"] * self.network.serial_count + serial_id)
            if item not in self.successor:
                return keys
            item = self.successor[item]


def _coming(pegged: Pegged, arrivals: pl.Series) -> dict[tuple[int, int], tuple[float, int, str]]:
    """By demand and key what orders bring for it: quantity, the day of the last one, its name."""
    found: dict[tuple[int, int], tuple[float, int, str]] = {}
    spares = pegged.demands.filter(pl.col("kind").is_in(["grounded", "routine"]))["demand_id"]
    pegs = pegged.told("kind", "supply").filter(pl.col("demand_id").is_in(spares.implode()))
    arriving = (
        pegs.with_columns(day=arrivals.gather(pegs["supply_id"]))
        .filter(pl.col("kind").is_in([OPEN_ORDER, PLANNED_ORDER]))
        .sort("day", "supply")
    )
    for demand, key, quantity, day, supply in arriving.select(
        "demand_id", "key", "quantity", "day", "supply"
    ).iter_rows():
        before, _, _ = found.get((demand, key), (0.0, 0, ""))
        found[demand, key] = (before + quantity, day, supply)
    return found


def _taken(lots: list[Lot], quantity: float) -> list[tuple[Lot, float]]:
    """Takes a quantity from lots, those in front first."""
    picks = []
    for lot in lots:
        take = min(lot.left, quantity)
        if take > 0:
            lot.left -= take
            quantity -= take
            picks.append((lot, take))
    return picks


def _lots(network: Network) -> dict[int, list[Lot]]:
    """The rows of usable stock by key: those that name a serial first, then by expiry."""
    found: dict[int, list[Lot]] = {}
    last = pl.col("expires").fill_null(date(9999, 12, 31))
    for row in network.stock.sort(
        "key", pl.col("serial") == "", last, "lot", "location", "quantity"
    ).iter_rows(named=True):
        lot = Lot(row["lot"], row["location"], row["expires"], row["serial"], row["quantity"])
        found.setdefault(row["key"], []).append(lot)
    return found


def _in_turn(network: Network, pegged: Pegged, tables: Tables) -> list[dict[str, Any]]:
    """The spares orders within the horizon with day and demand_id, in serving order."""
    orders = tables["spares_orders"]
    days = network.axis.needs(orders["need_date"])
    demands = pegged.demands.select("demand_id", "demand", "kind", "whose")
    return (
        pl.concat([orders, days], how="horizontal")
        .filter(~pl.col("past"))
        .join(
            demands,
            left_on=["order", "urgency", "serial"],
            right_on=["demand", "kind", "whose"],
            maintain_order="left",
        )
        .with_columns(rank=pl.col("urgency").replace_strict(RANKS))
        .sort("rank", "need_date", "order", "item", "row")
        .to_dicts()
    )
