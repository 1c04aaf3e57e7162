"""What a spreadsheet lets people type below a heading: lists to choose from, dates, numbers."""

import datetime as dt
from typing import Literal, NamedTuple

from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.schema import FIRST_YEAR, LAST_YEAR, LEAST_COUNTED, MOST_COUNTED, Column
from bomkit.words import input_tables as said
from bomkit.workbooks.writing.xml_parts.text import area

LAST_ROW = 5000  # of what is limited and chosen from; rows below it are checked by bomkit alone
_DAY_NOUGHT = dt.date(1899, 12, 30)  # spreadsheets count days from here
_BELOW_ONE = 1 - LEAST_COUNTED


class Limit(NamedTuple):
    """What cells may hold: a list to choose from, or something between two bounds."""

    kind: Literal["list", "whole", "decimal", "date"]
    words: str  # to those who type something else
    first: str
    second: str = ""  # the upper bound
    warns: bool = False  # only, and lets them


def limit_of(column: Column) -> Limit | None:
    """What cells that hold a column's values may hold; None where all may stand there."""
    if column.choices:
        return Limit("list", said.ENTRY_NOT_A_CHOICE, f'"{",".join(column.choices)}"')
    if column.refers_to:
        return _choice_of_another_sheet(column)
    if column.kind == "date":
        first, last = dt.date(FIRST_YEAR, 1, 1), dt.date(LAST_YEAR, 12, 31)
        words = said.ENTRY_NOT_A_DATE.format(first=FIRST_YEAR, last=LAST_YEAR)
        bounds = str((first - _DAY_NOUGHT).days), str((last - _DAY_NOUGHT).days)
        return Limit("date", words, *bounds)
    if column.kind in ("number", "whole", "rate"):
        return _number_limit(column)
    return None


def _number_limit(column: Column) -> Limit:
    least = column.at_least if column.at_least is not None else -MOST_COUNTED
    if column.above is not None:
        least = column.above + (1 if column.kind == "whole" else LEAST_COUNTED)
    most = MOST_COUNTED if column.most is None else column.most
    if column.kind == "rate":
        least, most = 0, _BELOW_ONE
    whole = column.kind == "whole"
    words = said.ENTRY_NOT_WHOLE if whole else said.ENTRY_NOT_A_NUMBER
    return Limit(
        "whole" if whole else "decimal",
        words.format(least=least, most=most),
        f"{least:.15g}",
        f"{most:.15g}",
    )


def _choice_of_another_sheet(column: Column) -> Limit:
    """What the sheet it refers to holds; only a warning, as that may be filled in later, or the
    value may stand in a second sheet."""
    sheet, name = column.refers_to[0].split(".")
    number = INPUTS[sheet].column_names.index(name) + 1
    places = " or ".join(place.split(".")[0] for place in column.refers_to)
    return Limit(
        "list",
        said.ENTRY_NOT_LISTED.format(places=places),
        f"{sheet}!{area(number, 2, number, LAST_ROW)}",
        warns=True,
    )
