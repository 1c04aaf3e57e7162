"""What a run says where some need is served late or by nothing, though it planned again for it."""

from dataclasses import replace

import numpy as np
import polars as pl

from bomkit.planning.every_need_served import Given, Wear
from bomkit.planning.netting.arrays import NO_ROW
from bomkit.planning.orders_for_unserved_needs import MOST_PLANS
from bomkit.planning.pegging.peg import Pegged
from bomkit.runs.to_know_first import allocation_asides
from tests.planning.driver import Plan, item, need, plan_of
from tests.random_tables import random_tables

NO_WEAR = Wear(pl.DataFrame(), {}, {})
BOUND_REACHED = 37  # random tables of which each plan asks for another


def said(plan: Plan, pegged: Pegged, left_to_plan: pl.DataFrame) -> list[str]:
    given = Given(pegged, NO_WEAR, None, left_to_plan)
    return list(allocation_asides(plan.network, given))


def by_nothing(plan: Plan) -> Pegged:
    """The pegs of a plan of one item, if nothing served it."""
    (level,) = plan.stores.pegged.levels
    none = np.full_like(level.pegs["supply_id"], NO_ROW)
    return replace(
        plan.stores.pegged, levels=(replace(level, pegs={**level.pegs, "supply_id": none}),)
    )


def test_nothing_is_said_where_every_need_is_served() -> None:
    plan = plan_of([item("resin")], spares_orders=[need("resin", 100, 3)])
    assert plan.left_to_plan.is_empty()
    assert said(plan, plan.stores.pegged, plan.left_to_plan) == []


def test_what_still_waits_when_no_more_plans_are_made_is_named() -> None:
    plan = Plan(random_tables(BOUND_REACHED))
    waiting = plan.network.named(plan.left_to_plan)["item"].unique().to_list()
    assert len(waiting) == 1
    (sentence,) = said(plan, plan.stores.pegged, plan.left_to_plan)
    assert sentence.startswith(f"Planned {MOST_PLANS} times, and still something waits")
    assert f": {waiting[0]}; " in sentence


def test_what_nothing_brings_is_named_and_not_once_more_as_waiting() -> None:
    plan = plan_of([item("resin")], spares_orders=[need("resin", 100, 3)])
    lacking = pl.DataFrame({"key": [0], "day": [3], "change": [100.0]})
    sentences = said(plan, by_nothing(plan), lacking)
    assert sentences == [
        "Nothing brings all that is needed of resin: who needs it is given no date."
    ]
