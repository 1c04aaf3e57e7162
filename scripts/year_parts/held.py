"""What must hold after every week, worked out from what happened and not from the booking."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import polars as pl

from scripts.year_parts.shelf import Shelf
from scripts.year_parts.shop import Week

Frames = Mapping[str, pl.DataFrame]
NEAR = 1e-6
SHOWN = 1e-4  # less than lists show of what is measured: nobody writes it down
_CAME, _WENT = ("arrived", "good", "counted"), ("picked", "scrapped", "sent")


def broken(before: Frames, after: Frames, account: pl.DataFrame, shelf: Shelf) -> Iterator[str]:
    """What does not hold after a week: the account, negative stock, books unlike the shelves."""
    if (after["stock"]["quantity"] < 0).any():
        yield "stock is negative"
    sums = account.with_columns(
        was=pl.sum_horizontal("opening", *_CAME), went=pl.sum_horizontal(*_WENT, "closing")
    )
    for row in sums.filter((pl.col("was") - pl.col("went")).abs() > NEAR).iter_rows(named=True):
        yield f"the account of {row['item']} does not close"
    for name, column in ((before, "opening"), (after, "closing")):
        stock = dict(name["stock"].group_by("item").agg(pl.col("quantity").sum()).iter_rows())
        told = dict(account.select("item", column).iter_rows())
        for item in sorted(stock.keys() | told.keys()):
            if abs(stock.get(item, 0.0) - told.get(item, 0.0)) > NEAR:
                yield f"the {column} stock of {item} is not that of the account"
    books = Shelf.of(after["stock"]).sums()
    truth = shelf.sums()
    for key in sorted(books.keys() | truth.keys()):
        if abs(books.get(key, 0.0) - truth.get(key, 0.0)) > SHOWN:
            yield f"{key}: {books.get(key, 0):g} in the books, {truth.get(key, 0):g} on the shelf"


class Contents:
    """What was built into what, week by week, and whether it is what the configuration asks for."""

    def __init__(self) -> None:
        self.picked: dict[str, dict[str, float]] = {}  # by order in work: item to quantity
        self.made_in: dict[str, tuple[str, str]] = {}  # order in work: item and serial

    def add(self, week: Week) -> None:
        """Keeps what went into the orders of a week."""
        self.made_in.update(week.made_in)
        for name, parts in week.picked.items():
            for item, _, quantity in parts:
                own = self.picked.setdefault(name, {})
                own[item] = own.get(item, 0.0) + quantity

    def wrong(self, serial: str, options: str, tables: Frames) -> Iterator[str]:
        """What is in the finished airframe of a serial that should not be, and the other way round.

        Only orders that were begun in the year can be looked into.
        """
        fitted = set(options.replace(";", " ").replace(",", " ").split())
        lines = list(tables["structure"].iter_rows(named=True))
        source = dict(tables["items"].select("item", "source").iter_rows())
        new = dict(tables["replacements"].select("old", "new").iter_rows())
        for name, (item, whose) in sorted(self.made_in.items()):
            if whose != serial:
                continue
            wanted = {
                line["child"]
                for line in lines
                if line["parent"] == item and _in(line, serial, fitted)
            }
            alike = {
                child: _stand_ins(child, lines, source, new, serial, fitted) for child in wanted
            }
            had = set(self.picked.get(name, {}))
            for child, those in sorted(alike.items()):
                if not any(had >= way for way in those):
                    yield f"{serial}: {item} ({name}) was built without {child}"
            allowed = set().union(*(way for those in alike.values() for way in those))
            for extra in sorted(had - allowed):
                yield f"{serial}: {item} ({name}) was built with {extra}, which it does not ask for"


def _in(line: Mapping[str, object], serial: str, fitted: set[str]) -> bool:
    """Whether a line counts for an aircraft, dates aside."""
    needs, bars = (
        set(str(line[n]).replace(";", " ").replace(",", " ").split())
        for n in ("with_option", "without_option")
    )
    number = int("".join(char for char in serial if char.isdigit()) or 0)
    ends = [str(line[n]) for n in ("from_serial", "to_serial")]
    low, high = (int("".join(c for c in end if c.isdigit())) if end else None for end in ends)
    inside = (low is None or number >= low) and (high is None or number <= high)
    return needs <= fitted and not (bars & fitted) and inside


def _stand_ins(
    child: str,
    lines: list[dict[str, object]],
    source: Mapping[str, str],
    new: Mapping[str, str],
    serial: str,
    fitted: set[str],
) -> list[set[str]]:
    """The ways to have a child: itself, what replaces it, and of a phantom what is in it."""
    ways: list[set[str]] = [{child}]
    if child in new:
        ways += _stand_ins(new[child], lines, source, new, serial, fitted)
    if source[child] == "phantom":
        inside: list[set[str]] = [set()]
        for line in lines:
            if line["parent"] == child and _in(line, serial, fitted):
                found = _stand_ins(str(line["child"]), lines, source, new, serial, fitted)
                inside = [one | other for one in inside for other in found]
        ways += inside
    return ways
