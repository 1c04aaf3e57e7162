"""What must hold of the price list."""

import datetime as dt

from bomkit.checks.by_subject.price_rules import find_price_problems
from tests.builders import typed_tables
from tests.random_tables import Row

START = dt.date(2026, 11, 30)


def told(*prices: Row) -> list[tuple[int, str, str]]:
    """Row, column and severity of what is found."""
    rows = [{"item": "bolt", "supplier": "HULM", "price": 1.0, **row} for row in prices]
    tables = typed_tables({"plan": [{"start": START, "horizon_weeks": 8}], "prices": rows})
    found = find_price_problems(tables)
    return [(each.row, each.column, each.severity) for each in found]


def test_quantities_of_a_list_must_rise() -> None:
    assert told({"from_quantity": 1.0}, {"from_quantity": 50.0}) == []
    falling = told({"from_quantity": 50.0}, {"from_quantity": 1.0})
    assert falling == [(3, "from_quantity", "error")]


def test_the_lists_of_two_suppliers_are_not_held_against_each_other() -> None:
    assert told({"from_quantity": 50.0}, {"from_quantity": 1.0, "supplier": "DORN"}) == []


def test_a_price_that_has_run_out_is_a_warning() -> None:
    before = START - dt.timedelta(days=1)
    found = told({"from_quantity": 1.0, "valid_to": before})
    assert found == [(2, "valid_to", "warning")]
    assert told({"from_quantity": 1.0, "valid_to": START}) == []
