"""Half a piece in stock or on order is asked after; of what is measured it is not."""

import pytest

from bomkit.checks.by_subject.odd_days_and_pieces import whole_piece_checks
from tests.builders import typed_tables
from tests.planning.driver import item, lot, need, piece, receipt


@pytest.mark.parametrize("quantity", [1, 1.5])
def test_a_part_of_a_piece_is_asked_after(quantity: float) -> None:
    tables = typed_tables(
        {
            "items": [piece("bolt"), item("resin")],
            "stock": [lot("resin", quantity), lot("bolt", quantity)],
            "open_orders": [receipt("bolt", quantity, 3)],
            "spares_orders": [need("bolt", quantity, 3)],
        }
    )
    found = [each for check in whole_piece_checks(tables) for each in check.findings()]
    where = [(each.table, each.row, each.value, each.severity) for each in found]
    expected = [
        ("stock", 3, "1.5", "warning"),
        ("open_orders", 2, "1.5", "warning"),
        ("spares_orders", 2, "1.5", "warning"),
    ]
    assert where == (expected if quantity == 1.5 else [])
    assert all(
        each.message.startswith("should be a whole number: bolt is counted in") for each in found
    )
