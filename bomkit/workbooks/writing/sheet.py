"""What a sheet is before it is written: frozen descriptions, no library behind them.

A cell is a value and the name of a style (see style.py), or None for an empty cell.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import NamedTuple

from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.units import UNITS, decimals
from bomkit.words.problems.figures import LEAST_IN_WORDS

Value = str | int | float | dt.date
Cell = tuple["Value | Link", str] | None


@dataclass(frozen=True)
class Link:
    """Words that lead to another sheet of the same workbook."""

    words: str
    sheet: str


@dataclass(frozen=True)
class Column:
    """A column: its heading, its width in characters, and how the heading is aligned."""

    heading: str
    width: float
    style: str = "head"
    fills: str = ""  # the column of the sheet's kind of entry that is filled in here
    shows: bool = False  # repeated in a row's key, so that cells that were moved are noticed
    hidden: bool = False


class Line(NamedTuple):
    """A row of cells and its height in points (None: the usual)."""

    cells: Sequence[Cell]
    height: float | None = None
    key: Sequence[object] = ()  # of what is filled in: the key columns of the sheet's kind of entry


@dataclass(frozen=True)
class Chart:
    """Columns over the sheet's own table, with a line for what there is.

    first_line, last_line: index into the sheet's lines of the series; the categories are the
    headings of the columns first_column to last_column (counted from 0).
    """

    first_line: int
    last_line: int
    first_column: int
    last_column: int
    value_title: str
    limit_line: int | None = None
    other_line: int | None = None  # another row of figures to compare with, dotted
    stacked: bool = True  # else side by side


@dataclass(frozen=True)
class Curve:
    """A line over the sheet's own table: one row a point, beside the table.

    across, up: columns (counted from 0) of what runs to the right and what is drawn; limit: column
    of a dashed line.
    """

    across: int
    up: int
    limit: int
    across_title: str
    up_title: str
    across_form: str = "#,##0"


@dataclass(frozen=True)
class Sheet:
    """One sheet: a title, some words, and a table with headings that repeat on every page."""

    name: str
    title: str
    subtitle: str
    columns: Sequence[Column]
    lines: Sequence[Line]
    notes: Sequence[str] = ()
    cautions: Sequence[str] = ()  # in bold above the notes; with any, a short one on every page
    filtered: bool = True
    frozen_columns: int = 0
    heading_height: float = 27.0
    chart: Chart | Curve | None = None
    wall: bool = False  # one page of twice the size, to hang up
    portrait: bool = False  # else landscape
    printed: int | None = None  # so many lines are printed, the others stand in the workbook alone
    entries: str = ""  # what is filled in here, a name of ENTRIES


@dataclass(frozen=True)
class Book:
    """A workbook: the sheets in their order, and what stands at the foot of every page."""

    sheets: Sequence[Sheet]
    run_id: str
    maker: str
    made: dt.date


_FIGURES = ("pieces", "tenths", "measure", "mass")  # styles by their decimals
BLANK: Cell = ("", "text")  # nothing, but the row's hairline runs on


@cache
def to_fill(entries: str, column: str) -> Cell:
    """An empty cell for a column of a kind of entry."""
    kind = ENTRIES[entries].column(column).kind
    return (
        "",
        {"date": "entry_date", "number": "entry", "whole": "entry"}.get(kind, "entry_words"),
    )


def quantity(value: float | None, unit: str, style: str = "") -> Cell:
    """A quantity shown with as many decimals as its unit deserves; blank if there is none."""
    if value is None:
        return BLANK
    return (value, _look(style, unit))


@cache
def _look(style: str, unit: str) -> str:
    """The style of a figure in a unit."""
    return f"{style}{_FIGURES[decimals(unit)]}"


def expected(value: float, unit: str) -> Cell:
    """A quantity that is an expectation: tenths of pieces are meant as such."""
    return (value, "tenths") if UNITS[unit][0] == "pieces" else quantity(value, unit)


@lru_cache(maxsize=50_000)
def in_a_sentence(value: float) -> str:
    """A quantity among words: with up to three decimals, and no more than it has; never nothing."""
    if 0 < abs(value) < LEAST_IN_WORDS:
        return f"{value:.1g}"
    return f"{value:,.3f}".rstrip("0").rstrip(".")


def text(value: str, style: str = "text") -> Cell:
    """Words; blank for none."""
    return (value, style) if value else BLANK
