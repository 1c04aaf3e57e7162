"""Netting one item: what is needed, what serves it, and which orders are planned for the rest.

In the comments C is the gross requirement and S the supply up to and including a day, D = C +
safety stock - S, and P the good quantity planned so far. Orders are given as (start day, due day,
quantity started).
"""

from datetime import date

import pytest

from tests.planning.driver import (
    Plan,
    Shape,
    airframe,
    day,
    item,
    line,
    lot,
    need,
    plan_of,
    plan_over,
    receipt,
)
from tests.random_tables import Row


def needs(quantities: dict[int, float], name: str = "resin") -> list[Row]:
    """A need on each day."""
    return [need(name, quantity, number) for number, quantity in quantities.items()]


def orders_for(quantities: dict[int, float], **columns: object) -> list[Shape]:
    """The orders of an item without stock for needs by day."""
    return plan_of([item("resin", **columns)], spares_orders=needs(quantities)).orders_of("resin")


# ---------------------------------------------------------------- what serves a need


def test_stock_serves_first_and_the_rest_is_ordered_for_its_day() -> None:
    # day 2: C 3, S 4; day 6: C 8, D 4
    plan = plan_of([item("resin")], stock=[lot("resin", 4)], spares_orders=needs({2: 3, 6: 5}))
    assert plan.orders_of("resin") == [(6, 6, 4)]


def test_several_lots_serve_together() -> None:
    stock = [lot("resin", 1), lot("resin", 2.5)]
    plan = plan_of([item("resin")], stock=stock, spares_orders=needs({2: 5}))
    assert plan.orders_of("resin") == [(2, 2, 1.5)]


def test_needs_of_one_day_are_added_up() -> None:
    wanted = [need("resin", 1, 3, order="S-1"), need("resin", 2, 3, order="S-2")]
    assert plan_of([item("resin")], spares_orders=wanted).orders_of("resin") == [(3, 3, 3)]


def test_a_receipt_can_be_used_on_its_own_day() -> None:
    plan = plan_of(
        [item("resin")], open_orders=[receipt("resin", 4, 3)], spares_orders=needs({3: 4})
    )
    assert plan.orders_of("resin") == []


def test_a_receipt_that_comes_after_the_need_does_not_serve_it_but_what_follows() -> None:
    # day 3: D 4, planned 4; day 4: S 6; day 8: C 9, D 3 is not above P 4
    plan = plan_of(
        [item("resin")], open_orders=[receipt("resin", 6, 4)], spares_orders=needs({3: 4, 8: 5})
    )
    assert plan.orders_of("resin") == [(3, 3, 4)]
    assert plan.on_hand_of("resin")[-1] == 1


def test_an_open_order_counts_at_the_quantity_expected_good() -> None:
    # 10 x 0.9 = 9 good; 1 is lacking, for which 1 / 0.9 is started
    plan = plan_of(
        [item("resin", scrap_rate=0.1)],
        open_orders=[receipt("resin", 10, 2)],
        spares_orders=needs({4: 10}),
    )
    [(start, due, started)] = plan.orders_of("resin")
    assert (start, due) == (4, 4)
    assert started == pytest.approx(1 / 0.9, rel=1e-11)


@pytest.mark.parametrize("status", ["hold", "quarantine"])
def test_stock_that_is_not_usable_serves_nothing(status: str) -> None:
    stock = [lot("resin", 9, status=status), lot("resin", 1, status="usable")]
    plan = plan_of([item("resin")], stock=stock, spares_orders=needs({2: 3}))
    assert plan.orders_of("resin") == [(2, 2, 2)]


def test_an_item_that_nobody_needs_is_not_ordered() -> None:
    plan = plan_of([item("resin", minimum=5)], stock=[lot("resin", 1)])
    assert plan.orders.is_empty()
    assert plan.on_hand_of("resin")[-1] == 1


def test_an_airframe_is_one_piece_needed_on_its_ready_date() -> None:
    plan = plan_of(
        [item("glider", source="make", unit="pc", lead_days=3)],
        build_plan=[airframe("KL-1", "glider", 9)],
    )
    assert plan.gross_of("glider", "KL-1") == {9: 1}
    assert plan.orders_of("glider", "KL-1") == [(6, 9, 1)]


# ---------------------------------------------------------------- stock that expires


def test_expired_stock_serves_nothing() -> None:
    stock = [lot("resin", 9, expires=day(-1))]
    plan = plan_of([item("resin")], stock=stock, spares_orders=needs({0: 3}))
    assert plan.orders_of("resin") == [(0, 0, 3)]
    assert plan.on_hand_of("resin")[0] == 0


def test_stock_can_be_used_on_the_day_it_expires_but_not_on_the_next() -> None:
    stock = [lot("resin", 5, expires=3)]
    on_time = plan_of([item("resin")], stock=stock, spares_orders=needs({3: 5}))
    assert on_time.orders_of("resin") == []
    too_late = plan_of([item("resin")], stock=stock, spares_orders=needs({4: 5}))
    assert too_late.orders_of("resin") == [(4, 4, 5)]


def test_stock_that_expires_on_a_day_off_serves_up_to_the_working_day_before() -> None:
    # Saturday 2026-12-05 is after day 4
    stock = [lot("resin", 5, expires=date(2026, 12, 5))]
    plan = plan_of([item("resin")], stock=stock, spares_orders=needs({4: 2, 5: 2}))
    assert plan.orders_of("resin") == [(5, 5, 2)]


def test_what_is_left_of_a_lot_is_lost_after_its_last_day() -> None:
    stock = [lot("resin", 5, expires=3)]
    plan = plan_of([item("resin")], stock=stock, spares_orders=needs({1: 2}))
    assert plan.on_hand_of("resin")[:5] == [5, 3, 3, 3, 0]


def test_a_lot_that_expires_on_the_last_day_or_past_it_is_not_lost_within_the_plan() -> None:
    for last in (4, 5, 40):
        plan = plan_over(1, [item("resin")], stock=[lot("resin", 5, expires=last)])
        assert plan.on_hand_of("resin") == [5] * 5


def test_lots_that_expire_unused_leave_no_trace_of_arithmetic_to_order_for() -> None:
    # 0.56 + 6.62 - 6.62 - 0.56 is a hair below zero
    stock = [lot("resin", 0.56, expires=11), lot("resin", 6.62, expires=4)]
    plan = plan_of([item("resin", multiple=5)], stock=stock)
    assert plan.orders_of("resin") == []


def test_lots_that_expire_unused_leave_no_trace_beside_a_small_need() -> None:
    # the need is served by lasting stock; what was lost was a hundred million times as much
    stock = [
        lot("resin", 0.001),
        lot("resin", 56000.1, expires=11),
        lot("resin", 66200.3, expires=4),
    ]
    plan = plan_of([item("resin")], stock=stock, spares_orders=needs({14: 0.001}))
    assert plan.orders_of("resin") == []


def test_the_lot_that_expires_first_is_used_first() -> None:
    # lot of 4 up to day 2: C(2) = 3, so 3 are used and 1 is lost after day 2
    # lot of 6 up to day 5: C(5) - 3 = 4, so 4 are used and 2 are lost after day 5
    # day 6: C 11, S 3 + 4 + 1 = 8, D 3
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 1), lot("resin", 6, expires=5), lot("resin", 4, expires=2)],
        spares_orders=needs({1: 3, 5: 4, 6: 4}),
    )
    assert plan.orders_of("resin") == [(6, 6, 3)]
    assert plan.on_hand_of("resin")[:7] == [11, 8, 8, 7, 7, 3, 0]


def test_a_later_lot_is_not_used_for_what_an_earlier_one_serves() -> None:
    # both lots could serve day 2; the earlier one does, so the later one is whole on day 5
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 3, expires=5), lot("resin", 3, expires=2)],
        spares_orders=needs({2: 3, 5: 3}),
    )
    assert plan.orders_of("resin") == []


def test_expiring_stock_is_used_before_lasting_stock_and_open_orders() -> None:
    # of 12 kg, 4 expire after day 6; they serve day 2, and the other 8 serve day 8
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 4), lot("resin", 4, expires=6)],
        open_orders=[receipt("resin", 4, 0)],
        spares_orders=needs({2: 4, 8: 8}),
    )
    assert plan.orders_of("resin") == []


def test_two_lots_that_expire_on_one_day_count_together() -> None:
    # 5 kg up to day 3, of which C(3) = 4 are used
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 2, expires=3), lot("resin", 3, expires=3)],
        spares_orders=needs({3: 4, 4: 4}),
    )
    assert plan.orders_of("resin") == [(4, 4, 4)]


# ---------------------------------------------------------------- safety stock


def test_a_safety_stock_is_wanted_from_day_0_without_any_need() -> None:
    plan = plan_of([item("resin", safety_stock=6)], stock=[lot("resin", 2)])
    assert plan.orders_of("resin") == [(0, 0, 4)]
    assert plan.on_hand_of("resin") == [6] * 20


def test_a_safety_stock_is_kept_while_needs_are_served() -> None:
    # day 2: D = 3 + 6 - 7 = 2
    plan = plan_of(
        [item("resin", safety_stock=6)], stock=[lot("resin", 7)], spares_orders=needs({2: 3})
    )
    assert plan.orders_of("resin") == [(2, 2, 2)]
    assert plan.on_hand_of("resin")[1:4] == [7, 6, 6]


def test_a_safety_stock_that_expires_is_replaced_on_the_day_after() -> None:
    # up to day 3, S 5; after that nothing of the lot was used, so S 0 and D 3
    plan = plan_of([item("resin", safety_stock=3)], stock=[lot("resin", 5, expires=3)])
    assert plan.orders_of("resin") == [(4, 4, 3)]


# ---------------------------------------------------------------- lot rules


def test_without_a_lot_rule_every_day_has_its_own_order() -> None:
    assert orders_for({2: 1, 3: 2, 9: 0.5}) == [(2, 2, 1), (3, 3, 2), (9, 9, 0.5)]


def test_one_order_covers_the_needs_of_its_days() -> None:
    # the order of day 2 covers days 2 to 5
    wanted: dict[int, float] = {2: 1, 3: 1, 4: 1, 5: 1, 6: 1}
    assert orders_for(wanted, cover_days=4) == [(2, 2, 4), (6, 6, 1)]


def test_a_cover_of_no_days_still_covers_the_day_itself() -> None:
    assert orders_for({2: 1, 3: 1}, cover_days=0) == [(2, 2, 1), (3, 3, 1)]


def test_cover_counts_working_days() -> None:
    # Wednesday is closed: Tuesday, Thursday and Friday are days 1, 2 and 3, Monday is day 4
    plan = plan_of(
        [item("resin", cover_days=3)],
        calendar=[{"date": date(2026, 12, 2)}],
        spares_orders=needs({1: 1, 3: 1, 4: 1, 5: 1}),
    )
    assert plan.orders_of("resin") == [(1, 1, 3), (4, 4, 1)]


def test_no_order_covers_more_days_than_its_item_keeps() -> None:
    wanted: dict[int, float] = {2: 1, 3: 1, 4: 1, 5: 1, 6: 1}
    assert orders_for(wanted, cover_days=10, longest_cover_days=2) == [
        (2, 2, 2),
        (4, 4, 2),
        (6, 6, 1),
    ]


def test_a_shelf_life_longer_than_the_cover_changes_nothing() -> None:
    wanted: dict[int, float] = {2: 1, 3: 1, 4: 1}
    assert orders_for(wanted, cover_days=2, longest_cover_days=90) == [(2, 2, 2), (4, 4, 1)]
    assert orders_for(wanted, longest_cover_days=90) == [(2, 2, 1), (3, 3, 1), (4, 4, 1)]


def test_an_order_takes_the_greatest_lack_within_its_cover_and_not_the_last() -> None:
    # D is 5 on day 2, 9 on day 3 and 1 from day 4 on, when a receipt has come
    plan = plan_of(
        [item("resin", cover_days=5)],
        open_orders=[receipt("resin", 8, 4)],
        spares_orders=needs({2: 5, 3: 4}),
    )
    assert plan.orders_of("resin") == [(2, 2, 9)]


def test_a_receipt_within_the_cover_is_not_ordered_again() -> None:
    # D is 5 on day 2, -5 on day 3 and -2 on day 4
    plan = plan_of(
        [item("resin", cover_days=5)],
        open_orders=[receipt("resin", 10, 3)],
        spares_orders=needs({2: 5, 4: 3}),
    )
    assert plan.orders_of("resin") == [(2, 2, 5)]


def test_a_cover_beyond_the_horizon_ends_with_it() -> None:
    plan = plan_over(1, [item("resin", cover_days=2000)], spares_orders=needs({1: 1, 4: 1, 5: 7}))
    assert plan.orders_of("resin") == [(1, 1, 2)]


def test_a_small_order_is_raised_to_the_minimum_and_the_rest_serves_later() -> None:
    # day 2: 10 for 3; day 6: C 8 is within P 10; day 8: C 12, 2 lacking, again 10
    assert orders_for({2: 3, 6: 5, 8: 4}, minimum=10) == [(2, 2, 10), (8, 8, 10)]


def test_a_large_order_is_not_changed_by_the_minimum() -> None:
    assert orders_for({2: 12.5}, minimum=10) == [(2, 2, 12.5)]


def test_an_order_is_rounded_up_to_a_multiple() -> None:
    assert orders_for({2: 3}, multiple=2.5) == [(2, 2, 5)]
    assert orders_for({2: 5}, multiple=2.5) == [(2, 2, 5)]


def test_an_order_is_raised_to_the_minimum_before_it_is_rounded_up() -> None:
    assert orders_for({2: 3}, minimum=10, multiple=4) == [(2, 2, 12)]


def test_the_minimum_and_multiple_apply_to_what_is_started() -> None:
    # 9 good need 9 / 0.9 = 10 started, which is the minimum and a multiple already
    assert orders_for({2: 9}, minimum=10, multiple=5, scrap_rate=0.1) == [(2, 2, 10)]


def test_pieces_are_always_whole() -> None:
    assert orders_for({2: 2.5}, unit="pc") == [(2, 2, 3)]
    assert orders_for({2: 2.5}, unit="m") == [(2, 2, 2.5)]


def test_a_broken_multiple_of_pieces_is_rounded_up_to_whole_pieces_as_well() -> None:
    # 6 -> 7.5, the next multiple of 2.5 -> 8
    assert orders_for({2: 6}, unit="pc", multiple=2.5) == [(2, 2, 8)]


def test_what_rounding_up_leaves_over_serves_the_next_need() -> None:
    assert orders_for({2: 0.5, 3: 0.5, 4: 0.5}, unit="pc") == [(2, 2, 1), (4, 4, 1)]


def test_a_hair_of_arithmetic_does_not_make_an_order() -> None:
    # 0.1 + 0.2 is a hair above 0.3
    plan = plan_of(
        [item("resin")], stock=[lot("resin", 0.3)], spares_orders=needs({2: 0.1, 3: 0.2})
    )
    assert plan.orders_of("resin") == []


def test_a_hair_of_arithmetic_does_not_add_a_multiple() -> None:
    # (0.1 + 0.2) / 0.1 is a hair above 3
    assert orders_for({2: 0.1, 3: 0.2}, multiple=0.1, cover_days=2) == [(2, 2, 0.3)]


def test_a_real_difference_is_ordered_however_small() -> None:
    small = 2.0**-16
    plan = plan_of(
        [item("resin")], stock=[lot("resin", 1024)], spares_orders=needs({2: 1024 + small})
    )
    assert plan.orders_of("resin") == [(2, 2, small)]


# ---------------------------------------------------------------- scrap


def scrapping(item_rate: float | None, process_rate: float | None) -> Plan:
    return plan_of(
        [item("skin", source="make", process="lay-up", scrap_rate=item_rate)],
        processes=[{"process": "lay-up", "scrap_rate": process_rate}],
        spares_orders=needs({3: 6}, "skin"),
    )


@pytest.mark.parametrize(
    ("item_rate", "process_rate", "started"),
    [(0.25, 0.5, 8), (None, 0.5, 12), (0, 0.5, 6), (0.25, None, 8), (None, None, 6)],
)
def test_the_scrap_rate_is_that_of_the_item_or_else_of_its_process(
    item_rate: float | None, process_rate: float | None, started: float
) -> None:
    plan = scrapping(item_rate, process_rate)
    assert plan.orders_of("skin") == [(3, 3, started)]
    assert plan.orders["expected_good"].to_list() == [6]


def test_what_is_expected_good_beyond_the_need_is_carried_forward() -> None:
    # 0.8 good a start; day 2: 2 started, 1.6 good; day 3: C 2, 0.4 lacking, 1 started, P 2.4;
    # day 4: C 3, 0.6 lacking, 1 started, P 3.2; day 5: C 4, 0.8 lacking, 1 started, P 4
    wanted: dict[int, float] = {2: 1, 3: 1, 4: 1, 5: 1}
    assert [quantity for _, _, quantity in orders_for(wanted, unit="pc", scrap_rate=0.2)] == [
        2,
        1,
        1,
        1,
    ]


def test_twelve_pieces_with_eight_percent_scrap_take_fourteen_starts_on_one_day_too() -> None:
    # 12 / 0.92 = 13.04
    assert orders_for({2: 12}, unit="pc", scrap_rate=0.08) == [(2, 2, 14)]


# ---------------------------------------------------------------- dates of an order


def test_an_order_is_due_its_safety_days_ahead_and_starts_its_lead_days_before() -> None:
    assert orders_for({9: 1}, lead_days=6, safety_days=2) == [(1, 7, 1)]


def test_an_order_that_should_have_started_before_day_0_is_late_by_these_days() -> None:
    # usable 4: due 2, start -4; usable 1: due -1, start -7; usable 8: due 6, start 0
    apart: dict[str, object] = {"lead_days": 6, "safety_days": 2, "longest_cover_days": 1}
    plan = plan_of([item("resin", **apart)], spares_orders=needs({1: 1, 4: 1, 8: 1}))
    assert plan.orders_of("resin") == [(0, 0, 1), (0, 2, 1), (0, 6, 1)]
    assert plan.late_days_of("resin") == [7, 4, 0]


@pytest.mark.parametrize(("due", "orders"), [(6, []), (7, [(0, 3, 2)])])
def test_nothing_is_planned_beside_an_open_order_that_comes_within_the_lead_time(
    due: int, orders: list[Shape]
) -> None:
    # ordered today it is there on day 6: not before the open order of day 6, but before that of 7
    plan = plan_of(
        [item("resin", lead_days=6, safety_days=1, longest_cover_days=1)],
        open_orders=[receipt("resin", 2, due)],
        spares_orders=needs({4: 2}),
    )
    assert plan.orders_of("resin") == orders


def test_what_an_open_order_within_the_lead_time_brings_is_on_hand_only_when_it_comes() -> None:
    plan = plan_of(
        [item("resin", lead_days=6)],
        open_orders=[receipt("resin", 5, 4)],
        spares_orders=needs({2: 3, 5: 2, 8: 1}),
    )
    assert plan.orders_of("resin") == [(2, 8, 1)]
    assert plan.on_hand_of("resin")[:9] == [0, 0, -3, -3, 2, 0, 0, 0, 0]


def test_an_open_order_of_a_phantom_serves_no_need_before_it_comes() -> None:
    # its lead time does not count, so it is out of reach after day 0
    plan = plan_of(
        [item("set", source="phantom", lead_days=6), item("resin")],
        structure=[line("set", "resin", 1)],
        open_orders=[receipt("set", 2, 4)],
        spares_orders=[need("set", 2, 3)],
    )
    assert plan.gross_of("resin") == {3: 2}


def test_what_is_late_is_ordered_once() -> None:
    # an order placed today is in time from day 6 + 2 on: those for days 1 and 7 are late
    plan = plan_of(
        [item("resin", lead_days=6, safety_days=2)], spares_orders=needs({1: 1, 7: 3, 8: 5})
    )
    assert plan.orders_of("resin") == [(0, 0, 4), (0, 6, 5)]
    assert plan.late_days_of("resin") == [7, 0]


def test_a_late_order_covers_more_where_its_cover_reaches_further() -> None:
    # day 3 is late; its cover of 5 days ends on day 7, a cover of 1 on day 3
    for cover, orders in ((5, [(0, 3, 6)]), (1, [(0, 3, 1), (1, 5, 2), (3, 7, 3)])):
        late = item("resin", lead_days=4, cover_days=cover)
        plan = plan_of([late], spares_orders=needs({3: 1, 5: 2, 7: 3}))
        assert plan.orders_of("resin") == orders


@pytest.mark.parametrize(
    ("longest", "orders"),
    [(1, [(0, 1, 1), (0, 3, 2), (0, 4, 4)]), (3, [(0, 1, 3), (0, 4, 4)]), (4, [(0, 1, 7)])],
)
def test_a_late_order_covers_no_more_than_its_longest_cover(
    longest: int, orders: list[Shape]
) -> None:
    # from day 1 on three days end with day 3, four with day 4
    late = item("resin", lead_days=9, longest_cover_days=longest)
    assert plan_of([late], spares_orders=needs({1: 1, 3: 2, 4: 4})).orders_of("resin") == orders


def test_a_late_order_is_no_greater_for_what_open_orders_then_bring() -> None:
    # D is 2 on day 1, 5 on day 3 and, as 4 come on day 10, 1 on day 10: the order is for 5
    plan = plan_of(
        [item("resin", lead_days=9)],
        open_orders=[receipt("resin", 4, 10)],
        spares_orders=needs({1: 2, 3: 3}),
    )
    assert plan.orders_of("resin") == [(0, 1, 5)]


def test_an_overdue_need_is_planned_for_day_0() -> None:
    plan = plan_of([item("resin", lead_days=2)], spares_orders=[need("resin", 1, day(-10))])
    assert plan.orders_of("resin") == [(0, 0, 1)]
    assert plan.late_days_of("resin") == [2]


def test_the_record_of_a_week_shows_planned_orders_where_they_can_be_used() -> None:
    # started in the first week, usable in the second
    plan = plan_over(
        2,
        [item("resin", lead_days=3, safety_days=1)],
        stock=[lot("resin", 1)],
        open_orders=[receipt("resin", 2, 1)],
        spares_orders=needs({2: 2, 6: 4}),
    )
    assert plan.orders_of("resin") == [(2, 5, 3)]
    assert plan.weekly("resin", "gross") == [2, 4]
    assert plan.weekly("resin", "receipts") == [2, 0]
    assert plan.weekly("resin", "planned") == [0, 3]
    assert plan.weekly("resin", "projected") == [1, 0]
