"""How a workbook comes out on paper, worked out from its file without a program that prints it.

A sheet is as wide as one page, so it is made smaller where its columns are wider than the paper;
its rows then fill page after page, below the rows that are repeated on each. What programs do a
little otherwise (a column is wider or narrower by a pixel) stays within a row or so.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import openpyxl
from openpyxl.utils import get_column_letter

from bomkit.workbooks.writing import letter_widths as letters

_INCH = 72.0  # points
_PAPER = {8: (842.0, 1191.0), 9: (595.0, 842.0)}  # A3 and A4, upright, in points
_DIGIT, _GAP = 7.0, 5.0  # pixels of a column: of each of its digits, and beside them
_PIXEL = 0.75  # points
_USUAL_ROW = 12.75  # points, of a row that says nothing


@dataclass(frozen=True)
class Paper:
    """A sheet on paper; scale: of what its size is in the file; sizes in points."""

    where: str
    sheet: Any
    scale: float
    pages: int
    rows: range  # that are printed

    def cells(self) -> Iterator[Any]:
        """The cells that are printed and that people see."""
        hidden = [hidden for _, hidden in _columns(self.sheet)]
        for cells in self.sheet.iter_rows(min_row=self.rows.start, max_row=self.rows.stop - 1):
            yield from (cell for cell in cells if not hidden[cell.column - 1])

    def height(self, row: int) -> float:
        """The height of a row on paper."""
        return _height(self.sheet, row) * self.scale

    def smallest_print(self) -> float:
        """The size of the smallest letters."""
        return min(cell.font.sz for cell in self.cells() if cell.value) * self.scale

    def least_room_to_write(self) -> float:
        """The height of the lowest row in which something is filled in, or some big one if none."""
        rows = {cell.row for cell in self.cells() if not cell.protection.locked}
        return min((self.height(row) for row in rows), default=100.0)

    def cut_words(self) -> list[str]:
        """Cells whose words need more lines than their row has room for, or are wider than their
        column where the next cell holds something."""
        return [
            f"{self.where} {cell.coordinate}: {cell.value}"
            for cell in self.cells()
            if cell.value is not None and cell.row >= _heading_row(self.sheet)
            if self._is_cut(cell)
        ]

    def _is_cut(self, cell: Any) -> bool:
        width = self.sheet.column_dimensions[get_column_letter(cell.column)].width
        look = cell.font
        points = letters.room(width - 1.8 * (cell.alignment.indent or 0)) + 0.5
        if not isinstance(cell.value, str):
            return letters.length(_shown(cell), look.sz, look.b) > points + 2
        if cell.alignment.wrap_text:
            lines = letters.in_lines(cell.value, points, look.sz, look.b)
            longest = max(letters.length(each, look.sz, look.b) for each in cell.value.split(" "))
            if cell.row == _heading_row(self.sheet) and longest > points:
                return True  # a word of a heading is broken
            return len(lines) * look.sz * 1.16 > _height(self.sheet, cell.row) + 1
        beside = self.sheet.cell(cell.row, cell.column + 1).value
        return beside is not None and letters.length(cell.value, look.sz, look.b) > points + 4


def on_paper(path: Path) -> Iterator[Paper]:
    """Every sheet of a workbook."""
    for sheet in openpyxl.load_workbook(path).worksheets:
        yield _on_paper(f"{path.name} {sheet.title}", sheet)


def _on_paper(where: str, sheet: Any) -> Paper:
    setup, margins = sheet.page_setup, sheet.page_margins
    narrow, long = _PAPER[int(setup.paperSize)]
    across, down = (narrow, long) if setup.orientation == "portrait" else (long, narrow)
    wide = sum(width for width, hidden in _columns(sheet) if not hidden)
    scale = min(1.0, (across - (margins.left + margins.right) * _INCH) / wide)
    room = (down - (margins.top + margins.bottom) * _INCH) / scale
    last = sheet.max_row
    if sheet.print_area:
        last = int(sheet.print_area.split("$")[-1])
    rows = range(1, last + 1)
    return Paper(where, sheet, scale, _pages(sheet, rows, room), rows)


def _pages(sheet: Any, rows: range, room: float) -> int:
    """How many pages rows take; room: of each, in points of the file."""
    head = _heading_row(sheet)
    pages, used = 1, 0.0
    for row in rows:
        high = _height(sheet, row)
        if used + high > room:
            pages, used = pages + 1, _height(sheet, head) if row > head else 0.0
        used += high
    return pages


def _heading_row(sheet: Any) -> int:
    """The row of headings, which is repeated on every page."""
    return int(str(sheet.print_title_rows).replace("$", "").split(":")[0])


def _height(sheet: Any, row: int) -> float:
    return float(sheet.row_dimensions[row].height or _USUAL_ROW)


def _shown(cell: Any) -> str:
    """A number or a day in the format of its cell, as wide as it may be."""
    form = str(cell.number_format).split(";")[0]
    if cell.is_date:
        parts = {"ddd": "Wed", "dd": "00", "mmm": "Nov", "yyyy": "0000", "yy": "00"}
        return " ".join(parts.get(part, part) for part in form.split(" "))
    number = form.replace("_0", "").replace("_", "").strip()
    decimals = len(number.split(".")[1].rstrip("%")) if "." in number else 0
    after = " " * 3 if "_0" in form else ""  # room at the right
    return f"{cell.value:,.{decimals}f}{after}"


def _columns(sheet: Any) -> list[tuple[float, bool]]:
    """The width of each column in points, and whether it is hidden."""
    dimensions = [
        sheet.column_dimensions[get_column_letter(number)]
        for number in range(1, sheet.max_column + 1)
    ]
    return [((each.width * _DIGIT + _GAP) * _PIXEL, bool(each.hidden)) for each in dimensions]
