"""Given out by the days of the forecast until they stay; nobody waits for who comes after."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given

from bomkit.planning import allocation_by_forecast
from bomkit.planning.forecast.peg_tables import arriving
from tests.planning.driver import Plan
from tests.planning.promises.test_lists_agree import hurt_by_routine
from tests.planning.random_plans import each, random_plan, seeds
from tests.random_tables import random_tables


@each
@given(seed=seeds)
def test_once_it_has_settled_every_supply_comes_on_the_day_that_was_counted_on(seed: int) -> None:
    stores = random_plan(seed).stores
    arrivals = arriving(stores.pegged.supplies, stores.made.orders, stores.ahead.nodes)
    passed = (arrivals["kind"] == "passed on").to_list()
    other = [
        day
        for day, counted, passes in zip(
            arrivals["arrival"], stores.turn.counted_on.comes.tolist(), passed, strict=True
        )
        if day != counted and not passes
    ]
    assert len(other) <= stores.turn.moved


@pytest.mark.parametrize("seed", [1177, 1028])
def test_where_two_allocations_would_follow_each_other_no_airframe_waits_for_routine_orders(
    seed: int,
) -> None:
    found = hurt_by_routine(Plan(random_tables(seed)))
    assert found[True] == 0 and found[False]


@pytest.mark.parametrize("seed", [1028, 1080, 1177, 1185])
def test_where_the_days_do_not_stay_it_ends_and_no_day_becomes_earlier(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    stores = Plan(random_tables(seed)).stores
    turns: list[allocation_by_forecast.Turn] = []
    once = allocation_by_forecast.turn_by

    def kept(*known: Any) -> allocation_by_forecast.Turn:
        turns.append(once(*known))
        return turns[-1]

    monkeypatch.setattr(allocation_by_forecast, "turn_by", kept)
    chosen = allocation_by_forecast.settled(stores.made, stores.by_plan)
    assert 1 < len(turns) <= 5
    assert any(chosen is turn for turn in turns)
    assert chosen.moved == stores.turn.moved  # which the run says
    for before, after in pairwise(turns[1:]):
        assert (after.counted_on.comes >= before.counted_on.comes).all()
    if seed == 1028:
        assert chosen.moved > 0
