"""What a column, a rule and a table are; all tables are declared with these words."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import polars as pl

from bomkit.problems import Severity
from bomkit.words.did_you_mean import nearest

Tables = Mapping[str, pl.DataFrame]  # typed tables by name

# name: an identifier, compared letter by letter; text: free words; names: several identifiers
# separated by spaces, commas or semicolons; whole: a whole number; rate: a number in [0, 1).
Kind = Literal["name", "text", "names", "choice", "number", "whole", "rate", "date"]

DTYPES: dict[Kind, pl.DataType] = {
    "name": pl.String(),
    "text": pl.String(),
    "names": pl.String(),
    "choice": pl.String(),
    "number": pl.Float64(),
    "whole": pl.Int64(),
    "rate": pl.Float64(),
    "date": pl.Date(),
}


MOST_COUNTED = 1e9  # quantities, hours and money beyond are slips of the keyboard
MOST_ASKED = 1e12  # of one item in a plan; beyond it whole pieces can't be counted any more
MOST_TOLD_APART = 2.0**53  # whole numbers beyond are not told apart by a computer, or a spreadsheet
FIRST_YEAR, LAST_YEAR = 1950, 2200  # of dates
LEAST_COUNTED = 1e-9  # what is less than this and not 0 is too little to count with


@dataclass(frozen=True)
class Column:
    """One column: its name, the kind of its values, what must hold for them, and help."""

    name: str
    kind: Kind
    help: str
    required: bool = False
    default: str | float | int | None = None  # what an empty cell means
    choices: tuple[str, ...] = ()
    at_least: float | None = None
    above: float | None = None
    at_most: float | None = None
    refers_to: tuple[str, ...] = ()  # "items.item": the value must stand in that column
    formerly: str = ""  # the name it had before, refused with a word on the new one

    @property
    def most(self) -> float | None:
        """The largest value: the column's own, else what can still be counted in pieces."""
        if self.at_most is None and self.kind in ("number", "whole"):
            return MOST_COUNTED
        return self.at_most

    @property
    def when_empty(self) -> str | float | int | None:
        """What an empty cell becomes: the default, "" for words, else null."""
        if self.default is None and self.kind in ("name", "text", "names"):
            return ""
        return self.default

    @property
    def dtype(self) -> pl.DataType:
        """The polars type that holds the column's values."""
        return DTYPES[self.kind]

    @cached_property
    def one_empty(self) -> pl.Series:
        """The column with one row, whose cell is empty."""
        return pl.Series(self.name, [self.when_empty], dtype=self.dtype)


@dataclass(frozen=True)
class Rule:
    """A condition that every row of a table must meet, written over the table's own columns."""

    column: str  # the column to point at
    holds: pl.Expr  # boolean; null counts as met
    message: str  # what must hold, and what to try
    severity: Severity = "error"


@dataclass(frozen=True)
class Table:
    """One input or result table: its columns, the key that names a row, its rules, and help."""

    name: str
    help: str
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()  # no two rows may agree in all of these
    required: bool = False
    one_row: bool = False
    rules: tuple[Rule, ...] = ()
    formerly: str = ""  # the name it had before

    @cached_property
    def column_names(self) -> tuple[str, ...]:
        """The names of the columns in their order."""
        return tuple(column.name for column in self.columns)

    def hint(self, heading: str) -> str:
        """What to do about a name that is no column: the name it has now, or the nearest one."""
        return renamed(heading, self.columns) or nearest(heading, self.column_names)

    def column(self, name: str) -> Column:
        """The column of that name; KeyError if there is none."""
        for column in self.columns:
            if column.name == name:
                return column
        raise KeyError(name)

    @property
    def schema(self) -> dict[str, pl.DataType]:
        """The polars types by column name."""
        return {column.name: column.dtype for column in self.columns}

    @property
    def when_empty(self) -> dict[str, str | float | int | None]:
        """What an empty cell means, by column name."""
        return {column.name: column.when_empty for column in self.columns}

    def empty(self) -> pl.DataFrame:
        """A frame with the table's columns and no rows."""
        return self._no_rows

    @cached_property
    def _no_rows(self) -> pl.DataFrame:
        return pl.DataFrame(schema=self.schema)


def renamed(name: str, known: Iterable[Column | Table]) -> str:
    """What to do about a column or table by a name that it had before; empty for other names."""
    meant = name.strip().casefold()
    now = (each.name for each in known if meant and each.formerly == meant)
    return next((f"it is called {name_now} now; rename it" for name_now in now), "")
