"""A published example of open orders that should come on another day.

C. Ptak, C. Smith, Orlicky's Material Requirements Planning, 3rd ed., McGraw-Hill 2011, p. 268, and
the kinds of moves on p. 96: read there. Weeks 61 to 66 are the first six weeks of the
plan, each of five working days; needs and receipts fall on its first day.
"""

import pytest

from bomkit.planning.buying.moves import Thresholds, proposed_moves
from tests.planning.driver import WEEK, Plan, day, item, lot, needs_by_period, plan_over, receipt

FIRST = 61
EVERY_DAY_COUNTS = Thresholds(days=0, share=0.1)


def week(number: int) -> int:
    """The first day of a week of the example."""
    return (number - FIRST) * WEEK


def example() -> Plan:
    """27 on hand, 20 due in each of weeks 62 and 64; what is ordered anew is there in two weeks."""
    return plan_over(
        6,
        [item("part", unit="pc", lead_days=2 * WEEK)],
        stock=[lot("part", 27)],
        open_orders=[receipt("part", 20, week(62)), receipt("part", 20, week(64))],
        spares_orders=needs_by_period("part", [30, 5, 0, 10, 10, 10]),
    )


def kinds_of(plan: Plan) -> list[str]:
    """The kinds of moves that are proposed."""
    moves = proposed_moves(plan.network, plan.flows, plan.tables["items"], EVERY_DAY_COUNTS)
    return moves["kind"].to_list()


@pytest.mark.parametrize(
    ("needed", "quantity", "due", "kind"),
    [
        ([0, 20], 20, 3, "sooner"),
        ([0, 0, 0, 20], 20, 1, "later"),
        ([0, 10], 20, 1, "less"),
        ([0, 0], 20, 1, "not needed"),  # the book: cancel
    ],
)
def test_the_kinds_of_moves_the_book_names_are_proposed(
    needed: list[int], quantity: int, due: int, kind: str
) -> None:
    """P. 96; figures invented here. More is ordered anew, and nothing is suspended."""
    plan = plan_over(
        6,
        [item("part", unit="pc", lead_days=4 * WEEK)],
        open_orders=[receipt("part", quantity, due * WEEK)],
        spares_orders=needs_by_period("part", needed),
    )
    assert kinds_of(plan) == [kind]
    assert plan.orders_of("part") == []


def test_more_than_is_on_order_is_ordered_beside_it() -> None:
    """P. 96; figures invented here."""
    plan = plan_over(
        6,
        [item("part", unit="pc", lead_days=WEEK)],
        open_orders=[receipt("part", 20, WEEK)],
        spares_orders=needs_by_period("part", [0, 30]),
    )
    assert kinds_of(plan) == []
    assert plan.orders_of("part") == [(0, WEEK, 10)]


def test_the_nearest_open_order_comes_sooner_and_one_not_needed_yet_later() -> None:
    plan = example()
    moves = proposed_moves(plan.network, plan.flows, plan.tables["items"], EVERY_DAY_COUNTS)
    assert moves.select("kind", "due_date", "right_date").rows() == [
        ("sooner", day(week(62)), day(week(61))),
        ("later", day(week(64)), day(week(65))),
    ]


def test_nothing_is_planned_beside_an_open_order_that_can_come_sooner() -> None:
    assert example().orders_of("part") == []
