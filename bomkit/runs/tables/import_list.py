"""Parts lists from outside into the items and structure of a folder."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from bomkit.inputs.parts_list_files import read_lists
from bomkit.parts_lists.columns import Columns, columns_text, read_columns
from bomkit.parts_lists.guess import SURE_ENOUGH, guess_columns
from bomkit.parts_lists.lines_from_rows import find_lines
from bomkit.parts_lists.list_as_found import Doubt, Grid, Line
from bomkit.parts_lists.merge import Merged, Row, merge
from bomkit.parts_lists.parents_of_lines import Node, hang_up
from bomkit.parts_lists.what_goes_into_what import Edge, Right, edges_of, quantity_meaning
from bomkit.problems import Problem, ProblemsFound, refusal
from bomkit.runs.tables.merged_tables import present_tables, write_merged

TellGuess = Callable[[Columns, Sequence[Line]], None]  # told the columns and some sample lines

_MEANS_UNKNOWN = (
    "each quantity could be for one of the parent or for the whole; write each or "
    "total after quantity_means in the columns file, and give it with --columns"
)


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
    tell_guess: TellGuess,
) -> Imported:
    """Reads the lists, lays them over DATA and writes that, unless something is in doubt.

    Raises ProblemsFound, with nothing written to DATA, where the lists or DATA contradict
    themselves or each other. tell_guess is given what was guessed and three sample lines; the
    columns file that says what was guessed is written all the same.
    """
    _refuse_among_tables(lists, data)
    grids = read_lists(lists)
    told = _told_columns(columns) if columns else None
    read = _read(grids, told)
    if told is None:
        _show_guess(lists[0], read, tell_guess)
    edges = _edges(read, right)
    before = present_tables(data)
    items, structure = (before[name].rows for name in ("items", "structure"))
    if told is None and len(grids) == 1:
        read.doubts += _nameless(grids[0], read.columns, items)
    merged = merge(edges, read.lines, items, structure, drop_gone)
    _refuse_doubts(lists[0].name, [*read.doubts, *merged.doubts])
    write_merged(data, merged, before, only_show)
    return Imported(read.skipped, merged)


def _refuse_among_tables(lists: Sequence[Path], data: Path) -> None:
    """Raises ProblemsFound where a list lies where it would be taken for a table from then on."""
    for path in lists:
        if path.is_file() and path.resolve().parent == data.resolve():
            message = "lies in the folder of the tables, and would be taken for one; move it first"
            raise refusal(path, message)


@dataclass
class _Lists:
    """The lines of all lists with what they go into, and what is in doubt.

    columns: those of the first list, whose meaning of quantities all of them have.
    """

    columns: Columns
    nodes: list[Node] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    skipped: list[tuple[str, int]] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)


def _read(grids: Sequence[Grid], told: Columns | None) -> _Lists:
    """The lines of all grids; raises ProblemsFound where the columns of none can be told."""
    read: _Lists | None = None
    doubts: list[Doubt] = []
    for grid in grids:
        columns = told or guess_columns(grid)
        if columns is None:
            message = "no row of headings was found with an item and a quantity; name the columns"
            doubts.append(Doubt(grid.name, 0, "", f"{message} in a file given with --columns"))
            continue
        own = find_lines(grid, columns)
        hung, jumps = hang_up(own.lines, columns, grid.name)
        meaning = quantity_meaning(hung, columns.means)
        if meaning == "?":
            doubts.append(Doubt(grid.name, 0, "", _MEANS_UNKNOWN))
        read = read or _Lists(Columns(**{**vars(columns), "means": meaning}))
        read.nodes += _in_each(hung, meaning, read.columns.means)
        read.lines += own.lines
        read.skipped += [(grid.name, row) for row in own.skipped]
        doubts += [*own.doubts, *jumps]
    if read is None:
        raise ProblemsFound(_problem(doubt.grid, doubt) for doubt in doubts)
    read.doubts = doubts
    return read


def _show_guess(first: Path, read: _Lists, tell_guess: TellGuess) -> None:
    """Writes the guess beside the list and tells it; adds a doubt where it could be another."""
    _write_columns(first, read.columns)
    tell_guess(read.columns, read.lines[:3])
    read.doubts += _unsure(read.columns)


def _unsure(columns: Columns) -> list[Doubt]:
    """A doubt where the columns were guessed and could be others."""
    if columns.sure >= SURE_ENOUGH:
        return []
    message = "the columns could not be told apart for sure; look at the columns file, mend it"
    return [Doubt("", 0, "", f"{message} and give it with --columns")]


def _edges(read: _Lists, right: Right | None) -> list[Edge]:
    """What goes into what; adds what is in doubt about it, once a row."""
    edges, doubts = edges_of(read.nodes, read.columns.means, right)
    rows_told = {(doubt.grid, doubt.row) for doubt in read.doubts if doubt.row}
    read.doubts += [doubt for doubt in doubts if (doubt.grid, doubt.row) not in rows_told]
    if not edges and not read.doubts:
        read.doubts.append(Doubt("", 0, "", "no line of the list goes into anything"))
    return edges


def _nameless(grid: Grid, columns: Columns, items: Sequence[Row]) -> list[Doubt]:
    """A doubt where a single flat list goes into nothing but its own name, which no item has."""
    named = "parent" in columns.where or columns.top
    if columns.shape != "flat" or named or any(row["item"] == grid.name for row in items):
        return []
    message = "is no item; say with 'top' what the rows go into, and give the file with --columns"
    return [Doubt("", 0, grid.name, message)]


def _in_each(nodes: list[Node], meaning: str, first: str) -> list[Node]:
    """The nodes; lists that count otherwise than the first can't be read together."""
    if meaning == first or "?" in (meaning, first):
        return nodes
    message = "counts otherwise than the first list (each or total); import it by itself"
    raise refusal(nodes[0].line.grid, message)


def _told_columns(path: Path) -> Columns:
    try:
        return read_columns(path.read_bytes())
    except (OSError, ValueError) as error:
        raise refusal(path.name, str(error)) from error


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


def _refuse_doubts(file: str, doubts: Sequence[Doubt]) -> None:
    """Raises ProblemsFound where anything is in doubt; file: where a doubt names no list."""
    if doubts:
        raise ProblemsFound(_problem(file, doubt) for doubt in doubts)


def _problem(file: str, doubt: Doubt) -> Problem:
    place = f"row {doubt.row}" if doubt.row else ""
    return Problem(doubt.grid or file, place, "", doubt.value, doubt.message)
