"""The random plans that the rules are tried on have in them what the rules speak of."""

from collections.abc import Callable

import pytest

from tests.planning.driver import Plan
from tests.planning.random_plans import FOLDERS, random_plan


def kinds(plan: Plan) -> set[str]:
    """The kinds of demand of a plan."""
    return set(plan.pegged.demands["kind"])


HAPPENS: dict[str, Callable[[Plan], bool]] = {
    "an open order that lacks something": lambda plan: "in work" in kinds(plan),
    "a grounded aircraft": lambda plan: "grounded" in kinds(plan),
    "a routine order": lambda plan: "routine" in kinds(plan),
    "a late demand": lambda plan: (
        plan.ahead.demands.filter(late_days=0).height < len(plan.ahead.demands)
    ),
    "a chain that paces": lambda plan: len(plan.ahead.chains) > 0,
    "a lot that expires": lambda plan: plan.network.stock["expires"].count() > 0,
}


@pytest.mark.parametrize("what", HAPPENS)
def test_what_the_rules_speak_of_happens_in_a_third_of_the_random_plans(what: str) -> None:
    assert sum(HAPPENS[what](random_plan(seed)) for seed in FOLDERS) > len(FOLDERS) / 3
