"""The rows of a sheet as the text of its file format (ECMA-376, part 1, 18.3.1.80 sheetData).

Sheets here are long and their cells plain, so one object a cell would take some twenty times as
long.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple

from bomkit.workbooks.writing.sheet import Line, Link
from bomkit.workbooks.writing.style import USUAL_HEIGHT
from bomkit.workbooks.writing.xml_parts.text import attribute, column_letter, escaped, on_sheet

_EPOCH = dt.date(1899, 12, 30).toordinal()  # day 0 of spreadsheet dates after February 1900
_LONGEST_TEXT = 32_767  # a cell holds no more
_CELL = '<c r="'
_CELLS = [f"{_CELL}{column_letter(number)}" for number in range(1, 201)]
_WITH_YEAR = {  # by the style of short dates
    f"{prefix}date": f"{prefix}brief_date" for prefix in ("", "strong_", "faint_", "late_")
}


class Rows(NamedTuple):
    """The element of the rows, and that of their links to other sheets, empty where there are
    none."""

    told: str
    links: str


def sheet_rows(lines: Iterable[Line], style_ids: Mapping[str, int]) -> Rows:
    """One row for each line, numbered from 1; what is None leaves no trace. Short dates show their
    year if those of all lines lie in more than one."""
    looks = {name: f'" s="{number}"' for name, number in style_ids.items()}
    others = _Others(looks)
    heights: dict[float, str] = {}
    rows = ["<sheetData>"]
    for number, line in enumerate(lines, start=1):
        height = line.height or USUAL_HEIGHT
        if height not in heights:
            heights[height] = f' ht="{height:g}" customHeight="1">'
        rows.append(f'<row r="{number}"{heights[height]}')
        for opening, cell in zip(_CELLS, line.cells, strict=False):
            if cell is None:
                continue
            value, look = cell
            kind = type(value)
            if kind is str:
                rows.append(f"{opening}{number}{looks[look]}{_words(value)}")
            elif kind is float or kind is int:
                rows.append(f"{opening}{number}{looks[look]}><v>{value!r}</v></c>")
            else:
                rows.append(others.written(f"{opening}{number}", value, look))
        rows.append("</row>")
    rows.append("</sheetData>")
    return Rows(others.dated("".join(rows)), others.links())


class _Others:
    """Cells with dates and links, of which something is known only when all have been written."""

    def __init__(self, looks: Mapping[str, str]) -> None:
        self._looks = looks
        # no character of words, so that each is found again as one of its style alone
        self._marked = {**looks, **{name: f"\0{name}\0" for name in _WITH_YEAR}}
        self._days: dict[str, set[dt.date]] = {}  # by style
        self._links: list[str] = []

    def written(self, opening: str, value: object, look: str) -> str:
        """A cell that begins so: a date as the number of its day, or words with a link."""
        if isinstance(value, Link):
            place = opening.removeprefix(_CELL)
            leads = attribute(on_sheet(value.sheet, "A1"))
            self._links.append(f'<hyperlink ref="{place}" location={leads} />')
            return f"{opening}{self._looks[look]}{_words(value.words)}"
        if isinstance(value, dt.date):
            self._days.setdefault(look, set()).add(value)
            return f"{opening}{self._marked[look]}><v>{value.toordinal() - _EPOCH}</v></c>"
        return f"{opening}{self._looks[look]}><v>{value!r}</v></c>"

    def dated(self, told: str) -> str:
        """The rows with the styles of their short dates."""
        several = len({day.year for days in self._days.values() for day in days}) > 1
        for name in _WITH_YEAR.keys() & self._days.keys():  # each is looked for in all there is
            style = _WITH_YEAR[name] if several else name
            told = told.replace(f"\0{name}\0", self._looks[style])
        return told

    def links(self) -> str:
        """The element with the links; nothing where there are none."""
        return f"<hyperlinks>{''.join(self._links)}</hyperlinks>" if self._links else ""


@lru_cache(maxsize=50_000)
def _words(value: str) -> str:
    """The rest of a cell with words, which are never a formula; most stand on several sheets."""
    if not value:
        return "/>"
    words = escaped(value[:_LONGEST_TEXT])
    return f' t="inlineStr"><is><t xml:space="preserve">{words}</t></is></c>'
