"""Which airframes could be finished from what is in the house today, if nothing more arrived.

Demands are taken one after the other: grounded spares by need date, then airframes by ready date.
Each takes what it needs from usable stock and from work in the shops, and has the rest made from
what is left, down to what is bought. Where something bought is missing, it takes nothing and the
next one is tried. Expected scrap counts, lot rules do not; work in the shops is taken as good.
"""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass, field

import polars as pl

from bomkit.planning.forecast.peg_graph import IN_WORK
from bomkit.planning.pegging.ranked_demands import RANKS
from bomkit.planning.tables_as_numbers.keys import Keys
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.units import TOLERANCE

Line = tuple[int, float, bool, int, bool]  # child, factor, per order, condition, child specific


@dataclass
class House:
    """What is left in the house while one demand after the other is tried.

    A trial holds no more than what it changed: few of very many items.
    """

    # by key and the serial that it is kept for
    stock: dict[tuple[int, str], float] = field(default_factory=dict)
    # work in the shops by key: order, quantity
    shops: dict[int, list[tuple[str, float]]] = field(default_factory=dict)
    begun: set[str] = field(default_factory=set)  # orders whose lacking components were drawn

    def change(self, trial: "House") -> None:
        """Takes over what a trial left."""
        self.stock |= trial.stock
        self.shops |= trial.shops
        self.begun |= trial.begun


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
        trial = recipe.taken_from(house, key, quantity, serial)
        if trial is not None:
            house.change(trial)
            if kind == "airframe":
                done.append(demand)
    places = pl.int_range(1, len(done) + 1, eager=True)
    return pl.DataFrame({"serial": pl.Series(done, dtype=pl.String), "place": places})


def _house(network: Network) -> House:
    """Usable stock, and open orders of what is made in the house.

    Stock of a common item that names a serial is kept for it; of any other item all is its own.
    """
    common = network.keys.serial(pl.col("key")) == 0
    kept_for = pl.when(common).then("serial").otherwise(pl.lit("")).alias("kept_for")
    summed = network.stock.group_by("key", kept_for).agg(pl.col("quantity").sum())
    stock = {(key, kept): quantity for key, kept, quantity in summed.iter_rows()}
    made = network.items.filter(pl.col("source") != "buy")["item_id"]
    in_shops = network.receipts.filter(network.keys.item(pl.col("key")).is_in(made.implode())).sort(
        "key", "day", "order"
    )
    shops: dict[int, list[tuple[str, float]]] = {}
    for key, order, quantity in in_shops.select("key", "order", "ordered").iter_rows():
        shops.setdefault(key, []).append((order, quantity))
    return House(stock, shops)


class _Recipe:
    """What goes into what, for single keys."""

    def __init__(self, network: Network) -> None:
        self.keys = network.keys
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
        """What changes in the house once this has been made for a serial; None if something is
        missing."""
        trial = House()
        asked = _Asked(self.level, self.keys)
        asked.add(key, quantity)
        while asked:
            key, wanted = asked.pop()
            still = self._from_stock(house, trial, key, wanted, serial)
            lacking = self._from_shops(house, trial, key, still, asked)
            if lacking <= wanted * TOLERANCE:
                continue
            item, serial_id = self.keys.item(key), self.keys.serial(key)
            if self.bought[item] or item not in self.lines:
                return None
            for child, amount in self._components(item, serial_id, lacking / self.good[item]):
                asked.add(child, amount)
        return trial

    def _from_stock(
        self, house: House, trial: House, key: int, wanted: float, serial: str
    ) -> float:
        """What is still wanted of a key once its stock is drawn, first what is kept for the
        serial."""
        for place in dict.fromkeys(((key, serial), (key, ""))):
            there = trial.stock.get(place, house.stock.get(place, 0.0))
            drawn = min(there, wanted)
            if drawn:
                trial.stock[place] = there - drawn
            wanted -= drawn
        return wanted

    def _from_shops(
        self, house: House, trial: House, key: int, wanted: float, asked: "_Asked"
    ) -> float:
        """What is still wanted of a key once work in the shops is drawn; what an order in the
        shops lacks is asked for with it."""
        there = trial.shops.get(key, house.shops.get(key, []))
        while wanted > 0 and there:
            (order, quantity), *others = there
            used = min(quantity, wanted)
            wanted -= used
            there = [(order, quantity - used), *others] if used < quantity else others
            trial.shops[key] = there
            if order not in house.begun and order not in trial.begun:
                trial.begun.add(order)
                for component, amount in self.lacking.get(order, []):
                    asked.add(component, amount)
        return wanted

    def _components(self, item: int, serial: int, started: float) -> Iterator[tuple[int, float]]:
        """What starting a quantity of an item for a serial asks of its components."""
        for child, factor, per_order, condition, specific in self.lines[item]:
            if condition == 0 or (condition, serial) in self.active:
                own = serial if specific else 0
                yield self.keys.of(child) + own, factor * (1.0 if per_order else started)


class _Asked:
    """What is asked for of each key, given out level by level and, within one, key by key."""

    def __init__(self, level: list[int], keys: Keys) -> None:
        self._level, self._keys = level, keys
        self._amounts: dict[int, float] = {}
        self._line: list[tuple[int, int]] = []

    def __bool__(self) -> bool:
        return bool(self._amounts)

    def add(self, key: int, amount: float) -> None:
        """Asks for so much more of a key."""
        if key not in self._amounts:
            heapq.heappush(self._line, (self._level[self._keys.item(key)], key))
        self._amounts[key] = self._amounts.get(key, 0.0) + amount

    def pop(self) -> tuple[int, float]:
        """The key next in line and all that is asked of it."""
        _, key = heapq.heappop(self._line)
        return key, self._amounts.pop(key)
