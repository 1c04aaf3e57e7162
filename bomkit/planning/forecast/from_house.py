"""Which airframes could be finished from what is in the house today, if nothing more arrived.

Demands are taken one after the other: grounded spares by need date, then airframes by ready date.
Each takes what it needs from usable stock and from work in the shops, and has the rest made from
what is left, down to what is bought. Where something bought is missing, it takes nothing and the
next one is tried. Expected scrap counts, lot rules do not; work in the shops is taken as good.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

import polars as pl

from bomkit.planning.forecast.graph import IN_WORK
from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.planning.pegging.peg import RANKS

Line = tuple[int, float, bool, int, bool]  # child, factor, per order, condition, child specific


@dataclass
class House:
    """What is left in the house while one demand after the other is tried."""

    stock: dict[tuple[int, str], float]  # by key and the serial that it is kept for
    shops: dict[int, list[tuple[str, float]]]  # work in the shops by key: order, quantity
    begun: set[str] = field(default_factory=set)  # orders whose lacking components were drawn


def finishable(network: Network) -> pl.DataFrame:
    """The airframes that could be finished, in the order in which they are: serial, place."""
    recipe = _Recipe(network)
    house = _house(network)
    wanted = (
        network.demands.filter(~pl.col("past") & pl.col("kind").is_in(["grounded", "airframe"]))
        .with_columns(rank=pl.col("kind").replace_strict(RANKS))
        .sort("rank", "date", "demand", "key")
    )
    done = []
    for kind, demand, serial, key, quantity in wanted.select(
        "kind", "demand", "serial", "key", "quantity"
    ).iter_rows():
        left = recipe.taken_from(house, key, quantity, serial)
        if left is not None:
            house = left
            if kind == "airframe":
                done.append(demand)
    places = pl.int_range(1, len(done) + 1, eager=True)
    return pl.DataFrame({"serial": pl.Series(done, dtype=pl.String), "place": places})


def _house(network: Network) -> House:
    """Usable stock, and open orders of what is made in the house.

    Stock of a common item that names a serial is kept for it; of any other item all is its own.
    """
    common = pl.col("key") % network.serial_count == 0
    kept_for = pl.when(common).then("serial").otherwise(pl.lit("")).alias("kept_for")
    summed = network.stock.group_by("key", kept_for).agg(pl.col("quantity").sum())
    stock = {(key, kept): quantity for key, kept, quantity in summed.iter_rows()}
    made = network.items.filter(pl.col("source") != "buy")["item_id"]
    in_shops = network.receipts.filter(
        pl.col("key").floordiv(network.serial_count).is_in(made.implode())
    ).sort("key", "day", "order")
    shops: dict[int, list[tuple[str, float]]] = {}
    for key, order, quantity in in_shops.select("key", "order", "ordered").iter_rows():
        shops.setdefault(key, []).append((order, quantity))
    return House(stock, shops)


class _Recipe:
    """What goes into what, for single keys."""

    def __init__(self, network: Network) -> None:
        self.count = network.serial_count
        items = network.items
        self.level = items["level"].to_list()
        self.good = items["good"].to_list()
        self.bought = ((items["source"] == "buy") & ~items["passes"]).to_list()
        specific = items["specific"].to_list()
        self.lines: dict[int, list[Line]] = {}
        today = network.lines.filter((pl.col("first_start") <= 0) & (pl.col("last_start") >= 0))
        for parent, child, factor, per_order, condition in today.select(
            "parent_id", "child_id", "factor", "per_order", "condition"
        ).iter_rows():
            line = (child, factor, per_order, condition, specific[child])
            self.lines.setdefault(parent, []).append(line)
        self.active = set(network.active.select("condition", "serial_id").iter_rows())
        lacking = network.demands.filter(pl.col("kind") == IN_WORK)
        self.lacking: dict[str, list[tuple[int, float]]] = {}
        for order, key, quantity in lacking.select("demand", "key", "quantity").iter_rows():
            self.lacking.setdefault(order, []).append((key, quantity))

    def taken_from(self, house: House, key: int, quantity: float, serial: str) -> House | None:
        """What is left of the house once this has been made for a serial; None if something is
        missing."""
        left = House(dict(house.stock), dict(house.shops), set(house.begun))
        asked = {key: quantity}
        while asked:
            key = min(asked, key=lambda k: (self.level[k // self.count], k))
            wanted = asked.pop(key)
            lacking = self._drawn(left, key, wanted, asked, serial)
            if lacking <= wanted * TOLERANCE:
                continue
            item, serial_id = divmod(key, self.count)
            if self.bought[item] or item not in self.lines:
                return None
            for child, amount in self._components(item, serial_id, lacking / self.good[item]):
                asked[child] = asked.get(child, 0.0) + amount
        return left

    def _drawn(
        self, left: House, key: int, wanted: float, asked: dict[int, float], serial: str
    ) -> float:
        """Draws what there is of a key, first what is kept for the serial; what an order in the
        shops lacks is asked for with it."""
        for place in dict.fromkeys(((key, serial), (key, ""))):
            there = left.stock.get(place, 0.0)
            drawn = min(there, wanted)
            if drawn:
                left.stock[place] = there - drawn
            wanted -= drawn
        while wanted > 0 and left.shops.get(key):
            (order, quantity), *others = left.shops[key]
            used = min(quantity, wanted)
            wanted -= used
            left.shops[key] = [(order, quantity - used), *others] if used < quantity else others
            if order not in left.begun:
                left.begun.add(order)
                for component, amount in self.lacking.get(order, []):
                    asked[component] = asked.get(component, 0.0) + amount
        return wanted

    def _components(self, item: int, serial: int, started: float) -> Iterator[tuple[int, float]]:
        """What starting a quantity of an item for a serial asks of its components."""
        for child, factor, per_order, condition, specific in self.lines[item]:
            if condition == 0 or (condition, serial) in self.active:
                own = serial if specific else 0
                yield child * self.count + own, factor * (1.0 if per_order else started)
