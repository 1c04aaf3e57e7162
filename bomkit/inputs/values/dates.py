"""Cells of text to days: 2026-11-30, or 30.11.2026 where that is not in doubt."""

import datetime as dt
import re

import polars as pl

from bomkit.inputs.values.values_and_wrong_cells import CastColumn
from bomkit.tables.schema import FIRST_YEAR, LAST_YEAR
from bomkit.words.problems.findings import NOT_A_DATE

_PLAIN_DATE = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}(?:[ T]00:00:00)?$"
_DOTTED_DATE = r"^[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{4}$"


def cast_dates(cells: pl.Series) -> CastColumn:
    """The days of the cells, and what is wrong with those that are none."""
    texts = cells.to_list()
    days = {text: _plain_day(text) for text in set(texts) - {None}}
    if None not in days.values():  # nearly every column
        return CastColumn(pl.Series(cells.name, [days.get(text) for text in texts], pl.Date))
    plain = cells.set(~cells.str.contains(_PLAIN_DATE), None).str.head(10)
    dotted = cells.set(~cells.str.contains(_DOTTED_DATE), None)
    values = plain.str.to_date("%Y-%m-%d", strict=False)
    if dotted.null_count() < len(dotted):
        values = values.zip_with(values.is_not_null(), dotted.str.to_date("%d.%m.%Y", strict=False))
    years = values.dt.year()
    cast = CastColumn(values.set(~years.is_between(FIRST_YEAR, LAST_YEAR), None))
    cast.refuse(
        ~years.is_between(FIRST_YEAR, LAST_YEAR),
        f"must lie between {FIRST_YEAR} and {LAST_YEAR}",
    )
    cast.refuse_each(cells.is_not_null() & values.is_null(), cells, _date_advice)
    return cast


def _plain_day(text: str) -> dt.date | None:
    """The day of a text such as 2026-11-30; None of any other text, whatever it means."""
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        return None
    try:
        day = dt.date.fromisoformat(text)
    except ValueError:
        return None
    return day if FIRST_YEAR <= day.year <= LAST_YEAR else None


def _date_advice(text: str) -> str:
    if "/" in text:
        return f"{NOT_A_DATE}; with slashes nobody can tell the day from the month"
    if ":" in text:
        return f"{NOT_A_DATE}, without a time of day"
    if text.replace(".", "", 1).isdigit():
        return f"{NOT_A_DATE}; in a spreadsheet give the cell a date format"
    return f"{NOT_A_DATE} or 30.11.2026, and a day that the calendar has"
