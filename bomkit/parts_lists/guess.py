"""Guesses from headings and values which column of a list is what, and how sure that is."""

from collections.abc import Sequence

from bomkit.parts_lists.columns import ROLES, Columns, Means, Shape
from bomkit.parts_lists.level_columns import step_columns, step_share
from bomkit.parts_lists.levels_and_positions import level_of, position_of
from bomkit.parts_lists.list_as_found import Grid
from bomkit.parts_lists.quantities_with_units import decimal_mark, split_number
from bomkit.parts_lists.vocabulary import (
    EACH_WORDS,
    HEADINGS,
    SOURCE_WORDS,
    TOTAL_WORDS,
    UNIT_WORDS,
    heading_fit,
    known_word,
    plain,
)

SURE_ENOUGH = 0.5  # below it the guess has to be looked at
_LOOKED_AT = 40  # rows in which the headings are looked for
_BY_HEADING, _BY_VALUES = 0.65, 0.35
_LEAST_FIT = 0.3
_MOST = 0.5  # of the values

Chosen = dict[str, tuple[int, float]]  # role -> number of its column, and how well that fits


def guess_columns(grid: Grid) -> Columns | None:
    """What the columns mean; None where nothing in the list looks like items and quantities."""
    place = _heading_place(grid)
    if place is None:
        return None
    headings = [cell.strip() for cell in grid.rows[place]]
    below = [row for row in grid.rows[place + 1 :] if any(cell.strip() for cell in row)]
    names = heading_names(headings)
    steps, chosen = _steps_and_chosen(headings, below)
    where = {role: names[number] for role, (number, _) in chosen.items()}
    crossing = _crossing(headings, below, chosen)
    shape = "stepped" if steps else _shape(chosen, below, bool(crossing))
    if shape is None:
        return None
    fits = [fit for role, (_, fit) in chosen.items() if role in ("item", "level", "quantity")]
    fits += [step_share(steps, below)] if steps else []
    numbers = [number for role, (number, _) in chosen.items() if role in ("quantity", "total")]
    texts = [text for number in numbers or crossing for text in _column(below, number)]
    mark = decimal_mark(texts)
    return Columns(
        shape,
        grid.numbers[place],
        _kept_roles(shape, where),
        _means(where),
        mark,
        level_columns=tuple(names[number] for number in steps),
        sure=round(min(fits, default=0.0), 2),
    )


def heading_names(headings: Sequence[str]) -> list[str]:
    """How each column is called: its heading, or '#3' where that is empty or stands before."""
    names: list[str] = []
    for number, heading in enumerate(headings, 1):
        said = heading.strip()
        names.append(f"#{number}" if not said or said in names else said)
    return names


def _heading_place(grid: Grid) -> int | None:
    """The row with most headings; at least two must be known words."""
    best, most = None, 1
    for place, row in enumerate(grid.rows[:_LOOKED_AT]):
        known = sum(any(heading_fit(cell, role) > 0 for role in HEADINGS) for cell in row)
        if known > most:
            best, most = place, known
    return best


def _column(rows: Sequence[Sequence[str]], number: int) -> list[str]:
    return [row[number] for row in rows if number < len(row) and row[number].strip()]


def _steps_and_chosen(
    headings: Sequence[str], below: Sequence[Sequence[str]]
) -> tuple[list[int], Chosen]:
    """The columns of levels that the item steps through, if it does, and those of the roles.

    It does not where another column holds the item in every row, or none says how much.
    """
    columns = [_column(below, number) for number in range(len(headings))]
    steps = step_columns(headings, below)
    if steps:
        apart = [[] if number in steps else own for number, own in enumerate(columns)]
        unnamed = ["" if number in steps else own for number, own in enumerate(headings)]
        chosen = _chosen(unnamed, apart)
        if "item" not in chosen and {"quantity", "total"} & set(chosen):
            return steps, chosen
    return [], _chosen(headings, columns)


def _chosen(headings: Sequence[str], columns: Sequence[list[str]]) -> Chosen:
    """For each role the column that fits it best, the best fits first, no column twice."""
    fits = sorted(
        (
            (-_fit(role, heading, values), order, number)
            for order, role in enumerate(ROLES)
            for number, (heading, values) in enumerate(zip(headings, columns, strict=True))
        ),
    )
    chosen: Chosen = {}
    taken: set[int] = set()
    for fit, order, number in fits:
        if -fit >= _LEAST_FIT and ROLES[order] not in chosen and number not in taken:
            chosen[ROLES[order]] = number, -fit
            taken.add(number)
    return chosen


def _fit(role: str, heading: str, values: list[str]) -> float:
    by_heading = heading_fit(heading, role)
    by_values = _value_fit(role, values[:300])
    if role == "position" and by_values >= _MOST:
        by_heading = max(by_heading, heading_fit(heading, "level"))  # 1.2.10, called a level
    if not by_heading and role not in ("level", "position", "unit", "quantity"):
        return 0.0
    if role == "parent" and heading_fit(heading, "quantity"):
        return 0.0  # it says for how much of the parent
    if role in ("level", "quantity", "total", "unit") and by_values < _MOST:
        return 0.0
    if not by_heading:
        return _LEAST_FIT if role in ("unit", "position") and by_values > 0.95 else 0.0
    return _BY_HEADING * by_heading + _BY_VALUES * by_values


def _value_fit(role: str, values: list[str]) -> float:
    """The share of the values that could stand in a column of that role."""
    if not values:
        return 0.0
    tests = {
        "level": lambda text: level_of(text) is not None,
        "position": lambda text: bool(position_of(text)) and "." in text,
        "quantity": lambda text: bool(split_number(text)[0]),
        "total": lambda text: bool(split_number(text)[0]),
        "unit": lambda text: bool(known_word(text, UNIT_WORDS)),
        "source": lambda text: bool(known_word(text, SOURCE_WORDS)),
    }
    test = tests.get(role, lambda text: True)
    return sum(map(test, values)) / len(values)


def _crossing(headings: Sequence[str], below: Sequence[Sequence[str]], chosen: Chosen) -> list[int]:
    """The columns of a matrix: named, in no role, and with nothing but numbers below."""
    taken = {number for number, _ in chosen.values()}
    return [
        number
        for number, heading in enumerate(headings)
        if heading
        and number not in taken
        and plain(heading) not in TOTAL_WORDS
        and (values := _column(below, number))
        and all(split_number(text)[0] for text in values)
    ]


def _shape(chosen: Chosen, below: Sequence[Sequence[str]], crossing: bool) -> Shape | None:
    if "item" not in chosen and "description" not in chosen:
        return None
    counted = "quantity" in chosen or "total" in chosen
    if not counted:
        return "matrix" if crossing else None
    if "level" in chosen:
        return "levels"
    if "parent" in chosen:
        return "flat"
    if "position" in chosen:
        values = [text.strip() for text in _column(below, chosen["position"][0])]
        if any("." in text.rstrip(".") for text in values):
            return "positions"
    number = chosen.get("item", chosen.get("description", (0, 0.0)))[0]
    indented = any(text[:1].isspace() for text in _column(below, number))
    return "indents" if indented else "flat"


def _kept_roles(shape: Shape, where: dict[str, str]) -> dict[str, str]:
    """The roles that the shape reads."""
    unread = {
        "levels": {"position", "parent"},
        "stepped": {"level", "position", "parent", "item"},
        "positions": {"level", "parent"},
        "indents": {"level", "position", "parent"},
        "flat": {"level", "position"},
        "matrix": {"level", "position", "parent", "quantity", "total"},
    }[shape]
    return {role: name for role, name in where.items() if role not in unread}


def _means(where: dict[str, str]) -> Means:
    """By the headings: each or total; ? where they don't say."""
    if "quantity" not in where:
        return "total" if "total" in where else "each"
    tokens = set(plain(where["quantity"]).split())
    if "total" in where or tokens & EACH_WORDS:
        return "each"
    return "total" if tokens & TOTAL_WORDS else "?"
