"""What goes into the box of each spares order, read off the pegs: from which lot, or when it comes.

Nothing is decided here. Who has a part in the place of an order that waits, and whom a grounded
order makes wait, is read off the same pegs, and off those without it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import ceil, floor
from typing import Any

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Flags
from bomkit.planning.pegging.order_of_supplies import STOCK
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.pegging.ranked_demands import FOR_STOCK
from bomkit.planning.promises.notes_on_parts import Labels
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables
from bomkit.tables.shared_columns import NEVER
from bomkit.units import WHOLE_UNITS

GROUNDED = "grounded"
TAKE, WAIT = "take", "wait"
_NOBODY_WAITS = {"waiting": "", "waiting_kind": "", "waiting_days": 0, "free_from": None}
_ROUNDING = 1e-6  # of a piece: less than anybody counts


@dataclass(frozen=True)
class Allocation:
    """Pegs, the day of each supply (by its number), the pegs of what leaves the house (as boxed
    gives them) and the day on which each row of spares_orders can leave (by its number)."""

    pegged: Pegged
    arrivals: pl.Series
    box: pl.DataFrame
    leaving: Mapping[int, int]


class Packer:
    """Reads the lines of each row of spares_orders off an allocation."""

    def __init__(
        self, network: Network, tables: Tables, given: Allocation, without: Mapping[str, Pegged]
    ) -> None:
        """without: by grounded order the pegs of the same allocation without it."""
        self.network, self.given = network, given
        self.labels = Labels(tables)
        self.items = network.items.rows(named=True)
        self.demands = given.pegged.demands.rows(named=True)
        self.orders = tables["spares_orders"].rows(named=True)
        packed = ~pl.col("passes") & pl.col("lead").is_null()
        self.boxes: dict[int, list[dict[str, Any]]] = {}
        for row in given.box.filter(packed).iter_rows(named=True):
            self.boxes.setdefault(row["asked_id"], []).append(row)
        pegs = given.pegged.pegs
        own = pegs.filter(pl.col("key").is_in(given.box["key"].unique().implode()))
        self.held = _held(given.pegged.supplies, own)
        items = self._packed_for_grounded()
        packed_for_them = pegs.filter(items[network.keys.item(pegs["key"].to_numpy())])
        self.late = _lateness(packed_for_them, given.arrivals)
        self.without = {
            order: _lateness(pegged.of_items(items), given.arrivals)
            for order, pegged in without.items()
        }

    def _packed_for_grounded(self) -> Flags:
        """Of each item whether it is packed for a grounded aircraft."""
        items: Flags = np.zeros(len(self.items), np.bool_)
        for asked, rows in self.boxes.items():
            if self.orders[asked]["urgency"] == GROUNDED:
                items[[self.network.keys.item(row["key"]) for row in rows]] = True
        return items

    def lines(self, asked: int) -> list[list[dict[str, Any]]]:
        """The lines to pack for a row of spares_orders, each as the rows of PACKING."""
        order = self.orders[asked]
        labels = self.labels.of(order)
        by_part: dict[int, list[dict[str, Any]]] = {}
        for row in self.boxes.get(asked, []):
            by_part.setdefault(row["key"], []).append(row)
        place = {part: number for number, part in enumerate(labels)}
        names = {key: self.items[self.network.keys.item(key)]["item"] for key in by_part}
        ordered = sorted(by_part, key=lambda key: (place.get(names[key], len(place)), names[key]))
        return [
            list(self._rows(asked, number, key, by_part[key], labels))
            for number, key in enumerate(ordered, 1)
        ]

    def _rows(
        self,
        asked: int,
        number: int,
        key: int,
        pegs: list[dict[str, Any]],
        labels: Mapping[str, Any],
    ) -> Iterator[dict[str, Any]]:
        """The rows of one line: lots to take first, then what is on its way."""
        urgent = self.orders[asked]["urgency"] == GROUNDED
        lots = self._fitting(asked, key)
        shared = {"line": number} | self._about(asked, key, pegs, lots, labels)
        waiting = self._waiting(asked, key, pegs, lots)
        unit = self.items[self.network.keys.item(key)]["unit"]
        for row, quantity in _in_pieces(_summed(pegs), unit in WHOLE_UNITS):
            take, never = row["kind"] == STOCK, row["arrival"] >= NEVER
            yield {
                **shared,
                # a routine order is given only what nobody before it waits for
                **(waiting if urgent or not take else _NOBODY_WAITS),
                "location": row["location"] or "",
                "lot": row["supply"] if take else "",
                "expires": row["expires"],
                "supply": "" if take else row["supply"] or "",
                "can_take": None if never else self.network.axis.date(row["arrival"]),
                "state": TAKE if take else WAIT,
                "quantity": quantity,
            }

    def _about(
        self,
        asked: int,
        key: int,
        pegs: list[dict[str, Any]],
        lots: list[dict[str, Any]],
        labels: Mapping[str, Any],
    ) -> dict[str, Any]:
        """What all rows of one line share: whose it is, what it is, and how much of it is there."""
        order, part = self.orders[asked], self.items[self.network.keys.item(key)]["item"]
        own = sum(row["quantity"] for row in pegs if row["kind"] == STOCK)
        there, spare = sum(lot["quantity"] for lot in lots), sum(lot["left"] for lot in lots)
        return {
            **{name: order[name] for name in ("order", "item", "serial", "need_date")},
            "part": part,
            **labels.get(part, {"position": "", "note": "", "replaces": ""}),
            "hazard": self.labels.contents.hazards(part),
            "in_stock": there,
            "free": min(there, own + spare),
        }

    def _fitting(self, asked: int, key: int) -> list[dict[str, Any]]:
        """The lots that an order may have: not kept for another aircraft, and lasting enough."""
        order, leaves = self.orders[asked], self.given.leaving.get(asked, 0)
        day = max(order["need_date"], self.network.axis.date(leaves)).toordinal()
        until = day + order["min_shelf_days"]
        return [
            lot
            for lot in self.held.get(key, [])
            if lot["meant_for"] in ("", order["serial"])
            and (lot["expires"] is None or lot["expires"].toordinal() >= until)
        ]

    def _waiting(
        self, asked: int, key: int, pegs: list[dict[str, Any]], lots: list[dict[str, Any]]
    ) -> dict[str, Any]:
        """Whom a grounded order makes wait for a part the longest, or who would wait if another
        took today what it waits for."""
        order = self.orders[asked]
        comes = max(row["arrival"] for row in pegs)
        harmed: list[tuple[int, int, int]] = []  # days, day from which nobody would wait, demand
        if order["urgency"] == GROUNDED:
            before = self.without.get(order["order"], {}).get(key, {})
            for demand, (days, there) in self.late.get(key, {}).items():
                if demand in before and days > before[demand][0]:
                    harmed.append((days - before[demand][0], there, demand))
        elif any(row["kind"] != STOCK for row in pegs) and comes < NEVER:
            for lot in lots:
                harmed += [
                    (comes - day, comes, demand)
                    for day, demand in lot["for"]
                    if comes > day and self.demands[demand]["demand"] != order["order"]
                ]
        if not harmed:
            return dict(_NOBODY_WAITS)
        days, there, demand = max(harmed, key=lambda harm: (harm[0], -harm[1], -harm[2]))
        who = self.demands[demand]
        return {
            "waiting": who["demand"],
            "waiting_kind": who["kind"],
            "waiting_days": days if there < NEVER else None,
            "free_from": self.network.axis.date(there) if there < NEVER else None,
        }


def _held(supplies: pl.DataFrame, pegs: pl.DataFrame) -> dict[int, list[dict[str, Any]]]:
    """By key of some pegs its lots: quantity, left (nobody has it), meant_for, expires, for (day of
    the need and demand of each who has of it, stock apart)."""
    keys = pegs["key"].unique().implode()
    stock = supplies.filter((pl.col("kind") == STOCK) & pl.col("key").is_in(keys))
    lots = {
        row["supply_id"]: row | {"left": row["quantity"], "for": []}
        for row in stock.iter_rows(named=True)
    }
    taken = pegs.filter(pl.col("supply_id").is_in(stock["supply_id"].implode()))
    for supply, day, demand, quantity in taken.select(
        "supply_id", "day", "demand_id", "quantity"
    ).iter_rows():
        lots[supply]["left"] -= quantity
        if demand != FOR_STOCK:
            lots[supply]["for"].append((day, demand))
    by_key: dict[int, list[dict[str, Any]]] = {}
    for lot in lots.values():
        lot["left"] = max(0.0, lot["left"])
        by_key.setdefault(lot["key"], []).append(lot)
    return by_key


def _lateness(pegs: pl.DataFrame, arrivals: pl.Series) -> dict[int, dict[int, tuple[int, int]]]:
    """By key and demand by how many days its last supply is late, and the day on which it comes."""
    late = pl.col("arrival") - pl.col("day")
    asked = pegs.filter(pl.col("demand_id") != FOR_STOCK)
    summed = (
        asked.with_columns(arrival=arrivals[asked["supply_id"]].fill_null(NEVER))
        .group_by("key", "demand_id")
        .agg(late=late.max().clip(0), there=pl.col("arrival").sort_by(late, "arrival").last())
        .sort("key", "demand_id")
    )
    lateness: dict[int, dict[int, tuple[int, int]]] = {}
    for key, demand, days, there in summed.iter_rows():
        lateness.setdefault(key, {})[demand] = (days, there)
    return lateness


def _summed(pegs: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The pegs of a line, those of one supply in one, lots first and then by day."""
    by_supply: dict[int | None, dict[str, Any]] = {}
    for row in pegs:
        number = row["supply_id"]
        if number in by_supply:
            by_supply[number]["quantity"] += row["quantity"]
        else:
            by_supply[number] = dict(row)
    return sorted(by_supply.values(), key=lambda row: (row["kind"] != STOCK, row["arrival"]))


def _in_pieces(pegs: list[dict[str, Any]], pieces: bool) -> Iterator[tuple[dict[str, Any], float]]:
    """Each peg with what people can take of it: pieces are whole, what lots lack of one waits."""
    up_to = before = 0.0
    for number, row in enumerate(pegs, 1):
        up_to += row["quantity"]
        if not pieces:
            yield row, row["quantity"]
            continue
        last = number == len(pegs)
        whole = float(ceil(up_to - _ROUNDING) if last else floor(up_to + _ROUNDING))
        if whole > before:
            yield row, whole - before
        before = whole
