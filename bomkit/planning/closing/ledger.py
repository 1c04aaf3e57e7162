"""The tables of a run while a week is booked: what is there, on order, lacking, and doubtful.

Rows are kept as dictionaries, as every entry changes one or a few of them.
"""

import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Any

import polars as pl

from bomkit.planning.usual_places import usual_places
from bomkit.problems import Problem, Severity
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.tables.schema import Column, Tables
from bomkit.units import TOLERANCE, WHOLE_UNITS, decimals
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import as_typed

Row = dict[str, Any]
COUNTED = "counted"  # of the account: by how much there was more or less
_HALF_A_STEP = 0.51  # of the last decimal, with a hair
KEPT_AS_ROWS = (
    *("stock", "open_orders", "allocations", "spares_orders", "moulds", "build_plan", "fleet"),
    *("scrap_log", "arrivals_log"),
)
LIKELY_A_SLIP = 10  # times what is planned or on the books: likely a slip, but there may be reasons
_SAME_STOCK = ("item", "location", "lot", "status", "expires", "serial", "reason")


@dataclass(frozen=True)
class Week:
    """What is booked: the run's input tables, its result tables, and what was filled in.

    name: ISO week of the run; last: the last working day of it; ends: the day before the next
    plan's first; entries: the tables of ENTRIES with a column where; unread: order and item of
    picks of which a cell could not be read.
    """

    name: str
    start: dt.date
    last: dt.date
    ends: dt.date
    inputs: Tables
    results: Tables
    entries: Tables
    unread: Collection[tuple[str, str]] = ()

    def filled(self, name: str) -> list[Row]:
        """The rows of a kind of entry, words never null."""
        table = ENTRIES[name]
        frame = self.entries.get(name, table.empty().with_columns(where=pl.lit("")))
        words = [pl.col(column.name).fill_null("") for column in table.columns if _is_word(column)]
        return list(frame.with_columns(words).iter_rows(named=True))


def _is_word(column: Column) -> bool:
    return column.dtype == pl.String


@dataclass
class Ledger:
    """The rows of the tables that change, and what was found on the way."""

    week: Week
    rows: dict[str, list[Row]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    log: list[tuple[str, str, float]] = field(default_factory=list)  # item, movement, quantity

    def __post_init__(self) -> None:
        for name in KEPT_AS_ROWS:
            self.rows[name] = list(self.week.inputs[name].iter_rows(named=True))
        items = self.week.inputs["items"].iter_rows(named=True)
        self.items: dict[str, Row] = {row["item"]: row for row in items}
        self.places = usual_places(self.week.inputs["stock"])

    @property
    def stock(self) -> list[Row]:
        return self.rows["stock"]

    def refuse(self, entry: Row, column: str, message: str, severity: Severity = "error") -> None:
        """Says what is doubtful in a cell that was filled in."""
        value = entry.get(column)
        shown = "" if value is None else as_typed(value) if isinstance(value, float) else str(value)
        self.problems.append(Problem(entry["where"], "", column, shown, message, severity))

    def note(self, entry: Row, column: str, message: str) -> None:
        """Says what was done with a cell where somebody may have expected something else."""
        self.refuse(entry, column, message, "warning")

    def note_if_before(self, entry: Row, column: str) -> None:
        """Says of a day on which something left the house that it is before the week."""
        if entry[column] < self.week.start:
            self.note(entry, column, said.LEFT_BEFORE.format(start=self.week.start))

    def unit(self, item: str) -> str:
        """The unit of an item; empty for one that is in no table."""
        return str(self.items.get(item, {}).get("unit", ""))

    def is_whole(self, item: str) -> bool:
        """Whether an item is counted in pieces."""
        return self.unit(item) in WHOLE_UNITS

    def printed(self, item: str) -> float:
        """Less than what lists print of an item's quantities; nothing of what is in pieces."""
        shown = decimals(self.items[item]["unit"])
        return _HALF_A_STEP * 10.0**-shown if shown else 0.0

    def countable(self, entry: Row, item: str, columns: Collection[str]) -> bool:
        """Whether the quantities of an entry are whole where they must be; says where not."""
        wrong = [
            column
            for column in columns
            if entry[column] is not None and self.is_whole(item) and entry[column] % 1
        ]
        for column in wrong:
            self.refuse(entry, column, said.WHOLE_PIECES.format(item=item))
        return not wrong

    def put(self, row: Row) -> None:
        """Adds to the stock, to the row that is like it if there is one."""
        full = {"location": "", "lot": "", "status": "usable", "expires": None, "reason": "", **row}
        for there in self.stock:
            if all(there[name] == full[name] for name in _SAME_STOCK):
                there["quantity"] = tidy(there["quantity"] + full["quantity"])
                return
        self.stock.append({name: full[name] for name in INPUTS["stock"].column_names})

    def take(self, lots: list[Row], quantity: float) -> None:
        """Takes a quantity from rows of the stock, one after the other; there must be enough."""
        for lot in lots:
            taken = min(lot["quantity"], quantity)
            lot["quantity"] = tidy(lot["quantity"] - taken, lot["quantity"])
            quantity -= taken
        self.rows["stock"] = [row for row in self.stock if row["quantity"] > 0 or row not in lots]

    def open_order(self, entry: Row) -> Row | None:
        """The open order that an entry names; a list may leave out the serial of a common item."""
        alike = [row for row in self.rows["open_orders"] if _names(entry, row)]
        exact = [row for row in alike if row["serial"] == entry["serial"]]
        if exact:
            return exact[0]
        return alike[0] if len(alike) == 1 and not entry["serial"] else None

    def frames(self) -> dict[str, pl.DataFrame]:
        """The tables as they are now."""
        return {
            name: pl.DataFrame(
                [{column: row[column] for column in INPUTS[name].column_names} for row in rows],
                schema=INPUTS[name].schema,
            )
            for name, rows in self.rows.items()
        }


def _names(entry: Row, order: Row) -> bool:
    """Whether an entry names an open order by its number, item and the day it had in the run."""
    was = {**order, **order.get("was", {})}
    return all(was[name] == entry[name] for name in ("order", "item", "due_date"))


def tidy(value: float, beside: float = 0.0) -> float:
    """A sum without its last bits; 0 where it is nothing beside what it was taken from."""
    return 0.0 if abs(value) <= TOLERANCE * max(abs(beside), 1e-3) else round(value, 9)
