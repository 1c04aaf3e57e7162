"""What a begun order took, down to shares, waste and what is worth a word."""

import datetime as dt
from typing import Any

import polars as pl
import pytest

from tests.planning.closing.test_close_week import (
    BOAT,
    FRIDAY,
    HULLS,
    IN_WORK,
    ITEMS,
    LACKING,
    MONDAY,
    OPEN,
    STOCK,
    STRUCTURE,
    booked,
    closed,
    in_stock,
    inputs,
    noted,
    pick,
    refused,
)


@pytest.mark.parametrize(("picked", "told"), [(2.1, False), (2.3, True)])
def test_what_was_picked_beyond_a_tenth_of_a_part_of_an_order_is_told(
    picked: float, told: bool
) -> None:
    # one of three hulls takes 2 kg
    found = booked(worked=[{**HULLS, "begun": 1.0}], picked=[pick("make-0002", "resin", picked)])
    assert ("more than the order still lacks" in noted(found)) is told


@pytest.mark.parametrize(("picked", "enough"), [(3.0, True), (2.0, False)])
def test_pieces_that_a_line_counts_as_waste_need_not_be_picked(picked: float, enough: bool) -> None:
    # of the four cleats of a boat one may be saved; the other line with cleats has no waste
    lines: list[Any] = [
        line | {"waste": 0.25 if line["parent"] == "boat" else 0.0} for line in STRUCTURE
    ]
    picks = [pick("make-0001", "cleat", picked), pick("make-0001", "hull", 1.0, serial="B-1")]
    stock = [*STOCK, {"item": "hull", "quantity": 1, "location": "hall"}]
    words = refused(
        inputs(structure=lines, stock=stock), worked=[{**BOAT, "good": 1.0}], picked=picks
    )
    assert ("cleat" not in words) is enough


def test_of_what_no_line_knows_nothing_is_waste() -> None:
    flag = {"item": "flag", "source": "buy", "unit": "pc"}
    later = dt.date(2027, 2, 1)  # past the horizon, so that no peg tells of it
    lacks = [*LACKING, {"order": "W-1", "item": "flag", "quantity": 1, "need_date": later}]
    beyond = inputs(items=[*ITEMS, flag], allocations=lacks)
    assert "flag" in refused(beyond, worked=[{**IN_WORK, "good": 4.0}])


def test_a_row_that_is_filled_in_twice_is_named_by_the_first_column_of_its_key() -> None:
    twice = [{**IN_WORK, "good": 1.0}, {**IN_WORK, "good": 1.0}]
    assert "column order" in refused(worked=twice)


def test_pulls_are_shared_by_the_moulds_that_are_not_worn() -> None:
    moulds = [
        {"mould": f"M-{left}", "item": "hull", "pulls_per_week": 4, "pulls_left": left}
        for left in (0, 10, None)
    ]
    found = booked(inputs(moulds=moulds), worked=[{**HULLS, "begun": 3.0}])
    left = dict(found.tables["moulds"].select("mould", "pulls_left").iter_rows())
    assert left == {"M-0": 0, "M-10": 8.5, "M-None": None}


def test_two_airframes_on_two_shelves_are_not_both_handed_over() -> None:
    there = {"item": "boat", "quantity": 1, "serial": "B-1"}
    stock = [*STOCK, {**there, "location": "hall"}, {**there, "location": "yard"}]
    found = closed(inputs(stock=stock), delivered=[{"serial": "B-1", "delivered_on": MONDAY}])
    left = found.tables["stock"].filter(pl.col("item") == "boat")
    assert left["quantity"].to_list() == [1]


def test_the_last_pull_of_a_mould_counts_among_those_that_share() -> None:
    moulds = [
        {"mould": f"M-{left}", "item": "hull", "pulls_per_week": 4, "pulls_left": left}
        for left in (1, 10)
    ]
    found = booked(inputs(moulds=moulds), worked=[{**HULLS, "begun": 2.0}])
    left = dict(found.tables["moulds"].select("mould", "pulls_left").iter_rows())
    assert left == {"M-1": 0, "M-10": 9}


def test_what_is_kept_and_on_order_for_an_airframe_that_leaves_is_named_and_nothing_else() -> None:
    there = {"item": "boat", "quantity": 1, "serial": "B-1", "location": "hall"}
    mast = {"item": "hull", "quantity": 1, "due_date": FRIDAY}
    open_orders = [*OPEN, {**mast, "order": "W-8", "serial": "B-1"},
                   {**mast, "order": "W-9", "serial": "B-2"}]  # fmt: skip
    kept = {"item": "cleat", "quantity": 1, "location": "A2", "serial": "B-1"}
    found = booked(
        inputs(stock=[*STOCK, there, kept], open_orders=open_orders),
        delivered=[{"serial": "B-1", "delivered_on": MONDAY}],
    )
    assert "W-8" in noted(found) and "W-9" not in noted(found)
    assert "cleat" in noted(found) and "hull" not in noted(found)


def test_where_the_list_names_no_lot_what_lies_without_one_is_taken_first() -> None:
    spoils = {"item": "resin", "quantity": 5, "location": "cold", "lot": "old", "expires": FRIDAY}
    stock = [{"item": "resin", "quantity": 8, "location": "cold"}, spoils]
    entry = pick("make-0002", "resin", 6.0)
    found = booked(inputs(stock=stock), picked=[entry], worked=[{**HULLS, "begun": 3.0}])
    assert in_stock(found, "resin") == {("cold", ""): 2, ("cold", "old"): 5}


def test_what_is_kept_for_the_airframe_is_taken_before_what_lies_free() -> None:
    kept = {"item": "cleat", "quantity": 3, "location": "Z9", "serial": "B-1"}
    free = {"item": "cleat", "quantity": 10, "location": "A1"}
    found = booked(
        inputs(stock=[free, kept]),
        picked=[pick("make-0001", "cleat", 4.0)],
        worked=[{**BOAT, "begun": 1.0}],
    )
    assert in_stock(found, "cleat") == {("A1", ""): 9}
