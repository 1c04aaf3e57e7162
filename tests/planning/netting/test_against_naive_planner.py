"""The planner against the naive one on random tables: order by order and week by week."""

import random

import pytest

from tests.naive_planner import naive_orders, naive_projection
from tests.planning.driver import Netted, netted
from tests.random_tables import Tables, random_tables

CHUNK = 10
# item, serial, source, start date, due date, late days
Head = tuple[object, ...]
Place = tuple[str, str, str]  # item, serial, week
Week = tuple[float, float, float, float]  # gross, receipts, planned, projected


def orders_of(plan: Netted) -> dict[Head, tuple[float, float]]:
    """Quantity and expected good of each planned order by all else that is said of it."""
    rows = plan.orders.select(
        "item",
        "serial",
        "source",
        "start_date",
        "due_date",
        "late_days",
        "quantity",
        "expected_good",
    ).rows()
    found = {tuple(row[:6]): (row[6], row[7]) for row in rows}
    assert len(found) == len(rows)
    return found


def expected_orders(tables: Tables) -> dict[Head, tuple[float, float]]:
    """The same from the naive planner."""
    orders = naive_orders(tables)
    found: dict[Head, tuple[float, float]] = {
        (o.item, o.serial, o.source, o.start_date, o.due_date, o.late_days): (
            o.quantity,
            o.expected_good,
        )
        for o in orders
    }
    assert len(found) == len(orders)
    return found


def with_lots_by_cost(tables: Tables, seed: int) -> Tables:
    """The tables with lots by cost for most items, and what orders and holding cost."""
    chance = random.Random(seed)
    items = [
        item
        | {
            "lot_rule": "least_cost" if chance.random() < 0.7 else "cover",
            "order_cost": chance.uniform(1, 80),
            "cost": chance.uniform(1, 120),
        }
        for item in tables["items"]
    ]
    return tables | {"items": items, "plan": [tables["plan"][0] | {"holding_rate": 0.4}]}


@pytest.mark.parametrize("first", range(0, 120, CHUNK))
def test_orders_with_lots_by_cost_equal_those_of_the_naive_planner(first: int) -> None:
    for seed in range(first, first + CHUNK):
        tables = with_lots_by_cost(random_tables(seed), seed)
        orders, expected = orders_of(netted(tables)), expected_orders(tables)
        assert orders.keys() == expected.keys(), f"seed {seed}"
        for head, quantities in expected.items():
            assert orders[head] == pytest.approx(quantities, rel=1e-9, abs=0), f"seed {seed}"


@pytest.mark.parametrize("first", range(0, 300, CHUNK))
def test_orders_equal_those_of_the_naive_planner_one_by_one(first: int) -> None:
    for seed in range(first, first + CHUNK):
        tables = random_tables(seed)
        orders, expected = orders_of(netted(tables)), expected_orders(tables)
        assert orders.keys() == expected.keys(), f"seed {seed}"
        for head, quantities in expected.items():
            assert orders[head] == pytest.approx(quantities, rel=1e-9, abs=0), f"seed {seed}"


def weeks_of(plan: Netted) -> dict[Place, Week]:
    """The record of each item, serial and week in which anything is other than zero."""
    return {(row[0], row[1], row[2]): row[3:] for row in plan.projection.rows() if any(row[3:])}


def expected_weeks(tables: Tables) -> dict[Place, Week]:
    """The same from the naive planner."""
    return {
        (w.item, w.serial, w.week): (w.gross, w.receipts, w.planned, w.projected)
        for w in naive_projection(tables)
    }


@pytest.mark.parametrize("first", range(0, 60, CHUNK))
def test_the_planning_record_equals_that_of_the_naive_planner(first: int) -> None:
    nothing: Week = (0.0, 0.0, 0.0, 0.0)
    for seed in range(first, first + CHUNK):
        tables = random_tables(seed)
        found, expected = weeks_of(netted(tables)), expected_weeks(tables)
        # what is on hand is a difference of sums: it is as exact as the greatest of them
        largest: dict[tuple[str, str], float] = {}
        for (item, serial, _), week in [*found.items(), *expected.items()]:
            largest[item, serial] = max(largest.get((item, serial), 0.0), *map(abs, week))
        for place in found.keys() | expected.keys():
            assert found.get(place, nothing) == pytest.approx(
                expected.get(place, nothing), rel=1e-9, abs=1e-9 * largest[place[:2]]
            ), f"seed {seed}: {place}"
