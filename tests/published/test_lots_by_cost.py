"""Published examples of lots chosen by what they cost.

- H. M. Wagner, T. M. Whitin, Dynamic version of the economic lot size model, Management Science
  5(1), 1958, 89-96: inputs and least costs read there; the row of lots is recalled from memory.
- C. Ptak, C. Smith, Orlicky's Material Requirements Planning, 3rd ed., McGraw-Hill 2011, ch. 8,
  pp. 147-155: inputs read there; the optimum is worked out here.
- The example of the Silver-Meal heuristic, whose cost is the optimum.
- W. Hopp, M. Spearman, Factory Physics, sect. 2.3: inputs read there, figures worked out here.

Carrying is charged on stock at the end of a period.
"""

import pytest

from bomkit.planning.netting.least_cost import Lots, Programme

WAGNER_WHITIN = [69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56]
SETUPS = [85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114]


def least_cost(demand: list[int], setups: list[int], holding: float) -> Lots:
    """The lots for the demand of some periods."""
    needs = []
    total = 0.0
    for period, quantity in enumerate(demand):
        total += quantity
        if quantity:
            needs.append((period, total))
    return Programme(needs, len(demand), setups, holding).least_cost()


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
    assert least_cost([35, 10, 0, 40, 0, 20, 5, 10, 30], [100] * 9, 1).cost == pytest.approx(395)


def test_the_example_of_silver_and_meal_costs_310() -> None:
    assert least_cost([18, 30, 42, 5, 20], [80] * 5, 2).cost == pytest.approx(310)


def test_hopp_and_spearmans_example_costs_580() -> None:
    lots = least_cost([20, 50, 10, 50, 50, 10, 20, 40, 20, 30], [100] * 10, 1)
    assert lots.cost == pytest.approx(580)
    assert lots.started == {0: 80, 3: 130, 7: 90}
