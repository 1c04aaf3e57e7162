"""Line and support read the same pegs: what one is given, the other does not count on."""

from datetime import timedelta

import pytest

from tests.planning.driver import (
    MONDAY,
    USUAL_SHELF,
    airframe,
    day,
    line,
    lot,
    need,
    piece,
    plan_over,
    receipt,
)
from tests.random_tables import Row

FLEET: list[Row] = [{"serial": "F-1", "item": "glider"}, {"serial": "F-2", "item": "glider"}]
ITEMS = [piece("glider", "make", 5), piece("bolt", lead=60)]
LINE: dict[str, list[Row]] = {"structure": [line("glider", "bolt")], "fleet": FLEET}


def spare(when: int, urgency: str = "routine", **more: object) -> Row:
    """One bolt for F-1."""
    return need("bolt", 1, when, order="R", serial="F-1", urgency=urgency, **USUAL_SHELF, **more)


@pytest.mark.parametrize("urgency", ["routine", "grounded"])
@pytest.mark.parametrize("lot_says", [{"expires": 15}, {"serial": "F-2"}])
def test_what_the_order_may_not_have_is_ordered_for_it(
    urgency: str, lot_says: dict[str, object]
) -> None:
    # the lot expires within 90 days or is kept for another aircraft; ordered, one comes on day 60
    plan = plan_over(
        26, ITEMS, **LINE, stock=[lot("bolt", 1, **lot_says)], spares_orders=[spare(10, urgency)]
    )
    assert plan.packing.select("state", "can_take", "supply").rows() == [
        ("wait", day(60), "buy-0001")
    ]
    assert plan.earliest_of("R")[0] == plan.promises["earliest_date"][0] == day(60)


def test_a_part_in_stock_goes_to_the_airframe_that_a_late_order_would_make_wait() -> None:
    # netting gives the lot to the spare of day 10 and orders one for day 12 that comes on day 60
    plan = plan_over(
        26,
        ITEMS,
        **LINE,
        build_plan=[airframe("K-1", "glider", 17)],
        stock=[lot("bolt", 1, lot="L1")],
        spares_orders=[spare(10)],
    )
    assert plan.pegs_of("bolt") == [
        ("R", 10, 1, "planned order", "buy-0001"),
        ("K-1", 12, 1, "stock", "L1"),
    ]
    assert plan.earliest_of("K-1")[1] == 0
    assert plan.promises["earliest_date"][0] == day(60)


def test_an_open_order_that_the_airframe_needs_is_not_given_to_a_routine_order() -> None:
    plan = plan_over(
        26,
        ITEMS,
        **LINE,
        build_plan=[airframe("K-1", "glider", 30)],
        open_orders=[receipt("bolt", 1, 8, order="O-1")],
        spares_orders=[spare(10)],
    )
    assert plan.pegs_of("bolt")[1] == ("K-1", 25, 1, "open order", "O-1")
    assert plan.earliest_of("K-1")[1] == 0


def test_an_open_order_counts_on_the_day_on_which_what_it_lacks_lets_it_come() -> None:
    # O-1 lacks a nut that comes on day 60: for the airframe's need on day 25 only the lot is there
    lacking: Row = {"order": "O-1", "item": "nut", "quantity": 1, "need_date": day(18)}
    plan = plan_over(
        26,
        [*ITEMS[:1], piece("bolt", "make", 3), piece("nut", lead=60)],
        structure=[line("glider", "bolt"), line("bolt", "nut")],
        fleet=FLEET,
        build_plan=[airframe("K-1", "glider", 30)],
        stock=[lot("bolt", 1, lot="L1")],
        open_orders=[receipt("bolt", 1, 18, order="O-1")],
        allocations=[lacking],
        spares_orders=[spare(5)],
    )
    assert plan.earliest_of("K-1")[1] == 0
    assert plan.packing.select("state", "supply", "can_take").row(0) == ("wait", "O-1", day(60))


def test_what_is_packed_still_lasts_on_the_day_on_which_the_box_leaves() -> None:
    # the box waits for the slow part: the lots that are good until it leaves go into it
    plan = plan_over(
        26,
        [piece("kit", "kit", 1), piece("glue", lead=3), piece("slow", lead=15)],
        structure=[line("kit", "glue"), line("kit", "slow")],
        stock=[lot("glue", 1, MONDAY + timedelta(days=95), lot="short")],
        spares_orders=[need("kit", 1, 1, order="R", **USUAL_SHELF)],
    )
    assert plan.packing.select("part", "state", "supply").rows() == [
        ("glue", "wait", "buy-0001"),
        ("slow", "wait", "buy-0002"),
    ]


def test_a_grounded_order_says_whom_it_makes_later_and_by_how_many_days() -> None:
    # K-1 needs the bolt on day 12; the one ordered in its place comes on day 60
    plan = plan_over(
        26,
        ITEMS,
        **LINE,
        build_plan=[airframe("K-1", "glider", 17)],
        stock=[lot("bolt", 1, lot="L1")],
        spares_orders=[spare(1, "grounded")],
    )
    assert plan.promises.select("later", "later_kind", "later_days").row(0) == (
        "K-1",
        "airframe",
        48,
    )


def test_who_is_left_without_a_date_by_a_grounded_order_is_named_without_days() -> None:
    # of a thousand million bolts one is less than netting tells apart: nothing brings K-4's
    ready = {"K-0": 17, "K-1": 25, "K-2": 40, "K-3": 60, "K-4": 90}
    plan = plan_over(
        26,
        [piece("glider", "make", 5), piece("bolt", lead=10)],
        **LINE,
        build_plan=[airframe(serial, "glider", when) for serial, when in ready.items()],
        spares_orders=[spare(12, "grounded") | {"quantity": 1e9}],
    )
    assert plan.earliest_of("K-4")[0] is None
    assert plan.promises.select("later", "later_days").row(0) == ("K-4", None)
    assert plan.packing.select("waiting", "waiting_days", "free_from").row(0) == ("K-4", None, None)


def test_leaving_out_routine_orders_makes_no_airframe_earlier() -> None:
    tables = LINE | {
        "build_plan": [airframe("K-1", "glider", 17), airframe("K-2", "glider", 70)],
        "stock": [lot("bolt", 1, lot="L1")],
    }
    alone = plan_over(26, ITEMS, **tables)
    beside = plan_over(26, ITEMS, **tables, spares_orders=[spare(10)])
    assert [beside.earliest_of(name)[1] for name in ("K-1", "K-2")] == [
        alone.earliest_of(name)[1] for name in ("K-1", "K-2")
    ]
