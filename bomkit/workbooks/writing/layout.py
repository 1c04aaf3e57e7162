"""What stands on a sheet row by row: title, words, headings, and the lines of its table."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from textwrap import wrap

from openpyxl.utils import get_column_letter

from bomkit.words import common
from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.sheet import Line, Sheet, with_years

_MOST_ROWS = 1_048_576  # a sheet holds no more
_ON_WALL = {"subtitle": "board_note", "caution": "board_caution", "note": "board_note"}
_LEAST_LINE = 40  # characters


@dataclass(frozen=True)
class Laid:
    """The rows of a sheet from the first one on, and the number of the row of headings."""

    lines: Sequence[Line]
    heading_row: int
    extent: str  # as A1:F20


def laid_out(sheet: Sheet) -> Laid:
    """All rows of a sheet, each line of the table with a height."""
    heads = [(column.heading, column.style) for column in sheet.columns]
    looks = _ON_WALL if sheet.wall else {look: look for look in _ON_WALL}
    above = [
        Line([(sheet.title, "title")], 27),
        Line([(sheet.subtitle, looks["subtitle"])]),
        *(Line([(words, looks["caution"])]) for words in _caution_lines(sheet)),
        *(Line([(note, looks["note"])]) for note in sheet.notes),
        Line([]),
        Line(heads, sheet.heading_height),
    ]
    shown = with_years(sheet.lines)
    usual = [line if line.height else replace(line, height=style.USUAL_HEIGHT) for line in shown]
    lines = [*above, *usual]
    if len(lines) > _MOST_ROWS:
        cut = common.CUT.format(count=len(lines) - _MOST_ROWS + 1)
        lines = [*lines[: _MOST_ROWS - 1], Line([(cut, "caution")])]
    extent = f"A1:{get_column_letter(max(1, len(sheet.columns)))}{len(lines)}"
    return Laid(lines, len(above), extent)


def _caution_lines(sheet: Sheet) -> list[str]:
    """The cautions in lines that end within the table, so that none makes the print smaller."""
    shown = (column.width for column in sheet.columns if not column.hidden)
    width = max(_LEAST_LINE, int(sum(shown)))
    return [line for words in sheet.cautions for line in wrap(words, width)]
