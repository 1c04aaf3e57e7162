"""Workbooks filled in as people do it: opened, typed into, and saved."""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import openpyxl

from bomkit.tables.entry_keys import HEAD_MARK, SheetHead, head_of, key_of
from bomkit.tables.filled_in_tables import ENTRIES

# kind of entry, its key by column, and what the row shows by heading, to what is typed by column
Fill = Callable[[str, Mapping[str, Any], Mapping[str, Any]], Mapping[str, Any]]


def fill_in(path: Path, fill: Fill) -> int:
    """Types into every row of every list of a workbook; how many rows got something."""
    book = openpyxl.load_workbook(path)
    count = 0
    for sheet in book.worksheets:
        for head, headings, row, key in lines_of(sheet):
            shown = {heading: sheet.cell(row, place).value for heading, place in headings.items()}
            typed = fill(head.kind, key, shown)
            for column, value in typed.items():
                sheet.cell(row, headings[head.fills[column]]).value = value
            count += bool(typed)
    if count:
        book.save(path)
    return count


def lines_of(sheet: Any) -> Iterator[tuple[SheetHead, dict[str, int], int, dict[str, Any]]]:
    """The rows of a list: its head, the places of its headings, the row and its key by column."""
    head, place = None, 0
    headings: dict[str, int] = {}
    for cells in sheet.iter_rows():
        marks = [c for c in cells if isinstance(c.value, str) and c.value.startswith(HEAD_MARK)]
        if marks and head is None:
            head, place = head_of(marks[0].value), marks[0].column
            headings = {str(c.value): c.column for c in cells if c.column != place}
        elif head is not None and cells[place - 1].value:
            key = key_of(head, str(cells[place - 1].value))
            if key is None:
                continue
            columns = ENTRIES[head.kind].key
            yield head, headings, cells[0].row, dict(zip(columns, key.values, strict=True))
