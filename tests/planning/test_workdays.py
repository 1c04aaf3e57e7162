"""The axis of working days: which days there are, and on which of them a date counts."""

from datetime import date

import polars as pl

from bomkit.planning.workdays import Workdays, working_days
from tests.planning.driver import MONDAY, day, item, need, plan_of, plan_over, receipt
from tests.random_tables import Row

SATURDAY, SUNDAY = date(2026, 12, 5), date(2026, 12, 6)
CLOSED = date(2026, 12, 8)  # the Tuesday of the second week
HORIZON_END = date(2026, 12, 14)


def two_weeks() -> Workdays:
    """Monday 2026-11-30 to Sunday 2026-12-13, less one closed day: days 0 to 8."""
    return working_days(MONDAY, 2, [CLOSED])


def dates(*values: date) -> pl.Series:
    return pl.Series(list(values), dtype=pl.Date)


def test_working_days_are_mondays_to_fridays_less_closed_days() -> None:
    axis = two_weeks()
    assert axis.count == 9
    assert axis.on(pl.Series(range(9))).to_list() == [
        *(day(number) for number in range(6)),
        *(day(number) for number in (7, 8, 9)),
    ]


def test_a_closed_weekend_day_takes_nothing_away() -> None:
    assert working_days(MONDAY, 2, [SATURDAY]).count == 10


def test_an_open_saturday_or_sunday_is_a_working_day() -> None:
    axis = working_days(MONDAY, 2, [CLOSED], opened=[SATURDAY])
    assert axis.count == 10
    assert axis.on(pl.Series([4, 5, 6])).to_list() == [day(4), SATURDAY, day(5)]
    placed = axis.needs(dates(SATURDAY, SUNDAY))
    assert placed["day"].to_list() == [5, 5]
    assert axis.receipts(dates(SATURDAY, SUNDAY))["day"].to_list() == [5, 6]
    assert working_days(MONDAY, 2, [], opened=[SUNDAY]).date(5) == SUNDAY


def test_a_saturday_shift_of_the_calendar_lets_work_start_on_it() -> None:
    # two days before the second Monday lie Saturday and Friday
    shift: list[Row] = [{"date": SATURDAY, "reason": "shift", "open": "yes"}]
    closed: list[Row] = [{"date": SATURDAY, "reason": "fair", "open": "no"}]
    for calendar, first in ((shift, day(4)), (closed, day(3)), ([], day(3))):
        plan = plan_of(
            [item("skin", lead_days=2)], spares_orders=[need("skin", 1, day(5))], calendar=calendar
        )
        assert plan.orders["start_date"].to_list() == [first]


def test_day_0_is_the_first_working_day_at_or_after_the_start() -> None:
    # one week from Saturday 2026-12-05 ends on Friday 2026-12-11
    axis = working_days(SATURDAY, 1, [date(2026, 12, 7)])
    assert axis.on(pl.Series([0])).to_list() == [CLOSED]
    assert axis.count == 4


def test_a_horizon_in_the_middle_of_a_week_ends_in_the_middle_of_a_week() -> None:
    # Wednesday 2026-12-02 to Tuesday 2026-12-08
    axis = working_days(day(2), 1, [])
    assert axis.on(pl.Series([0, 4])).to_list() == [day(2), day(6)]
    assert axis.count == 5


def test_a_need_on_a_day_off_counts_on_the_last_working_day_before_it() -> None:
    placed = two_weeks().needs(dates(day(4), SATURDAY, SUNDAY, day(5), CLOSED, day(7)))
    assert placed["day"].to_list() == [4, 4, 4, 5, 5, 6]
    assert not placed["overdue"].any()
    assert not placed["past"].any()


def test_a_receipt_on_a_day_off_counts_on_the_first_working_day_after_it() -> None:
    placed = two_weeks().receipts(dates(day(4), SATURDAY, SUNDAY, day(5), CLOSED, day(7)))
    assert placed["day"].to_list() == [4, 5, 5, 5, 6, 6]
    assert not placed["overdue"].any()
    assert not placed["past"].any()


def test_what_was_needed_or_due_before_day_0_counts_on_day_0_as_overdue() -> None:
    before = dates(date(2026, 11, 29), date(2026, 1, 1), MONDAY)
    for placed in (two_weeks().needs(before), two_weeks().receipts(before)):
        assert placed["day"].to_list() == [0, 0, 0]
        assert placed["overdue"].to_list() == [True, True, False]


def test_what_was_needed_between_the_start_and_day_0_is_overdue_too() -> None:
    axis = working_days(SATURDAY, 2, [])
    assert axis.needs(dates(SUNDAY)).row(0) == (0, True, False)


def test_a_need_on_the_last_weekend_still_counts_and_one_after_it_lies_past() -> None:
    placed = two_weeks().needs(dates(date(2026, 12, 13), HORIZON_END))
    assert placed["day"][0] == 8
    assert placed["past"].to_list() == [False, True]


def test_a_receipt_on_the_last_weekend_comes_too_late() -> None:
    placed = two_weeks().receipts(dates(date(2026, 12, 11), date(2026, 12, 12), HORIZON_END))
    assert placed["day"][0] == 8
    assert placed["past"].to_list() == [False, True, True]


def test_stock_can_last_be_used_on_the_last_working_day_up_to_its_expiry() -> None:
    uses = two_weeks().last_uses(dates(day(4), SUNDAY, CLOSED, day(7)))
    assert uses["day"].to_list() == [4, 4, 5, 6]
    assert not uses["beyond"].any()


def test_stock_that_expires_before_day_0_has_no_day_of_use() -> None:
    assert two_weeks().last_uses(dates(date(2026, 11, 29), MONDAY))["day"].to_list() == [-1, 0]


def test_stock_that_expires_past_the_horizon_is_marked() -> None:
    uses = two_weeks().last_uses(dates(date(2026, 12, 13), HORIZON_END))
    assert uses["beyond"].to_list() == [False, True]


def test_stock_without_expiry_has_no_last_day() -> None:
    uses = two_weeks().last_uses(pl.Series([None, day(3)], dtype=pl.Date))
    assert uses["day"].to_list() == [None, 3]


def test_weeks_are_named_by_the_iso_year() -> None:
    # Monday 2026-12-28 to Friday 2027-01-08
    weeks = working_days(date(2026, 12, 28), 2, []).weeks().to_list()
    assert weeks == ["2026-W53"] * 5 + ["2027-W01"] * 5


def test_days_past_the_horizon_have_dates_as_far_as_asked() -> None:
    axis = working_days(MONDAY, 2, [date(2026, 12, 14)], beyond=10)
    assert axis.on(pl.Series([10])).to_list() == [date(2026, 12, 15)]


def test_a_plan_counts_needs_and_receipts_on_their_working_days() -> None:
    # the need of Saturday counts on Friday, day 4; the receipt of Saturday on Monday, day 5
    plan = plan_of(
        [item("resin")],
        spares_orders=[need("resin", 2, SATURDAY)],
        open_orders=[receipt("resin", 2, SATURDAY)],
    )
    assert plan.orders_of("resin") == [(4, 4, 2)]
    assert plan.on_hand_of("resin")[4:6] == [0, 2]


def test_overdue_needs_and_receipts_count_on_day_0_of_a_plan_and_are_marked() -> None:
    plan = plan_of(
        [item("resin")],
        spares_orders=[need("resin", 5, day(-7)), need("resin", 1, day(0))],
        open_orders=[receipt("resin", 2, day(-3))],
    )
    assert plan.orders_of("resin") == [(0, 0, 4)]
    assert plan.network.demands.sort("date")["overdue"].to_list() == [True, False]
    assert plan.network.receipts["overdue"].to_list() == [True]


def test_what_lies_past_the_horizon_is_left_out_of_a_plan_and_marked() -> None:
    plan = plan_over(
        1,
        [item("resin")],
        spares_orders=[need("resin", 5, day(5)), need("resin", 1, day(4))],
        open_orders=[receipt("resin", 8, day(5)), receipt("resin", 9, SATURDAY)],
    )
    assert plan.orders_of("resin") == [(4, 4, 1)]
    assert plan.on_hand_of("resin")[-1] == 0
    assert plan.network.demands.sort("date")["past"].to_list() == [False, True]
    assert plan.network.receipts["past"].to_list() == [True, True]


def test_lead_and_safety_days_are_working_days() -> None:
    # with 2026-12-08 closed, day 6 is Wednesday 12-09; 2 days before it is Friday 12-04
    plan = plan_of(
        [item("resin", lead_days=1, safety_days=1)],
        calendar=[{"date": CLOSED}],
        spares_orders=[need("resin", 1, date(2026, 12, 9))],
    )
    assert plan.orders.select("start_date", "due_date").rows() == [(day(4), day(5))]
