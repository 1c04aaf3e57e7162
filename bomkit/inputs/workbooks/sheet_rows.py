"""The rows of one sheet to a table of text, with the cells that can't be trusted."""

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field

import polars as pl
from openpyxl.cell.read_only import ReadOnlyCell
from openpyxl.utils import get_column_letter

from bomkit.inputs.text_table import (
    BLANKS,
    NAME_KINDS,
    Headings,
    TextTable,
    Unreadable,
    absent_table,
    match_headings,
    text_frame,
)
from bomkit.inputs.workbooks.safe_to_open import MOST_ROWS, MergedCells, SheetLook
from bomkit.inputs.workbooks.sheet_cells import cell_text, name_advice
from bomkit.problems import Finding, Source
from bomkit.tables.columns_and_rules.by_name import EXAMPLE_MARK
from bomkit.tables.schema import Table

Cells = Sequence[ReadOnlyCell]

_NO_RESULT = (
    "is a formula whose result is not stored; open the workbook in the spreadsheet program "
    "and save it"
)
_MERGED = "belongs to the merged cells {name}, of which only the first holds a value; unmerge them"


@dataclass(frozen=True)
class Doubt:
    """A cell whose value can't be trusted to be what a person typed."""

    row: int
    place: int  # counted from 0
    text: str
    reason: str


@dataclass
class SheetRows:
    """The headings of a sheet and the rows below them, all cells as text."""

    heading_row: int = 0
    headings: list[str] = field(default_factory=list)
    cells: list[list[str]] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)


def read_sheet(
    table: Table,
    source: Source,
    look: SheetLook,
    rows: Iterable[Cells],
    formulas: Iterable[Cells] | None,
) -> TextTable:
    """The table in the rows of a sheet.

    `formulas` are the same rows with formulas instead of stored results; None if there are none.
    """
    sheet = _collect_rows(table, rows, formulas)
    if not sheet.headings:
        expected = ", ".join(table.column_names)
        message = f"is empty; its first row must hold the names of the columns: {expected}"
        return absent_table(table, source, Finding(table.name, 0, "", "", message))
    _even_out(sheet)
    headings = match_headings(table, sheet.heading_row, sheet.headings, _filled_columns(sheet))
    if not headings.positions:
        return absent_table(table, source, headings.findings[0])
    return _table_below(table, source, look, sheet, headings)


def _table_below(
    table: Table, source: Source, look: SheetLook, sheet: SheetRows, headings: Headings
) -> TextTable:
    """The rows below the headings, but for examples, with what can't be trusted in them."""
    everything = text_frame(table, headings.positions, sheet.cells, sheet.rows)
    first = min(headings.positions, key=headings.positions.__getitem__)
    frame = _without_examples(everything, first)
    examples = set(everything["row"]) - set(frame["row"])
    names = {place: name for name, place in headings.positions.items()}
    hidden, covered = _hidden_by_merging(table, look.merged, names, set(frame["row"]))
    doubts = [doubt for doubt in sheet.doubts if doubt.row not in examples]
    findings, spoiled = _doubtful_cells(table, doubts, names, covered)
    letters = {name: get_column_letter(place + 1) for place, name in names.items()}
    return TextTable(
        table,
        Source(source.file, source.sheet, letters),
        frame,
        (*headings.findings, *findings, *hidden),
        frozenset(spoiled | covered),
        # Nobody has sent a table of which there is the example only.
        given=not examples or bool(len(frame)) or table.required,
        complete=headings.complete,
        has_example=bool(examples),
    )


def _without_examples(frame: pl.DataFrame, first: str) -> pl.DataFrame:
    """The rows whose first cell does not begin as examples do."""
    begins = pl.col(first).str.to_lowercase().str.starts_with(EXAMPLE_MARK)
    return frame.filter(~begins)


def _collect_rows(
    table: Table, rows: Iterable[Cells], formulas: Iterable[Cells] | None
) -> SheetRows:
    sheet = SheetRows()
    name_places: frozenset[int] = frozenset()
    pairs = zip(rows, formulas or itertools.repeat(()), strict=False)
    for row, (cells, shadows) in enumerate(pairs, 1):
        if row > MOST_ROWS:
            raise Unreadable(f"has more than {MOST_ROWS:,} rows; delete those below the table")
        texts = [
            value if isinstance(value := cell.value, str) else cell_text(value) for cell in cells
        ]
        sheet.doubts += _misread_names(row, cells, texts, name_places)
        sheet.doubts += _formulas_without_result(row, cells, shadows)
        if sheet.headings:
            sheet.cells.append(texts)
            sheet.rows.append(row)
        elif any(text.strip(BLANKS) for text in texts):
            sheet.heading_row, sheet.headings = row, texts
            name_places = _find_name_places(table, texts)
    return sheet


def _find_name_places(table: Table, headings: Sequence[str]) -> frozenset[int]:
    positions = match_headings(table, 0, headings, [False] * len(headings)).positions
    return frozenset(
        place for name, place in positions.items() if table.column(name).kind in NAME_KINDS
    )


def _misread_names(
    row: int, cells: Cells, texts: list[str], places: Iterable[int]
) -> Iterator[Doubt]:
    """The names of a row that are no text and can't be taken for it; puts in what people see."""
    for place in places:
        cell = cells[place] if place < len(cells) else None
        if cell is None or cell.value is None or isinstance(cell.value, str):
            continue
        texts[place] = cell_text(cell.value, cell.number_format)
        reason = name_advice(cell.value, cell.number_format)
        if reason:
            yield Doubt(row, place, texts[place], reason)


def _formulas_without_result(row: int, cells: Cells, shadows: Cells) -> Iterator[Doubt]:
    for place, (cell, shadow) in enumerate(zip(cells, shadows, strict=False)):
        # A stored result that is an empty text leaves the type "str" and no value.
        if cell.value is None and shadow.data_type == "f" and cell.data_type != "str":
            yield Doubt(row, place, "", _NO_RESULT)


def _even_out(sheet: SheetRows) -> None:
    """Give all rows the same number of cells; rows may end with their last cell."""
    width = max(len(sheet.headings), *(len(cells) for cells in sheet.cells), 0)
    for cells in (sheet.headings, *sheet.cells):
        cells += [""] * (width - len(cells))


def _filled_columns(sheet: SheetRows) -> list[bool]:
    """For each heading that is empty whether anything stands below it; true for all others."""
    return [
        bool(heading.strip(BLANKS)) or any(cells[place].strip(BLANKS) for cells in sheet.cells)
        for place, heading in enumerate(sheet.headings)
    ]


def _doubtful_cells(
    table: Table,
    doubts: Iterable[Doubt],
    names: Mapping[int, str],
    covered: AbstractSet[tuple[int, str]],
) -> tuple[list[Finding], set[tuple[int, str]]]:
    """A finding for each doubtful cell under a known heading, and the places of all of them."""
    findings = [
        Finding(table.name, doubt.row, names[doubt.place], doubt.text, doubt.reason)
        for doubt in doubts
        if doubt.place in names and (doubt.row, names[doubt.place]) not in covered
    ]
    return findings, {(finding.row, finding.column) for finding in findings}


def _hidden_by_merging(
    table: Table,
    blocks: Iterable[MergedCells],
    names: Mapping[int, str],
    rows: AbstractSet[int],
) -> tuple[list[Finding], set[tuple[int, str]]]:
    """A finding for each block of merged cells that covers part of the table, and those cells."""
    findings: list[Finding] = []
    spoiled: set[tuple[int, str]] = set()
    for block in blocks:
        cells = [
            (row, names[column - 1])
            for row in block.rows
            if row in rows
            for column in block.columns
            if column - 1 in names
        ]
        if cells:
            row, name = cells[0]
            findings.append(Finding(table.name, row, name, "", _MERGED.format(name=block.name)))
            spoiled.update(cells)
    return findings, spoiled
