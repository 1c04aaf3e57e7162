"""Sheets that are filled in: the hidden column with the keys of their rows.

How the keys are made and read back stands in tables/entry_keys.py.
"""

import datetime as dt
from dataclasses import replace

from bomkit.tables.entry_keys import RowKey, SheetHead, row_words
from bomkit.workbooks.writing.sheet import Book, Cell, Column, Line, Link, Sheet

_WIDTH = 2.0


def count_of_lists(book: Book) -> int:
    """How many sheets of a workbook are filled in."""
    return sum(bool(sheet.entries) for sheet in book.sheets)


def is_filled_in(book: Book) -> bool:
    """Whether people fill something into a workbook."""
    return count_of_lists(book) > 0


def keyed(book: Book) -> Book:
    """The workbook with a hidden column of keys on each sheet that is filled in."""
    return replace(book, sheets=[_keyed(sheet, book.run_id) for sheet in book.sheets])


def _keyed(sheet: Sheet, run_id: str) -> Sheet:
    if not sheet.entries or any(column.hidden for column in sheet.columns):
        return sheet
    head = SheetHead(
        run_id,
        sheet.entries,
        sum(bool(line.key) for line in sheet.lines),
        {column.fills: column.heading for column in sheet.columns if column.fills},
        [column.heading for column in sheet.columns if column.shows],
    )
    shown = [place for place, column in enumerate(sheet.columns) if column.shows]
    lines = [_line(line, head, shown, len(sheet.columns)) for line in sheet.lines]
    column = Column(head.words(), _WIDTH, "key", hidden=True)
    return replace(sheet, columns=[*sheet.columns, column], lines=lines)


def _line(line: Line, head: SheetHead, shown: list[int], width: int) -> Line:
    """A line with its key in the column after the last one, if it can be filled in."""
    if not line.key:
        return line
    key = row_words(head, RowKey(line.key, [_shown(line.cells[place]) for place in shown]))
    room = [None] * (width - len(line.cells))
    return Line([*line.cells, *room, (key, "key")], line.height, line.key)


def _shown(cell: Cell) -> str:
    """What a cell shows, as it is read back."""
    value = "" if cell is None else cell[0]
    if isinstance(value, Link):
        return value.words
    return value.isoformat() if isinstance(value, dt.date) else str(value)
