"""What waits for a later order is planned for, and what only sums of many needs leave is not."""

from dataclasses import replace

import polars as pl
import pytest

from bomkit.planning.pegging.covering import MOST_PLANS, Making, covered
from bomkit.planning.pegging.peg import Pegged
from tests.planning.driver import Plan, item, need, plan_of


def waiting(plan: Plan, quantity: float) -> Pegged:
    """The pegs of a plan, if so much of the first need waited for the last order."""
    by_plan = plan.stores.by_plan
    last = pl.lit(by_plan.pegs["supply_id"].max(), by_plan.pegs.schema["supply_id"])
    more = by_plan.pegs.head(1).with_columns(quantity=pl.lit(quantity), supply_id=last)
    pegs = pl.concat([by_plan.pegs, more])
    return replace(by_plan, pegs=pegs)


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
