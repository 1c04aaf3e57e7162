"""What the shop wrote down, filled into the workbooks of the run, and taken back."""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import openpyxl

from bomkit.runs.week.take_back import TakenBack, take_back
from bomkit.tables.filled_in_tables import ENTRIES
from scripts.year_parts.filling import fill_in, lines_of
from scripts.year_parts.shelf import NOTHING
from scripts.year_parts.shop import Row, Week

_PICK = ("order", "item", "serial", "lot")


def to_count(run_folder: Path, week: str) -> list[Row]:
    """The rows that the run asks to be counted in a week."""
    book = openpyxl.load_workbook(run_folder / week / "counts.xlsx")
    return [key for sheet in book.worksheets for _, _, _, key in lines_of(sheet)]


def hand_in(run_folder: Path, name: str, week: Week, into: Path) -> TakenBack:
    """Fills a week into the workbooks and takes it back into a folder."""
    pen = _Pen(week)
    books = [*sorted((run_folder / name).glob("*.xlsx")), *sorted(run_folder.glob("kits/*.xlsx"))]
    later = [path for path in sorted(run_folder.glob("*/arrivals.xlsx")) if path not in books]
    books = sorted([*books, *later], key=lambda path: path.stem == "picks")  # further picks last
    for path in [*books, run_folder / "shortages.xlsx"]:
        fill_in(path, pen.fill)
    pen.nothing_left()
    return take_back(run_folder, [], into, False)


class _Pen:
    """Knows what is to be written down, and crosses out what was."""

    def __init__(self, week: Week) -> None:
        self.rows = {
            (kind, *_key(kind, row)): row
            for kind, rows in week.rows.items()
            if kind not in ("picked", "packed")
            for row in rows
        }
        self.picks: Counter[tuple[str, ...]] = Counter()
        for row in week.rows.get("picked", []):
            self.picks[*(row[name] for name in _PICK)] += row["picked"]
        self.begun = {row["order"] for row in week.rows.get("picked", [])}
        self.packed: dict[tuple[Any, ...], list[Row]] = defaultdict(list)
        for row in week.rows.get("packed", []):
            self.packed[_packed_key(row)].append(dict(row))

    def fill(self, kind: str, key: Mapping[str, Any], shown: Mapping[str, Any]) -> Row:
        """What is typed into a row."""
        if kind == "brought_out":
            return self._brought_out(key)
        if kind == "left_out":
            return {} if key["order"] in self.begun else {"waits": "yes"}
        if kind == "further_picks":
            return self._further()
        if kind == "printed":
            return self._printed(key, float(shown["Parts"]))
        if kind == "packed":
            return self._packed(key)
        row = self.rows.pop((kind, *key.values()), {})
        typed = {name: value for name, value in row.items() if name not in key}
        return {name: value for name, value in typed.items() if value not in (None, "")}

    def _brought_out(self, key: Mapping[str, Any]) -> Row:
        """As much of a lot as the orders named first got of it, one after the other."""
        goes = [each for each in json.loads(key["goes_to"]) if each[0] in self.begun]
        listed = key["listed_lot"]
        whole = self._share(goes, key["item"], key["serial"], listed)
        if whole > NOTHING:
            return {"picked": whole}
        other = self._lot(goes, key["item"], key["serial"])
        whole = self._share(goes, key["item"], key["serial"], other) if other else 0.0
        return {"picked": whole, "lot": other} if whole > NOTHING else {}

    def _share(self, goes: list[Any], item: str, serial: str, lot: str) -> float:
        """How much of a lot the orders got, one after the other until one got less than asked."""
        shares: dict[tuple[str, ...], float] = {}
        for order, asked, _ in goes:
            pick = order, item, serial, lot
            there = self.picks[pick] - shares.get(pick, 0.0)
            taken = there if abs(there - asked) <= NOTHING else min(asked, there)
            shares[pick] = shares.get(pick, 0.0) + taken
            if taken < asked - NOTHING:
                break
        whole = round(sum(shares.values()), 9)
        if whole <= NOTHING:
            return 0.0
        for pick, taken in shares.items():
            self.picks[pick] = round(self.picks[pick] - taken, 9)
        return whole

    def _lot(self, goes: list[Any], item: str, serial: str) -> str:
        """Another lot of which the first order got something."""
        for order, _, _ in goes:
            for pick, quantity in self.picks.items():
                if pick[:3] == (order, item, serial) and quantity > NOTHING:
                    return pick[3]
        return ""

    def _further(self) -> Row:
        """What was picked and stands on no round, or more of it than there."""
        for pick, quantity in sorted(self.picks.items()):
            if quantity > NOTHING:
                del self.picks[pick]
                named = dict(zip(_PICK, pick, strict=True))
                return {name: value for name, value in named.items() if value} | {
                    "picked": quantity
                }
        return {}

    def _printed(self, key: Mapping[str, Any], parts: float) -> Row:
        """The share of a plate in what was printed of an order: what failed lies on the first."""
        row = self.rows.get(("worked", *(key[name] for name in ENTRIES["worked"].key)))
        if row is None:
            return {}
        typed = {"begun": min(parts, row["begun"])}
        row["begun"] -= typed["begun"]
        done = parts
        for name in ("scrapped", "good"):
            share = min(done, row.get(name) or 0.0)
            if share:
                typed[name] = share
                row[name] -= share
                done -= share
        return typed

    def _packed(self, key: Mapping[str, Any]) -> Row:
        """A line of a box: on the row of its lot if there is one, else its lot is the batch."""
        rows = self.packed[_packed_key(key)]
        own = [row for row in rows if row["batch"] == key["listed_lot"]] or rows
        if not own:
            return {}
        row = own[0]
        rows.remove(row)
        batch = row["batch"] if row["batch"] != key["listed_lot"] else None
        typed = {"packed": row["packed"], "batch": batch, "left_on": row["left_on"]}
        return {name: value for name, value in typed.items() if value is not None}

    def nothing_left(self) -> None:
        """Raises AssertionError if something found no room in the workbooks."""
        left = list(self._left())
        assert not left, f"{len(left)} found no room, such as {left[0]}"

    def _left(self) -> Iterable[Any]:
        for pick, quantity in self.picks.items():
            if quantity > NOTHING:
                yield "picked", pick, quantity
        for key, row in self.rows.items():
            if any(row.get(name) for name in ("begun", "good", "scrapped")) or key[0] != "worked":
                yield key
        for rows in self.packed.values():
            yield from rows


def _key(kind: str, row: Row) -> tuple[Any, ...]:
    return tuple(row.get(name, "") for name in ENTRIES[kind].key)


def _packed_key(row: Mapping[str, Any]) -> tuple[Any, ...]:
    names = ("order", "item", "serial", "need_date", "component")
    return tuple(row[name] for name in names)
