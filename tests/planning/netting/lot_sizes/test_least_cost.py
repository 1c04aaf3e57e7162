"""Lots by cost: held against trying everything, and against a mixed-integer programme."""

import itertools
import random
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import LinearConstraint, milp  # type: ignore[import-untyped] # no types

from bomkit.planning.levelling.pulled_again import ForwardFlows
from bomkit.planning.netting.arrays import Floats, Ints
from bomkit.planning.netting.lot_sizes.least_cost import Bounds, Lots, Programme, Sizes
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, Plan, day, item, need, plan_over, receipt
from tests.random_tables import Row

YEAR = 5 * 52.18  # working days
UNROUNDED = Sizes(good=1.0, minimum=0.0, step=0.0, whole=False)
UNBOUNDED = Bounds(least=1, most=10**9, in_time=0)


def random_programme(seed: int, sizes: Sizes = UNROUNDED, bounds: Bounds = UNBOUNDED) -> Programme:
    """Needs on some of a few days, with costs that make one day to all days worth a lot."""
    chance = random.Random(seed)
    days = chance.randint(3, 9)
    total, needs = 0.0, []
    for number in range(days):
        if chance.random() < 0.7:
            total += chance.randint(1, 20)
            needs.append((number, total))
    costs = [float(chance.randint(5, 60))] * days
    return Programme(needs, days, costs, chance.choice([0.5, 1.0, 3.0]), sizes, bounds)


def needed_by(programme: Programme) -> list[float]:
    """What is needed by each day."""
    by_day = dict(programme.needs)
    return list(itertools.accumulate((by_day.get(d, 0.0) for d in range(programme.days)), max))


def cost_of(programme: Programme, started: dict[int, float]) -> float | None:
    """What some orders cost, day by day; None if they come too late for a need."""
    planned = cost = 0.0
    for number, needed in enumerate(needed_by(programme)):
        if number in started:
            cost += programme.order_cost[number]
            planned += started[number] * programme.sizes.good
        if planned < needed * (1 - 1e-9):
            return None
        cost += programme.holding * (planned - needed)
    return cost


def least_by_mixed_integers(programme: Programme) -> float:
    """The least cost as SciPy's mixed-integer solver finds it: x(t) pieces, y(t) whether any."""
    days, needed = programme.days, np.array(needed_by(programme))
    good, most = programme.sizes.good, needed[-1] / programme.sizes.good + 1
    weights = programme.holding * good * (days - np.arange(days))
    so_far = np.tril(np.ones((days, days))) * good
    found = milp(
        np.concatenate([weights, programme.order_cost]),
        integrality=np.concatenate([np.full(days, programme.sizes.whole), np.ones(days)]),
        constraints=[
            LinearConstraint(np.hstack([so_far, np.zeros((days, days))]), needed, np.inf),
            LinearConstraint(np.hstack([np.eye(days), -most * np.eye(days)]), -np.inf, 0),
        ],
        bounds=(0, np.inf),
        options={"mip_rel_gap": 0},
    )
    assert found.success
    return float(found.fun - programme.holding * needed.sum())


@pytest.mark.parametrize("first", range(0, 200, 20))
def test_no_mixed_integer_programme_finds_lots_that_cost_less(first: int) -> None:
    for seed in range(first, first + 20):
        sizes = replace(UNROUNDED, good=0.9, step=1, whole=True) if seed % 2 else UNROUNDED
        programme = random_programme(seed, sizes)
        if programme.needs:
            lots = programme.least_cost()
            assert lots.cost == pytest.approx(cost_of(programme, lots.started)), seed
            assert lots.cost == pytest.approx(least_by_mixed_integers(programme)), seed


def in_whole_numbers(days: int, total: int) -> Iterator[list[int]]:
    """Every way to order a total in whole numbers on some days, none and all at once among them."""
    if days == 1:
        yield [total]
        return
    for first in range(total + 1):
        for rest in in_whole_numbers(days - 1, total - first):
            yield [first, *rest]


def small_programme(seed: int) -> Programme:
    """Up to 5 days and 15 needed; order costs differ only where something is needed every day."""
    chance = random.Random(seed)
    asked = chance.choices([0, 0, 1, 2, 3], k=chance.randint(2, 5))
    needed = list(itertools.accumulate(asked))
    needs = [(d, float(needed[d])) for d, quantity in enumerate(asked) if quantity]
    costs = [float(chance.randint(1, 9)) for _ in asked]
    if not all(asked):
        costs = costs[:1] * len(asked)
    return Programme(needs, len(asked), costs, chance.choice([0.5, 1.0, 2.0]), UNROUNDED, UNBOUNDED)


def test_no_orders_in_whole_numbers_whatever_their_form_cost_less() -> None:
    """Every way there is, in 120 small cases."""
    tried = 0
    for seed in range(120):
        programme = small_programme(seed)
        costs = [
            cost_of(programme, {number: float(q) for number, q in enumerate(way) if q})
            for way in in_whole_numbers(programme.days, int(needed_by(programme)[-1]))
        ]
        tried += len(costs)
        least = min(cost for cost in costs if cost is not None)
        assert programme.least_cost().cost == pytest.approx(least), seed
    assert tried > 10_000


def stretches(programme: Programme) -> Iterator[dict[int, float]]:
    """Every way to order for stretches of needs one after the other, sized by the lot rule."""

    def onward(place: int, planned: float, started: dict[int, float]) -> Iterator[dict[int, float]]:
        while place < len(programme.needs) and programme.needs[place][1] <= planned + 1e-9:
            place += 1
        if place == len(programme.needs):
            yield started
            return
        usable = programme.needs[place][0]
        bounds = programme.bounds
        longest = usable + bounds.most - 1
        least = max(usable + bounds.least - 1, bounds.in_time - 1)
        for last in range(min(least, longest), min(longest, programme.days + 20) + 1):
            by_then = max(total for number, total in programme.needs if number <= last)
            quantity = programme.sizes.started(by_then - planned)
            good = planned + quantity * programme.sizes.good
            yield from onward(place, good, {**started, usable: quantity})

    yield from onward(0, 0.0, {})


@pytest.mark.parametrize(
    ("sizes", "bounds"),
    [
        (UNROUNDED, UNBOUNDED),
        (replace(UNROUNDED, minimum=15), UNBOUNDED),
        (replace(UNROUNDED, good=0.8, minimum=7, step=6, whole=True), UNBOUNDED),
        (replace(UNROUNDED, good=0.8, step=2.5, whole=True), UNBOUNDED),
        (UNROUNDED, replace(UNBOUNDED, least=3)),
        (UNROUNDED, replace(UNBOUNDED, most=2)),
        (UNROUNDED, replace(UNBOUNDED, in_time=4)),
        (replace(UNROUNDED, minimum=15), replace(UNBOUNDED, least=2, most=3, in_time=6)),
    ],
)
def test_no_other_orders_under_the_same_bounds_cost_less(sizes: Sizes, bounds: Bounds) -> None:
    for seed in range(25):
        programme = random_programme(seed, sizes, bounds)
        if programme.needs:
            lots = programme.least_cost()
            ways = list(stretches(programme))
            assert lots.started in ways, seed
            costs = [cost for way in ways if (cost := cost_of(programme, way)) is not None]
            assert lots.cost == pytest.approx(min(costs)), seed


def test_what_is_not_needed_is_not_ordered() -> None:
    assert Programme([], 5, [10.0] * 5, 1.0, UNROUNDED, UNBOUNDED).least_cost() == Lots({}, 0.0)


def test_of_equally_good_lots_the_first_covers_most() -> None:
    # a second order costs as much as holding 5 for two days
    programme = Programme([(0, 5.0), (2, 10.0)], 4, [10.0] * 4, 1.0, UNROUNDED, UNBOUNDED)
    assert programme.least_cost() == Lots({0: 10.0}, 20.0)
    dearer = Programme([(0, 5.0), (2, 10.0)], 4, [9.9] * 4, 1.0, UNROUNDED, UNBOUNDED)
    assert dearer.least_cost().started == {0: 5.0, 2: 5.0}


def resin_plan(
    quantities: dict[int, float], receipts: tuple[Row, ...] = (), **rule: object
) -> Plan:
    """A plan of resin that costs 1 a day for each kg, 10 for each order."""
    resin = item("resin", lot_rule="least_cost", order_cost=10, cost=YEAR / 0.5) | rule
    return plan_over(
        4,
        [resin],
        spares_orders=[need("resin", quantity, number) for number, quantity in quantities.items()],
        open_orders=list(receipts),
        plan=[{"start": MONDAY, "horizon_weeks": 4, "holding_rate": 0.5}],
    )


def marks_of(plan: Plan) -> list[str]:
    """What the orders say of their lots."""
    return plan.orders.sort("usable")["lots"].to_list()


def test_a_need_is_ordered_with_the_one_before_where_holding_costs_less_than_an_order() -> None:
    # 4 kg for 2 days cost 8, for 3 days 12; an order costs 10
    assert resin_plan({1: 5, 3: 4}).orders_of("resin") == [(1, 1, 9)]
    assert resin_plan({1: 5, 4: 4}).orders_of("resin") == [(1, 1, 5), (4, 4, 4)]
    assert marks_of(resin_plan({1: 5, 4: 4})) == ["least cost", "least cost"]


def test_holding_is_counted_by_working_days_of_which_a_year_has_five_times_52_18() -> None:
    # 4 kg for 2 days cost 8: as much as an order of 8, so the first order covers both
    assert resin_plan({1: 5, 3: 4}, order_cost=8).orders_of("resin") == [(1, 1, 9)]
    assert resin_plan({1: 5, 3: 4}, order_cost=7.99).orders_of("resin") == [(1, 1, 5), (3, 3, 4)]


def test_stock_on_order_serves_before_lots_are_chosen() -> None:
    # day 6 is served by the receipt: of the 9 kg 5 are needed on day 1 and 4 on day 8
    plan = resin_plan({1: 5, 6: 9, 8: 4}, (receipt("resin", 9, 5),))
    assert plan.orders_of("resin") == [(1, 1, 5), (8, 8, 4)]


@pytest.mark.parametrize(
    ("rule", "orders"),
    [
        ({"minimum": 12}, [(1, 1, 12)]),
        ({"multiple": 4}, [(1, 1, 8), (4, 4, 4)]),
        ({"cover_days": 4}, [(1, 1, 9)]),
        ({"longest_cover_days": 2}, [(1, 1, 5), (4, 4, 4)]),
    ],
)
def test_a_bound_that_binds_is_kept_and_said(
    rule: dict[str, object], orders: list[tuple[int, int, float]]
) -> None:
    plan = resin_plan({1: 5, 4: 4}, **rule)
    assert plan.orders_of("resin") == orders
    binds = "longest_cover_days" not in rule
    assert set(marks_of(plan)) == {"not proven least" if binds else "least cost"}


def test_a_longest_cover_that_forces_an_order_more_is_said() -> None:
    plan = resin_plan({1: 5, 3: 4}, longest_cover_days=2)
    assert plan.orders_of("resin") == [(1, 1, 5), (3, 3, 4)]
    assert set(marks_of(plan)) == {"not proven least"}


def test_what_is_late_is_ordered_once_whatever_it_costs() -> None:
    # an order placed today is there on day 5: days 1 and 4 are late, and in one order
    plan = resin_plan({1: 5, 4: 4, 5: 3}, lead_days=5)
    assert plan.orders_of("resin") == [(0, 1, 9), (0, 5, 3)]
    assert plan.late_days_of("resin") == [4, 0]
    assert set(marks_of(plan)) == {"least cost"}


def test_orders_by_other_rules_say_nothing_of_cost() -> None:
    plan = resin_plan({1: 5}, lot_rule="cover")
    assert marks_of(plan) == [""]
    assert plan.orders_of("resin") == [(1, 1, 5)]
    assert plan.orders["start_date"].to_list() == [day(1)]


def test_what_is_too_little_more_for_an_order_goes_with_the_one_before() -> None:
    # two parts in a thousand million of five are within the tolerance
    plan = resin_plan({1: 5, 9: 2e-9})
    assert plan.orders_of("resin") == [(1, 1, pytest.approx(5, abs=1e-6))]
    more = resin_plan({1: 5, 9: 2e-6}, order_cost=1e-9)
    assert [start for start, _, _ in more.orders_of("resin")] == [1, 9]


def test_lots_that_are_moved_are_no_longer_proven_to_cost_the_least() -> None:
    names = ("resin", "glue")
    tables: dict[str, list[Row]] = {
        "plan": [{"start": MONDAY, "horizon_weeks": 4, "holding_rate": 0.5}],
        "items": [
            item(name, lot_rule="least_cost", order_cost=10, cost=YEAR / 0.5) for name in names
        ],
        "spares_orders": [need(name, 5, 6) for name in names],
    }
    network = build_network(typed_tables(tables))
    glue = int(network.items.filter(item="glue")["item_id"].item())
    told: list[str] = []

    def sooner(keys: Ints, starts: Floats) -> None:
        place = keys.tolist().index(glue)
        starts[place, 4], starts[place, 6] = starts[place, 6], 0.0

    moved = ForwardFlows(network, plan_flows(network)).next(sooner, told.append)
    orders = planned_orders(network, moved)
    lots = orders.select("item", "due", "lots").sort("item").rows()
    assert lots == [("glue", 4, "not proven least"), ("resin", 6, "least cost")]
    assert told == ["level 1 of 1"]
