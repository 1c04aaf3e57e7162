"""People write down what a list shows: what is less than its last decimal is neither lacking nor
too much. Lists show two decimals of lengths and areas, three of masses and volumes."""

import polars as pl
import pytest

from bomkit.planning.closing.ledger import Ledger, Week
from tests.planning.closing import test_close_week as yard


@pytest.mark.parametrize(
    ("unit", "least"), [("pc", 0.0), ("kg", 0.0005), ("l", 0.0005), ("m", 0.005), ("m2", 0.005)]
)
def test_half_of_the_last_decimal_that_is_printed_is_nothing(unit: str, least: float) -> None:
    items = [{**yard.ITEMS[3], "unit": unit}, *yard.ITEMS[:3], yard.ITEMS[4]]
    tables = yard.inputs(items=items)
    days = yard.MONDAY, yard.FRIDAY, yard.FRIDAY
    ledger = Ledger(Week("2026-W49", *days, tables, yard.results(), {}))
    assert ledger.printed("resin") == pytest.approx(least, rel=0.03)
    assert ledger.printed("resin") >= least


@pytest.mark.parametrize(
    ("picked", "lacking"),
    [(6.0, {}), (5.9995, {}), (5.999, {"resin": 0.001}), (0.0003, {"resin": 5.9997})],
)
def test_an_order_lacks_no_rounding(picked: float, lacking: dict[str, float]) -> None:
    found = yard.booked(picked=[yard.pick("make-0002", "resin", picked)])
    assert yard.lacking(found, "2026-W49-make-0002") == lacking


def test_what_was_not_picked_at_all_is_lacking_however_little_it_is() -> None:
    little = {**yard.PLANNED, "pegs": [yard.peg("make-0002", "resin", 0.0004)]}
    found = yard.close_week(
        yard.inputs(),
        yard.results(pegs=little["pegs"]),
        yard.filled_in(worked=[{**yard.HULLS, "begun": 3.0}]),
    )
    assert yard.lacking(found, "2026-W49-make-0002") == {"resin": 0.0004}


def test_a_lot_that_was_a_rounding_larger_than_known_is_used_up_and_told_as_counted() -> None:
    stock = [{"item": "resin", "quantity": 5.9996, "location": "cold", "lot": "new"}]
    found = yard.booked(
        yard.inputs(stock=stock), picked=[yard.pick("make-0002", "resin", 6.0, lot="new")]
    )
    assert yard.in_stock(found, "resin") == {}
    row = found.account.filter(pl.col("item") == "resin").row(0, named=True)
    assert (row["opening"], row["picked"], row["closing"]) == (5.9996, 6.0, 0.0)
    assert row["counted"] == pytest.approx(0.0004)


def test_more_than_a_rounding_beyond_what_there_was_is_refused() -> None:
    stock = [{"item": "resin", "quantity": 5.998, "location": "cold", "lot": "new"}]
    words = yard.refused(
        yard.inputs(stock=stock), picked=[yard.pick("make-0002", "resin", 6.0, lot="new")]
    )
    assert "is more than there was to take by the books (5.998)" in words
    one = yard.refused(picked=[yard.pick("make-0001", "cleat", 11.0)])
    assert "is more than there was to take by the books (10)" in one
