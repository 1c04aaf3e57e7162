"""Numbers as people write them: which decimal mark a table uses, and what is no number."""

import re
from dataclasses import dataclass

import polars as pl

from bomkit.inputs.text_table import TextTable

_NUMBER = r"^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$"
_DECIMAL_COMMA = r"^([+-]?[0-9]*),([0-9]+(?:[eE][+-]?[0-9]+)?)$"
_PLAIN_NUMBER = re.compile(r"-?[0-9]{1,15}(?:\.[0-9]{1,15})?")
# Could be a whole number of thousands as well as one with three decimals.
_COMMA_IN_DOUBT = r"^[+-]?[1-9][0-9]{0,2},[0-9]{3}$"
_POINT_IN_DOUBT = r"^[+-]?[1-9][0-9]{0,2}\.[0-9]{3}$"
_THOUSANDS = re.compile(r"[+-]?[0-9]{1,3}(?:[ \u00a0\u2009\u202f'’.,][0-9]{3})+(?:[.,][0-9]+)?")
_PERCENTAGE = re.compile(r"([+-]?[0-9]+(?:[.,][0-9]+)?)[ \u00a0\u202f]*%")
_DECIMAL = re.compile(r"[+-]?[0-9]*,[0-9]+")


@dataclass(frozen=True)
class Decimals:
    """How decimals may be written in a table; a point is allowed everywhere."""

    comma: bool = False  # 1,5 is one and a half
    comma_in_doubt: bool = True  # 1,500 could mean two numbers
    point_in_doubt: bool = False  # 1.500 could mean two numbers
    advice: str = "use a decimal point"  # for a comma where none is allowed


def find_decimals(text: TextTable) -> Decimals:
    """How the table writes decimals, judged by all of its numbers together.

    Only where no comma separates the columns can it be a decimal mark. There 1,500 and 1.500 are
    taken as written unless the table's other numbers use the other mark.
    """
    if not text.separator:
        return Decimals(advice="use a decimal point, or type it as a number")
    if text.separator == ",":
        return Decimals(advice="use a decimal point, or separate columns with semicolons")
    numerals = pl.concat(
        [
            text.column(column.name).rename("numeral")
            for column in text.table.columns
            if column.kind in ("number", "rate", "whole")
        ]
        or [pl.Series("numeral", [], dtype=pl.String)]
    ).unique()
    with_comma = numerals.filter(numerals.str.contains(_DECIMAL_COMMA))
    with_point = numerals.filter(numerals.str.contains(_NUMBER) & numerals.str.contains(r"\."))
    comma_sure = not with_comma.str.contains(_COMMA_IN_DOUBT).all()
    point_sure = not with_point.str.contains(_POINT_IN_DOUBT).all()
    both = bool(len(with_comma)) and bool(len(with_point))
    return Decimals(
        comma=True,
        comma_in_doubt=both or point_sure or (text.separator == "\t" and not comma_sure),
        point_in_doubt=both or comma_sure,
    )


def cast_numbers(cells: pl.Series, decimals: Decimals) -> pl.Series:
    """The finite numbers in the cells; null for every other text and for those in doubt."""
    texts = cells.to_list()
    numbers = {text: _plain_number(text) for text in set(texts) - {None}}
    if not decimals.point_in_doubt and None not in numbers.values():  # nearly every column
        return pl.Series(cells.name, [numbers.get(text) for text in texts], pl.Float64)
    points = cells
    if decimals.comma:
        points = cells.str.replace(_DECIMAL_COMMA, "${1}.${2}")
    values = points.cast(pl.Float64, strict=False)
    good = points.str.contains(_NUMBER) & values.is_finite()
    if decimals.comma and decimals.comma_in_doubt:
        good &= ~cells.str.contains(_COMMA_IN_DOUBT)
    if decimals.point_in_doubt:
        good &= ~cells.str.contains(_POINT_IN_DOUBT)
    return values.set(~good.fill_null(False), None)


def _plain_number(text: str) -> float | None:
    """The number of digits with a point or without; None of any other text, whatever it means."""
    return float(text) if _PLAIN_NUMBER.fullmatch(text) else None


def number_advice(text: str, decimals: Decimals) -> str:
    """What must hold for a text that is no number, and what to write instead."""
    percentage = _PERCENTAGE.fullmatch(text)
    if percentage:
        share = float(percentage[1].replace(",", ".")) / 100
        return f"must be a number; instead of a percentage write {share:.6g}"
    if _DECIMAL.fullmatch(text) and not decimals.comma:
        return f"must be a number; {decimals.advice}"
    if _THOUSANDS.fullmatch(text):
        return (
            "must be a number; write it without a separator between the thousands, "
            "and all decimals of the file with the same mark"
        )
    if "#" in text or "=" in text:
        return "must be a number; type the value instead of the formula"
    return "must be a number, without a unit or any other text"
