"""What the lines of a kit say of its parts; what is packed is read off the pegs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import polars as pl

from bomkit import units
from bomkit.planning.structure.options_and_serials import CONDITIONS, fits, option_names
from bomkit.planning.structure.replaced import successors
from bomkit.tables.schema import Tables

UNPACKED = ("kit", "phantom")  # sources that stand for what is in them


@dataclass(frozen=True)
class Part:
    """One thing to pack: quantity in the item's own unit."""

    item: str
    quantity: float
    position: str = ""
    note: str = ""
    replaces: str = ""  # the old item in whose place it goes


class Contents:
    """What kits contain for each aircraft: options, serial ranges, dates, phantoms, inner kits."""

    def __init__(self, tables: Tables) -> None:
        """Keeps the lines of kits and phantoms only."""
        items = tables["items"]
        self.source = dict(items.select("item", "source").iter_rows())
        self.unit = dict(items.select("item", "unit").iter_rows())
        unpacked = items.filter(pl.col("source").is_in(UNPACKED))["item"]
        self.lines: dict[str, list[dict[str, Any]]] = {}
        own = tables["structure"].filter(pl.col("parent").is_in(unpacked.implode()))
        for line in own.sort("row").iter_rows(named=True):
            self.lines.setdefault(line["parent"], []).append(line)
        self.successor = successors(tables)
        hazards = items.filter(pl.col("hazard") != "")
        self.hazard = dict(hazards.select("item", "hazard").iter_rows())
        aircraft = pl.concat(
            [tables[name].select("serial", "options") for name in ("fleet", "build_plan")]
        ).unique("serial", keep="first", maintain_order=True)
        self.options = {serial: option_names(options) for serial, options in aircraft.iter_rows()}

    def parts(self, item: str, quantity: float, serial: str, start: date) -> list[Part]:
        """What a quantity of an item comes to for an aircraft, when packing starts on a day.

        An item that is no kit is itself its content.
        """
        if self.source[item] not in UNPACKED:
            return [Part(item, quantity)]
        return list(self._inside(item, quantity, serial, start))

    def reached(self, item: str) -> set[str]:
        """The item and all that may come in its place or out of it, for whatever aircraft."""
        reached, waiting = {item}, [item]
        while waiting:
            name = waiting.pop()
            lines = self.lines.get(name, [])
            below = [*(line["child"] for line in lines), self.successor.get(name, name)]
            fresh = [child for child in below if child not in reached]
            reached.update(fresh)
            waiting += fresh
        return reached

    def hazards(self, item: str) -> str:
        """The dangerous goods of an item; of a kit those of whatever may be in it."""
        inner = self.reached(item) if self.source[item] in UNPACKED else {item}
        return "; ".join(sorted({self.hazard[name] for name in inner if name in self.hazard}))

    def _inside(self, parent: str, quantity: float, serial: str, start: date) -> Iterator[Part]:
        """The content of a kit or phantom, inner ones unpacked too."""
        for line in self.lines.get(parent, []):
            if not self.counts(line, serial, start):
                continue
            wanted = self._wanted(line, quantity)
            child = line["child"]
            # what is replaced is used up first, and may be followed by something else
            if self.source[child] in UNPACKED and child not in self.successor:
                for part in self._inside(child, wanted, serial, start):
                    yield replace(part, position=part.position or line["position"])
            else:
                yield Part(child, wanted, line["position"], line["note"])

    def counts(self, line: Mapping[str, Any], serial: str, start: date) -> bool:
        """Whether a line counts for an aircraft and a day."""
        if line["from_date"] and start < line["from_date"]:
            return False
        if line["to_date"] and start > line["to_date"]:
            return False
        condition = tuple(line[name] for name in CONDITIONS)
        if not any(condition):
            return True
        return fits(condition, serial, self.options.get(serial, frozenset()))

    def _wanted(self, line: Mapping[str, Any], quantity: float) -> float:
        """How much of its child a line asks for, in the child's unit, waste included."""
        unit = self.unit[line["child"]]
        size = units.UNITS[line["unit"] or unit][1] / units.UNITS[unit][1]
        times = 1.0 if line["per"] == "order" else quantity
        return float(times * line["quantity"] / (1 - line["waste"]) * size)
