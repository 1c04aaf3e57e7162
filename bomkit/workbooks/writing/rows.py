"""The rows of a sheet as the text of its file format (ECMA-376, part 1, 18.3.1.80 sheetData).

Sheets here are long and their cells plain, so rows are put together as text: some twenty times
faster than one library object a cell. Everything around the rows is left to the library.
"""

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from xml.sax.saxutils import escape

from openpyxl.utils import get_column_letter

from bomkit.workbooks.writing.sheet import Line, Link

_EPOCH = dt.date(1899, 12, 30)  # day 0 of spreadsheet dates after February 1900
_LONGEST_TEXT = 32_767  # a cell holds no more
_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")  # not XML
_LETTERS = [get_column_letter(number) for number in range(1, 201)]
_CELLS = [f'<c r="{letter}' for letter in _LETTERS]


def sheet_rows(lines: Iterable[Line], style_ids: Mapping[str, int]) -> str:
    """The sheetData element with one row for each line, numbered from 1."""
    looks = {name: f'" s="{number}"' for name, number in style_ids.items()}
    rows = [_row(number, line, looks) for number, line in enumerate(lines, start=1)]
    return f"<sheetData>{''.join(rows)}</sheetData>"


def _row(number: int, line: Line, looks: Mapping[str, str]) -> str:
    """One row with its height and cells; what is None leaves no trace."""
    height = f' ht="{line.height:g}" customHeight="1"' if line.height else ""
    cells = [
        f"{opening}{number}{looks[cell[1]]}{_written(cell[0])}"
        for opening, cell in zip(_CELLS, line.cells, strict=False)
        if cell is not None
    ]
    return f'<row r="{number}"{height}>{"".join(cells)}</row>'


def _written(value: object) -> str:
    """The rest of a cell: a number, a date as its day number, or words that are never a formula."""
    kind = type(value)
    if kind is str:
        return _words(value)
    if kind is float or kind is int:
        return f"><v>{value!r}</v></c>"
    if isinstance(value, Link):
        return _words(value.words)
    if isinstance(value, dt.date):
        value = (value - _EPOCH).days
    return f"><v>{value!r}</v></c>"


@lru_cache(maxsize=50_000)
def _words(value: str) -> str:
    """The rest of a cell with words; most words stand on several sheets."""
    if not value:
        return "/>"
    words = escape(_FORBIDDEN.sub(" ", value)[:_LONGEST_TEXT])
    return f' t="inlineStr"><is><t xml:space="preserve">{words}</t></is></c>'


def links_of(lines: Iterable[Line]) -> str:
    """The element with the links of these rows to other sheets; nothing where there are none."""
    links = [
        f'<hyperlink ref="{letter}{row}" location={_place(cell[0].sheet)} />'
        for row, line in enumerate(lines, 1)
        for letter, cell in zip(_LETTERS, line.cells, strict=False)
        if cell is not None and type(cell[0]) is Link
    ]
    return f"<hyperlinks>{''.join(links)}</hyperlinks>" if links else ""


def _place(sheet: str) -> str:
    """The first cell of a sheet, as an attribute."""
    quoted = sheet.replace("'", "''")
    return '"' + escape(f"'{quoted}'!A1", {'"': "&quot;"}) + '"'
