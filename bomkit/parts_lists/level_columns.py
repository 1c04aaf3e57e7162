"""Lists in which the item number stands in the column of its level: which columns these are."""

from collections.abc import Iterator, Sequence

from bomkit.parts_lists.vocabulary import heading_fit, plain

MOST_LEVELS = 20
_LOOKED_AT = 300  # rows
_NEARLY_ALL = 0.95  # of the rows keep to the form; the others are told of as they are read
_LEAST_ROWS, _LEAST_VALUES = 3, 3  # fewer values could be marks, such as x and o
_NO_ITEMS = ("quantity", "total", "unit", "source", "material")


def step_columns(headings: Sequence[str], below: Sequence[Sequence[str]]) -> list[int]:
    """The columns that side by side hold one item a row, each at most one step further right.

    Empty where no columns do. below: the rows under the heading.
    """
    rows = [row for row in below if sum(bool(cell.strip()) for cell in row) > 1][:_LOOKED_AT]
    filled = [{place for place, cell in enumerate(row) if cell.strip()} for row in rows]
    if len(rows) < _LEAST_ROWS:
        return []
    for first in sorted(filled[0]):
        columns = _side_by_side(first, headings, filled)
        if len(columns) > 1 and step_share(columns, rows) >= _NEARLY_ALL:
            values = {plain(row[place]) for row in rows for place in filled_of(columns, row)}
            if len(values) >= _LEAST_VALUES:
                return columns
    return []


def _side_by_side(first: int, headings: Sequence[str], filled: Sequence[set[int]]) -> list[int]:
    """The columns from one on, as long as each fills more rows anew than it fills again."""
    columns: list[int] = []
    open_rows = list(filled)
    for place in range(first, min(first + MOST_LEVELS, len(headings))):
        anew = sum(place in row for row in open_rows)
        again = sum(place in row for row in filled) - anew
        if anew <= again or any(heading_fit(headings[place], role) for role in _NO_ITEMS):
            break
        columns.append(place)
        open_rows = [row for row in open_rows if place not in row]
    return columns


def filled_of(columns: Sequence[int], row: Sequence[str]) -> list[int]:
    """Those of the columns that a row fills."""
    return [place for place in columns if place < len(row) and row[place].strip()]


def step_share(columns: Sequence[int], rows: Sequence[Sequence[str]]) -> float:
    """The share of rows that fill one of the columns, at most one step right of the row before."""
    return sum(_steps(columns, rows)) / len(rows)


def _steps(columns: Sequence[int], rows: Sequence[Sequence[str]]) -> Iterator[bool]:
    before = -1
    for row in rows:
        places = filled_of(columns, row)
        depth = columns.index(places[0]) if len(places) == 1 else None
        yield depth is not None and depth <= before + 1
        before = before if depth is None else depth
