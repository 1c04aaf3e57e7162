"""What stands on a sheet row by row: title, words, headings, and the lines of its table."""

from collections.abc import Sequence
from dataclasses import dataclass

from bomkit.words import common
from bomkit.workbooks.writing import letter_widths as letters
from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.sheet import Line, Sheet
from bomkit.workbooks.writing.xml_parts.text import area

_MOST_ROWS = 1_048_576  # a sheet holds no more
_ON_WALL = {"subtitle": "board_note", "caution": "board_caution", "note": "board_note"}
_TITLE_HEIGHT, _SPACE = 23.0, 5.0  # of the title, and between words and table
_WORDS_HEIGHT, _WALL_WORDS_HEIGHT = 13.0, 16.0
_LEAST_LINE = 40.0  # in the unit of column widths


@dataclass(frozen=True)
class Laid:
    """The rows of a sheet from the first one on, and the number of the row of headings; lines
    below it without a height have the usual one. Areas are written as $A$1:$F$20."""

    lines: Sequence[Line]
    heading_row: int
    extent: str
    filtered: str  # what can be filtered: nothing of an empty table
    printed: str  # nothing: all of it


def laid_out(sheet: Sheet) -> Laid:
    """All rows of a sheet."""
    heads = [(column.heading, column.style) for column in sheet.columns]
    looks = _ON_WALL if sheet.wall else {look: look for look in _ON_WALL}
    high = _WALL_WORDS_HEIGHT if sheet.wall else _WORDS_HEIGHT
    above = [
        Line([(sheet.title, "title")], _TITLE_HEIGHT),
        Line([(sheet.subtitle, looks["subtitle"])], high),
        *(Line([(words, looks["caution"])], high) for words in _lines(sheet, "caution")),
        *(Line([(words, looks["note"])], high) for words in _lines(sheet, "note")),
        Line([], _SPACE),
        Line(heads, sheet.heading_height),
    ]
    lines = [*above, *sheet.lines]
    if len(lines) > _MOST_ROWS:
        cut = common.CUT.format(count=len(lines) - _MOST_ROWS + 1)
        lines = [*lines[: _MOST_ROWS - 1], Line([(cut, "caution")])]
    right, top = max(1, len(sheet.columns)), len(above)
    filtered = sheet.filtered and len(sheet.lines) > 0
    part = sheet.printed is not None and sheet.printed < len(sheet.lines)
    return Laid(
        lines,
        top,
        area(1, 1, right, len(lines)),
        area(1, top, right, top + len(sheet.lines)) if filtered else "",
        area(1, 1, right, top + (sheet.printed or 0)) if part else "",
    )


def _lines(sheet: Sheet, kind: str) -> list[str]:
    """The cautions or notes in lines that end within the table, so that none makes the print
    smaller."""
    look = style.STYLES[_ON_WALL[kind] if sheet.wall else kind]
    wide = sum(column.width for column in sheet.columns if not column.hidden)
    points = letters.room(max(_LEAST_LINE, wide))
    told = sheet.cautions if kind == "caution" else sheet.notes
    return [
        line for words in told for line in letters.in_lines(words, points, look.size, look.bold)
    ]
