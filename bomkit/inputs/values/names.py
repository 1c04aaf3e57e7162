"""Cells of text to names, letter by letter; characters that mislead the eye are refused."""

import unicodedata

import polars as pl

from bomkit.inputs.values.values_and_wrong_cells import CastColumn
from bomkit.tables.schema import Column

_LINE_OR_TAB = r"[\t\n\r]"
# Spaces that are no plain space, marks without width, letters of full width, foreign digits.
_DECEPTIVE = (
    r"[\x{a0}\x{ad}\x{2000}-\x{200f}\x{2028}-\x{202f}\x{205f}-\x{206f}\x{3000}\x{feff}"
    r"\x{ff01}-\x{ff5e}]|[\p{Nd}&&[^0-9]]"
)
_WITHOUT_WIDTH = r"[\x{ad}\x{200b}-\x{200f}\x{2028}-\x{202e}\x{2060}-\x{206f}\x{feff}]"


def cast_names(column: Column, cells: pl.Series, cast: CastColumn, plain: bool) -> CastColumn:
    """Names letter by letter; several names in a cell come back separated by single spaces."""
    if not plain:
        cells = _undeceived(column, cells, cast)
    if column.kind == "names":
        cells = cells.str.replace_all(r"[\s,;]+", " ").str.strip_chars(" ")
    return CastColumn(cells, cast.wrong)


def _undeceived(column: Column, cells: pl.Series, cast: CastColumn) -> pl.Series:
    """The names without deceptive characters, each of which is refused."""
    if column.kind == "name":
        cast.refuse(
            cells.str.contains(_LINE_OR_TAB), "must stand on one line, without tabs; retype it"
        )
    deceptive = cells.str.contains(_DECEPTIVE)
    cast.refuse_each(deceptive, cells, _deceptive_advice)
    if deceptive.any():
        cells = cells.str.replace_all(_WITHOUT_WIDTH, "").str.normalize("NFKC")
    return cells


def _deceptive_advice(text: str) -> str:
    marks = pl.Series([text]).str.extract(f"({_DECEPTIVE})").item()
    name = unicodedata.name(marks, "without a name").lower()
    return f"holds a character that misleads the eye (U+{ord(marks):04X}, {name}); retype it"
