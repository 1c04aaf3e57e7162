"""The tables as if what was proposed for open orders had been agreed."""

from bomkit.planning.buying.as_moved import as_agreed, open_moves
from bomkit.planning.buying.moves import Thresholds, proposed_moves
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, day, item, need, receipt
from tests.random_tables import Row

LEAST = Thresholds(5, 0.1)


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
