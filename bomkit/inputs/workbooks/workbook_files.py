"""One workbook with a sheet a table to tables of text."""

import io
import warnings
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import openpyxl
from openpyxl.workbook import Workbook

from bomkit.inputs.text_table import BLANKS, DAMAGED, TextTable, Unreadable
from bomkit.inputs.workbooks.safe_to_open import SheetLook, look_into
from bomkit.inputs.workbooks.sheet_rows import Cells, read_sheet
from bomkit.problems import Problem, Source, of_whole
from bomkit.tables.columns_and_rules.by_name import EXAMPLE_MARK, INPUTS, START_SHEET, table_hint


@dataclass
class WorkbookTexts:
    """The tables of a workbook as text, and problems of the workbook and its sheets."""

    opened: bool
    texts: dict[str, TextTable] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)


def read_workbook(file: str, content: bytes) -> WorkbookTexts:
    """The tables in the bytes of a workbook; whatever is wrong with it becomes a problem."""
    try:
        looks = look_into(content)
        with warnings.catch_warnings():
            # What is wrong with styles and the like is nothing to people who plan.
            warnings.simplefilter("ignore")
            return _read_sheets(file, content, looks)
    except Unreadable as reason:
        message = reason.message
    except Exception:  # damaged content makes the libraries fail in many ways
        message = DAMAGED
    return WorkbookTexts(False, problems=[of_whole(file, message)])


def _read_sheets(file: str, content: bytes, looks: Mapping[str, SheetLook]) -> WorkbookTexts:
    values = open_workbook(content, stored_values=True)
    has_formulas = any(look.has_formulas for look in looks.values())
    formulas = open_workbook(content, stored_values=False) if has_formulas else None
    known = {name.casefold(): table for name, table in INPUTS.items()}
    book = WorkbookTexts(True)
    sheets: list[Any] = values.worksheets  # the published types know no read-only sheets
    for sheet in sheets:
        if sheet.title.strip(BLANKS).casefold() == START_SHEET.casefold():
            continue
        table = known.get(sheet.title.strip(BLANKS).casefold())
        if table is None or table.name in book.texts:
            book.problems.append(_unwanted_sheet(file, sheet.title, table is None))
            continue
        if sheet.sheet_state != "visible":
            message = "is hidden, and read all the same"
            book.problems.append(Problem(file, f"sheet {sheet.title}", "", "", message, "warning"))
        look = looks[sheet._worksheet_path]  # the only way from a sheet to its member
        rows = rows_of(sheet, look)
        shadows = rows_of(formulas[sheet.title], look) if formulas and look.has_formulas else None
        book.texts[table.name] = read_sheet(table, Source(file, sheet.title), look, rows, shadows)
    book.problems += _examples_left(file, book.texts)
    return book


def _examples_left(file: str, texts: Mapping[str, TextTable]) -> list[Problem]:
    """That examples of the template don't count, if there are any in sheets with other rows."""
    sheets = ", ".join(
        text.source.sheet for text in texts.values() if text.has_example and len(text.frame)
    )
    if not sheets:
        return []
    message = (
        f"the rows that begin with '{EXAMPLE_MARK}' are examples of the template and were left "
        "out; delete them when you need them no more"
    )
    return [Problem(file, f"sheets {sheets}", "", "", message, "warning")]


def _unwanted_sheet(file: str, title: str, unknown: bool) -> Problem:
    hint = table_hint(title) or "remove it or rename it"
    message = f"is no input table; {hint}" if unknown else "stands twice; keep one of the two"
    return Problem(file, f"sheet {title}", "", "", message)


def open_workbook(content: bytes, stored_values: bool) -> Workbook:
    """A workbook that was looked at, for reading: with stored results, or with formulas."""
    return openpyxl.load_workbook(
        io.BytesIO(content), read_only=True, data_only=stored_values, keep_links=False
    )


def rows_of(sheet: Any, look: SheetLook) -> Iterator[Cells]:
    """All rows of a sheet."""
    # A sheet may claim to be smaller than it is, and would lose the cells beyond.
    sheet.reset_dimensions()
    rows: Iterator[Cells] = sheet.iter_rows(min_row=1, min_col=1, max_col=look.widest)
    return rows
