"""What really lies on the shelves of the simulated shop, kept without any help of bomkit's."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

import polars as pl

NOTHING = 1e-6


@dataclass
class Lot:
    """Some of an item in one place."""

    item: str
    quantity: float
    location: str = ""
    lot: str = ""
    status: str = "usable"
    expires: dt.date | None = None
    serial: str = ""

    @property
    def name(self) -> tuple[str, str, str]:
        """What the books of a whole place are compared by: item, serial, lot."""
        return self.item, self.serial, self.lot


@dataclass
class Shelf:
    """All lots, and where each item goes."""

    lots: list[Lot] = field(default_factory=list)
    spoils: frozenset[str] = frozenset()  # items whose lots have a last day

    @staticmethod
    def of(stock: pl.DataFrame) -> Shelf:
        """The shelves as a table stock has them."""
        names = ("item", "quantity", "location", "lot", "status", "expires", "serial")
        lots = [Lot(*row) for row in stock.select(names).iter_rows()]
        return Shelf(lots, frozenset(lot.item for lot in lots if lot.expires))

    def usable(self, item: str, serial: str, day: dt.date) -> list[Lot]:
        """What may be taken of an item for a serial on a day, what expires first in front."""
        found = [
            lot
            for lot in self.lots
            if lot.item == item
            and lot.serial == serial
            and lot.status == "usable"
            and lot.quantity > 0
            and (lot.expires is None or lot.expires >= day)
        ]
        return sorted(found, key=lambda lot: (lot.expires or dt.date.max, lot.lot, lot.location))

    def there(self, item: str, serial: str, day: dt.date) -> float:
        """How much of that there is."""
        return sum(lot.quantity for lot in self.usable(item, serial, day))

    def take(
        self,
        item: str,
        serial: str,
        quantity: float,
        day: dt.date,
        listed: Mapping[str, float] = {},
    ) -> Iterator[tuple[Lot, float]]:
        """Takes a quantity lot by lot; there must be enough.

        listed: how much a list names of each lot, which is taken first.
        """
        lots = self.usable(item, serial, day)
        named = [(lot, listed.get(lot.lot, 0.0)) for lot in lots]
        for lot, most in [*named, *((lot, quantity) for lot in lots)]:
            taken = min(lot.quantity, quantity, most)
            if taken > 0:
                lot.quantity = round(lot.quantity - taken, 9)
                quantity = round(quantity - taken, 9)
                yield lot, taken
        if quantity > NOTHING:
            raise AssertionError(f"{item}: {quantity:g} taken that was not there")

    def put(self, lot: Lot) -> None:
        """Lays something down, with what is like it."""
        for there in self.lots:
            if replace(there, quantity=lot.quantity) == lot:
                there.quantity = round(there.quantity + lot.quantity, 9)
                return
        self.lots.append(lot)

    def sums(self) -> dict[tuple[str, str, str], float]:
        """How much there is by item, serial and lot."""
        found: dict[tuple[str, str, str], float] = {}
        for lot in self.lots:
            found[lot.name] = found.get(lot.name, 0.0) + lot.quantity
        return {name: round(quantity, 9) for name, quantity in found.items() if quantity > NOTHING}
