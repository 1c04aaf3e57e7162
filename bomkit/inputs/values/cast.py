"""Cells of text to values of the column's kind; what does not fit is told cell by cell."""

import polars as pl

from bomkit.inputs.text_table import NAME_KINDS
from bomkit.inputs.values.dates import cast_dates
from bomkit.inputs.values.names import cast_names
from bomkit.inputs.values.numerals import Decimals, cast_numbers, number_advice
from bomkit.inputs.values.values_and_wrong_cells import CastColumn
from bomkit.tables.schema import LEAST_COUNTED, MOST_TOLD_APART, Column
from bomkit.words.did_you_mean import nearest

LONGEST_CELL = 32_767  # characters; no spreadsheet holds more in a cell

_SPREADSHEET_ERROR = (
    r"^#(?:REF!|N/A|VALUE!|DIV/0!|NAME\?|NULL!|NUM!|SPILL!|CALC!|BEZUG!|WERT!|NV|ZAHL!)$"
)
_CONTROL = r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]"


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
        return cast_names(column, cells, unfit, plain)
    if column.kind == "text":
        return CastColumn(cells if plain else cells.str.replace_all("\r\n?", "\n"), unfit.wrong)
    if unfit.wrong:
        cells = cells.scatter(list(unfit.wrong), None)
    if column.kind == "choice":
        cast = _cast_choices(column, cells)
    elif column.kind == "date":
        cast = cast_dates(cells)
    else:
        cast = _cast_numbers(column, cells, decimals)
    return CastColumn(cast.values, {**cast.wrong, **unfit.wrong})


def _is_plain(cells: pl.Series) -> bool:
    """Whether no cell can hold what only some kinds allow, or none: nearly every column.

    Each pattern of these modules that names a character asks for one that is no printable ASCII, or
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


def _cast_choices(column: Column, cells: pl.Series) -> CastColumn:
    if set(cells.to_list()) - {None} <= set(column.choices):  # nearly every column
        return CastColumn(cells)
    known = cells.is_in(list(column.choices))
    cast = CastColumn(cells.set(~known, None))

    def advise(text: str) -> str:
        hint = nearest(text, column.choices)
        return f"must be one of {', '.join(column.choices)}" + (f"; {hint}" if hint else "")

    cast.refuse_each(~known, cells, advise)
    return cast


def _cast_numbers(column: Column, cells: pl.Series, decimals: Decimals) -> CastColumn:
    values = cast_numbers(cells, decimals)
    cast = CastColumn(values)
    if values.null_count() > cells.null_count():
        unread = cells.is_not_null() & values.is_null()
        cast.refuse_each(unread, cells, lambda text: number_advice(text, decimals))
    _refuse_out_of_bounds(column, cast)
    if cast.wrong:
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
        tiny = (values != 0) & (values < LEAST_COUNTED) & (values > -LEAST_COUNTED)
        cast.refuse(tiny, f"is too small to count with; 0 or at least {LEAST_COUNTED:g} is meant")
