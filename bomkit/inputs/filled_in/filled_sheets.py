"""The lists of a workbook that was filled in: their rows by key, with what stands in the cells."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from openpyxl.utils import get_column_letter

from bomkit.inputs.text_table import BLANKS
from bomkit.inputs.workbooks.safe_to_open import SheetLook
from bomkit.inputs.workbooks.sheet_cells import cell_text, name_advice
from bomkit.problems import Problem
from bomkit.tables.entry_keys import HEAD_MARK, RowKey, SheetHead, head_of, key_of
from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.words.problems import filling as said

_FREE = ("name", "text")  # kinds of column whose numbers may have lost something


@dataclass(frozen=True)
class FilledRow:
    """A row of a list with what was filled in, as text by column of its kind of entry.

    cells: for each of these the cell, such as M12; headings: what stands above it.
    """

    kind: str
    key: RowKey
    file: str
    sheet: str
    row: int
    texts: Mapping[str, str]
    cells: Mapping[str, str]
    headings: Mapping[str, str]

    @property
    def where(self) -> str:
        """The row in words."""
        return f"{self.file} sheet {self.sheet} row {self.row}"

    @property
    def is_filled(self) -> bool:
        """Whether anything was filled in."""
        return any(self.texts.values())


@dataclass
class FilledSheet:
    """What was found on one sheet; head: None where it is no list, or can't be read as one."""

    head: SheetHead | None = None
    rows: list[FilledRow] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


@dataclass(frozen=True)
class _List:
    """Where on a sheet what is found: places of columns, counted from 0."""

    file: str
    sheet: str
    head: SheetHead
    heading_row: int
    keys: int
    fills: Mapping[str, int]
    shows: Sequence[int]

    def problem(self, row: int, column: str, value: str, message: str) -> Problem:
        """What is wrong in a cell that is filled in; the row as a whole without a column."""
        cell = f"cell {get_column_letter(self.fills[column] + 1)}{row}" if column else f"row {row}"
        heading = self.head.fills[column] if column else ""
        return Problem(self.file, f"sheet {self.sheet} {cell}", heading, value, message)


def filled_sheet(
    file: str,
    sheet: str,
    look: SheetLook,
    rows: Iterator[Sequence[Any]],
    formulas: Iterator[Sequence[Any]] | None,
) -> FilledSheet:
    """The list on a sheet, if it is one; formulas: the same rows with formulas for results."""
    filled = FilledSheet()
    read: _List | None = None
    for number, cells in enumerate(rows, 1):
        shadows = next(formulas) if formulas else ()
        if read is not None:
            _read_row(filled, read, number, cells, shadows)
            continue
        place = _place_of_head(cells)
        if place is not None:
            read = _headings(filled, file, sheet, number, cells, place)
            if read is None:
                return filled
    if read is not None:
        filled.head = read.head
        filled.problems += _merged(read, look)
    return filled


def _place_of_head(cells: Sequence[Any]) -> int | None:
    """The place of the cell above the keys, if a row has it."""
    for place, cell in enumerate(cells):
        if isinstance(cell.value, str) and cell.value.startswith(HEAD_MARK):
            return place
    return None


def _headings(
    filled: FilledSheet, file: str, sheet: str, row: int, cells: Sequence[Any], place: int
) -> _List | None:
    """Where the columns of a list stand, by their headings; says what is wrong with them."""
    where = f"sheet {sheet} cell {get_column_letter(place + 1)}{row}"
    head = head_of(cells[place].value)
    if head is None or head.kind not in ENTRIES:
        filled.problems.append(Problem(file, where, "", "", said.HEAD_EDITED))
        return None
    texts = [str(cell.value or "").strip(BLANKS) for cell in cells]
    wrong = [
        Problem(file, f"sheet {sheet} row {row}", "", heading, message)
        for heading in (*head.fills.values(), *head.shows)
        for message in _wrong_heading(texts, heading)
    ]
    filled.problems += wrong
    if wrong:
        return None
    fills = {column: texts.index(heading) for column, heading in head.fills.items()}
    return _List(file, sheet, head, row, place, fills, [texts.index(each) for each in head.shows])


def _wrong_heading(texts: Sequence[str], heading: str) -> Iterator[str]:
    count = texts.count(heading)
    if count != 1:
        yield said.HEADING_TWICE if count else said.HEADING_MISSING


def _read_row(
    filled: FilledSheet, read: _List, row: int, cells: Sequence[Any], shadows: Sequence[Any]
) -> None:
    """One row below the headings."""
    texts = {column: _text(cells, place) for column, place in read.fills.items()}
    doubts = list(_doubts(read, row, cells, shadows))
    filled.problems += doubts
    words = _text(cells, read.keys)
    if not words:
        filled.problems += [
            read.problem(row, column, text, said.NO_KEY) for column, text in texts.items() if text
        ]
        return
    key = key_of(read.head, words)
    if key is None:
        filled.problems.append(read.problem(row, "", "", said.KEY_EDITED))
        return
    letters = {name: f"{get_column_letter(at + 1)}{row}" for name, at in read.fills.items()}
    filled_row = FilledRow(
        read.head.kind, key, read.file, read.sheet, row, texts, letters, read.head.fills
    )
    filled.rows.append(filled_row)
    if filled_row.is_filled or doubts:
        filled.problems += _moved(read, row, cells, key)


def _text(cells: Sequence[Any], place: int) -> str:
    """What stands in a cell, as a person would type it."""
    if place >= len(cells) or cells[place].value is None:
        return ""
    return cell_text(cells[place].value, cells[place].number_format).strip(BLANKS)


def _doubts(
    read: _List, row: int, cells: Sequence[Any], shadows: Sequence[Any]
) -> Iterator[Problem]:
    """Cells that can't be taken for what a person typed."""
    for column, place in read.fills.items():
        if place >= len(cells):
            continue
        cell = cells[place]
        formula = place < len(shadows) and shadows[place].data_type == "f"
        if cell.value is None and formula:
            yield read.problem(row, column, "", said.NO_RESULT)
        elif ENTRIES[read.head.kind].column(column).kind in _FREE and cell.value is not None:
            advice = name_advice(cell.value, cell.number_format)
            if advice:
                text = cell_text(cell.value, cell.number_format)
                yield read.problem(row, column, text, advice)


def _moved(read: _List, row: int, cells: Sequence[Any], key: RowKey) -> Iterator[Problem]:
    """Cells that do not show what the row's key says."""
    for heading, place, was in zip(read.head.shows, read.shows, key.shown, strict=True):
        text = _text(cells, place)
        if text != was.strip(BLANKS):
            where = f"sheet {read.sheet} cell {get_column_letter(place + 1)}{row}"
            yield Problem(read.file, where, heading, text, said.NOT_ITS_ROW.format(was=was))


def _merged(read: _List, look: SheetLook) -> Iterator[Problem]:
    """Merged cells among those that are filled in."""
    for block in look.merged:
        for column, place in read.fills.items():
            row = max(block.rows.start, read.heading_row + 1)
            if place + 1 in block.columns and row in block.rows:
                yield read.problem(row, column, block.name, said.MERGED)
