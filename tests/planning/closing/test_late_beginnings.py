"""What is begun late is due late; days before the week, and names that nobody has, are refused."""

import datetime as dt
from typing import Any

import pytest

from tests.planning.closing import test_close_week as yard

THURSDAY = dt.date(2026, 12, 3)
READY = {"order": "make-0002", "item": "hull", "start_date": yard.MONDAY}


def due(can_start: dt.date, picked: float, **more: Any) -> dt.date:
    """The day on which the order of three hulls is due once it was begun."""
    found = yard.close_week(
        yard.inputs(**more),
        yard.results(ready=[{**READY, "can_start": can_start}]),
        yard.filled_in(
            worked=[{**yard.HULLS, "begun": 3.0}],
            picked=[yard.pick("make-0002", "resin", picked)],
        ),
    )
    [row] = yard.on_order(found, "2026-W49-make-0002")
    day: dt.date = row["due_date"]
    return day


def test_an_order_that_could_only_start_on_thursday_is_due_three_working_days_later() -> None:
    assert due(yard.MONDAY, 6.0) == yard.FRIDAY
    assert due(THURSDAY, 6.0) == dt.date(2026, 12, 9)
    shut = [{"date": dt.date(2026, 12, 7)}, {"date": dt.date(2026, 12, 2)}]
    assert due(THURSDAY, 6.0, calendar=shut) == dt.date(2026, 12, 9)


def test_one_that_still_lacks_something_waits_for_that_and_keeps_its_day() -> None:
    assert due(THURSDAY, 5.0) == yard.FRIDAY


@pytest.mark.parametrize(
    ("entries", "column"),
    [
        ({"ordered": [{**yard.BUY, "order": "P-9", "promised": dt.date(2025, 12, 9)}]}, "promised"),
        ({"answered": [{**yard.ASKED, "new_date": dt.date(2026, 11, 29)}]}, "new_date"),
    ],
)
def test_a_day_before_the_week_can_not_be_promised(entries: Any, column: str) -> None:
    words = yard.refused(**entries)
    assert f"column {column}" in words and "is before the week that is closed" in words
    first = {"ordered": "promised", "answered": "new_date"}
    [(kind, [row])] = entries.items()
    yard.booked(**{kind: [{**row, first[kind]: yard.MONDAY}]})


def test_a_pick_for_a_name_that_is_nearly_an_order_says_which() -> None:
    words = yard.refused(picked=[yard.pick("make-002", "resin", 1.0)])
    assert "column order: 'make-002' is no order of this run" in words
    assert "did you mean make-0002?" in words


def test_good_pieces_go_where_others_lie_even_if_those_can_not_be_used() -> None:
    stock = [{"item": "hull", "quantity": 1, "location": "hall", "status": "quarantine"}]
    found = yard.booked(yard.inputs(stock=stock), worked=[{**yard.IN_WORK, "good": 1.0}])
    usable = found.tables["stock"].filter(status="usable").row(0, named=True)
    assert (usable["item"], usable["location"]) == ("hull", "hall")
