"""Cells of text to values of the column's kind; what does not fit is told cell by cell."""

import datetime as dt
import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field

import polars as pl

from bomkit.inputs.text_table import NAME_KINDS
from bomkit.inputs.values.numerals import Decimals, cast_numbers, number_advice
from bomkit.problems import nearest
from bomkit.tables.schema import FIRST_YEAR, LAST_YEAR, LEAST_COUNTED, MOST_TOLD_APART, Column

LONGEST_CELL = 32_767  # characters; no spreadsheet holds more in a cell

_PLAIN_DATE = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}(?:[ T]00:00:00)?$"
_DOTTED_DATE = r"^[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{4}$"
_SPREADSHEET_ERROR = (
    r"^#(?:REF!|N/A|VALUE!|DIV/0!|NAME\?|NULL!|NUM!|SPILL!|CALC!|BEZUG!|WERT!|NV|ZAHL!)$"
)
_CONTROL = r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]"
_LINE_OR_TAB = r"[\t\n\r]"
# Spaces that are no plain space, marks without width, letters of full width, foreign digits.
_DECEPTIVE = (
    r"[\x{a0}\x{ad}\x{2000}-\x{200f}\x{2028}-\x{202f}\x{205f}-\x{206f}\x{3000}\x{feff}"
    r"\x{ff01}-\x{ff5e}]|[\p{Nd}&&[^0-9]]"
)
_WITHOUT_WIDTH = r"[\x{ad}\x{200b}-\x{200f}\x{2028}-\x{202e}\x{2060}-\x{206f}\x{feff}]"
_DATE_ADVICE = "must be a date such as 2026-11-30"


@dataclass
class CastColumn:
    """The values of a column, null where a cell is empty or bad, and what is wrong by place."""

    values: pl.Series
    wrong: dict[int, str] = field(default_factory=dict)  # place of the row -> what must hold

    def refuse(self, bad: pl.Series, message: str) -> None:
        """Say the message about the cells marked, but for those already found wrong."""
        if not bad.any():
            return
        for place in bad.fill_null(False).arg_true():
            self.wrong.setdefault(place, message)

    def refuse_each(self, bad: pl.Series, cells: pl.Series, advise: Callable[[str], str]) -> None:
        """The same with a message for each different text."""
        if not bad.any():
            return
        places = bad.fill_null(False).arg_true()
        texts = cells.gather(places).to_list()
        messages = {text: advise(text) for text in set(texts)}
        for place, text in zip(places, texts, strict=True):
            self.wrong.setdefault(place, messages[text])


def cast_column(column: Column, text: pl.Series, decimals: Decimals) -> CastColumn:
    """The column's values from its text; a name with deceptive characters comes back cleaned."""
    cells = text.set(text == "", None)
    if cells.null_count() == len(cells):
        return CastColumn(pl.Series([None], dtype=column.dtype).new_from_index(0, len(cells)))
    unfit = CastColumn(cells)
    plain = _is_plain(cells)
    if not plain:
        _refuse_what_no_kind_allows(unfit)
    if column.kind in NAME_KINDS:
        return _cast_names(column, cells, unfit, plain)
    if column.kind == "text":
        return CastColumn(cells if plain else cells.str.replace_all("\r\n?", "\n"), unfit.wrong)
    if unfit.wrong:
        cells = cells.scatter(list(unfit.wrong), None)
    if column.kind == "choice":
        cast = _cast_choices(column, cells)
    elif column.kind == "date":
        cast = _cast_dates(cells)
    else:
        cast = _cast_numbers(column, cells, decimals)
    return CastColumn(cast.values, {**cast.wrong, **unfit.wrong})


def _is_plain(cells: pl.Series) -> bool:
    """Whether no cell can hold what only some kinds allow, or none: nearly every column.

    Each pattern of this module that names a character asks for one that is no printable ASCII, or
    for the # in front of an error; one look at all cells is quicker than one with each pattern.
    """
    texts = [text for text in cells.to_list() if text is not None]
    together = "".join(texts)
    return (
        together.isascii()
        and together.isprintable()
        and "#" not in together
        and max(map(len, texts)) <= LONGEST_CELL
    )


def _refuse_what_no_kind_allows(cast: CastColumn) -> None:
    cells = cast.values
    cast.refuse(
        cells.str.contains(_SPREADSHEET_ERROR),
        "is an error of the spreadsheet; correct the formula or type the value",
    )
    cast.refuse(
        cells.str.len_chars() > LONGEST_CELL,
        f"is longer than {LONGEST_CELL} characters; perhaps a quotation mark is not closed",
    )
    cast.refuse(
        cells.str.contains(_CONTROL), "holds control characters that do not show; retype the cell"
    )


def _cast_names(column: Column, cells: pl.Series, cast: CastColumn, plain: bool) -> CastColumn:
    """Names letter by letter; several names in a cell come back separated by single spaces."""
    if not plain:
        cells = _undeceived(column, cells, cast)
    if column.kind == "names":
        cells = cells.str.replace_all(r"[\s,;]+", " ").str.strip_chars(" ")
    return CastColumn(cells, cast.wrong)


def _undeceived(column: Column, cells: pl.Series, cast: CastColumn) -> pl.Series:
    """The names without deceptive characters, each of which is refused."""
    if column.kind == "name":
        cast.refuse(
            cells.str.contains(_LINE_OR_TAB), "must stand on one line, without tabs; retype it"
        )
    deceptive = cells.str.contains(_DECEPTIVE)
    cast.refuse_each(deceptive, cells, _deceptive_advice)
    if deceptive.any():
        cells = cells.str.replace_all(_WITHOUT_WIDTH, "").str.normalize("NFKC")
    return cells


def _deceptive_advice(text: str) -> str:
    marks = pl.Series([text]).str.extract(f"({_DECEPTIVE})").item()
    name = unicodedata.name(marks, "without a name").lower()
    return f"holds a character that misleads the eye (U+{ord(marks):04X}, {name}); retype it"


def _cast_choices(column: Column, cells: pl.Series) -> CastColumn:
    known = cells.is_in(list(column.choices))
    cast = CastColumn(cells.set(~known, None))

    def advise(text: str) -> str:
        hint = nearest(text, column.choices)
        return f"must be one of {', '.join(column.choices)}" + (f"; {hint}" if hint else "")

    cast.refuse_each(~known, cells, advise)
    return cast


def _cast_dates(cells: pl.Series) -> CastColumn:
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
        return f"{_DATE_ADVICE}; with slashes nobody can tell the day from the month"
    if ":" in text:
        return f"{_DATE_ADVICE}, without a time of day"
    if text.replace(".", "", 1).isdigit():
        return f"{_DATE_ADVICE}; in a spreadsheet give the cell a date format"
    return f"{_DATE_ADVICE} or 30.11.2026, and a day that the calendar has"


def _cast_numbers(column: Column, cells: pl.Series, decimals: Decimals) -> CastColumn:
    values = cast_numbers(cells, decimals)
    cast = CastColumn(values)
    cast.refuse_each(
        cells.is_not_null() & values.is_null(), cells, lambda text: number_advice(text, decimals)
    )
    _refuse_out_of_bounds(column, cast)
    values = values.scatter(list(cast.wrong), None)  # what must not be is not worked with
    if column.kind == "whole":
        whole = (values % 1 == 0) & (values.abs() <= MOST_TOLD_APART)
        cast.refuse(~whole, "must be a whole number")
        return CastColumn(values.set(~whole, None).cast(pl.Int64), cast.wrong)
    return cast


def _refuse_out_of_bounds(column: Column, cast: CastColumn) -> None:
    values = cast.values
    if column.kind == "rate":
        cast.refuse(
            ~((values >= 0) & (values < 1)), "must be at least 0 and less than 1; 8 % is 0.08"
        )
    if column.at_least is not None:
        cast.refuse(values < column.at_least, f"must be at least {column.at_least:g}")
    if column.above is not None:
        cast.refuse(values <= column.above, f"must be more than {column.above:g}")
    if column.most is not None:
        cast.refuse(values > column.most, f"must be at most {column.most:.15g}")
    if column.kind == "number":
        tiny = (values != 0) & (values.abs() < LEAST_COUNTED)
        cast.refuse(tiny, f"is too small to count with; 0 or at least {LEAST_COUNTED:g} is meant")
