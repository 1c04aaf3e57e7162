"""Scrap and yield through several steps, with the source of each example."""

from itertools import pairwise

import pytest

from tests.planning.driver import Plan, item, line, need, plan_of


def chain(unit: str, yields: list[float], wanted: float) -> Plan:
    """A plan of step-1 -> step-2 -> ..., each made from the one before; the last is wanted."""
    names = [f"step-{number + 1}" for number in range(len(yields))]
    return plan_of(
        [
            item(name, source="make", unit=unit, scrap_rate=1 - good)
            for name, good in zip(names, yields, strict=True)
        ],
        structure=[line(after, before) for before, after in pairwise(names)],
        spares_orders=[need(names[-1], wanted, 5)],
    )


def started(plan: Plan, name: str) -> float:
    return sum(quantity for _, _, quantity in plan.orders_of(name))


def test_yields_of_successive_steps_multiply() -> None:
    """Tompkins, White and others, Facilities Planning, chapter 2: 0.95 x 0.84 x 0.88 = 0.70224.
    Read."""
    plan = chain("kg", [0.95, 0.84, 0.88], wanted=70.224)
    assert started(plan, "step-1") == pytest.approx(100, rel=1e-9)


def test_a_hundred_good_through_three_steps_in_any_quantity() -> None:
    """Worked out here, not published: 100 / (0.95 x 0.90 x 0.98) = 119.35."""
    plan = chain("kg", [0.95, 0.90, 0.98], wanted=100)
    assert started(plan, "step-1") == pytest.approx(100 / (0.95 * 0.90 * 0.98), rel=1e-9)
    assert round(started(plan, "step-1"), 2) == 119.35


def test_a_hundred_good_through_three_steps_in_whole_pieces() -> None:
    """Worked out here, not published: rounded up at each step from the last one back."""
    # 100 / 0.98 = 102.04 -> 103; 103 / 0.90 = 114.4 -> 115; 115 / 0.95 = 121.05 -> 122
    plan = chain("pc", [0.95, 0.90, 0.98], wanted=100)
    assert [started(plan, f"step-{number}") for number in (3, 2, 1)] == [103, 115, 122]


def test_what_scrap_leaves_over_is_carried_forward() -> None:
    """Worked out here, not published: one piece on each of twelve days, 8 % scrap, 14 starts."""
    # each start is 0.92 good: after 13 of them 11.96 are good, and 12 are wanted
    plan = plan_of(
        [item("part", source="make", unit="pc", scrap_rate=0.08)],
        spares_orders=[need("part", 1, number) for number in range(12)],
    )
    assert started(plan, "part") == 14
    assert [quantity for _, _, quantity in plan.orders_of("part")] == [2, *[1] * 10, 2]
