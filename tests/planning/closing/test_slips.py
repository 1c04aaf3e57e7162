"""A figure or a day that is far off is booked and told: somebody may have reasons."""

import datetime as dt
from typing import Any

import pytest

from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.words.weekly.asking import ASK_COLUMNS
from tests.planning.closing import test_close_week as yard
from tests.planning.closing.filled import filled_in

TWO_YEARS_ON = dt.date(2028, 11, 30)
LATER = TWO_YEARS_ON + dt.timedelta(days=1)
FROM = yard.MONDAY
ORDERED = {**yard.BUY, "order": "P-9"}
SUNDAY_BEFORE = FROM - dt.timedelta(days=1)
BUILT = [*yard.STOCK, {"item": "boat", "quantity": 1, "serial": "B-1"}]
SPARE = {"order": "S-2", "item": "cleat", "need_date": yard.FRIDAY, "component": "cleat"}
SHELF = {"item": "cleat", "location": "A1", "status": "usable"}
DRUM = {"item": "resin", "location": "cold", "lot": "new", "status": "usable"}


def told(**entries: list[Any]) -> str:
    """What is told of entries that are booked."""
    return yard.noted(yard.booked(**entries))


def test_more_than_ten_times_what_the_plan_asks_for_is_ordered_and_told() -> None:
    assert told(ordered=[{**ORDERED, "quantity": 500.0}]) == ""
    found = yard.booked(ordered=[{**ORDERED, "quantity": 1e9}])
    assert yard.on_order(found, "P-9")[0]["quantity"] == 1e9
    assert yard.noted(found) == (
        "warning: book.xlsx › ordered › row 5, column quantity: '1000000000' is more than ten "
        "times the 50 pc that the plan asks for, and all of it is on order now: if that is a slip, "
        "correct the cell and take the week back again"
    )


def test_more_than_ten_times_what_was_on_order_is_on_order_and_told() -> None:
    assert told(answered=[{**yard.ASKED, "new_quantity": 200.0}]) == ""
    words = told(answered=[{**yard.ASKED, "new_quantity": 201.0}])
    assert "column new_quantity: '201' is more than ten times the 20 pc that were on order" in words


@pytest.mark.parametrize(
    ("kind", "row", "column"),
    [("ordered", ORDERED, "promised"), ("answered", yard.ASKED, "new_date")],
)
def test_a_day_more_than_two_years_ahead_is_planned_with_and_told(
    kind: str, row: dict[str, Any], column: str
) -> None:
    assert told(**{kind: [{**row, column: TWO_YEARS_ON}]}) == ""
    words = told(**{kind: [{**row, column: LATER}]})
    assert f"column {column}: '2028-12-01' is more than two years after the plan's" in words
    assert "first day (30 Nov 2026)" in words


def test_an_order_that_is_called_off_needs_no_day() -> None:
    assert told(answered=[{**yard.ASKED, "cancelled": "yes"}]) == ""


@pytest.mark.parametrize(
    ("shelf", "counted", "odd"),
    [
        (SHELF, 100.0, False),  # ten times the ten of the books
        (SHELF, 101.0, True),
        (DRUM, 50.0, False),
        (DRUM, 50.1, True),
    ],
)
def test_a_count_of_more_than_ten_times_the_books_is_taken_and_told(
    shelf: dict[str, Any], counted: float, odd: bool
) -> None:
    found = yard.booked(counted=[{**shelf, "counted": counted}])
    assert counted in yard.in_stock(found, shelf["item"]).values()
    assert ("is far more than the" in yard.noted(found)) is odd


@pytest.mark.parametrize(
    ("item", "books", "counted", "odd"),
    [
        ("cleat", 1, 11.0, False),  # ten more pieces are a handful
        ("cleat", 1, 12.0, True),
        ("resin", 0.05, 1.05, False),  # and one unit more a little
        ("resin", 0.05, 1.1, True),
    ],
)
def test_a_handful_more_than_the_books_is_no_words_worth(
    item: str, books: float, counted: float, odd: bool
) -> None:
    tables = yard.inputs(stock=[{"item": item, "quantity": books, "location": "A1"}])
    entry = {"item": item, "location": "A1", "status": "usable", "counted": counted}
    words = yard.noted(yard.booked(tables, counted=[entry]))
    assert ("is far more than the" in words) is odd


def test_a_count_is_held_against_the_books_after_all_else_was_booked() -> None:
    arrived = [{**yard.ARRIVED, "arrived": 20.0}]
    assert told(arrived=arrived, counted=[{**SHELF, "counted": 300.0}]) == ""
    words = told(arrived=arrived, counted=[{**SHELF, "counted": 1e7}])
    assert "column counted: '10000000' is far more than the 30 pc of the books" in words


def test_a_box_that_left_before_the_week_leaves_in_it_and_is_told_once() -> None:
    line = {**yard.BOX, "component": "cleat", "packed": 2.0, "left_on": SUNDAY_BEFORE}
    other = {**yard.BOX, "component": "resin", "packed": 0.5, "left_on": SUNDAY_BEFORE}
    found = yard.booked(packed=[line, other])
    assert found.account.filter(item="cleat")["sent"].to_list() == [2]
    words = "'2026-11-29' is before the week that is closed (from 30 Nov 2026)"
    assert yard.noted(found).count(words) == 1
    assert told(packed=[{**SPARE, "packed": 3.0, "left_on": FROM}]) == ""


def test_an_airframe_that_was_delivered_before_the_week_is_told() -> None:
    tables = yard.inputs(stock=BUILT)
    for day, odd in ((FROM, False), (SUNDAY_BEFORE, True)):
        found = yard.booked(tables, delivered=[{"serial": "B-1", "delivered_on": day}])
        assert ("is before the week that is closed" in yard.noted(found)) is odd
        assert found.tables["fleet"]["delivered"].to_list() == [day]


def test_an_order_of_nothing_is_told_where_to_say_that_it_is_called_off() -> None:
    words = yard.refused(answered=[{**yard.ASKED, "new_quantity": 0.0}])
    assert f"write yes under {ASK_COLUMNS['cancelled']} if that is meant" in words
    words = yard.refused(ordered=[{**ORDERED, "quantity": 0.0}])
    assert "'0' needs a number above 0" in words


def further(**row: Any) -> str:
    """Why a pick besides the lists is refused."""
    pick = {"line": 1, "picked": 2.0, **row}
    own = {name: pick[name] for name in ENTRIES["further_picks"].column_names if name in pick}
    found = yard.close_week(yard.inputs(), yard.results(), filled_in(further_picks=[own]))
    return yard.noted(found)


def test_a_pick_besides_the_lists_says_what_is_missing() -> None:
    assert further(item="cleat").endswith(
        "column order: is missing; write the number of the order that it was picked for"
    )
    assert further(order="make-0001").endswith(
        "column item: is missing; write which component was picked"
    )
    assert "is not what make-0001 takes or still lacks; restore the row's own cells, or" in further(
        order="make-0001", item="tool kit"
    )


def test_what_a_cell_says_and_what_is_wrong_with_it_read_as_one_sentence() -> None:
    off = yard.refused(answered=[{**yard.ASKED, "cancelled": "yes", "new_quantity": 3.0}])
    assert "'yes' calls the order off, so it can have no new day" in off
    unbuilt = yard.refused(delivered=[{"serial": "B-1", "delivered_on": yard.WEDNESDAY}])
    assert "'2026-12-02' can't be: B-1 is not built, as no finished boat of this serial" in unbuilt
    past = told(arrived=[{**yard.ARRIVED, "arrived": 5.0, "use_by": SUNDAY_BEFORE}])
    assert "'2026-11-29' is before the week: what came was past its last day of use" in past


def test_a_box_that_left_is_named_by_the_line_that_says_so() -> None:
    lines = [{**yard.BOX, "component": "cleat", "packed": 2.0}, {**yard.BOX, "component": "resin"}]
    left = [lines[0], {**lines[1], "left_on": yard.WEDNESDAY}]
    words = "row 6, column left_on: '2026-12-02' says that the box left"
    assert f"{words} without 0.5 of resin" in told(packed=left)
    assert f"{words}, but nothing was packed" in yard.refused(
        packed=[{**lines[0], "packed": None}, left[1]]
    )


def test_what_was_there_is_told_so_that_it_can_be_written_as_it_stands() -> None:
    stock = [{"item": "resin", "quantity": 1234.5678, "location": "cold"}]
    tables = yard.inputs(stock=stock)
    words = yard.refused(tables, picked=[yard.pick("make-0002", "resin", 2000.0)])
    assert "write 1234.568 if more was really there" in words
    yard.booked(tables, picked=[yard.pick("make-0002", "resin", 1234.568)])
