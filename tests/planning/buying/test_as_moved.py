"""The tables as if what was proposed for open orders had been agreed."""

import pytest

from bomkit.planning.buying.as_moved import as_agreed, open_moves
from bomkit.planning.buying.moves import Thresholds, proposed_moves
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, airframe, day, item, line, need, receipt
from tests.random_tables import Row

LEAST = Thresholds(5, 0.1)


@pytest.mark.parametrize(
    ("firm", "left"),
    [
        ({}, ["G-1"]),  # what G-2 does not need is gone, the other stays
        ({"G-1": "yes"}, ["G-1"]),  # one that is firm holds no other
        ({"G-2": "yes"}, ["G-1", "G-2"]),
    ],
)
def test_rows_of_an_order_for_different_serials_move_each_by_itself(
    firm: dict[str, str], left: list[str]
) -> None:
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 8}],
            "items": [item("glider", source="make", unit="pc"), item("fin", unit="pc")],
            "structure": [line("glider", "fin")],
            "build_plan": [airframe("G-1", "glider", 12)],
            "fleet": [{"serial": "G-2", "item": "glider"}],
            "open_orders": [
                receipt("glider", 1, 12, order="P-1", serial=serial, firm=firm.get(serial, "no"))
                for serial in ("G-1", "G-2")
            ],
        }
    )
    network = build_network(tables)
    moves = proposed_moves(network, plan_flows(network), tables["items"], LEAST)
    assert moves.select("meant_for", "kind").rows() == (
        [] if "G-2" in firm else [("G-2", "not needed")]
    )
    found = as_agreed(tables, open_moves(moves, tables["open_orders"]))
    assert found["open_orders"]["serial"].to_list() == left


def test_of_a_common_item_the_row_that_moves_is_told_by_the_aircraft_it_is_meant_for() -> None:
    meant = [("G-1", 4), ("G-2", 9)]
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 8}],
            "items": [item("bolt", unit="pc")],
            "fleet": [{"serial": serial, "item": "bolt"} for serial, _ in meant],
            "open_orders": [
                receipt("bolt", quantity, 12, order="P-1", serial=serial)
                for serial, quantity in meant
            ],
            "spares_orders": [need("bolt", 4, 12)],
        }
    )
    network = build_network(tables)
    moves = proposed_moves(network, plan_flows(network), tables["items"], LEAST)
    assert moves.select("serial", "meant_for", "kind").rows() == [("", "G-2", "not needed")]
    found = as_agreed(tables, open_moves(moves, tables["open_orders"]))
    assert found["open_orders"].select("serial", "quantity").rows() == [("G-1", 4.0)]


def test_days_and_quantities_become_what_they_should_be_and_what_nobody_needs_is_gone() -> None:
    bolt = item("bolt", unit="pc")
    orders = [
        receipt("bolt", 9, 7) | {"order": "P-1"},
        receipt("bolt", 4, 8) | {"order": "P-2"},
        receipt("bolt", 5, 9) | {"order": "P-3", "firm": "yes"},
    ]
    lacking: list[Row] = [
        {"order": name, "item": "bolt", "quantity": 1, "need_date": day(12)} for name in ("P-2",)
    ]
    plan: list[Row] = [{"start": MONDAY, "horizon_weeks": 8}]
    tables = typed_tables(
        {
            "plan": plan,
            "items": [bolt],
            "open_orders": orders,
            "spares_orders": [need("bolt", 4, 3)],
        }
    )
    tables["allocations"] = typed_tables({"allocations": lacking})["allocations"]
    network = build_network({**tables, "allocations": tables["allocations"].clear()})
    moves = proposed_moves(network, plan_flows(network), tables["items"], LEAST)
    found = as_agreed(tables, open_moves(moves, tables["open_orders"]))
    kept = found["open_orders"].select("order", "due_date", "quantity").rows()
    assert kept == [("P-1", day(3), 4.0), ("P-3", day(9), 5.0)]
    assert found["allocations"].is_empty()
