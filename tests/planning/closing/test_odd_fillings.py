"""Odd fillings: whatever somebody writes counts or is named, and no piece is lost."""

import datetime as dt
from typing import Any

import polars as pl
from hypothesis import given, settings
from hypothesis import strategies as some

from bomkit.planning.closing.account_of_week import not_closed
from bomkit.planning.closing.close_week import Closed
from bomkit.tables.filled_in_tables import ENTRIES
from tests.planning.closing import test_close_week as yard

USUAL: dict[str, list[dict[str, Any]]] = {
    "ordered": [{**yard.BUY, "order": "P-9"}],
    "answered": [{**yard.ASKED, "new_quantity": 9.0}, {**yard.IN_WORK, "cancelled": "yes"}],
    "arrived": [{**yard.ARRIVED, "arrived": 7.0}],
    "worked": [
        {**yard.HULLS, "begun": 3.0},
        {**yard.IN_WORK, "good": 1.0},
        {**yard.BOAT, "begun": 1.0},
    ],
    "picked": [
        yard.pick("make-0002", "resin", 4.0, listed_lot="old", location="cold"),
        yard.pick("make-0001", "cleat", 4.0),
        yard.pick("W-1", "resin", 1.5),
    ],
    "pulled": [{"item": "M-1", "pulls": 2}],
    "packed": [
        {**yard.BOX, "component": "cleat", "packed": 2.0, "left_on": yard.WEDNESDAY},
        {**yard.BOX, "component": "resin", "packed": 0.5},
    ],
    "counted": [{"item": "cleat", "location": "A1", "status": "usable", "counted": 8.0}],
    "delivered": [{"serial": "B-1", "delivered_on": yard.WEDNESDAY}],
}
ODD: dict[str, list[Any]] = {
    "number": [None, 0.0, 0.5, 1.0, 3.0, 20.0, 1e9],
    "whole": [None, 0, 1, 30],
    "date": [None, dt.date(1950, 1, 1), yard.MONDAY, yard.FRIDAY, dt.date(2200, 1, 1)],
    "name": ["", "old", "new", "P-1", "W-1", "make-0001", "S-1", "cleat", "resin", "B-2", "=1+1"],
    "text": ["", "A1", "cold", "nowhere"],
    "choice": ["", "yes", "no"],
}
WHERE = "book.xlsx › {kind} › row {row}"


@some.composite
def weeks(draw: some.DrawFn) -> dict[str, list[dict[str, Any]]]:
    """Some of the usual entries, with up to three cells of them changed."""
    week = {
        kind: [dict(row) for row in rows if draw(some.booleans())] for kind, rows in USUAL.items()
    }
    for _ in range(draw(some.integers(0, 3))):
        kind = draw(some.sampled_from(sorted(USUAL)))
        if week[kind]:
            row = draw(some.sampled_from(week[kind]))
            column = draw(some.sampled_from(ENTRIES[kind].columns))
            row[column.name] = draw(some.sampled_from(ODD[column.kind]))
    return week


def tables() -> yard.Frames:
    mould = {"mould": "M-1", "item": "hull", "pulls_per_week": 4, "pulls_left": 10}
    stock = [*yard.STOCK, {"item": "boat", "quantity": 1, "serial": "B-1"}]
    return yard.inputs(moulds=[mould], stock=stock)


TABLES = tables()
NOTHING = yard.closed(TABLES)


def refused(found: Closed) -> bool:
    return any(problem.severity == "error" for problem in found.problems)


@settings(max_examples=120)
@given(weeks())
def test_the_account_closes_or_something_is_named_and_stock_is_never_negative(
    week: dict[str, list[dict[str, Any]]],
) -> None:
    found = yard.closed(TABLES, **week)
    assert all(problem.file and problem.message for problem in found.problems)
    if not refused(found):
        assert not_closed(found.account) == []
        for name in ("stock", "open_orders", "allocations", "spares_orders", "moulds"):
            numbers = found.tables[name].select(pl.selectors.numeric())
            assert numbers.filter(pl.any_horizontal(pl.all() < 0)).is_empty(), name
        orders = found.tables["open_orders"]
        assert found.tables["allocations"].join(orders, on="order", how="anti").is_empty()


def says_something(kind: str, row: dict[str, Any]) -> bool:
    """Whether an entry says that anything happened: what is not a key, and not nothing."""
    told = [column.name for column in ENTRIES[kind].columns if column.name not in ENTRIES[kind].key]
    return any(row.get(name) not in (None, "", 0, 0.0, "no") for name in told)


@settings(max_examples=120)
@given(some.data())
def test_what_is_filled_in_alone_changes_a_table_or_is_named(data: some.DataObject) -> None:
    kind = data.draw(some.sampled_from(sorted(USUAL)))
    row = dict(data.draw(some.sampled_from(USUAL[kind])))
    for _ in range(data.draw(some.integers(0, 2))):
        column = data.draw(some.sampled_from(ENTRIES[kind].columns))
        row[column.name] = data.draw(some.sampled_from(ODD[column.kind]))
    found = yard.closed(TABLES, **{kind: [row]})
    changed = any(not found.tables[name].equals(NOTHING.tables[name]) for name in found.tables)
    named = any(problem.file == WHERE.format(kind=kind, row=5) for problem in found.problems)
    as_it_was = kind == "answered" and row.get("new_date") == row.get("due_date")
    assert changed or named or as_it_was or not says_something(kind, row)
