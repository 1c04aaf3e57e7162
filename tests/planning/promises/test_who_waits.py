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


def test_nobody_would_wait_from_the_day_on_which_the_last_of_it_comes() -> None:
    # of its two bolts the glider has one on day 20; the other is ordered in place of the one taken
    plan = plan_over(
        26,
        ITEMS,
        structure=[line("glider", "bolt", 2)],
        spares_orders=[need("bolt", 1, 1, order="G-1", urgency="grounded")],
        build_plan=[airframe("K-1", "glider", 14)],
        stock=[lot("bolt", 1)],
        open_orders=[receipt("bolt", 1, 20)],
    )
    assert waiting(plan) == ("K-1", 40)
    assert plan.packing["free_from"][0] == day(60)


def test_a_routine_order_that_waits_says_who_would_wait_if_it_took_what_lies_there() -> None:
    plan = plan_over(
        26,
        ITEMS,
        structure=LINES,
        spares_orders=[need("bolt", 1, 1, order="R-1")],
        build_plan=[airframe("K-1", "glider", 14)],
        stock=[lot("bolt", 1)],
    )
    # the glider needs its bolt on day 12, the next one comes on day 60
    assert waiting(plan) == ("K-1", 48)
    assert plan.packing.select("state", "can_take", "free_from").row(0) == (
        *("wait", day(60), day(60)),
    )


def test_with_the_piece_that_a_grounded_order_takes_stands_who_waits_for_it_and_how_long() -> None:
    plan = grounded(build_plan=[airframe("K-1", "glider", 14)], stock=[lot("bolt", 1)])
    row = plan.packing.select("state", "waiting", "waiting_kind", "waiting_days").row(0)
    assert row == ("take", "K-1", "airframe", 48)


def test_with_what_a_routine_order_takes_stands_nobody_though_the_rest_of_it_would_be_missed() -> (
    None
):
    # one bolt lies free, the other one is for the glider before it can come again
    plan = plan_over(
        26,
        ITEMS,
        structure=LINES,
        spares_orders=[need("bolt", 2, 1, order="R-1")],
        build_plan=[airframe("K-1", "glider", 14)],
        stock=[lot("bolt", 2)],
    )
    rows = plan.packing.select("state", "quantity", "waiting").rows()
    assert rows == [("take", 1, ""), ("wait", 1, "K-1")]


def test_what_a_box_gets_of_one_lot_through_several_kit_orders_is_one_row() -> None:
    # kits are packed in twos: the second order of two gets one that is left of the first two
    plan = plan_over(
        26,
        [piece("set", "kit", multiple=2), piece("bolt", lead=60)],
        structure=[line("set", "bolt")],
        spares_orders=[need("set", 1, 5, order="R-1"), need("set", 2, 9, order="R-2")],
        stock=[lot("bolt", 9, lot="L1")],
    )
    own = plan.packing.filter(order="R-2")
    assert own.select("part", "quantity", "lot").rows() == [("bolt", 2, "L1")]


def test_with_what_is_taken_stands_where_it_lies_and_with_what_comes_nothing() -> None:
    plan = grounded(stock=[lot("bolt", 1, lot="L1", location="rack 7")])
    assert plan.packing.select("location", "lot", "supply").row(0) == ("rack 7", "L1", "")
    late = grounded(open_orders=[receipt("bolt", 1, 20, order="PO-1")])
    assert late.packing.select("location", "lot", "supply").row(0) == ("", "", "PO-1")


def test_of_two_who_wait_as_long_the_one_who_has_his_sooner_is_named() -> None:
    # either has a bolt that comes 12 days after its day, once the grounded one has the one in stock
    plan = grounded(
        build_plan=[airframe("K-2", "glider", 32), airframe("K-1", "glider", 42)],
        stock=[lot("bolt", 1)],
        open_orders=[receipt("bolt", 1, 42, order="PO-1"), receipt("bolt", 1, 52, order="PO-2")],
    )
    row = plan.packing.select("waiting", "waiting_days", "free_from").row(0)
    assert row == ("K-2", 12, day(42))
