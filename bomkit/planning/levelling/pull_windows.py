"""Planned orders as tasks of levelling: how far each may move, and into what it may be split."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import polars as pl

from bomkit.planning.levelling.held_for_parts import Limits
from bomkit.planning.levelling.resources import Resources
from bomkit.planning.levelling.room import Task, Uses
from bomkit.planning.netting.arrays import Flags, Floats, Ints, floats, ints
from bomkit.planning.tables_as_numbers.keys import Keys
from bomkit.planning.tables_as_numbers.network import Network

_NEVER = 10**9


@dataclass(frozen=True)
class Orders:
    """Orders that use a resource, by key and the day from which they are usable."""

    keys: Ints
    items: Ints
    usable: Ints
    quantity: Floats

    def among(self, chosen: Flags) -> "Orders":
        """Those that are chosen."""
        quantity = self.quantity[chosen]
        return Orders(self.keys[chosen], self.items[chosen], self.usable[chosen], quantity)


@dataclass(frozen=True)
class Windows:
    """Of some orders the start day, the days their hours are spread over, and the earliest start
    day they may be moved to."""

    start: Ints
    length: Ints
    earliest: Ints

    def among(self, chosen: Flags) -> "Windows":
        """Those that are chosen."""
        return Windows(self.start[chosen], self.length[chosen], self.earliest[chosen])


@dataclass(frozen=True)
class Rules:
    """What levelling knows of each item, by item_id.

    ahead: working days from start to use, with safety; keeps: working days that it may wait longer
    than planned; step: what its orders can be split in (0: not at all); minimum: of each part;
    closed, open: the first day on which nothing can be pulled into or out of, and the first after
    it; using: whether an item uses any resource.
    """

    keys: Keys
    first_of_window: Ints  # by start day the first day that may be pulled to
    ahead: Ints
    safety: Ints
    keeps: Ints
    step: Floats
    minimum: Floats
    closed: Ints
    open: Ints
    using: Flags

    def orders(self, keys: Ints, starts: Floats) -> Orders:
        """The orders among what some keys start by usable day, by key and day."""
        rows = np.flatnonzero(self.using[self.keys.item(keys)])
        row, usable = np.nonzero(starts[rows])
        own = keys[rows[row]]
        quantity = starts[rows[row], usable]
        return Orders(own, self.keys.item(own), usable.astype(np.int64), quantity)

    def windows(self, orders: Orders, held: Limits) -> Windows:
        """How far orders may move; held: by item_id the day before which none is to start."""
        items, usable = orders.items, orders.usable
        start = np.maximum(0, usable - self.ahead[items])
        earliest = np.maximum(self.first_of_window[start], start - self.keeps[items])
        earliest = np.maximum(earliest, _by_number(held, len(self.ahead), 0)[items])
        closed = start >= self.closed[items]
        earliest = np.where(closed, np.maximum(earliest, self.open[items]), earliest)
        # what is late already is due as it is
        earliest = np.where(usable < self.ahead[items], start, np.minimum(start, earliest))
        length = np.maximum(1, usable - self.safety[items] - start)
        return Windows(start, length, earliest)

    def treats_as(self, other: "Rules") -> bool:
        """Whether orders with the same windows become the same tasks by other rules."""
        same = ("ahead", "safety", "step", "minimum")
        return all(np.array_equal(getattr(self, name), getattr(other, name)) for name in same)

    def tasks(self, orders: Orders, windows: Windows, uses: Mapping[int, Uses]) -> list[Task]:
        """Orders as tasks; uses: by item_id what they take."""
        items = orders.items
        columns = (
            orders.keys.tolist(),
            windows.start.tolist(),
            windows.length.tolist(),
            orders.quantity.tolist(),
            windows.earliest.tolist(),
            [uses[item] for item in items.tolist()],
            self.step[items].tolist(),
            self.minimum[items].tolist(),
        )
        return list(map(Task, *columns))


def order_rules(network: Network, resources: Resources, items: pl.DataFrame, weeks: int) -> Rules:
    """The rules of all items, of orders that are pulled forward by at most some weeks.

    items: the input table.
    """
    rows = _rules_of_items(network, items)
    count = len(rows)
    using = np.zeros(count, np.bool_)
    using[list(resources.uses)] = True
    closed = {item: days for item, days in resources.closed.items() if days}
    return Rules(
        network.keys,
        _window_starts(network, weeks),
        ints(rows["ahead"]),
        ints(rows["safety"]),
        ints(rows["keeps"]),
        floats(rows["step"]),
        floats(rows["minimum"]),
        _by_number({item: days.start for item, days in closed.items()}, count, _NEVER),
        _by_number({item: days.stop for item, days in closed.items()}, count, _NEVER),
        using,
    )


def _rules_of_items(network: Network, items: pl.DataFrame) -> pl.DataFrame:
    """Safety, minimum, ahead, keeps and step of each item, in the order of item_id.

    Pieces split into whole ones or multiples.
    """
    shelf = items.select("item", "longest_cover_days")
    splits = pl.col("whole") & (pl.col("multiple") % 1 == 0)
    return network.items.join(shelf, on="item", maintain_order="left").select(
        "safety",
        "minimum",
        ahead=pl.col("lead") + pl.col("safety"),
        keeps=(pl.col("longest_cover_days") - pl.col("cover")).clip(0).fill_null(_NEVER),
        step=pl.when(splits & (pl.col("multiple") != 0))
        .then("multiple")
        .otherwise(splits.cast(pl.Float64)),
    )


def _by_number(known: Mapping[int, int], count: int, otherwise: int) -> Ints:
    """Numbers by item_id."""
    numbers = np.full(count, otherwise, np.int64)
    numbers[list(known)] = list(known.values())
    return numbers


def _window_starts(network: Network, weeks: int) -> Ints:
    """For each day the first working day of the week that many calendar weeks before its own."""
    dates = network.axis.dates.head(network.axis.count)
    mondays = dates.dt.truncate("1w").dt.offset_by(f"-{7 * weeks}d")
    return ints(network.axis.working_days_before(mondays))
