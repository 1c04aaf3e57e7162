"""What people filled in is booked: every piece is somewhere, and what is doubtful is said."""

import datetime as dt
import json
from collections.abc import Mapping
from typing import Any

import polars as pl
import pytest

from bomkit.planning.closing.account_of_week import not_closed
from bomkit.planning.closing.close_week import Closed, close_week
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.results.by_name import RESULTS
from tests.builders import typed_tables
from tests.planning.closing.filled import Frames, filled_in

MONDAY, FRIDAY = dt.date(2026, 11, 30), dt.date(2026, 12, 4)
WEDNESDAY = dt.date(2026, 12, 2)

ITEMS = [
    {"item": "boat", "source": "make", "unit": "pc", "process": "assembly"},
    {"item": "hull", "source": "make", "unit": "pc", "process": "lay-up"},
    {"item": "cleat", "source": "buy", "unit": "pc", "supplier": "smith"},
    {"item": "resin", "source": "buy", "unit": "kg", "supplier": "smith"},
    {"item": "tool kit", "source": "kit", "unit": "pc"},
]
STRUCTURE = [
    {"parent": "boat", "child": "hull", "quantity": 1},
    {"parent": "boat", "child": "cleat", "quantity": 4},
    {"parent": "hull", "child": "resin", "quantity": 2},
    {"parent": "tool kit", "child": "cleat", "quantity": 2},
    {"parent": "tool kit", "child": "resin", "quantity": 0.5},
]
STOCK = [
    {"item": "cleat", "quantity": 10, "location": "A1"},
    {"item": "resin", "quantity": 5, "location": "cold", "lot": "old", "expires": FRIDAY},
    {"item": "resin", "quantity": 5, "location": "cold", "lot": "new"},
    {"item": "hull", "quantity": 1, "location": "hall", "serial": "B-2"},
    {"item": "hull", "quantity": 1, "location": "hall", "status": "quarantine"},
]
OPEN = [
    {"order": "P-1", "item": "cleat", "quantity": 20, "due_date": WEDNESDAY, "supplier": "smith"},
    {"order": "W-1", "item": "hull", "quantity": 4, "due_date": FRIDAY},
]
LACKING = [{"order": "W-1", "item": "resin", "quantity": 3, "need_date": MONDAY}]
BUILD = [
    {"serial": f"B-{number}", "item": "boat", "ready_date": dt.date(2026, 12, 18)}
    for number in (1, 2)
]
SPARES = [
    {"order": "S-1", "item": "tool kit", "quantity": 1, "need_date": FRIDAY},
    {"order": "S-2", "item": "cleat", "quantity": 3, "need_date": FRIDAY},
]


def order(name: str, item: str, quantity: float, serial: str = "", source: str = "make") -> Any:
    """A row of the plan that starts on Monday and is due on Friday."""
    return {
        "order": name,
        "item": item,
        "serial": serial,
        "source": source,
        "start_date": MONDAY,
        "due_date": FRIDAY,
        "quantity": float(quantity),
        "expected_good": float(quantity),
    }


def peg(need: str, item: str, quantity: float, planned: bool = True, **more: Any) -> Any:
    """What an order needs of an item, from stock."""
    row = {"need": need, "from_order": need if planned else "", "item": item, "serial": ""}
    return {**row, "quantity": float(quantity), "need_date": MONDAY, "supply_kind": "stock", **more}


def packing(part: str, quantity: float, name: str = "S-1", item: str = "tool kit") -> Any:
    line = {"order": name, "item": item, "serial": "", "need_date": FRIDAY, "state": "take"}
    return {**line, "part": part, "quantity": float(quantity), "lot": "", "location": ""}


PLANNED: Mapping[str, list[Any]] = {
    "orders": [
        order("make-0001", "boat", 1, "B-1"),
        order("make-0002", "hull", 3),
        order("buy-0001", "cleat", 50, source="buy"),
    ],
    "buy_lines": [
        {
            "order": "buy-0001",
            "item": "cleat",
            "quantity": 50.0,
            "supplier": "smith",
            "arrives": dt.date(2026, 12, 9),
        }
    ],
    "pegs": [
        peg("make-0001", "hull", 1, demand_serial="B-1"),
        peg("make-0001", "cleat", 4, demand_serial="B-1"),
        peg("make-0002", "resin", 6),
        peg("W-1", "resin", 3, planned=False),
    ],
    "packing": [packing("cleat", 2), packing("resin", 0.5), packing("cleat", 3, "S-2", "cleat")],
}


def inputs(**changed: list[Any]) -> Frames:
    """The tables of a small yard; changed: other rows of a table."""
    rows: dict[str, list[Any]] = {
        "plan": [{"start": MONDAY, "horizon_weeks": 6}],
        "items": ITEMS,
        "structure": STRUCTURE,
        "stock": STOCK,
        "open_orders": OPEN,
        "allocations": LACKING,
        "build_plan": BUILD,
        "spares_orders": SPARES,
        "processes": [{"process": "assembly"}, {"process": "lay-up"}],
        "suppliers": [{"supplier": "smith"}, {"supplier": "jones"}],
        **changed,
    }
    frames = typed_tables(rows)
    return {name: frames[name].select(INPUTS[name].column_names) for name in INPUTS}


def results(**changed: list[Any]) -> Frames:
    """What was planned for it; changed: other rows of a table."""
    planned = {**PLANNED, **changed}
    return {
        name: pl.DataFrame(
            [{**table.when_empty, **row} for row in planned.get(name, [])],
            schema=table.schema,
        )
        for name, table in RESULTS.items()
    }


def closed(tables: Frames | None = None, **entries: list[Any]) -> Closed:
    """The week closed with some entries."""
    return close_week(tables or inputs(), results(), filled_in(**entries))


def booked(tables: Frames | None = None, **entries: list[Any]) -> Closed:
    """The same, where nothing may be refused."""
    found = closed(tables, **entries)
    assert [each.sentence() for each in found.problems if each.severity == "error"] == []
    assert not_closed(found.account) == []
    return found


def refused(tables: Frames | None = None, **entries: list[Any]) -> str:
    """Why something was refused, all of it."""
    found = [each.sentence() for each in closed(tables, **entries).problems]
    return "\n".join(words for words in found if words.startswith("error"))


def noted(found: Closed) -> str:
    return "\n".join(each.sentence() for each in found.problems)


def in_stock(found: Closed, item: str) -> dict[tuple[str, str], float]:
    """How much of an item lies where: by place and lot."""
    own = found.tables["stock"].filter(pl.col("item") == item)
    return {(row["location"], row["lot"]): row["quantity"] for row in own.iter_rows(named=True)}


def on_order(found: Closed, name: str) -> list[dict[str, Any]]:
    own = found.tables["open_orders"].filter(pl.col("order") == name)
    return list(own.iter_rows(named=True))


def lacking(found: Closed, name: str) -> dict[str, float]:
    own = found.tables["allocations"].filter(pl.col("order") == name)
    return dict(own.select("item", "quantity").iter_rows())


ARRIVED = {"order": "P-1", "item": "cleat", "due_date": WEDNESDAY}
HULLS = {"order": "make-0002", "item": "hull", "due_date": FRIDAY}
IN_WORK = {"order": "W-1", "item": "hull", "due_date": FRIDAY}
BOAT = {"order": "make-0001", "item": "boat", "serial": "B-1", "due_date": FRIDAY}
BUY = {"plan_order": "buy-0001", "item": "cleat"}
ASKED = {"order": "P-1", "item": "cleat", "due_date": WEDNESDAY}
BOX = {"order": "S-1", "item": "tool kit", "need_date": FRIDAY}


def pick(order_name: str, item: str, quantity: float, **more: Any) -> dict[str, Any]:
    return {"order": order_name, "item": item, "need_date": MONDAY, "picked": quantity, **more}


def test_an_empty_week_changes_the_first_day_alone() -> None:
    before, found = inputs(), booked()
    assert found.tables["plan"]["start"][0] == dt.date(2026, 12, 7)
    for name in INPUTS:
        if name != "plan":
            assert found.tables[name].equals(before[name]), name


def test_a_week_in_which_nobody_works_is_left_out() -> None:
    shut = [{"date": dt.date(2026, 12, day)} for day in range(7, 12)]
    found = booked(inputs(calendar=shut))
    assert found.tables["plan"]["start"][0] == dt.date(2026, 12, 14)


def test_where_nobody_works_in_the_first_week_it_ends_on_its_sunday() -> None:
    shut = [{"date": MONDAY + dt.timedelta(days=number)} for number in range(5)]
    found = booked(inputs(calendar=shut), arrived=[{**ARRIVED, "arrived": 15.0}])
    assert found.tables["arrivals_log"]["arrived"].to_list() == [dt.date(2026, 12, 6)]


def test_what_was_ordered_is_an_open_order_for_the_day_promised_or_planned() -> None:
    found = booked(ordered=[{**BUY, "order": "P-9"}])
    (row,) = on_order(found, "P-9")
    assert (row["quantity"], row["due_date"], row["supplier"]) == (
        50,
        dt.date(2026, 12, 9),  # when it can be there, as that is after the day wanted
        "smith",
    )
    day = dt.date(2026, 12, 11)
    found = booked(ordered=[{**BUY, "order": "P-9", "promised": day, "quantity": 60}])
    (row,) = on_order(found, "P-9")
    assert (row["quantity"], row["due_date"]) == (60, day)


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({**BUY, "order": "P-1"}, "is the number of an order that is open already"),
        ({**BUY, "quantity": 5.0}, "is missing; write the number of the order"),
        ({**BUY, "order": "P-9", "quantity": 2.5}, "'2.5' must be a whole number"),
        ({**BUY, "order": "P-9", "quantity": 0.0}, "needs a number"),
        ({**BUY, "order": "P-9", "item": "resin"}, "is no planned purchase of that item"),
        ({**BUY, "plan_order": "make-0001", "order": "P-9"}, "is no planned purchase"),
    ],
)
def test_an_order_that_can_not_be_so_is_refused(entry: Any, words: str) -> None:
    assert words in refused(ordered=[entry])


def test_one_piece_can_be_ordered() -> None:
    found = booked(ordered=[{**BUY, "order": "P-9", "quantity": 1.0}])
    assert on_order(found, "P-9")[0]["quantity"] == 1


def test_an_answer_changes_the_order_or_calls_it_off() -> None:
    day = dt.date(2026, 12, 16)
    found = booked(answered=[{**ASKED, "new_date": day, "new_quantity": 8.0}])
    (row,) = on_order(found, "P-1")
    assert (row["due_date"], row["quantity"]) == (day, 8)
    found = booked(answered=[{**IN_WORK, "cancelled": "yes"}])
    assert on_order(found, "W-1") == [] and lacking(found, "W-1") == {}


def test_an_answer_that_says_two_things_is_refused() -> None:
    assert "empty one of the two" in refused(
        answered=[{**ASKED, "cancelled": "yes", "new_quantity": 3.0}]
    )
    assert "would leave nothing" in refused(answered=[{**ASKED, "new_quantity": 0.0}])


def test_what_arrived_lies_where_it_was_put_and_the_rest_is_still_on_order() -> None:
    entry = {**ARRIVED, "arrived": 15.0, "rejected": 3.0, "lot": "c-7", "place": "B2"}
    found = booked(arrived=[entry])
    assert in_stock(found, "cleat") == {("A1", ""): 10, ("B2", "c-7"): 12}
    assert on_order(found, "P-1")[0]["quantity"] == 8
    assert "was refused and is still on order" in noted(found)
    (row,) = found.tables["arrivals_log"].iter_rows(named=True)
    assert row == {
        "order": "P-1",
        "item": "cleat",
        "supplier": "smith",
        "promised": WEDNESDAY,
        "arrived": FRIDAY,
        "quantity": 12,
    }


def test_an_order_that_came_is_closed_and_its_goods_go_to_their_usual_place() -> None:
    found = booked(arrived=[{**ARRIVED, "arrived": 20.0}])
    assert on_order(found, "P-1") == [] and in_stock(found, "cleat") == {("A1", ""): 30}
    assert noted(found) == ""


def test_a_little_more_than_ordered_is_taken_in_and_much_more_is_refused() -> None:
    found = booked(arrived=[{**ARRIVED, "arrived": 22.0}])
    assert in_stock(found, "cleat") == {("A1", ""): 32} and "all of it was taken in" in noted(found)
    assert "is much more than the 20 on order" in refused(arrived=[{**ARRIVED, "arrived": 23.0}])
    booked(answered=[{**ASKED, "new_quantity": 23.0}], arrived=[{**ARRIVED, "arrived": 23.0}])


def test_a_delivery_that_can_not_be_so_is_refused() -> None:
    assert "must not be more than what arrived (2)" in refused(
        arrived=[{**ARRIVED, "arrived": 2.0, "rejected": 3.0}]
    )
    assert "needs a number here" in refused(arrived=[{**ARRIVED, "lot": "c-7"}])
    assert "is no open order" in refused(arrived=[{**ARRIVED, "order": "P-2", "arrived": 2.0}])
    late = {**ARRIVED, "due_date": FRIDAY, "arrived": 2.0}
    assert "is no open order" in refused(arrived=[late])


def test_a_begun_order_is_in_work_under_a_name_of_its_own_and_lacks_what_was_not_picked() -> None:
    found = booked(
        worked=[{**HULLS, "begun": 3.0}], picked=[pick("make-0002", "resin", 4.0, lot="old")]
    )
    (row,) = on_order(found, "2026-W49-make-0002")
    assert (row["item"], row["quantity"], row["due_date"]) == ("hull", 3, FRIDAY)
    assert lacking(found, "2026-W49-make-0002") == {"resin": 2}
    assert in_stock(found, "resin") == {("cold", "old"): 1, ("cold", "new"): 5}


def test_a_little_that_was_not_picked_is_lacking_too() -> None:
    found = booked(picked=[pick("make-0002", "resin", 5.5)])
    assert lacking(found, "2026-W49-make-0002") == {"resin": 0.5}


def test_hours_left_shrink_with_the_order() -> None:
    orders = [{**OPEN[1], "hours_left": 10}]
    found = booked(inputs(open_orders=orders), worked=[{**IN_WORK, "good": 1.0}])
    assert on_order(found, "W-1")[0]["hours_left"] == 7.5


def test_part_of_an_order_begun_lacks_its_part() -> None:
    found = booked(worked=[{**HULLS, "begun": 1.0}])
    assert on_order(found, "2026-W49-make-0002")[0]["quantity"] == 1
    assert lacking(found, "2026-W49-make-0002") == {"resin": 2}


def test_an_order_that_was_picked_for_has_begun() -> None:
    found = booked(picked=[pick("make-0002", "resin", 6.0)])
    assert on_order(found, "2026-W49-make-0002")[0]["quantity"] == 3
    assert lacking(found, "2026-W49-make-0002") == {}
    assert in_stock(found, "resin") == {("cold", "new"): 4}  # what expires went first


def test_good_pieces_lie_in_stock_and_scrap_stands_in_its_log() -> None:
    found = booked(
        worked=[{**HULLS, "begun": 3.0, "good": 1.0, "scrapped": 1.0}],
        picked=[pick("make-0002", "resin", 6.0)],
    )
    assert on_order(found, "2026-W49-make-0002")[0]["quantity"] == 1
    usable = found.tables["stock"].filter(pl.col("item") == "hull", pl.col("serial") == "")
    assert usable.filter(pl.col("status") == "usable")["quantity"].to_list() == [1]
    (row,) = found.tables["scrap_log"].iter_rows(named=True)
    assert (row["process"], row["started"], row["scrapped"]) == ("lay-up", 2, 1)


def test_an_order_in_work_shrinks_and_closes() -> None:
    found = booked(worked=[{**IN_WORK, "good": 1.0}])
    assert on_order(found, "W-1")[0]["quantity"] == 3 and lacking(found, "W-1") == {"resin": 2.25}
    found = booked(
        worked=[{**IN_WORK, "good": 3.0, "scrapped": 1.0}], picked=[pick("W-1", "resin", 3)]
    )
    assert on_order(found, "W-1") == [] and lacking(found, "W-1") == {}


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({**HULLS, "begun": 3.0, "good": 2.0, "scrapped": 2.0}, "good and scrapped together (4)"),
        ({**HULLS, "good": 4.0}, "more than the 3 in work"),
        (
            {**HULLS, "begun": 0.0, "good": 1.0},
            "says that none was begun, but some of it is finished",
        ),
        ({**HULLS, "begun": 1.5}, "must be a whole number"),
        ({**HULLS, "due_date": MONDAY, "begun": 1.0}, "is no order of this run"),
        ({**IN_WORK, "begun": 4.0}, "in work before; empty it"),
        ({**IN_WORK, "good": 5.0}, "more than the 4 in work"),
        ({**BOAT, "good": 1.0}, "4 pc of cleat was not picked for it"),
        ({**BOAT, "good": 1.0}, "1 pc of hull was not picked for it"),
    ],
)
def test_work_that_can_not_be_so_is_refused(entry: Any, words: str) -> None:
    assert words in refused(worked=[entry])


def test_what_follows_from_a_cell_that_could_not_be_read_is_not_told_as_well() -> None:
    entries = filled_in(worked=[{**BOAT, "good": 1.0}])
    unread = filled_in(picked=[{"order": "make-0001", "item": "cleat", "need_date": MONDAY}])
    words = noted(close_week(inputs(), results(), entries, unread))
    assert "of cleat was not picked" not in words and "1 pc of hull was not picked" in words


def test_an_order_that_waits_beside_picks_filled_in_in_full_is_told() -> None:
    goes = json.dumps([["make-0001", 4.0, MONDAY.isoformat()]])
    lot = {"item": "cleat", "location": "rack 1", "goes_to": goes, "picked": 4.0}
    waits = {"order": "make-0001", "day": MONDAY, "waits": "yes"}
    work = {**BOAT, "begun": 1.0}
    told = noted(closed(worked=[work], brought_out=[lot], left_out=[waits]))
    assert "of cleat more was picked than the other orders ask for" in told
    assert "more was picked" not in noted(closed(worked=[work], brought_out=[lot]))


def test_far_more_begun_than_planned_is_a_slip() -> None:
    assert on_order(booked(worked=[{**HULLS, "begun": 6.0}]), "2026-W49-make-0002")
    assert "more than twice the 3 planned" in refused(worked=[{**HULLS, "begun": 7.0}])


def test_what_was_picked_beyond_need_is_told() -> None:
    found = booked(picked=[pick("make-0002", "resin", 8.0)])
    assert "is 2 more than the order still lacks" in noted(found)
    assert lacking(found, "2026-W49-make-0002") == {}


def test_a_row_that_is_filled_in_twice_is_refused() -> None:
    twice = [{**IN_WORK, "good": 1.0}, {**IN_WORK, "good": 1.0}]
    assert "filled in twice (also in book.xlsx › worked › row 5)" in refused(worked=twice)


def test_what_is_measured_and_was_not_picked_for_a_finished_order_is_told() -> None:
    found = booked(worked=[{**HULLS, "good": 3.0}])
    assert "6 kg of resin was not picked for it" in noted(found)
    assert on_order(found, "2026-W49-make-0002") == []


def test_a_name_that_is_taken_is_not_given_again() -> None:
    there = {"order": "2026-W49-make-0002", "item": "hull", "quantity": 1, "due_date": FRIDAY}
    assert "an order of that name is there already" in refused(
        inputs(open_orders=[*OPEN, there]), worked=[{**HULLS, "begun": 1.0}]
    )


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        (pick("make-0002", "resin", 10.5), "more than there was to take by the books (10)"),
        (pick("make-0002", "resin", 1, lot="odd"), "'odd' is no usable lot of resin"),
        (pick("make-0002", "resin", 6, lot="old"), "more than there was to take by the books (5)"),
        (pick("make-0002", "cleat", 1), "is not what make-0002 takes"),
        (pick("make-0001", "hull", 1), "(0); 1 more is kept for B-2"),
        (pick("make-0001", "cleat", 1.5), "must be a whole number"),
        (pick("nobody", "cleat", 1), "is no order of this run to be made, nor one in work"),
    ],
)
def test_a_pick_that_can_not_be_so_is_refused(entry: Any, words: str) -> None:
    assert words in refused(picked=[entry])


def test_a_lot_past_its_last_day_can_not_have_been_picked() -> None:
    past = {"item": "resin", "quantity": 5, "lot": "dead", "expires": dt.date(2026, 11, 29)}
    tables = inputs(stock=[past])
    words = refused(tables, picked=[pick("make-0002", "resin", 1, lot="dead")])
    assert "from lot dead of resin, which is past its last day of use" in words
    words = refused(tables, picked=[pick("make-0002", "resin", 1)])
    assert "more than there was to take by the books (0)" in words


def test_what_came_in_the_week_can_be_picked_in_it() -> None:
    tables = inputs(stock=[])
    assert "more than there was" in refused(tables, picked=[pick("make-0001", "cleat", 4)])
    booked(tables, arrived=[{**ARRIVED, "arrived": 20.0}], picked=[pick("make-0001", "cleat", 4)])


def test_what_was_finished_in_the_week_can_be_picked_in_it() -> None:
    found = booked(
        worked=[{**IN_WORK, "good": 1.0}, {**BOAT, "begun": 1.0, "good": 1.0}],
        picked=[pick("make-0001", "hull", 1), pick("make-0001", "cleat", 4)],
    )
    boats = found.tables["stock"].filter(pl.col("item") == "boat")
    assert boats.select("serial", "quantity").rows() == [("B-1", 1.0)]


def test_a_box_that_left_is_no_order_any_more() -> None:
    lines = [{**BOX, "component": "cleat", "packed": 2.0, "left_on": WEDNESDAY}]
    lines.append({**BOX, "component": "resin", "packed": 0.5, "batch": "new"})
    found = booked(packed=lines)
    assert found.tables["spares_orders"]["order"].to_list() == ["S-2"]
    assert in_stock(found, "resin") == {("cold", "old"): 5, ("cold", "new"): 4.5}
    sent = dict(found.account.select("item", "sent").iter_rows())
    assert (sent["cleat"], sent["resin"]) == (2, 0.5)


def test_a_box_that_left_without_a_part_leaves_it_on_order() -> None:
    found = booked(packed=[{**BOX, "component": "cleat", "packed": 2.0, "left_on": WEDNESDAY}])
    rows = found.tables["spares_orders"].select("order", "item", "quantity").rows()
    assert rows == [
        ("S-2", "cleat", 3),
        ("S-1", "resin", 0.5),
    ] and "left without 0.5 of resin" in noted(found)


def test_a_line_of_a_box_on_which_nothing_was_packed_takes_nothing() -> None:
    lines = [
        {**BOX, "component": "cleat", "packed": 2.0, "left_on": WEDNESDAY},
        {**BOX, "component": "resin", "left_on": WEDNESDAY},
    ]
    found = booked(packed=lines)
    assert in_stock(found, "resin") == {("cold", "old"): 5, ("cold", "new"): 5}
    asked = found.tables["spares_orders"].filter(order="S-1").select("item", "quantity")
    assert asked.rows() == [("resin", 0.5)]


def test_what_was_packed_comes_from_each_place_of_the_list_as_much_as_it_names() -> None:
    places = [{**packing("cleat", 1), "location": place} for place in ("A1", "B2")]
    stock = [{"item": "cleat", "quantity": 5, "location": place} for place in ("A1", "B2")]
    entries = filled_in(packed=[{**BOX, "component": "cleat", "packed": 2.0, "left_on": WEDNESDAY}])
    found = close_week(inputs(stock=stock), results(packing=places), entries)
    assert in_stock(found, "cleat") == {("A1", ""): 4, ("B2", ""): 4}


def test_a_box_begun_does_not_take_a_name_that_is_there() -> None:
    lines = [{**BOX, "component": "cleat", "packed": 1.0}]
    there = {"order": "2026-W49-S-1", "item": "tool kit", "quantity": 1, "due_date": FRIDAY}
    other = {**there, "order": "2026-W48-S-1"}
    assert "an order of that name" in refused(inputs(open_orders=[*OPEN, there]), packed=lines)
    booked(inputs(open_orders=[*OPEN, other]), packed=lines)


def test_an_item_packed_by_itself_leaves_with_its_box_and_not_before() -> None:
    line = {"order": "S-2", "item": "cleat", "need_date": FRIDAY, "component": "cleat"}
    found = booked(packed=[{**line, "packed": 2.0, "left_on": WEDNESDAY}])
    rows = found.tables["spares_orders"].select("order", "quantity").rows()
    assert rows == [("S-1", 1), ("S-2", 1)] and in_stock(found, "cleat") == {("A1", ""): 8}
    stays = booked(packed=[{**line, "packed": 2.0}])
    assert in_stock(stays, "cleat") == {("A1", ""): 10}
    assert "row 5, column packed: '2' is packed and has not left" in noted(stays)


def test_a_box_begun_is_in_work_and_a_full_one_lies_in_stock_until_it_leaves() -> None:
    begun = booked(packed=[{**BOX, "component": "cleat", "packed": 1.0}])
    assert lacking(begun, "2026-W49-S-1") == {"cleat": 1, "resin": 0.5}
    assert on_order(begun, "2026-W49-S-1")[0]["item"] == "tool kit"
    full = booked(
        packed=[
            {**BOX, "component": "cleat", "packed": 2.0},
            {**BOX, "component": "resin", "packed": 0.5},
        ]
    )
    assert in_stock(full, "tool kit") == {("packed for S-1", ""): 1}
    assert len(full.tables["spares_orders"]) == 2 and "the box lies in stock" in noted(full)


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"component": "cleat", "packed": 3.0}, "more than the 2 that the order takes"),
        ({"component": "hull", "packed": 1.0}, "is no line of that spares order"),
        ({"component": "cleat", "left_on": WEDNESDAY}, "but nothing was packed for it"),
        ({"component": "cleat", "packed": 2.0, "left_on": dt.date(2026, 12, 7)}, "after the week"),
        ({"component": "resin", "packed": 0.5, "batch": "odd"}, "is no usable lot"),
    ],
)
def test_packing_that_can_not_be_so_is_refused(entry: Any, words: str) -> None:
    assert words in refused(packed=[{**BOX, **entry}])


def test_a_count_has_the_last_word_and_its_difference_is_told() -> None:
    shelf = {"item": "cleat", "location": "A1", "status": "usable", "counted": 5.0}
    found = booked(counted=[shelf], picked=[pick("make-0001", "cleat", 4)])
    assert in_stock(found, "cleat") == {("A1", ""): 5}
    row = found.account.filter(pl.col("item") == "cleat").row(0, named=True)
    assert (row["opening"], row["picked"], row["counted"], row["closing"]) == (10, 4, -1, 5)


def test_a_place_that_was_counted_has_one_row_of_stock_and_none_where_nothing_is() -> None:
    shelf = {"item": "cleat", "location": "A1", "status": "usable"}
    twice = inputs(stock=[{"item": "cleat", "quantity": each, "location": "A1"} for each in (4, 5)])
    for counted, rows in ((7.0, [7.0]), (0.0, [])):
        found = booked(twice, counted=[{**shelf, "counted": counted}])
        assert found.tables["stock"]["quantity"].to_list() == rows
    once = booked(counted=[{**shelf, "counted": 0.0}])
    assert once.tables["stock"].filter(item="cleat").is_empty()


def test_what_is_gone_from_quarantine_was_scrapped_on_the_shelf() -> None:
    shelf = {"item": "hull", "location": "hall", "status": "quarantine", "counted": 0.0}
    found = booked(counted=[shelf])
    row = found.account.filter(pl.col("item") == "hull").row(0, named=True)
    assert (row["scrapped"], row["counted"], row["closing"]) == (1, 0, 1)


@pytest.mark.parametrize(("days", "kind"), [(-9, "scrapped"), (6, "scrapped"), (7, "counted")])
def test_what_is_gone_and_past_its_last_day_when_the_next_plan_begins_was_scrapped(
    days: int, kind: str
) -> None:
    lot = {"item": "resin", "location": "B2", "lot": "L-7", "expires": MONDAY + dt.timedelta(days)}
    tables = inputs(stock=[{**lot, "quantity": 8}])
    found = booked(tables, counted=[{**lot, "status": "usable", "counted": 5.0}])
    row = found.account.filter(pl.col("item") == "resin").row(0, named=True)
    assert {"scrapped": row["scrapped"], "counted": -row["counted"]} == {
        "scrapped": 0,
        "counted": 0,
        kind: 3,
    }


def test_a_count_of_what_is_nowhere_is_refused() -> None:
    shelf = {"item": "cleat", "location": "Z9", "status": "usable", "counted": 5.0}
    assert "is no such place and lot in stock" in refused(counted=[shelf])


def test_an_airframe_that_was_delivered_is_in_the_fleet_if_it_was_built() -> None:
    entry = {"serial": "B-1", "delivered_on": WEDNESDAY}
    assert "is not built" in refused(delivered=[entry])
    built = inputs(stock=[*STOCK, {"item": "boat", "quantity": 1, "serial": "B-1"}])
    found = booked(built, delivered=[entry])
    assert found.tables["build_plan"]["serial"].to_list() == ["B-2"]
    assert found.tables["fleet"].select("serial", "item", "delivered").rows() == [
        ("B-1", "boat", WEDNESDAY)
    ]
    assert in_stock(found, "boat") == {}
    assert "is no airframe of the build plan" in refused(
        built, delivered=[{"serial": "B-7", "delivered_on": WEDNESDAY}]
    )


def test_that_none_was_begun_of_what_was_picked_for_is_told_and_counts_as_begun() -> None:
    found = booked(worked=[{**HULLS, "begun": 0.0}], picked=[pick("make-0002", "resin", 6.0)])
    assert on_order(found, "2026-W49-make-0002")
    assert "says that none was begun, but parts were picked for it" in noted(found)
    nothing = booked(worked=[{**HULLS, "begun": 0.0}])
    assert not nothing.problems and not on_order(nothing, "2026-W49-make-0002")


def test_moulds_wear_by_what_was_begun_unless_somebody_counted() -> None:
    mould = {"mould": "M-1", "item": "hull", "pulls_per_week": 4, "pulls_left": 10}
    tables = inputs(moulds=[mould])
    begun = [{**HULLS, "begun": 3.0}, {**IN_WORK, "good": 1.0}]
    assert booked(tables, worked=begun).tables["moulds"]["pulls_left"][0] == 7
    found = booked(tables, worked=begun, pulled=[{"item": "M-1", "pulls": 5}])
    assert found.tables["moulds"]["pulls_left"][0] == 5
    found = booked(tables, pulled=[{"item": "M-1", "pulls": 12}])
    assert found.tables["moulds"]["pulls_left"][0] == 0 and "is 2 more than" in noted(found)
    assert "is no mould" in refused(tables, pulled=[{"item": "M-2", "pulls": 1}])


def test_everything_doubtful_is_said_at_once() -> None:
    words = refused(
        arrived=[{**ARRIVED, "arrived": 99.0}],
        worked=[{**HULLS, "good": 9.0}],
        delivered=[{"serial": "B-1", "delivered_on": WEDNESDAY}],
    )
    assert len(words.splitlines()) == 3
    assert "book.xlsx › arrived › row 5, column arrived: '99'" in words


def test_an_account_that_does_not_add_up_says_so() -> None:
    found = booked(picked=[pick("make-0001", "cleat", 4)])
    lost = found.account.with_columns(
        closing=pl.when(pl.col("item") == "cleat").then(5.0).otherwise("closing")
    )
    assert not_closed(lost) == [("cleat", 10.0, -4.0, 5.0)]
