"""What waits for a later order is planned for, and what only sums of many needs leave is not."""

from dataclasses import replace

import numpy as np
import pytest

from bomkit.planning.allocation import Stores
from bomkit.planning.orders_for_unserved_needs import MOST_PLANS, Making, covered
from bomkit.planning.pegging.peg import Pegged
from tests.planning.driver import Plan, item, lot, need, piece, plan_of


def waiting(plan: Plan, quantity: float) -> Pegged:
    """The pegs of a plan, if so much of the first need waited for the last order."""
    by_plan = plan.stores.by_plan
    (level,) = by_plan.levels
    more = {name: column[:1] for name, column in level.pegs.items()}
    more |= {
        "quantity": np.array([quantity]),
        "supply_id": level.pegs["supply_id"].max(keepdims=True),
    }
    pegs = {name: np.append(column, more[name]) for name, column in level.pegs.items()}
    return replace(by_plan, levels=(replace(level, pegs=pegs),))


@pytest.mark.parametrize(("quantity", "plans"), [(1e-8, 1), (1e-3, MOST_PLANS)])
def test_a_sliver_of_all_needs_that_waits_for_a_later_order_makes_no_new_plan(
    quantity: float, plans: int
) -> None:
    # sums of 150 are as exact as 1e-9 of it
    plan = plan_of([item("resin")], spares_orders=[need("resin", 100, 3), need("resin", 50, 8)])
    made: list[Plan] = []

    def again(*_: object) -> Plan:
        made.append(plan)
        return plan

    making = Making(again, lambda *_: waiting(plan, quantity), lambda *_: plan.stores)
    covered(plan.network, making)
    assert len(made) == plans


class Rounds:
    """Makes the same plan again and again, with pegs by turns, and keeps what was asked of it."""

    def __init__(self, plan: Plan, *pegs: Pegged) -> None:
        self.plan, self.pegs = plan, pegs
        self.last_plans: list[Plan | None] = []
        self.last_pegs: list[Pegged | None] = []
        self.settled: list[Pegged] = []

    def run(self) -> None:
        covered(self.plan.network, Making(self.again, self.pegged, self.settle))

    def again(self, _: object, last: Plan | None) -> Plan:
        self.last_plans.append(last)
        return self.plan

    def pegged(self, _: Plan, last: Pegged | None) -> Pegged:
        self.last_pegs.append(last)
        return self.pegs[min(len(self.last_pegs), len(self.pegs)) - 1]

    def settle(self, _: Plan, pegged: Pegged) -> Stores:
        self.settled.append(pegged)
        return self.plan.stores


def test_nothing_stands_on_a_plan_in_which_something_lacks_by_its_own_days() -> None:
    plan = plan_of([item("resin")], spares_orders=[need("resin", 100, 3), need("resin", 50, 8)])
    lacking, served = waiting(plan, 2.0), plan.stores.by_plan
    rounds = Rounds(plan, lacking, served)
    rounds.run()
    assert rounds.last_plans == [None, plan]
    assert rounds.last_pegs == [None, lacking]
    assert rounds.settled == [served]


@pytest.mark.parametrize(("second", "settled"), [(2.0, 2), (2.0 + 1e-7, 2), (1.0, 1)])
def test_where_planning_more_changes_nothing_it_goes_on_all_the_same(
    second: float, settled: int
) -> None:
    plan = plan_of([item("resin")], spares_orders=[need("resin", 100, 3), need("resin", 50, 8)])
    by_turns = waiting(plan, 2.0), waiting(plan, second), plan.stores.by_plan
    rounds = Rounds(plan, *by_turns)
    rounds.run()
    assert len(rounds.settled) == settled


def test_what_is_there_in_time_lacks_nothing_though_it_was_meant_for_a_later_need() -> None:
    # netting counts the bolt that is kept for another; of its order for day 10, which is due three
    # days before, one bolt is there for day 8 as well
    plan = plan_of(
        [piece("bolt", "buy", 2, safety_days=3)],
        stock=[lot("bolt", 1, serial="K-9")],
        spares_orders=[need("bolt", 1, 8, order="S1"), need("bolt", 1, 10, order="S2")],
    )
    assert plan.orders_of("bolt") == [(5, 7, 2)]
    assert {peg[4] for peg in plan.pegs_of("bolt")} == {"buy-0001"}
