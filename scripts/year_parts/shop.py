"""What a week of the simulated shop brings: chance decides, and people write it down.

Every draw comes from one generator with a seed. Days count: what came or was finished by a day can
be picked on it. An order is begun once all that goes into it is there.
"""

from __future__ import annotations

import datetime as dt
import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import polars as pl

from scripts.year_parts.shelf import NOTHING, Lot, Shelf

Row = dict[str, Any]
Frames = Mapping[str, pl.DataFrame]

LATE, SHORT, REFUSED = 0.15, 0.08, 0.04  # shares of deliveries
POSTPONED = 0.3  # share of proposed moves that a supplier agrees to
MISCOUNTED = 0.1  # share of counts that are wrong
ORDER_KEY = ("order", "item", "serial", "due_date")


@dataclass
class Week:
    """A week of the shop: what is written down (rows of each kind of entry), and what went where.

    picked: what went into an order, by the name it has in work; finished: airframes.
    """

    rows: dict[str, list[Row]] = field(default_factory=dict)
    picked: dict[str, list[tuple[str, str, float]]] = field(default_factory=dict)
    made_in: dict[str, tuple[str, str]] = field(default_factory=dict)
    shipped_late: list[int] = field(default_factory=list)

    def write(self, kind: str, row: Row) -> None:
        self.rows.setdefault(kind, []).append(row)


class Shop:
    """The shop, over all weeks; `shelf` is the truth that the books are held against."""

    def __init__(self, seed: int, stock: pl.DataFrame) -> None:
        self.chance = random.Random(seed)
        self.shelf = Shelf.of(stock)

    def week(
        self, name: str, until: dt.date, inputs: Frames, results: Frames, to_count: list[Row]
    ) -> Week:
        """One week, up to a day; inputs, results: the tables of its run; to_count: rows of stock
        whose turn it is."""
        now = _Now(name, until, inputs, results, self.shelf, self.chance)
        now.answers()
        now.orders_placed()
        day = inputs["plan"]["start"][0]
        while day < until:
            now.arrivals(day)
            now.finish(day)
            now.begin(day)
            day += dt.timedelta(days=1)
        now.pack(until - dt.timedelta(days=3))
        now.deliver(until - dt.timedelta(days=3))
        now.count(until - dt.timedelta(days=3), to_count)
        return now.week


class _Now:
    """The week that is on."""

    def __init__(
        self,
        name: str,
        until: dt.date,
        inputs: Frames,
        results: Frames,
        shelf: Shelf,
        chance: random.Random,
    ) -> None:
        self.name, self.until, self.inputs, self.results = name, until, inputs, results
        self.start: dt.date = inputs["plan"]["start"][0]
        self.shelf, self.chance, self.week = shelf, chance, Week()
        self.items = {row["item"]: row for row in inputs["items"].iter_rows(named=True)}
        self.open = {_key(row): dict(row) for row in inputs["open_orders"].iter_rows(named=True)}
        self.rates = dict(inputs["processes"].select("process", "scrap_rate").iter_rows())
        self.lacks = self._lacks()
        self.listed = self._listed()
        self.waiting = self._waiting()
        self.done: dict[tuple[str, str], dt.date] = {}  # when something was last finished
        self.failed: dict[tuple[str, str], bool] = {}
        self.worked: dict[tuple[Any, ...], Row] = {}

    def _lacks(self) -> dict[str, list[tuple[str, str, float]]]:
        """What each order takes that is to be begun, or still lacks."""
        pegs = self.results["pegs"].filter(pl.col("supply_kind") != "passed on")
        sums = pegs.group_by("need", "item", "serial").agg(pl.col("quantity").sum())
        found: dict[str, list[tuple[str, str, float]]] = {}
        for need, item, serial, quantity in sums.sort("need", "item", "serial").iter_rows():
            whole = self.items[item]["unit"] == "pc"
            amount = math.ceil(quantity - NOTHING) if whole else round(quantity, 9)
            found.setdefault(need, []).append((item, serial, float(amount)))
        return found

    def _listed(self) -> dict[tuple[str, str, str], dict[str, float]]:
        """How much the lists name of each lot, by order, item and serial."""
        stock = self.results["pegs"].filter(pl.col("supply_kind") == "stock")
        sums = stock.group_by("need", "item", "serial", "supply").agg(
            pl.col("quantity").sum().round(9)
        )
        found: dict[tuple[str, str, str], dict[str, float]] = {}
        for need, item, serial, lot, quantity in sums.iter_rows():
            found.setdefault((need, item, serial), {})[lot] = quantity
        return found

    def _waiting(self) -> list[Row]:
        """Planned orders that are to start in the week, the first in front."""
        made = self.results["orders"].filter(
            pl.col("source") != "buy", pl.col("start_date") < self.until
        )
        rows = made.sort("start_date", "due_date", "order").iter_rows(named=True)
        return [dict(row) for row in rows]

    def orders_placed(self) -> None:
        """Everything that is to be ordered is; some suppliers promise a later day."""
        arrives = dict(self.results["buy_lines"].select("order", "arrives").iter_rows())
        bought = self.results["orders"].filter(
            pl.col("source") == "buy", pl.col("start_date") < self.until
        )
        for row in bought.sort("order").iter_rows(named=True):
            entry = {"plan_order": row["order"], "item": row["item"], "serial": row["serial"]}
            entry["order"] = f"P{self.name[2:]}-{row['order'][-4:]}"
            if self.chance.random() < LATE:
                later = max(row["due_date"], arrives[row["order"]])
                entry["promised"] = later + dt.timedelta(days=self.chance.choice((2, 5, 7)))
            self.week.write("ordered", entry)

    def answers(self) -> None:
        """Some suppliers agree to come later, or sooner."""
        asked = self.results["moves"].filter(pl.col("kind").is_in(["sooner", "later"]))
        for row in asked.sort("order", "item", "due_date").iter_rows(named=True):
            bought = self.items[row["item"]]["source"] == "buy"
            if not bought or row["right_date"] is None or self.chance.random() > POSTPONED:
                continue
            found = [
                key
                for key in self.open
                if (key[0], key[1], key[3]) == (row["order"], row["item"], row["due_date"])
            ]
            if found and row["right_date"] >= self.until:
                key = dict(zip(ORDER_KEY, found[0], strict=True))
                self.week.write("answered", {**key, "new_date": row["right_date"]})
                self.open[found[0]]["due_date"] = row["right_date"]

    def arrivals(self, day: dt.date) -> None:
        """What suppliers bring: some late, some short, some of it refused."""
        for key, row in self.open.items():
            bought = self.items[row["item"]]["source"] == "buy"
            if not bought or row["quantity"] <= 0 or max(row["due_date"], self.start) != day:
                continue
            if self.chance.random() < LATE:
                continue  # it comes another week
            whole = self.items[row["item"]]["unit"] == "pc"
            arrived = row["quantity"]
            if self.chance.random() < SHORT:
                arrived = math.ceil(arrived * 0.7) if whole else round(arrived * 0.7, 3)
            rejected = float(self.chance.random() < REFUSED and arrived >= 2)
            self._take_in(key, row, float(arrived), rejected)

    def _take_in(self, key: tuple[Any, ...], row: Row, arrived: float, rejected: float) -> None:
        entry = {**dict(zip(ORDER_KEY, key, strict=True)), "arrived": arrived}
        entry |= {"rejected": rejected or None}
        if row["item"] in self.shelf.spoils:
            entry |= {"lot": f"{row['order']}-{self.name[5:]}"}
            entry |= {"use_by": self.start + dt.timedelta(days=180)}
        self.week.write("arrived", entry)
        accepted = round(arrived - rejected, 9)
        row["quantity"] = round(row["quantity"] - accepted, 9)
        lot, last = entry.get("lot", ""), entry.get("use_by")
        self.shelf.put(Lot(row["item"], accepted, "", lot, "usable", last, row["serial"]))

    def begin(self, day: dt.date) -> None:
        """Orders in work get what they lack, and orders are begun whose parts are all there."""
        for row in self.open.values():
            lacks = self.lacks.get(row["order"], [])
            if self.items[row["item"]]["source"] != "buy" and lacks and self._all_there(lacks, day):
                self._pick(row["order"], row["order"], self.lacks.pop(row["order"]), day)
        for row in list(self.waiting):
            lacks = self.lacks.get(row["order"], [])
            if row["start_date"] <= day and self._all_there(lacks, day):
                self.waiting.remove(row)
                name = f"{self.name}-{row['order']}"
                self._pick(row["order"], name, lacks, day)
                entry = {key: row[key] for key in ORDER_KEY}
                entry["begun"] = row["quantity"]
                self.worked[_key(row)] = entry
                self.week.write("worked", entry)
                self.open[_key(row)] = {**row, "order": name, "listed": row["order"]}
                self.week.made_in[name] = (row["item"], row["serial"])

    def _all_there(self, lacks: list[tuple[str, str, float]], day: dt.date) -> bool:
        return all(
            self.shelf.there(item, serial, day) >= amount - NOTHING
            for item, serial, amount in lacks
        )

    def _pick(
        self, listed: str, name: str, lacks: list[tuple[str, str, float]], day: dt.date
    ) -> None:
        """Takes what an order lacks, and writes down how much from which lot."""
        for item, serial, amount in lacks:
            named = self.listed.get((listed, item, serial), {})
            for lot, taken in self.shelf.take(item, serial, amount, day, named):
                self.week.write(
                    "picked",
                    {
                        "order": listed,
                        "item": item,
                        "serial": serial,
                        "lot": lot.lot,
                        "location": lot.location,
                        "listed_lot": lot.lot,
                        "need_date": day,
                        "picked": taken,
                    },
                )
            self.week.picked.setdefault(name, []).append((item, serial, amount))

    def finish(self, day: dt.date) -> None:
        """Orders in work that are due and lack nothing are finished; chance decides how well."""
        for key, row in list(self.open.items()):
            made = self.items[row["item"]]["source"] != "buy" and row["quantity"] > 0
            if not made or max(row["due_date"], self.start) > day:
                continue
            if row["order"] in self.lacks and "listed" not in row:
                continue
            good, scrapped = self._outcome(row)
            entry = self.worked.get(key)
            if entry is None:
                entry = {name: row[name] for name in ORDER_KEY}
                self.week.write("worked", entry)
            entry |= {"good": good or None, "scrapped": scrapped or None}
            row["quantity"] = 0.0
            if good:
                self.shelf.put(Lot(row["item"], good, serial=row["serial"]))
                self.done[row["item"], row["serial"]] = day

    def _outcome(self, row: Row) -> tuple[float, float]:
        """Good and scrapped pieces; what lies on a plate that fails is lost with it."""
        own = self.items[row["item"]]
        rate = (
            own["scrap_rate"] if own["scrap_rate"] is not None else self.rates.get(own["process"])
        )
        plates = self.results["plates"].filter(pl.col("order") == row.get("listed", row["order"]))
        pieces = int(row["quantity"])
        if own["unit"] != "pc" or not rate:
            return row["quantity"], 0.0
        scrapped = 0
        on_plates = list(plates.select("week", "plate", "parts").iter_rows())
        for week, plate, parts in on_plates:
            lost = self.failed.setdefault((week, plate), self.chance.random() < rate)
            scrapped += parts * lost
        loose = 0 if on_plates else pieces
        scrapped += sum(self.chance.random() < rate for _ in range(loose))
        scrapped = min(scrapped, pieces)
        return float(pieces - scrapped), float(scrapped)

    def pack(self, day: dt.date) -> None:
        """Spares orders of the week leave once everything for them is there."""
        lists = self.results["packing"]
        for row in self.inputs["spares_orders"].sort("need_date", "order").iter_rows(named=True):
            same = [pl.col(n) == row[n] for n in ("order", "item", "serial", "need_date")]
            parts = lists.filter(*same).group_by("part").agg(pl.col("quantity").sum())
            lacks = [
                (part, self._whose(part, row["serial"]), amount)
                for part, amount in parts.sort("part").iter_rows()
            ]
            soon = row["need_date"] < self.until + dt.timedelta(days=7)
            if not lacks or not soon or not self._all_there(lacks, day):
                continue
            if not all(self._one_lot(*each, day) for each in lacks):
                continue  # a line has room for one batch
            for part, serial, amount in lacks:
                ((lot, taken),) = self.shelf.take(part, serial, amount, day)
                key = {name: row[name] for name in ("order", "item", "serial", "need_date")}
                entry = {**key, "component": part, "packed": taken}
                self.week.write("packed", entry | {"batch": lot.lot, "left_on": day})
            self.week.shipped_late.append(max(0, (day - row["need_date"]).days))

    def _one_lot(self, item: str, serial: str, amount: float, day: dt.date) -> bool:
        """Whether the lot that is taken first holds enough."""
        return self.shelf.usable(item, serial, day)[0].quantity >= amount

    def _whose(self, item: str, serial: str) -> str:
        """The serial under which an item lies for an aircraft."""
        specific = any(lot.item == item and lot.serial == serial for lot in self.shelf.lots)
        return serial if specific else ""

    def deliver(self, day: dt.date) -> None:
        """Airframes that are finished are handed over."""
        for row in self.inputs["build_plan"].sort("serial").iter_rows(named=True):
            if self.shelf.there(row["item"], row["serial"], day) >= 1:
                list(self.shelf.take(row["item"], row["serial"], 1.0, day))
                left = self.done.get((row["item"], row["serial"]), self.start)
                self.week.write("delivered", {"serial": row["serial"], "delivered_on": left})

    def count(self, day: dt.date, to_count: list[Row]) -> None:
        """The shelves whose turn it is are counted; some counts are wrong, and then it is so."""
        stock = self.inputs["stock"]
        places = dict(stock.group_by("item").agg(pl.col("location").n_unique()).iter_rows())
        for row in stock.unique(_PLACE, keep="none", maintain_order=True).iter_rows(named=True):
            named = {name: row[name] for name in (*_PLACE, "location")}
            if named not in to_count or row["status"] != "usable" or places[row["item"]] > 1:
                continue  # the truth knows no places
            own = [lot for lot in self.shelf.lots if _place(lot) == _place_of(row)]
            there = round(sum(lot.quantity for lot in own), 9)
            if row["serial"] == "" and self.chance.random() < MISCOUNTED:
                whole = self.items[row["item"]]["unit"] == "pc"
                wrong = self.chance.choice((-1.0, 1.0)) if whole else round(-0.02 * there, 6)
                there = max(0.0, round(there + wrong, 9))
            self.week.write("counted", {**named, "counted": there})
            self.shelf.lots = [lot for lot in self.shelf.lots if _place(lot) != _place_of(row)]
            self.shelf.put(Lot(quantity=there, **named))


_PLACE = ("item", "serial", "lot", "status", "expires")


def _key(row: Row) -> tuple[Any, ...]:
    return tuple(row[name] for name in ORDER_KEY)


def _place(lot: Lot) -> tuple[Any, ...]:
    return lot.item, lot.serial, lot.lot, lot.status, lot.expires


def _place_of(row: Row) -> tuple[Any, ...]:
    return tuple(row[name] for name in _PLACE)
