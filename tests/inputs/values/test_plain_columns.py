"""Columns of plain cells take a shorter way and come out the same."""

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bomkit.inputs.values.cast import cast_column
from bomkit.inputs.values.numerals import Decimals
from bomkit.tables.schema import Column

KINDS = ("name", "names", "text", "date", "number", "whole", "rate")
LIKELY = (
    "", "7", "-0", "0.125", "1.500", "1,5", "12345678901234567890", "1e3", ".5", "5.", "+5",
    "2026-11-30", "2026-02-30", "0000-01-01", "1899-12-31", "30.11.2026", "2026-11-30 00:00:00",
    "a b;c", "two\nlines", "a\r\nb", "\u0663", "\x1b[31m", "#REF!", "# 7", "W\u00a0ING",
)  # fmt: skip
DECIMALS = (Decimals(), Decimals(comma=True), Decimals(comma=True, point_in_doubt=True))


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=60, deadline=None)
@given(
    texts=st.lists(st.sampled_from(LIKELY) | st.text(max_size=6), min_size=1, max_size=4),
    decimals=st.sampled_from(DECIMALS),
)
def test_a_cell_means_the_same_whatever_stands_below_it(
    kind: str, texts: list[str], decimals: Decimals
) -> None:
    column = Column("told", kind, "")  # type: ignore[arg-type]
    alone = cast_column(column, pl.Series("told", texts), decimals)
    beside = cast_column(column, pl.Series("told", [*texts, "#N/A", "\u00e9"]), decimals)
    assert alone.values.to_list() == beside.values.head(len(texts)).to_list()
    assert alone.wrong == {place: why for place, why in beside.wrong.items() if place < len(texts)}


@pytest.mark.parametrize("decimals", DECIMALS)
def test_plain_numbers_and_days_are_what_they_say(decimals: Decimals) -> None:
    numbers = cast_column(Column("n", "number", ""), pl.Series(["7", "", "-2.25"]), decimals)
    assert numbers.values.to_list() == [7.0, None, -2.25]
    days = cast_column(Column("d", "date", ""), pl.Series(["2026-11-30", "2028-02-29"]), decimals)
    assert [str(day) for day in days.values] == ["2026-11-30", "2028-02-29"]
