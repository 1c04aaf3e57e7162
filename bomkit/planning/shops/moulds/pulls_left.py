"""How the pulls of moulds run down along the planned orders, until they are worn."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import groupby
from operator import itemgetter
from typing import Any

import polars as pl

from bomkit.planning.tables_as_numbers.network import Network
from bomkit.units import TOLERANCE

_WORN = {
    "row": pl.Int64,
    "mould": pl.String,
    "item": pl.String,
    "replacement": pl.String,
    "count": pl.Int64,
    "pulls_left": pl.Float64,
    "pulls": pl.Float64,
    "day": pl.Int64,
}


@dataclass
class Mould:
    """One row of moulds while the plan's pulls run down.

    row: as in the table; rate: pulls a week; left: pulls left (None: it lasts); pulls: made in
    all; worn_on: start day of the first order for which none is left; taken: day and pulls.
    """

    row: Mapping[str, Any]
    rate: float
    left: float | None
    pulls: float = 0.0
    worn_on: int | None = None
    taken: list[tuple[int, float]] = field(default_factory=list)

    @property
    def alive(self) -> bool:
        return self.worn_on is None

    def pull(self, wanted: float, day: int) -> float:
        """Takes as many of the pulls wanted as are left; returns how many."""
        taken = wanted if self.left is None else min(wanted, self.left)
        self.pulls += taken
        self.taken.append((day, taken))
        if self.left is not None:
            self.left -= taken
            if wanted - taken > wanted * TOLERANCE:
                self.worn_on = day
        return taken


def wear(network: Network, orders: pl.DataFrame, moulds: pl.DataFrame) -> pl.DataFrame:
    """Every mould with the pulls that the planned orders take of it: row, mould, item, replacement,
    count, pulls_left, pulls, day (null: it lasts).

    day: start day of the first order for which there are no pulls left. Each unit started is a
    pull; the moulds of an item share them by their pulls a week, those worn out left out. What is
    pulled after the last of them is worn is pulled from its replacement.
    """
    kept, _ = run_down(orders, moulds)
    rows = [{**mould.row, "pulls": round(mould.pulls, 9), "day": mould.worn_on} for mould in kept]
    return pl.DataFrame(rows, schema=_WORN).sort("row")


def that_wear(moulds: pl.DataFrame) -> pl.DataFrame:
    """The moulds of items of which one wears; of all others there are pulls for ever."""
    return moulds.filter((pl.col("pulls_left").count() > 0).over("item"))


def run_down(
    orders: pl.DataFrame, moulds: pl.DataFrame
) -> tuple[list[Mould], list[tuple[str, str, int]]]:
    """All moulds after the pulls of the orders; and order, item and start of those for which the
    pulls of the item's moulds did not reach."""
    moulded = pl.col("item").is_in(moulds["item"].unique().implode())
    columns = ("item", "order", "start", "quantity")
    started = orders.select(columns).filter(moulded).sort("start", "order")
    pulls: dict[str, list[tuple[str, int, float]]] = {}
    for item, order, start, quantity in started.rows():
        pulls.setdefault(item, []).append((order, start, quantity))
    every: list[Mould] = []
    beyond: list[tuple[str, str, int]] = []
    for item, rows in groupby(moulds.sort("item", "mould").rows(named=True), itemgetter("item")):
        kept = [Mould(row, row["count"] * row["pulls_per_week"], row["pulls_left"]) for row in rows]
        for order, start, quantity in pulls.get(item, []):
            if not _pulled(kept, quantity, start):
                beyond.append((order, item, start))
        every += kept
    return every, beyond


def _pulled(moulds: list[Mould], quantity: float, day: int) -> bool:
    """Shares an order's pulls among the moulds that are left; whether these reach."""
    waiting = quantity
    while waiting > quantity * TOLERANCE:
        alive = [mould for mould in moulds if mould.alive]
        rate = sum(mould.rate for mould in alive)
        if rate <= 0:
            return bool(alive)  # what gives none a week is not worn by being asked
        waiting -= sum(mould.pull(waiting * mould.rate / rate, day) for mould in alive)
    return True
