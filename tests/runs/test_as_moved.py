"""A plan as if every proposed move were agreed proposes none again."""

import random

import pytest

from bomkit.planning.buying.as_moved import as_agreed, open_moves
from bomkit.planning.buying.moves import Thresholds, proposed_moves
from bomkit.planning.netting.flows import plan_flows
from bomkit.planning.network import build_network
from bomkit.runs.as_moved import as_moved
from bomkit.runs.checked import checked_inputs
from bomkit.runs.planned import Choices, planned
from bomkit.runs.week.plan import Run
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, day, item, need, receipt
from tests.random_tables import Row, random_tables
from tests.samples import FENLARK

LEAST = Thresholds(5, 0.1)


@pytest.mark.parametrize("seed", range(0, 400, 20))
def test_a_plan_as_moved_proposes_no_move_again_but_for_firm_orders(seed: int) -> None:
    rows = random_tables(seed)
    chance = random.Random(seed)
    for row in rows["open_orders"]:
        row["firm"] = chance.choice(["no", "no", "yes"])
    tables = typed_tables(rows)
    moved, [sentence] = as_moved(tables, None, 0, LEAST, lambda words: None)
    network = build_network(moved)
    again = proposed_moves(network, plan_flows(network), moved["items"], LEAST)
    assert open_moves(again, moved["open_orders"]).is_empty()
    assert sentence.endswith("were agreed.")


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


def test_the_sample_as_moved_says_so_and_no_airframe_is_later_for_it(full_run: Run) -> None:
    inputs, _ = checked_inputs(FENLARK)
    moved = planned(inputs, Choices(as_moved=True), lambda words: None)
    assert moved.asides[0].startswith("Planned as if ")
    again = open_moves(moved.moves, moved.tables["open_orders"])
    assert again.is_empty()
    before, after = (
        dict(report.forecast.filter(demand_kind="airframe").select("demand", "late_days").rows())
        for report in (full_run.report, moved)
    )
    assert all(after[serial] <= late for serial, late in before.items())
    assert sum(after.values()) < sum(before.values())
