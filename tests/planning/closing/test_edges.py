"""What is just still so when a week is booked, and what just is not."""

import datetime as dt

import pytest

from bomkit.planning.closing.ledger import tidy
from tests.planning.closing.test_close_week import (
    ARRIVED,
    BOX,
    BUY,
    FRIDAY,
    HULLS,
    MONDAY,
    OPEN,
    WEDNESDAY,
    booked,
    closed,
    in_stock,
    inputs,
    lacking,
    noted,
    on_order,
    pick,
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


def test_of_a_lot_that_lasts_to_the_end_of_the_week_what_is_gone_was_scrapped() -> None:
    shelf = {"item": "resin", "location": "cold", "lot": "old", "status": "usable"}
    for last, scrapped in ((FRIDAY, 2), (FRIDAY + dt.timedelta(days=3), 0)):
        old = {"item": "resin", "quantity": 5, "location": "cold", "lot": "old", "expires": last}
        found = booked(inputs(stock=[old]), counted=[{**shelf, "expires": last, "counted": 3.0}])
        row = found.account.filter(item="resin").row(0, named=True)
        assert (row["scrapped"], row["counted"]) == (scrapped, scrapped - 2)


def test_sums_keep_nine_decimals_and_no_last_bits() -> None:
    assert tidy(1 / 3) == 0.333333333
    assert tidy(0.1 + 0.2) == 0.3
    assert tidy(1e-7, 100.0) == 0.0 != tidy(1e-7)


def test_what_other_orders_lack_stays_when_one_is_begun() -> None:
    found = booked(worked=[{**HULLS, "begun": 3.0}])
    assert lacking(found, "W-1") == {"resin": 3}
    assert lacking(found, "2026-W49-make-0002") != {}


def test_more_than_there_was_is_refused_with_that_alone() -> None:
    picks = [pick("make-0002", "resin", 60.0)]
    found = closed(picked=picks, worked=[{**HULLS, "begun": 3.0}])
    assert len(found.problems) == 1 and "more than there was" in noted(found)


def test_of_what_is_finished_without_waste_none_stands_in_the_log() -> None:
    picks = [{"order": "make-0002", "item": "resin", "need_date": MONDAY, "picked": 6.0}]
    found = booked(worked=[{**HULLS, "good": 3.0}], picked=picks)
    assert found.tables["scrap_log"].select("started", "scrapped").rows() == [(3.0, 0.0)]


def test_less_than_one_unit_arrives_of_what_is_measured_with_nothing_refused() -> None:
    drum = {"order": "P-2", "item": "resin", "quantity": 2, "due_date": WEDNESDAY}
    entry = {"order": "P-2", "item": "resin", "due_date": WEDNESDAY, "arrived": 0.5}
    found = booked(inputs(open_orders=[*OPEN, drum]), arrived=[entry])
    assert on_order(found, "P-2")[0]["quantity"] == 1.5


def test_a_list_may_leave_out_for_whom_a_common_item_is_on_order() -> None:
    kept = {"order": "P-3", "item": "cleat", "quantity": 5, "due_date": WEDNESDAY, "serial": "B-1"}
    entry = {"order": "P-3", "item": "cleat", "due_date": WEDNESDAY, "arrived": 5.0}
    tables = inputs(open_orders=[*OPEN, kept])
    assert on_order(booked(tables, arrived=[entry]), "P-3") == []
    twice = inputs(open_orders=[*OPEN, kept, {**kept, "serial": "B-2"}])
    assert closed(twice, arrived=[entry]).problems


def test_pulls_that_a_mould_had_are_no_words_worth() -> None:
    mould = {"mould": "M-1", "item": "hull", "pulls_per_week": 4, "pulls_left": 5}
    found = booked(inputs(moulds=[mould]), pulled=[{"item": "M-1", "pulls": 5}])
    assert found.tables["moulds"]["pulls_left"][0] == 0 and noted(found) == ""
