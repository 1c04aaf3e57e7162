"""One workbook with a sheet for each input table, made for people to fill in or to read on."""

import datetime as dt
import io
import os
from collections.abc import Mapping, Sequence
from copy import copy
from typing import Any

# one way of writing XML whatever else is installed: the same input gives the same bytes
os.environ["OPENPYXL_LXML"] = "False"

from openpyxl import Workbook
from openpyxl.cell import Cell as LibraryCell
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.properties import PageSetupProperties

from bomkit.tables.columns_and_rules.by_name import EXAMPLE_MARK, INPUTS, START_SHEET
from bomkit.tables.schema import Column, Kind, Table
from bomkit.words import input_tables as said
from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.typing_limits import LAST_ROW, limit_of

_Look = tuple[str, bool, bool, bool]  # number format, an example, quoted, of several lines
Values = Sequence[Mapping[str, object]]  # rows of a table: the value of each filled cell by column

_TEXT = "@"
_FORMS: dict[Kind, str] = {
    "number": "General",
    "rate": "General",
    "whole": "0",
    "date": "yyyy-mm-dd",
}
_MADE = dt.datetime(2000, 1, 1)
_NARROWEST, _WIDEST = 11, 34


def entry_workbook(tables: Mapping[str, Values] | None = None) -> bytes:
    """The workbook as .xlsx: with these rows, or with an example row a sheet where None.

    tables: the rows by table; values are text, numbers, dates. A table that is not in it gets a
    sheet with headings only, and the examples of the template, so that it can be filled in later.
    """
    book: Any = Workbook()
    book._named_styles["Normal"].font = Font(name=style.FONT, size=10)  # unit of widths
    book.properties.creator, book.properties.created = "bomkit", _MADE
    book.properties.title = said.ENTRY_TITLE
    first = book.active
    first.title = START_SHEET
    _lay_out_start(first)
    for table in INPUTS.values():
        rows = (tables or {}).get(table.name)
        _lay_out_table(
            book.create_sheet(table.name), table, _example(table) if rows is None else rows
        )
    raw = io.BytesIO()
    book.save(raw)
    return raw.getvalue()


def _lay_out_table(sheet: Any, table: Table, rows: Values) -> None:
    for number, column in enumerate(table.columns, 1):
        letter = get_column_letter(number)
        width = max(len(column.name) + 3, 14 if column.kind in ("text", "names") else 0)
        sheet.column_dimensions[letter].width = min(_WIDEST, max(_NARROWEST, width))
        sheet.column_dimensions[letter].number_format = _FORMS.get(column.kind, _TEXT)
        sheet.column_dimensions[letter].font = Font(name=style.FONT, size=10)
        _write_heading(sheet.cell(1, number), column)
        _limit(sheet, f"{letter}2:{letter}{LAST_ROW}", column)
    looks: dict[_Look, Any] = {}
    for place, row in enumerate(rows, 2):
        for number, column in enumerate(table.columns, 1):
            if column.name in row:
                _write_value(sheet.cell(place, number), column, row[column.name], looks)
    sheet.row_dimensions[1].height = 24
    sheet.freeze_panes = "B2"
    sheet.print_title_rows = "1:1"
    _set_up_page(sheet)


def _limit(sheet: Any, cells: str, column: Column) -> None:
    """Gives the cells of a column what they may hold; nothing for free words and new names."""
    limit = limit_of(column)
    if limit is None:
        return
    sheet.add_data_validation(
        DataValidation(
            limit.kind,
            sqref=cells,
            formula1=limit.first,
            formula2=limit.second or None,
            operator="between" if limit.second else None,
            allow_blank=True,
            showErrorMessage=True,
            error=limit.words,
            errorTitle="bomkit",
            errorStyle="warning" if limit.warns else None,
        )
    )


def _write_heading(cell: LibraryCell, column: Column) -> None:
    """The name of a column, framed by whether it is required, with a note of what it is."""
    cell.value = column.name
    ink = style.INK if column.required else style.SLATE
    cell.font = Font(name=style.FONT, size=10, bold=column.required, color=ink)
    line = Side("medium" if column.required else "hair", color=ink)
    cell.border = Border(left=line, right=line, top=line, bottom=line)
    if column.required:
        cell.fill = PatternFill("solid", fgColor=style.ENTRY_GROUND)
    cell.alignment = Alignment(vertical="center")
    cell.number_format = _TEXT
    note = Comment(heading_note(column), "bomkit")
    note.width, note.height = 320, 110
    cell.comment = note


def heading_note(column: Column) -> str:
    """What belongs below a heading: its help, what may stand there, what an empty cell means."""
    need = said.ENTRY_REQUIRED if column.required else said.ENTRY_OPTIONAL
    lines = [f"{column.name}: {need}", column.help]
    if column.choices:
        lines.append(said.ENTRY_CHOICE.format(values=", ".join(column.choices)))
    if column.refers_to:
        lines.append(said.ENTRY_REFERS.format(places=" or ".join(column.refers_to)))
    if column.default is not None:
        lines.append(said.ENTRY_EMPTY_MEANS.format(value=column.default))
    return "\n".join(lines)


def _write_value(cell: Any, column: Column, value: object, looks: dict[_Look, Any]) -> None:
    """Writes a value; looks: what cells of each look were dressed in, as dressing takes long."""
    cell.value = value
    text = value if isinstance(value, str) else ""
    if isinstance(value, str):
        cell.data_type = "s"  # also what looks like a formula
    example = text.startswith(EXAMPLE_MARK)
    quoted = isinstance(value, str) and column.kind not in _FORMS
    look = _FORMS.get(column.kind, _TEXT), example, quoted, "\n" in text
    if look not in looks:
        cell.number_format = look[0]
        cell.font = Font(name=style.FONT, size=10, italic=example)
        if quoted:
            cell._style.quotePrefix = 1
        if "\n" in text:
            cell.alignment = Alignment(wrap_text=True)
        looks[look] = cell._style
    cell._style = copy(looks[look])


def _example(table: Table) -> Values:
    """The row that shows how a table is filled in; its first cell says that it is an example."""
    row: dict[str, object] = {}
    for place, column in enumerate(table.columns):
        value: object = said.ENTRY_EXAMPLES.get(column.name)
        if value is None and column.choices and column.required:
            value = column.choices[0]
        if value is not None and (place == 0 or column.kind != "date"):
            row[column.name] = f"{EXAMPLE_MARK}{value}" if place == 0 else value
        elif value is not None:
            row[column.name] = dt.date.fromisoformat(str(value))
    return [row]


def _lay_out_start(sheet: Any) -> None:
    """What to fill in first, how, and what then."""
    for letter, width in (("A", 18), ("B", 19), ("C", 96)):
        sheet.column_dimensions[letter].width = width
    sheet.sheet_view.showGridLines = False
    sheet["A1"] = said.ENTRY_TITLE
    sheet["A1"].font = Font(name=style.FONT, size=18, bold=True, color=style.INK)
    sheet["A2"] = said.ENTRY_LEAD
    row = 4
    for words in said.ENTRY_RULES:
        sheet.cell(row, 1, words).font = Font(name=style.FONT, size=10, color=style.INK)
        row += 1
    row += 1
    _write_start_row(sheet, row, said.ENTRY_HEADS, bold=True)
    for table in sorted(INPUTS.values(), key=lambda table: not table.required):
        row += 1
        when = said.ENTRY_FIRST if table.required else said.ENTRY_LATER
        _write_start_row(sheet, row, (when, table.name, table.help), bold=table.required)
        link = Hyperlink(ref=f"B{row}", location=f"'{table.name}'!A1")
        sheet.cell(row, 2)._hyperlink = link
        sheet._hyperlinks.append(link)
    sheet["A2"].font = Font(name=style.FONT, size=12, bold=True, color=style.SLATE)
    _set_up_page(sheet)


def _write_start_row(sheet: Any, row: int, words: Sequence[str], bold: bool) -> None:
    for number, each in enumerate(words, 1):
        cell = sheet.cell(row, number, each)
        cell.font = Font(name=style.FONT, size=10, bold=bold and number < 3, color=style.INK)
        cell.border = Border(bottom=Side("hair", color=style.HAIRLINE))
        cell.alignment = Alignment(wrap_text=number == 3, vertical="top")


def _set_up_page(sheet: Any) -> None:
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = 9  # A4
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
