"""The rows of a list to lines, by what its columns mean."""

import re
from collections.abc import Mapping, Sequence

from bomkit.parts_lists.columns import Columns
from bomkit.parts_lists.guess import heading_names
from bomkit.parts_lists.level_columns import filled_of
from bomkit.parts_lists.levels_and_positions import depth_of, level_of, position_of
from bomkit.parts_lists.list_as_found import Doubt, Grid, Line, ListLines
from bomkit.parts_lists.quantities_with_units import as_number, split_number
from bomkit.parts_lists.vocabulary import SOURCE_WORDS, SUM_ROWS, UNIT_WORDS, known_word, plain
from bomkit.units import UNITS

_TAB = 4  # blanks that a tab in front of a name counts as
_NO_NUMBER = (
    "must be a quantity above 0, such as 2 or 0.5; mend the list, say 'decimal' in the columns "
    "file if 1,500 could be two numbers, or name the row in skip_rows"
)


def find_lines(grid: Grid, columns: Columns) -> ListLines:
    """The lines of the list, rows that were passed over, and whatever can't be understood."""
    read = ListLines()
    places = _places(grid, columns, read)
    steps = _step_places(grid, columns, read)
    if read.doubts:
        return read
    crossing = _crossing_places(grid, columns, places) if columns.shape == "matrix" else {}
    heading = _heading(grid, columns)
    for number, row in zip(grid.numbers, grid.rows, strict=True):
        if number <= columns.heading_row or not any(cell.strip() for cell in row):
            continue
        cells = {role: row[place] if place < len(row) else "" for role, place in places.items()}
        if steps:
            cells = _stepped(row, steps, cells)
        if number in columns.skip_rows or _is_no_line(row, cells, heading):
            read.skipped.append(number)
        elif columns.shape == "matrix":
            _add_crossing(grid, columns, number, row, cells, crossing, read)
        else:
            _add_line(grid, columns, number, cells, read)
    return read


def _heading(grid: Grid, columns: Columns) -> Sequence[str]:
    rows = dict(zip(grid.numbers, grid.rows, strict=True))
    return rows.get(columns.heading_row, ())


def _places(grid: Grid, columns: Columns, read: ListLines) -> dict[str, int]:
    """The place of each role's column; a doubt for each heading that the list does not have."""
    told = {role: _place(grid, columns, name, role, read) for role, name in columns.where.items()}
    places = {role: place for role, place in told.items() if place is not None}
    needed = {"levels": "level", "positions": "position"}.get(columns.shape)
    if needed and needed not in columns.where:
        read.doubts.append(Doubt(grid.name, 0, needed, "must be told in [columns]"))
    if columns.shape != "stepped" and not {"item", "description"} & set(columns.where):
        read.doubts.append(Doubt(grid.name, 0, "item", "must be told in [columns]"))
    return places


def _place(grid: Grid, columns: Columns, name: str, needed: str, read: ListLines) -> int | None:
    names = heading_names(_heading(grid, columns))
    if name in names:
        return names.index(name)
    if re.fullmatch(r"#[1-9][0-9]{0,2}", name):
        return int(name[1:]) - 1
    message = f"is the heading of no column in row {columns.heading_row}, but {needed} needs it"
    read.doubts.append(Doubt(grid.name, 0, name, message))
    return None


def _step_places(grid: Grid, columns: Columns, read: ListLines) -> list[int]:
    """The places of the columns of levels, the highest first, where the item stands in one."""
    if columns.shape != "stepped":
        return []
    if not columns.level_columns:
        message = "must name the columns of the levels, the highest first"
        read.doubts.append(Doubt(grid.name, 0, "level_columns", message))
    told = [_place(grid, columns, name, "level_columns", read) for name in columns.level_columns]
    return [place for place in told if place is not None]


def _stepped(row: Sequence[str], steps: Sequence[int], cells: Mapping[str, str]) -> dict[str, str]:
    """The cells with the level, if one of its columns is filled, and the item that stands there.

    The item stays that of its own column where it has one.
    """
    filled = filled_of(steps, row)
    item = row[filled[0]] if filled else ""
    level = str(steps.index(filled[0])) if len(filled) == 1 else ""
    return {"item": item, **cells, "level": level}


def _crossing_places(grid: Grid, columns: Columns, places: Mapping[str, int]) -> dict[int, str]:
    names = heading_names(_heading(grid, columns))
    sums = SUM_ROWS
    return {
        place: name
        for place, name in enumerate(names)
        if place not in places.values() and not name.startswith("#") and plain(name) not in sums
    }


def _is_no_line(row: Sequence[str], cells: Mapping[str, str], heading: Sequence[str]) -> bool:
    """A heading said again, a sum, or a single text that stands for what follows."""
    filled = [cell.strip() for cell in row if cell.strip()]
    if filled == [cell.strip() for cell in heading if cell.strip()]:
        return True
    item = cells.get("item", "").strip()
    depth = (cells.get("level", "") + cells.get("position", "")).strip()
    words = plain(filled[0].rstrip(":"))
    if words in SUM_ROWS or (not item and words.split(" ")[0] in SUM_ROWS):
        return True
    tree = "level" in cells or "position" in cells
    return len(filled) == 1 and (not item or (tree and not depth))


def _item(cells: Mapping[str, str]) -> str:
    """What the line is about: its number, or its name where there are no numbers."""
    said = cells["item"] if "item" in cells else cells["description"]
    return " ".join(said.split())


def _add_line(
    grid: Grid, columns: Columns, number: int, cells: Mapping[str, str], read: ListLines
) -> None:
    item = _item(cells)
    if not item:
        read.doubts.append(Doubt(grid.name, number, "", "has no item; name it, or skip the row"))
        return
    depth = _depth(columns, cells)
    if depth is None:
        said = (cells.get("level", "") + cells.get("position", "")).strip()
        stepped = columns.shape == "stepped"
        must = "stand in one of the level columns" if stepped else "say how deep the line stands"
        message = f"must {must}; mend it, or name the row in skip_rows"
        read.doubts.append(Doubt(grid.name, number, said, message))
        return
    role = "quantity" if "quantity" in columns.where else "total"
    said = cells.get(role, "").strip()
    quantity = as_number(said, columns.decimal)
    if said and quantity is None:
        read.doubts.append(Doubt(grid.name, number, said, _NO_NUMBER))
    unit = _unit(grid, columns, number, cells.get("unit", ""), split_number(said)[1], read)
    total = as_number(cells.get("total", ""), columns.decimal) if role == "quantity" else None
    parent = " ".join(cells.get("parent", "").split())
    where = (parent, position_of(cells.get("position", "")))
    line = Line(grid.name, number, depth, item, quantity, unit, *_words(cells), total, *where)
    read.lines.append(line)


def _add_crossing(
    grid: Grid,
    columns: Columns,
    number: int,
    row: Sequence[str],
    cells: Mapping[str, str],
    crossing: Mapping[int, str],
    read: ListLines,
) -> None:
    """A line for each parent in whose column the item has a quantity."""
    item = _item(cells)
    for place, parent in crossing.items():
        said = row[place].strip() if place < len(row) else ""
        if said in ("", "-", "\u2013", "0") or not item:
            continue
        quantity = as_number(said, columns.decimal)
        if quantity is None:
            read.doubts.append(Doubt(grid.name, number, said, _NO_NUMBER))
        unit = _unit(grid, columns, number, cells.get("unit", ""), split_number(said)[1], read)
        line = Line(grid.name, number, 0, item, quantity, unit, *_words(cells), None, parent)
        read.lines.append(line)


def _words(cells: Mapping[str, str]) -> tuple[str, str, str]:
    """Description, source and material of a line."""
    description = " ".join(cells.get("description", "").split()) if "item" in cells else ""
    material = " ".join(cells.get("material", "").split())
    return description, known_word(cells.get("source", ""), SOURCE_WORDS), material


def _depth(columns: Columns, cells: Mapping[str, str]) -> int | None:
    """How deep a line stands, by its level, its position or the blanks in front of its name."""
    if columns.shape in ("levels", "stepped"):
        return level_of(cells["level"])
    if columns.shape == "positions":
        position = position_of(cells["position"])
        return depth_of(position) if position else None
    if columns.shape == "indents":
        said = cells["item"] if "item" in cells else cells["description"]
        wide = said.expandtabs(_TAB)
        return len(wide) - len(wide.lstrip())
    return 0


def _unit(
    grid: Grid, columns: Columns, number: int, said: str, behind: str, read: ListLines
) -> str:
    """The unit of a line: of its own column, or behind the number; pieces where none is said."""
    units: set[str] = set()
    for words in (said.strip(), behind):
        if not words:
            continue
        unit = columns.units.get(words) or known_word(words, UNIT_WORDS)
        if unit not in UNITS:
            message = f'is no unit that is known; in [units] write "{words}" = "pc" or the like'
            read.doubts.append(Doubt(grid.name, number, words, message))
        units.add(unit)
    if len(units) > 1:
        read.doubts.append(
            Doubt(grid.name, number, said, f"is not the unit behind the quantity, {behind}")
        )
    return next(iter(sorted(units)), "pc")
