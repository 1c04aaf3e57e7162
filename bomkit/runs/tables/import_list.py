"""Parts lists from outside into the items and structure of a folder."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from bomkit.inputs.list_files import read_lists
from bomkit.lists.columns import Columns, columns_text, read_columns
from bomkit.lists.grid import Doubt, Grid, Line
from bomkit.lists.guess import SURE_ENOUGH, guess_columns
from bomkit.lists.lines import find_lines
from bomkit.lists.merge import Merged, Row, merge
from bomkit.lists.tree import Node, Right, edges_of, hang_up, quantity_meaning
from bomkit.problems import Problem, ProblemsFound
from bomkit.runs.tables.merged_tables import present_tables, write_merged


@dataclass
class Imported:
    """What an import found: the rows it passed over, and what it changes."""

    skipped: list[tuple[str, int]]
    merged: Merged


def import_lists(
    lists: list[Path],
    data: Path,
    columns: Path | None,
    right: Right | None,
    drop_gone: bool,
    only_show: bool,
    tell_guess: Callable[[Columns, Sequence[Line]], None],
) -> Imported:
    """Reads the lists, lays them over DATA and writes that, unless something is in doubt.

    Raises ProblemsFound, with nothing written to DATA, where the lists or DATA contradict
    themselves or each other. tell_guess is given what was guessed and three sample lines; the
    columns file that says what was guessed is written all the same.
    """
    grids = read_lists(lists)
    told = _told_columns(columns) if columns else None
    chosen, nodes, lines, skipped, doubts = _nodes(grids, told)
    if told is None:
        _write_columns(lists[0], chosen)
        tell_guess(chosen, lines[:3])
    if told is None and chosen.sure < SURE_ENOUGH:
        message = "the columns could not be told apart for sure; look at the columns file, mend it"
        doubts.append(Doubt("", 0, "", f"{message} and give it with --columns"))
    edges, found = edges_of(nodes, chosen.means, right)
    rows_told = {(doubt.grid, doubt.row) for doubt in doubts if doubt.row}
    doubts += [doubt for doubt in found if (doubt.grid, doubt.row) not in rows_told]
    if not edges and not doubts:
        doubts.append(Doubt("", 0, "", "no line of the list goes into anything"))
    before = present_tables(data)
    items, structure = (before[name].rows for name in ("items", "structure"))
    if told is None and len(grids) == 1:
        doubts += _nameless(grids[0], chosen, items)
    merged = merge(edges, lines, items, structure, drop_gone)
    doubts += merged.doubts
    if doubts:
        raise ProblemsFound(_problem(lists[0].name, doubt) for doubt in doubts)
    write_merged(data, merged, before, only_show)
    return Imported(skipped, merged)


def _nodes(
    grids: Sequence[Grid], told: Columns | None
) -> tuple[Columns, list[Node], list[Line], list[tuple[str, int]], list[Doubt]]:
    """The lines of all grids with what they go into, and the columns of the first."""
    chosen: Columns | None = None
    nodes: list[Node] = []
    lines: list[Line] = []
    skipped: list[tuple[str, int]] = []
    doubts: list[Doubt] = []
    for grid in grids:
        columns = told or guess_columns(grid)
        if columns is None:
            message = "no row of headings was found with an item and a quantity; name the columns"
            doubts.append(Doubt(grid.name, 0, "", f"{message} in a file given with --columns"))
            continue
        found = find_lines(grid, columns)
        hung, jumps = hang_up(found.lines, columns, grid.name)
        meaning = quantity_meaning(hung, columns.means)
        if meaning == "?":
            message = (
                "each quantity could be for one of the parent or for the whole; write each or "
                "total after quantity_means in the columns file, and give it with --columns"
            )
            doubts.append(Doubt(grid.name, 0, "", message))
        columns = Columns(**{**vars(columns), "means": meaning})
        chosen = chosen or columns
        if meaning != chosen.means:
            hung = _in_each(hung, meaning, chosen.means)
        nodes += hung
        lines += found.lines
        skipped += [(grid.name, row) for row in found.skipped]
        doubts += [*found.doubts, *jumps]
    if chosen is None:
        raise ProblemsFound(_problem(doubt.grid, doubt) for doubt in doubts)
    return chosen, nodes, lines, skipped, doubts


def _nameless(grid: Grid, columns: Columns, items: Sequence[Row]) -> list[Doubt]:
    """A doubt where a single flat list goes into nothing but its own name, which no item has."""
    named = "parent" in columns.where or columns.top
    if columns.shape != "flat" or named or any(row["item"] == grid.name for row in items):
        return []
    message = "is no item; say with 'top' what the rows go into, and give the file with --columns"
    return [Doubt("", 0, grid.name, message)]


def _in_each(nodes: list[Node], meaning: str, first: str) -> list[Node]:
    """Lists that count otherwise than the first can't be read together."""
    if "?" in (meaning, first):
        return nodes
    message = "counts otherwise than the first list (each or total); import it by itself"
    raise ProblemsFound([Problem(nodes[0].line.grid, "", "", "", message)])


def _told_columns(path: Path) -> Columns:
    try:
        return read_columns(path.read_bytes())
    except (OSError, ValueError) as error:
        raise ProblemsFound([Problem(path.name, "", "", "", str(error))]) from error


def columns_file(first: Path) -> Path:
    """Where the guess is written: beside the list."""
    return first.with_name(f"{first.stem}.columns.toml")


def _write_columns(first: Path, columns: Columns) -> None:
    """Writes the guess beside the list, but never over one that somebody may have mended."""
    try:
        with columns_file(first).open("x", encoding="utf-8", newline="\n") as file:
            file.write(columns_text(columns))
    except OSError:
        return  # it is there already, or the list lies where nothing may be written


def _problem(file: str, doubt: Doubt) -> Problem:
    place = f"row {doubt.row}" if doubt.row else ""
    return Problem(doubt.grid or file, place, "", doubt.value, doubt.message)
