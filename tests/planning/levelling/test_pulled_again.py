"""A plan pulled again and again: each turn is as if it were the only one."""

import random
from collections.abc import Callable

import numpy as np
import pytest

from bomkit.planning.levelling.pulled_again import ForwardFlows
from bomkit.planning.netting.arrays import Floats, Ints
from bomkit.planning.netting.netted_plan import Flows, plan_flows
from bomkit.planning.netting.too_much import TooMuch
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.tables.schema import MOST_ASKED
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, line, need
from tests.random_tables import Tables, random_tables

FRAMES = ("gross", "supply", "receipts", "starts", "good", "lots")


def pulling(seed: int) -> Callable[[Ints, Floats], None]:
    """Moves the first start of some keys to the day before."""
    chance = random.Random(seed)
    chosen = {key for key in range(99_999) if chance.random() < 0.3}

    def pull(keys: Ints, starts: Floats) -> None:
        for row, key in enumerate(keys.tolist()):
            days = np.flatnonzero(starts[row])
            if key in chosen and len(days) and days[0] > 0:
                starts[row, days[0] - 1], starts[row, days[0]] = starts[row, days[0]], 0.0

    return pull


def nothing_pulled(keys: Ints, starts: Floats) -> None:
    """Leaves everything as it is."""


def assert_same(one: Flows, other: Flows) -> None:
    """Holds two plans against each other, to the last bit."""
    for name in FRAMES:
        assert getattr(one, name).equals(getattr(other, name)), name
    assert one.lots_by_cost().equals(other.lots_by_cost())


@pytest.mark.parametrize("seed", range(25))
def test_a_turn_gives_what_it_gives_after_no_other(seed: int) -> None:
    network = build_network(typed_tables(random_tables(seed)))
    before = plan_flows(network)
    plans = ForwardFlows(network, before)
    first = plans.next(pulling(seed))
    second = plans.next(pulling(seed + 1))
    assert_same(second, ForwardFlows(network, before).next(pulling(seed + 1)))
    assert_same(first, ForwardFlows(network, before).next(pulling(seed)))


@pytest.mark.parametrize("seed", range(25))
def test_where_nothing_is_pulled_any_more_the_plan_is_as_it_was(seed: int) -> None:
    network = build_network(typed_tables(random_tables(seed)))
    before = plan_flows(network)
    plans = ForwardFlows(network, before)
    plans.next(pulling(seed))
    assert_same(plans.next(nothing_pulled), before)


def test_what_is_pulled_asks_for_its_components_as_much_earlier() -> None:
    tables: Tables = {
        "plan": [{"start": MONDAY, "horizon_weeks": 4}],
        "items": [item("skin", source="make", unit="pc"), item("cloth", lead_days=2)],
        "structure": [line("skin", "cloth", 3)],
        "spares_orders": [need("skin", 2, 9)],
    }
    network = build_network(typed_tables(tables))

    def pull(keys: Ints, starts: Floats) -> None:
        if len(keys) and keys[0] // network.serial_count == 1:  # the skin
            starts[:, 7], starts[:, 9] = starts[:, 9], 0.0

    pulled = ForwardFlows(network, plan_flows(network)).next(pull)
    assert [row[1:] for row in pulled.started.sort("key").rows()] == [(7, 6.0), (7, 2.0)]


def test_what_pulling_takes_beyond_counting_is_named() -> None:
    tables: Tables = {
        "plan": [{"start": MONDAY, "horizon_weeks": 4}],
        "items": [item("skin", source="make", unit="pc"), item("cloth")],
        "structure": [line("skin", "cloth", 3)],
        "spares_orders": [need("skin", 2, 9)],
    }
    network = build_network(typed_tables(tables))

    def pull(keys: Ints, starts: Floats) -> None:
        starts[starts > 0] = MOST_ASKED

    with pytest.raises(TooMuch, match="cloth"):
        ForwardFlows(network, plan_flows(network)).next(pull)


def test_a_turn_tells_level_after_level_from_the_first_to_the_last() -> None:
    network = build_network(typed_tables(random_tables(3)))
    before = plan_flows(network)
    told: list[str] = []
    ForwardFlows(network, before).next(nothing_pulled, told.append)
    count = len(before.structure.levels)
    assert told == [f"level {number} of {count}" for number in range(1, count + 1)]
