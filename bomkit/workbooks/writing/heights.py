"""How high rows are: as high as the words in them need at the widths of their columns."""

from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate

from bomkit.words import common
from bomkit.workbooks.writing import letter_widths as letters
from bomkit.workbooks.writing.sheet import Cell
from bomkit.workbooks.writing.style import BODY_SIZE, LINE_HEIGHT, STYLES, USUAL_HEIGHT

_MARGIN = 0.98  # of the room in a column: programs break lines a little sooner or later
_INDENT = 1.8  # in the unit of column widths
_WRAPPED = {  # by style whose words are wrapped their size, whether they are bold, and the indent
    name: (look.size, look.bold, look.indent * _INDENT)
    for name, look in STYLES.items()
    if look.wrap
}


def height_for(*words: tuple[str, float]) -> float | None:
    """The height of a row whose cells hold these words at these widths, bold or not, for as many
    lines as the longest of them needs; None: the usual one."""
    lines = max(_lines(said, width, BODY_SIZE, True) for said, width in words)
    return LINE_HEIGHT * lines if lines > 1 else None


def height_of(cells: Sequence[Cell], widths: Sequence[float]) -> float:
    """The height of a row of a list: of its cells those count whose style wraps words."""
    lines = 1
    for cell, width in zip(cells, widths, strict=False):
        if cell is not None and cell[1] in _WRAPPED and isinstance(cell[0], str):
            size, bold, indent = _WRAPPED[cell[1]]
            lines = max(lines, _lines(cell[0], width - indent, size, bold))
    return LINE_HEIGHT * lines if lines > 1 else USUAL_HEIGHT


def beside(name: str, style: str, widths: Sequence[float]) -> int:
    """The first column in which there is room beside a heading that begins in the first one."""
    look = STYLES[style]
    long = letters.length(name, look.size, look.bold)
    edges = accumulate(letters.room(width) for width in widths)
    return next((place for place, edge in enumerate(edges, 1) if edge > long), len(widths) - 1)


def in_one_line(parts: Sequence[str], width: float, before: str = "", bold: bool = False) -> str:
    """As many of these words as fit into one line of a column behind others, one in any case,
    and how many more there are."""
    words = ""
    for count in range(_fitting(parts, width, before, bold), 0, -1):
        more = [common.AND_MORE.format(count=len(parts) - count)] if count < len(parts) else []
        words = " ".join([", ".join(parts[:count]), *more])
        if _lines(before + words, width, BODY_SIZE, bold) == 1:
            break
    return words


def _fitting(parts: Sequence[str], width: float, before: str, bold: bool) -> int:
    """How many of these words fit into the line if nothing is said of the others; one in any
    case. No more of them are looked at than that."""
    room = letters.room(width) * _MARGIN
    long = letters.thousandths(before, bold)
    between = letters.thousandths(", ", bold)
    for count, words in enumerate(parts):
        long += letters.thousandths(words, bold) + (between if count else 0)
        if long * BODY_SIZE / 1000 > room:
            return max(1, count)
    return len(parts)


def _lines(words: str, width: float, size: float, bold: bool) -> int:
    """How many lines words take: one where they fit whatever their letters are."""
    if len(words) * letters.WIDEST * size <= letters.room(width) * _MARGIN and "\n" not in words:
        return 1
    return _counted_lines(words, width, size, bold)


@lru_cache(maxsize=50_000)
def _counted_lines(words: str, width: float, size: float, bold: bool) -> int:
    """The same by its letters; the same words stand on many rows."""
    return len(letters.in_lines(words, letters.room(width) * _MARGIN, size, bold))
