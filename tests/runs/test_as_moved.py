"""A plan as if every proposed move were agreed proposes none again."""

import random

import pytest

from bomkit.planning.buying.as_moved import open_moves
from bomkit.planning.buying.moves import Thresholds, proposed_moves
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.planned_as_moved import all_agreed
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.runs.checked_tables import checked_inputs
from bomkit.runs.planned_tables import planned
from bomkit.runs.to_know_first import agreed_aside
from bomkit.runs.week.plan import Run
from bomkit.tables.results.finished_plan import Choices
from bomkit.words.progress import silent
from tests.builders import typed_tables
from tests.random_tables import random_tables
from tests.samples import FENLARK

LEAST = Thresholds(5, 0.1)


@pytest.mark.parametrize("seed", range(0, 400, 20))
def test_a_plan_as_moved_proposes_no_move_again_but_for_firm_orders(seed: int) -> None:
    rows = random_tables(seed)
    chance = random.Random(seed)
    for row in rows["open_orders"]:
        row["firm"] = chance.choice(["no", "no", "yes"])
    tables = typed_tables(rows)
    agreed = all_agreed(tables, None, 0, LEAST, silent)
    moved = agreed.tables
    network = build_network(moved)
    again = proposed_moves(network, plan_flows(network), moved["items"], LEAST)
    assert open_moves(again, moved["open_orders"]).is_empty()
    assert agreed.settled
    assert agreed_aside(agreed).endswith("were agreed.")


def test_the_sample_as_moved_says_so_and_no_airframe_is_later_for_it(full_run: Run) -> None:
    inputs, _ = checked_inputs(FENLARK)
    moved = planned(inputs, Choices(as_moved=True), silent)
    assert moved.asides[0].startswith("Planned as if ")
    again = open_moves(moved["moves"], moved.tables["open_orders"])
    assert again.is_empty()
    before, after = (
        dict(report["forecast"].filter(demand_kind="airframe").select("demand", "late_days").rows())
        for report in (full_run.report, moved)
    )
    assert all(after[serial] <= late for serial, late in before.items())
    assert sum(after.values()) < sum(before.values())
