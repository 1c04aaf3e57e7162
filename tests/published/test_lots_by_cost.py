"""Published examples of lots chosen by what they cost.

- H. M. Wagner, T. M. Whitin, Dynamic version of the economic lot size model, Management Science
  5(1), 1958, 89-96: inputs and least costs read there; the row of lots is recalled from memory.
- C. Ptak, C. Smith, Orlicky's Material Requirements Planning, 3rd ed., McGraw-Hill 2011, ch. 8,
  pp. 147-155: inputs read there; the optimum is worked out here.
- The example of the Silver-Meal heuristic, whose lots and cost, read there, are the optimum.
- W. Hopp, M. Spearman, Factory Physics, sect. 2.3: inputs read there, figures worked out here.

Carrying is charged on stock at the end of a period. A period is a week of five working days.
"""

import pytest

from bomkit.planning.netting.lot_sizes.least_cost import Bounds, Lots, Programme, Sizes
from tests.planning.driver import MONDAY, WEEK, Plan, item, needs_by_period, plan_over

WAGNER_WHITIN = [69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56]
SETUPS = [85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114]
ORLICKY = [35, 10, 0, 40, 0, 20, 5, 10, 30]
SILVER_MEAL = [18, 30, 42, 5, 20]
HOPP_SPEARMAN = [20, 50, 10, 50, 50, 10, 20, 40, 20, 30]
DAYS_A_YEAR = 5 * 52.18  # working days, as holding_rate counts them


def least_cost(demand: list[int], setups: list[int], holding: float) -> Lots:
    """The lots for the demand of some periods."""
    needs = []
    total = 0.0
    for period, quantity in enumerate(demand):
        total += quantity
        if quantity:
            needs.append((period, total))
    sizes = Sizes(good=1.0, minimum=0.0, step=0.0, whole=False)
    bounds = Bounds(least=1, most=len(demand), in_time=0)
    return Programme(needs, len(demand), setups, holding, sizes, bounds).least_cost()


def lots_of(lots: Lots, periods: int) -> list[float]:
    """The lot of each period."""
    return [lots.started.get(period, 0) for period in range(periods)]


def test_wagner_and_whitins_example_costs_864() -> None:
    lots = least_cost(WAGNER_WHITIN, SETUPS, 1)
    assert lots.cost == pytest.approx(864)
    assert lots_of(lots, 12) == [98, 0, 97, 0, 121, 0, 0, 112, 0, 67, 135, 0]


def test_wagner_and_whitins_example_costs_as_they_say_up_to_each_period() -> None:
    costs = [least_cost(WAGNER_WHITIN[:period], SETUPS[:period], 1).cost for period in range(1, 13)]
    assert costs == pytest.approx([85, 114, 186, 277, 348, 400, 469, 555, 600, 710, 789, 864])


def test_orlickys_example_costs_395() -> None:
    assert least_cost(ORLICKY, [100] * 9, 1).cost == pytest.approx(395)


def test_the_example_of_silver_and_meal_costs_310() -> None:
    assert least_cost(SILVER_MEAL, [80] * 5, 2).cost == pytest.approx(310)


def test_the_lots_of_silver_and_meal_are_those_of_the_first_four_periods_and_one_more() -> None:
    """Read there: 48 0 47 0 20. For all five periods 48 0 67 0 0 cost as much."""
    assert lots_of(least_cost(SILVER_MEAL[:4], [80] * 4, 2), 4) == [48, 0, 47, 0]
    assert lots_of(least_cost(SILVER_MEAL[4:], [80], 2), 1) == [20]


def test_hopp_and_spearmans_example_costs_580() -> None:
    lots = least_cost(HOPP_SPEARMAN, [100] * 10, 1)
    assert lots.cost == pytest.approx(580)
    assert lots.started == {0: 80, 3: 130, 7: 90}


def plan_under(demand: list[int], **rule: object) -> Plan:
    """The plan of a part that is needed in some weeks; nothing is there at the start."""
    return plan_over(
        len(demand),
        [item("part", unit="pc", **rule)],
        spares_orders=needs_by_period("part", demand),
        plan=[{"start": MONDAY, "horizon_weeks": len(demand), "holding_rate": 1.0}],
    )


def cost_of(plan: Plan, setup: float, holding: float) -> float:
    """What the orders of a plan cost, and what is on hand at the end of each week."""
    return setup * len(plan.orders_of("part")) + holding * sum(plan.weekly("part", "projected"))


def test_orlickys_example_costs_700_lot_for_lot() -> None:
    """Read there."""
    plan = plan_under(ORLICKY)
    assert cost_of(plan, 100, 1) == pytest.approx(700)


def test_hopp_and_spearmans_example_costs_1000_lot_for_lot() -> None:
    """Worked out here from the inputs read there."""
    plan = plan_under(HOPP_SPEARMAN)
    assert cost_of(plan, 100, 1) == pytest.approx(1000)


def test_hopp_and_spearmans_example_costs_700_in_lots_of_100() -> None:
    """Worked out here from the inputs read there."""
    plan = plan_under(HOPP_SPEARMAN, multiple=100)
    assert cost_of(plan, 100, 1) == pytest.approx(700)
    assert {quantity for _, _, quantity in plan.orders_of("part")} == {100}


@pytest.mark.parametrize(
    ("demand", "setup", "holding", "least"),
    [(ORLICKY, 100, 1, 395), (SILVER_MEAL, 80, 2, 310), (HOPP_SPEARMAN, 100, 1, 580)],
)
def test_a_plan_by_least_cost_costs_as_little_as_the_examples_can(
    demand: list[int], setup: float, holding: float, least: float
) -> None:
    """The same figures from the tables on: holding is asked for as a share of the cost a year."""
    plan = plan_under(
        demand, lot_rule="least_cost", order_cost=setup, cost=holding / WEEK * DAYS_A_YEAR
    )
    assert cost_of(plan, setup, holding) == pytest.approx(least)
    assert set(plan.orders["lots"]) == {"least cost"}
