"""Too many plates for a plan are refused before any is laid out, with the item that fills most."""

import pytest

from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.shops.printing.too_many_plates import TooManyPlates, refuse_too_many_plates
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.tables.columns_and_rules.shops_and_calendar import MOST_PLATES
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, need
from tests.random_tables import Row


def plan(printer: Row | None = None, **pieces: int) -> None:
    """Four weeks in which so many pieces are printed of each part, four to a plate."""
    plan_row: Row = {"start": MONDAY, "horizon_weeks": 4}
    parts = [item(name, source="print", unit="pc", material="PA") for name in pieces]
    prints: list[Row] = [
        {"item": name, "hours": 1.0, "per_plate": 4, "printers": "small"} for name in pieces
    ]
    tables = typed_tables(
        {
            "plan": [plan_row],
            "items": parts,
            "prints": prints,
            "printers": [{"kind": "small", "count": 1, "hours_per_week": 10.0} | (printer or {})],
            "spares_orders": [need(name, count, 10) for name, count in pieces.items()],
        }
    )
    network = build_network(tables)
    refuse_too_many_plates(network, plan_flows(network), tables)


def test_as_many_plates_as_there_may_be_are_planned() -> None:
    plan(clip=4 * MOST_PLATES)


def test_one_piece_more_is_refused() -> None:
    with pytest.raises(TooManyPlates):
        plan(clip=4 * MOST_PLATES + 1)


@pytest.mark.parametrize(("first", "second", "named"), [(3, 2, "clip"), (2, 3, "mount")])
def test_the_part_that_fills_the_most_plates_is_named(first: int, second: int, named: str) -> None:
    with pytest.raises(TooManyPlates, match=named):
        plan(clip=first * MOST_PLATES, mount=second * MOST_PLATES)


@pytest.mark.parametrize(
    "printer", [{"plate_hours": 2.0}, {"plate_parts": 2}], ids=["hours of a plate", "parts on it"]
)
def test_what_else_limits_a_plate_counts_where_it_is_the_least(printer: Row) -> None:
    plan(printer, clip=2 * MOST_PLATES)
    with pytest.raises(TooManyPlates):
        plan(printer, clip=2 * MOST_PLATES + 1)


def test_nothing_printed_fills_no_plate() -> None:
    plan()
