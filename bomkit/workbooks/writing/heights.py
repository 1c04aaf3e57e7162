"""How high rows are: as high as the words in them need at the widths of their columns."""

from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate

from bomkit.words import common
from bomkit.workbooks.writing import letters
from bomkit.workbooks.writing.sheet import Cell
from bomkit.workbooks.writing.style import BODY_SIZE, LINE_HEIGHT, STYLES, USUAL_HEIGHT

_MARGIN = 0.98  # of the room in a column: programs break lines a little sooner or later
_INDENT = 1.8  # in the unit of column widths


def height_for(*words: tuple[str, float]) -> float | None:
    """The height of a row whose cells hold these words at these widths, bold or not, for as many
    lines as the longest of them needs; None: the usual one."""
    lines = max(_lines(said, width, BODY_SIZE, True) for said, width in words)
    return LINE_HEIGHT * lines if lines > 1 else None


def height_of(cells: Sequence[Cell], widths: Sequence[float]) -> float:
    """The height of a row of a list: of its cells those count whose style wraps words."""
    lines = max((_lines_of(*each) for each in zip(cells, widths, strict=False)), default=1)
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
    for count in range(len(parts), 0, -1):
        more = [common.AND_MORE.format(count=len(parts) - count)] if count < len(parts) else []
        words = " ".join([", ".join(parts[:count]), *more])
        if _lines(before + words, width, BODY_SIZE, bold) == 1:
            return words
    return words if parts else ""


def _lines_of(cell: Cell, width: float) -> int:
    """How many lines a cell takes."""
    if cell is None or not isinstance(cell[0], str) or not STYLES[cell[1]].wrap:
        return 1
    look = STYLES[cell[1]]
    return _lines(cell[0], width - look.indent * _INDENT, look.size, look.bold)


@lru_cache(maxsize=50_000)
def _lines(words: str, width: float, size: float, bold: bool) -> int:
    """How many lines words take; the same ones stand on many rows."""
    return len(letters.in_lines(words, letters.room(width) * _MARGIN, size, bold))
