"""What a spreadsheet lets people type below a heading: lists to choose from, dates, numbers."""

import datetime as dt
from typing import Any, Literal

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from bomkit.tables.inputs.by_name import INPUTS
from bomkit.tables.schema import FIRST_YEAR, LAST_YEAR, LEAST_COUNTED, MOST_COUNTED, Column
from bomkit.words import entry

LAST_ROW = 5000  # of what is limited and chosen from; rows below it are checked by bomkit alone
_DAY_NOUGHT = dt.date(1899, 12, 30)  # spreadsheets count days from here
_BELOW_ONE = 1 - LEAST_COUNTED


def limit_column(sheet: Any, letter: str, column: Column, first: int, last: int) -> None:
    """Gives the cells of a column what they may hold; nothing for free words and new names."""
    limit = limit_of(column)
    if limit is None:
        return
    limit.add(f"{letter}{first}:{letter}{last}")
    sheet.add_data_validation(limit)


def limit_of(column: Column) -> DataValidation | None:
    """What cells that hold a column's values may hold; None where all may stand there."""
    if column.choices:
        choices = f'"{",".join(column.choices)}"'
        return _stop(DataValidation("list", formula1=choices), entry.ENTRY_NOT_A_CHOICE)
    if column.refers_to:
        return _choice_of_another_sheet(column)
    if column.kind == "date":
        first, last = dt.date(FIRST_YEAR, 1, 1), dt.date(LAST_YEAR, 12, 31)
        words = entry.ENTRY_NOT_A_DATE.format(first=FIRST_YEAR, last=LAST_YEAR)
        bounds = str((first - _DAY_NOUGHT).days), str((last - _DAY_NOUGHT).days)
        return _stop(_between("date", *bounds), words)
    if column.kind in ("number", "whole", "rate"):
        return _number_limit(column)
    return None


def _number_limit(column: Column) -> DataValidation:
    least = column.at_least if column.at_least is not None else -MOST_COUNTED
    if column.above is not None:
        least = column.above + (1 if column.kind == "whole" else LEAST_COUNTED)
    most = MOST_COUNTED if column.most is None else column.most
    if column.kind == "rate":
        least, most = 0, _BELOW_ONE
    whole = column.kind == "whole"
    words = entry.ENTRY_NOT_WHOLE if whole else entry.ENTRY_NOT_A_NUMBER
    limit = _between("whole" if whole else "decimal", f"{least:.15g}", f"{most:.15g}")
    return _stop(limit, words.format(least=least, most=most))


def _between(kind: Literal["whole", "decimal", "date"], least: str, most: str) -> DataValidation:
    return DataValidation(kind, operator="between", formula1=least, formula2=most)


def _choice_of_another_sheet(column: Column) -> DataValidation:
    """What the sheet it refers to holds; only a warning, as that may be filled in later, or the
    value may stand in a second sheet."""
    sheet, name = column.refers_to[0].split(".")
    letter = get_column_letter(INPUTS[sheet].column_names.index(name) + 1)
    limit = DataValidation("list", formula1=f"{sheet}!${letter}$2:${letter}${LAST_ROW}")
    places = " or ".join(place.split(".")[0] for place in column.refers_to)
    _stop(limit, entry.ENTRY_NOT_LISTED.format(places=places))
    limit.errorStyle = "warning"
    return limit


def _stop(limit: DataValidation, words: str) -> DataValidation:
    limit.allow_blank = True
    limit.showErrorMessage = True
    limit.error, limit.errorTitle = words, "bomkit"
    return limit
