"""What can be packed today for each spares order, from whom it is taken, and when the rest can be.

Orders are taken one after the other: grounded aircraft first, then by need date. Each line takes
free stock (see free_stock), first expired first, of lots that last long enough. A grounded order
may take what is spoken for as well, and it is told from whom. A routine order waits instead.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from math import floor
from typing import Any

import polars as pl

from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.planning.pegging.peg import RANKS, Pegged
from bomkit.planning.pegging.supplies import OPEN_ORDER, PLANNED_ORDER
from bomkit.planning.promises.free_stock import Balance, Harm, Who, balances
from bomkit.planning.structure.kit_contents import UNPACKED, Contents, Part, Tables
from bomkit.units import WHOLE_UNITS

GROUNDED = "grounded"
_MOST_TURNS = 4  # an order that leaves later needs lots that last longer, and so on


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
    picks: list[tuple[Lot, float]]
    lacking: float
    there: float  # what lots that the order may have hold
    free: float  # what of all stock nobody in the line needs in time
    day: int  # on which all of it can be taken
    free_day: int  # on which nobody in the line would wait for it
    supply: str  # the order that brings what lacks, if the plan has one for it
    unfit: bool  # whether there is stock that the order may not have
    hazard: str  # dangerous goods in it
    harms: list[Harm]  # whom taking it today makes wait, or would


@dataclass
class Packed:
    """One row of spares_orders: its lines and the day on which it can leave."""

    order: dict[str, Any]
    lines: list[Line] = field(default_factory=list)
    leaves: int = 0


def pack_orders(
    network: Network,
    pegged: Pegged,
    tables: Tables,
    ends: Mapping[int, int],
    arrivals: pl.Series,
) -> list[Packed]:
    """Every spares order within the horizon, in the order in which they are served.

    ends: by demand_id the day that the forecast allows; a grounded order, which may take anything,
    leaves by then. arrivals: the day on which each supply of the pegs can be there.
    """
    orders = _in_turn(network, pegged, tables)
    if not orders:
        return []
    counter = _Counter(network, tables, orders, _coming(pegged, arrivals), ends)
    return [counter.packed(order) for order in orders]


class _Counter:
    """The stores' counter: hands out what there is, one order after the other."""

    def __init__(
        self,
        network: Network,
        tables: Tables,
        orders: list[dict[str, Any]],
        coming: Mapping[tuple[int, int], tuple[float, int, str, str]],
        ends: Mapping[int, int],
    ) -> None:
        self.network, self.coming, self.ends = network, coming, ends
        self.contents = Contents(tables)
        self.items = {row["item"]: row for row in network.items.iter_rows(named=True)}
        self.serials = dict(network.serials.select("serial", "serial_id").iter_rows())
        self.lots = _lots(network)
        keys = {
            self._key(item, order["serial"])
            for order in orders
            for item in self.contents.reached(order["item"])
        }
        self.balances: dict[int, Balance] = balances(network, keys)

    def packed(self, order: dict[str, Any]) -> Packed:
        """Hands out one order, with lots that last long enough from the day on which it leaves."""
        leaves = order["day"]
        for _ in range(_MOST_TURNS):
            before = self._snapshot(order)
            found = self._handed_out(order, leaves)
            if found.leaves <= leaves:
                return found
            leaves = found.leaves
            self._restore(before)
        return self._handed_out(order, leaves)

    def _handed_out(self, order: dict[str, Any], leaves: int) -> Packed:
        """Packed kits first, then what further ones are made of."""
        found = Packed(order)
        item, wanted = order["item"], order["quantity"]
        enough = wanted * TOLERANCE
        while self.contents.source[item] in UNPACKED:
            ready = self._line(Part(item, wanted), order, leaves, only_stock=True)
            if ready.picks:
                found.lines.append(ready)
                wanted -= sum(quantity for _, quantity in ready.picks)
            if wanted <= enough or item not in self.contents.successor:
                break
            item = self.contents.successor[item]
        lead = self._packing_days(item)
        if wanted > enough:
            start = self.network.axis.dates[max(0, order["day"] - lead)]
            for part in self.contents.parts(item, wanted, order["serial"], start):
                found.lines += self._lines(part, order, leaves, start)
        else:
            lead = 0
        found.leaves = max((line.day for line in found.lines), default=0) + lead
        self._leave_by_the_forecast(found, lead)
        return found

    def _packing_days(self, item: str) -> int:
        """How many days before it is wanted a kit is begun; 0 for what is no kit."""
        row = self.items[item]
        return row["lead"] + row["safety"] if self.contents.source[item] in UNPACKED else 0

    def _leave_by_the_forecast(self, found: Packed, lead: int) -> None:
        """A grounded order leaves by the day of the forecast, unless that counts on unfit lots."""
        demand = found.order["demand_id"]
        if found.order["urgency"] != GROUNDED or demand not in self.ends:
            return
        if any(line.lacking and line.unfit for line in found.lines):
            return
        found.leaves = min(found.leaves, self.ends[demand])
        for line in found.lines:
            line.day = min(line.day, max(0, found.leaves - lead))

    def _lines(self, part: Part, order: dict[str, Any], leaves: int, start: date) -> list[Line]:
        """A part, in several lines where an old item is used up and its replacement goes on."""
        if part.item not in self.contents.successor:
            return [self._line(part, order, leaves)]
        old = self._line(part, order, leaves, only_stock=True)
        left = part.quantity - sum(quantity for _, quantity in old.picks)
        lines = [old] if old.picks else []
        if left > part.quantity * TOLERANCE:
            new = self.contents.successor[part.item]
            for inner in self.contents.parts(new, left, order["serial"], start):
                placed = Part(
                    inner.item,
                    inner.quantity,
                    inner.position or part.position,
                    inner.note or part.note,
                    part.item,
                )
                lines += self._lines(placed, order, leaves, start)
        return lines

    def _line(
        self, part: Part, order: dict[str, Any], leaves: int, only_stock: bool = False
    ) -> Line:
        """Takes what may be taken of a part; only_stock: nothing of it is waited for.

        Lines of routine orders are taken whole or not at all; what is ready in stock, as far as it
        goes.
        """
        key, own = self._key(part.item, order["serial"]), _who(order)
        balance, lots = self.balances[key], self._fitting(key, order, leaves)
        fit, stock = sum(lot.left for lot in lots), sum(lot.left for lot in self.lots.get(key, []))
        there, free = min(part.quantity, fit), balance.free(own)
        grounded = order["urgency"] == GROUNDED
        may = self._whole(part.item, there if grounded else min(there, free))
        if not grounded and not only_stock and may < part.quantity * (1 - TOLERANCE):
            may = 0.0
        lacking = part.quantity - may
        if only_stock or lacking <= part.quantity * TOLERANCE:
            lacking = 0.0
        harms = list(balance.harms(there if lacking else may, own)) if there > free else []
        hazard = self.contents.hazards(part.item)
        picks = _taken(lots, may)
        line = Line(part, picks, lacking, fit, free, 0, 0, "", stock > fit, hazard, harms)
        if harms:
            line.free_day = balance.earliest(part.quantity, own, fit)
        if lacking:
            self._wait(line, balance, order, key)
        balance.promised += may
        if not only_stock:
            balance.handed.add(own)
        return line

    def _wait(self, line: Line, balance: Balance, order: dict[str, Any], key: int) -> None:
        """Finds when what lacks can be taken, and keeps it for this order from then on."""
        quantity, fit = line.part.quantity, min(line.part.quantity, line.there)
        arriving, day, supply, kind = self.coming.get(
            (order["demand_id"], key), (0.0, 0, "", PLANNED_ORDER)
        )
        # what the plan would give from stock waits until it is free; the rest is on its way
        withheld = arriving < line.lacking * (1 - TOLERANCE)
        if withheld and order["urgency"] == GROUNDED:
            day = max(day, balance.comes(quantity, fit))
        elif withheld:
            day = max(day, balance.earliest(quantity, _who(order), line.there))
        line.day, line.supply = day, supply
        if withheld or kind == OPEN_ORDER:
            balance.kept.append((day, line.lacking))

    def _whole(self, item: str, quantity: float) -> float:
        """The quantity, in whole pieces where pieces are counted."""
        if self.items[item]["unit"] in WHOLE_UNITS:
            return float(floor(quantity * (1 + TOLERANCE)))
        return quantity

    def _fitting(self, key: int, order: dict[str, Any], leaves: int) -> list[Lot]:
        """The lots that an order may have: not kept for another aircraft, and lasting enough."""
        day = self.network.axis.date(leaves)
        good_until = max(day, order["need_date"]) + timedelta(days=order["min_shelf_days"])
        return [
            lot
            for lot in self.lots.get(key, [])
            if lot.left > 0
            and lot.meant_for in ("", order["serial"])
            and (lot.expires is None or lot.expires >= good_until)
        ]

    def _key(self, item: str, serial: str) -> int:
        """The key of an item for a serial."""
        row = self.items[item]
        own: int = self.serials[serial] if row["specific"] else 0
        key: int = row["item_id"] * self.network.serial_count + own
        return key

    def _snapshot(self, order: dict[str, Any]) -> list[Any]:
        """What an order may change, to be put back."""
        keys = {self._key(item, order["serial"]) for item in self.contents.reached(order["item"])}
        return [
            (key, [lot.left for lot in self.lots.get(key, [])], balance.promised,
             list(balance.kept), set(balance.handed))
            for key, balance in ((key, self.balances[key]) for key in keys)
        ]  # fmt: skip

    def _restore(self, before: list[Any]) -> None:
        """Puts back what an order has changed."""
        for key, lefts, promised, kept, handed in before:
            for lot, left in zip(self.lots.get(key, []), lefts, strict=True):
                lot.left = left
            balance = self.balances[key]
            balance.promised, balance.kept, balance.handed = promised, kept, handed


def _who(order: dict[str, Any]) -> Who:
    """The demand of an order, as balances know it."""
    return (order["order"], order["urgency"], order["serial"])


def _coming(
    pegged: Pegged, arrivals: pl.Series
) -> dict[tuple[int, int], tuple[float, int, str, str]]:
    """By demand and key what orders bring for it: quantity, and of the last one day, name, kind."""
    spares = pegged.demands.filter(pl.col("kind").is_in(["grounded", "routine"]))["demand_id"]
    pegs = pegged.told("kind", "supply")
    arriving = (
        pegs.with_columns(arrives=arrivals.gather(pegs["supply_id"]))
        .filter(
            pl.col("demand_id").is_in(spares.implode())
            & pl.col("kind").is_in([OPEN_ORDER, PLANNED_ORDER])
        )
        .sort("arrives", "supply")
    )
    found: dict[tuple[int, int], tuple[float, int, str, str]] = {}
    for demand, key, quantity, day, supply, kind in arriving.select(
        "demand_id", "key", "quantity", "arrives", "supply", "kind"
    ).iter_rows():
        before = found.get((demand, key), (0.0,))[0]
        found[demand, key] = (before + quantity, day, supply, kind)
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
