"""What is just still so when a week is booked, and what just is not."""

import datetime as dt

import pytest

from tests.planning.closing.test_close_week import (
    ARRIVED,
    BOX,
    BUY,
    HULLS,
    MONDAY,
    booked,
    in_stock,
    lacking,
    noted,
    on_order,
    refused,
)


def test_a_delivery_may_be_promised_for_the_first_day_of_the_week() -> None:
    found = booked(ordered=[{**BUY, "order": "P-9", "promised": MONDAY}])
    assert on_order(found, "P-9")[0]["due_date"] == MONDAY


def test_an_order_of_nothing_is_refused() -> None:
    assert refused(ordered=[{**BUY, "order": "P-9", "quantity": 0.0}])


def test_a_delivery_of_which_all_is_refused_is_still_owed() -> None:
    found = booked(arrived=[{**ARRIVED, "arrived": 20.0, "rejected": 20.0}])
    assert in_stock(found, "cleat") == {("A1", ""): 10}
    assert on_order(found, "P-1")[0]["quantity"] == 20
    assert found.tables["arrivals_log"].is_empty()


@pytest.mark.parametrize(("days", "past"), [(0, False), (-1, True)])
def test_what_comes_past_its_last_day_is_told(days: int, past: bool) -> None:
    entry = {**ARRIVED, "arrived": 5.0, "use_by": MONDAY + dt.timedelta(days=days)}
    assert (noted(booked(arrived=[entry])) != "") is past


@pytest.mark.parametrize(
    ("good", "scrapped", "rest"), [(2.0, 0.0, 1), (1.0, 2.0, 0), (3.0, 0.0, 0)]
)
def test_what_is_neither_good_nor_scrapped_is_still_in_work(
    good: float, scrapped: float, rest: float
) -> None:
    picks = [{"order": "make-0002", "item": "resin", "need_date": MONDAY, "picked": 6.0}]
    found = booked(worked=[{**HULLS, "good": good, "scrapped": scrapped}], picked=picks)
    left = [row["quantity"] for row in on_order(found, "2026-W49-make-0002")]
    assert left == ([rest] if rest else [])
    assert lacking(found, "2026-W49-make-0002") == {}


def test_a_box_may_leave_on_the_last_day_of_the_week() -> None:
    sunday = MONDAY + dt.timedelta(days=6)
    line = {**BOX, "component": "cleat", "packed": 2.0}
    assert booked(packed=[{**line, "left_on": sunday}]).account["sent"].sum() == 2
    assert refused(packed=[{**line, "left_on": sunday + dt.timedelta(days=1)}])
