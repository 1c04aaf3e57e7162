"""The rows of a sheet as the text of its file format (ECMA-376, part 1, 18.3.1.80 sheetData).

Sheets here are long and their cells plain, so rows are put together as text: some twenty times
faster than one library object a cell. Everything around the rows is left to the library.
"""

import datetime as dt
import re
from collections.abc import Iterable, Mapping, Sequence
from xml.sax.saxutils import escape

from openpyxl.utils import get_column_letter

from bomkit.workbooks.writing.sheet import Line, Link

_EPOCH = dt.date(1899, 12, 30)  # day 0 of spreadsheet dates after February 1900
_LONGEST_TEXT = 32_767  # a cell holds no more
_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")  # not XML


def sheet_rows(lines: Iterable[Line], style_ids: Mapping[str, int]) -> str:
    """The sheetData element with one row for each line, numbered from 1."""
    letters = [get_column_letter(number) for number in range(1, 201)]
    rows = [_row(number, line, letters, style_ids) for number, line in enumerate(lines, start=1)]
    return f"<sheetData>{''.join(rows)}</sheetData>"


def _row(number: int, line: Line, letters: Sequence[str], style_ids: Mapping[str, int]) -> str:
    """One row with its height and cells; what is None leaves no trace."""
    height = f' ht="{line.height:g}" customHeight="1"' if line.height else ""
    cells = [
        _cell(f"{letters[column]}{number}", cell, style_ids)
        for column, cell in enumerate(line.cells)
        if cell is not None
    ]
    return f'<row r="{number}"{height}>{"".join(cells)}</row>'


def _cell(place: str, cell: tuple[object, str], style_ids: Mapping[str, int]) -> str:
    """One cell: a number, a date as its day number, or words that are never a formula."""
    value, style = cell
    known = f'<c r="{place}" s="{style_ids[style]}"'
    if isinstance(value, Link):
        value = value.words
    if isinstance(value, str):
        if not value:
            return f"{known}/>"
        words = escape(_FORBIDDEN.sub(" ", value)[:_LONGEST_TEXT])
        return f'{known} t="inlineStr"><is><t xml:space="preserve">{words}</t></is></c>'
    if isinstance(value, dt.date):
        value = (value - _EPOCH).days
    return f"{known}><v>{value!r}</v></c>"
