"""Whom a grounded aircraft makes wait for a part, and by how many days."""

import pytest

from tests.planning.driver import Plan, airframe, day, line, lot, need, piece, plan_over, receipt
from tests.random_tables import Row

# a bolt that is ordered today is there on day 60
ITEMS = [piece("glider", "make", 2), piece("bolt", lead=60)]
LINES = [line("glider", "bolt")]


def grounded(**tables: list[Row]) -> Plan:
    """A grounded aircraft needs a bolt tomorrow."""
    urgent = need("bolt", 1, 1, order="G-1", urgency="grounded")
    return plan_over(26, ITEMS, spares_orders=[urgent], structure=LINES, **tables)


def waiting(plan: Plan) -> tuple[str, int]:
    """Who waits for its bolt, and how many days longer than without it."""
    row: tuple[str, int] = plan.packing.select("waiting", "waiting_days").row(0)
    return row


def test_who_would_be_late_by_as_much_without_it_does_not_wait_for_it() -> None:
    lines = [line("glider", "bolt", 2)]
    plan = plan_over(
        26,
        ITEMS,
        structure=lines,
        spares_orders=[need("bolt", 1, 1, order="G-1", urgency="grounded")],
        build_plan=[airframe("K-1", "glider", 14)],
        stock=[lot("bolt", 1)],
    )
    assert waiting(plan) == ("", 0)


@pytest.mark.parametrize(("ready", "comes", "days"), [(14, 20, 40), (42, 45, 15)])
def test_who_would_be_late_anyway_waits_for_the_days_beyond_that(
    ready: int, comes: int, days: int
) -> None:
    # without it the glider had the bolt that comes so much too late; so it is there on day 60
    plan = grounded(
        build_plan=[airframe("K-1", "glider", ready)], open_orders=[receipt("bolt", 1, comes)]
    )
    assert waiting(plan) == ("K-1", days)


def test_of_two_who_wait_the_one_who_waits_longer_is_named() -> None:
    plan = grounded(
        build_plan=[airframe("K-1", "glider", 14), airframe("K-2", "glider", 64)],
        stock=[lot("bolt", 1)],
    )
    assert waiting(plan) == ("K-1", 48)
    assert plan.packing["free_from"][0] == day(60)


def test_what_is_made_for_the_shelf_alone_is_nobody_who_waits() -> None:
    items = [piece("fin", "make", safety_stock=1), piece("bolt", lead=60)]
    plan = plan_over(
        26,
        items,
        structure=[line("fin", "bolt")],
        spares_orders=[need("bolt", 1, 1, order="G-1", urgency="grounded")],
        stock=[lot("bolt", 1)],
    )
    assert waiting(plan) == ("", 0)
