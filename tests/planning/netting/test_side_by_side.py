"""Items are netted many at a time, and each as if it stood alone."""

import pytest

from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, Netted, lot, need, netted, receipt
from tests.random_tables import Row, random_tables

# one of each way in which an order is sized and timed, of different lengths
RULES: dict[str, Row] = {
    "plain": {},
    "later": {"lead_days": 5},
    "late": {"lead_days": 2, "safety_days": 1},
    "latest": {"lead_days": 9},
    "cover 2": {"cover_days": 2},
    "cover 3": {"cover_days": 3, "lead_days": 1},
    "cover 5": {"cover_days": 5, "minimum": 4},
    "spoils 2": {"lead_days": 6, "longest_cover_days": 2},
    "spoils 3": {"lead_days": 8, "longest_cover_days": 3},
    "spoils too": {"lead_days": 3, "longest_cover_days": 2, "cover_days": 2},
    "keeps": {"lead_days": 2, "longest_cover_days": 3},
    "pieces": {"unit": "pc", "scrap_rate": 0.25},
    "boxes": {"unit": "pc", "multiple": 2.5},
    "sacks": {"multiple": 4, "minimum": 5},
    "kept": {"safety_stock": 3, "lead_days": 1},
    "cheap": {"lot_rule": "least_cost", "order_cost": 5, "cost": 300, "unit": "pc"},
}
NEEDS = ((0, 1.5), (1, 2), (2, 1), (3, 4), (5, 1), (6, 2.5), (8, 3), (9, 1), (13, 2))


def together(names: list[str]) -> Netted:
    """The plan of some of the items, of which each is asked for as much."""
    items = [{"item": name, "source": "buy", "unit": "kg"} | RULES[name] for name in names]
    return netted(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 4, "holding_rate": 0.2}],
            "items": items,
            "spares_orders": [
                need(name, quantity, when) for name in names for when, quantity in NEEDS
            ],
            "stock": [lot(name, 2, 4) for name in names],
            "open_orders": [receipt(name, 1, 7) for name in names],
        }
    )


def shapes(plan: Netted, name: str) -> list[tuple[int, int, float]]:
    """Start, due day and quantity of an item's orders."""
    own = plan.orders.filter(item=name).sort("start", "usable")
    return own.select("start", "due", "quantity").rows()


@pytest.fixture(scope="module")
def every() -> Netted:
    """All items in one plan."""
    return together(list(RULES))


@pytest.mark.parametrize("name", RULES)
def test_an_item_is_ordered_beside_others_as_it_is_alone(every: Netted, name: str) -> None:
    alone = shapes(together([name]), name)
    assert alone and shapes(every, name) == alone


def test_a_plan_tells_level_after_level_from_the_first_to_the_last() -> None:
    network = build_network(typed_tables(random_tables(3)))
    told: list[str] = []
    count = len(plan_flows(network, told.append).structure.levels)
    assert told == [f"level {number} of {count}" for number in range(1, count + 1)]
