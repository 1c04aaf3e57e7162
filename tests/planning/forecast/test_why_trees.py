"""The trees of `bomkit why`, branch by branch, from small tables written down by hand."""

from collections.abc import Sequence

import polars as pl
from anytree import Node

from bomkit.planning.forecast.why import Reason, reason
from tests.planning.driver import day
from tests.random_tables import Row

Told = list[object]  # a node's name, then its branches


def peg(need: str, supply: str, quantity: float = 1, when: int = 5, **columns: object) -> Row:
    """A peg of the bolt, from stock and for a spares order of that name, unless said otherwise."""
    row: Row = {
        "item": "bolt",
        "serial": "",
        "need": need,
        "need_date": day(when),
        "supply_kind": "stock",
        "supply": supply,
        "supply_date": day(0),
        "quantity": float(quantity),
        "location": "",
        "demand": need,
        "demand_kind": "routine",
        "demand_serial": "",
        "comes": day(0),
        "late_days": 0,
        "from_order": "",
    }
    return row | columns


def asked(order: str, supply: str, late: int = 0, **columns: object) -> Row:
    """A peg of the bolt for a planned order, from a planned order."""
    by_order = {"from_order": order, "demand": "S", "supply_kind": "planned order"}
    return peg(order, supply, late_days=late, **(by_order | columns))


def reasons(
    pegs: Sequence[Row], orders: Sequence[str] = (), most: int = 9, serial: str = ""
) -> Reason:
    """The trees of the bolt; orders: planned ones, of the bolt if their names begin with b."""
    tables = {
        "pegs": pl.DataFrame(pegs),
        "planned_items": pl.DataFrame([{"item": "bolt"}]),
        "projection": pl.DataFrame(
            {
                "item": ["bolt", "bolt", "bolt", "nut"],
                "serial": ["", "K-1", "K-2", "K-1"],
                "week": ["2026-W49"] * 4,
                "gross": [1.0, 2.0, 4.0, 8.0],
                "receipts": [0.0] * 4,
                "planned": [0.0] * 4,
                "projected": [0.0] * 4,
            }
        ),
        "orders": pl.DataFrame(
            [
                {
                    "order": name,
                    "item": "bolt" if name.startswith("b") else "fin",
                    "serial": "",
                    "start_date": day(9 - place),
                }
                for place, name in enumerate(orders)
            ],
            schema={
                "order": pl.String,
                "item": pl.String,
                "serial": pl.String,
                "start_date": pl.Date,
            },
        ),
        "forecast": pl.DataFrame(
            [{"demand": "S1", "demand_kind": "routine", "serial": "", "place": 1}]
        ),
    }
    return reason(tables, "bolt", serial, most)


def told(node: Node) -> Told:
    """The names of a tree, what is left out as how many and what was shown before in brackets."""
    name = f"({node.name})" if node.seen else node.name or node.left_out
    return [name, *(told(child) for child in node.children)] if node.children else [name]


def test_supplies_stand_by_day_then_by_kind_then_by_name() -> None:
    pegs = [
        peg("S1", "p", supply_kind="planned order"),
        peg("S2", "z", supply_kind="none"),
        peg("S3", "o", supply_kind="open order"),
        peg("S4", "b"),
        peg("S5", "a"),
        peg("S6", "early", supply_kind="none", supply_date=day(-1)),
        peg("S7", "gone", supply_kind="passed on"),
    ]
    names = [node.name for node in reasons(pegs).upwards.children]
    assert names == ["early", "a", "b", "o", "p", "z"]


def test_one_supply_stands_once_with_all_that_it_gives() -> None:
    found = reasons([peg("S1", "a", 2), peg("S2", "a", 3), peg("S1", "b", 4)]).upwards
    assert told(found) == ["bolt", ["a", ["S1"], ["S2"]], ["b", ["S1"]]]
    assert [node.peg["quantity"] for node in found.children] == [5, 4]
    assert [node.is_supply for node in found.children] == [True, True]
    need = found.children[0].children[0]
    assert need.demand == {"demand": "S1", "demand_kind": "routine", "serial": "", "place": 1}
    assert not need.is_supply and not need.seen and not need.left_out


def test_what_one_need_takes_in_parts_stands_together_with_the_worst_of_them() -> None:
    parts = [
        peg("S1", "a", 2, 7, late_days=1),
        peg("S1", "a", 3, 6, late_days=4),
        peg("S1", "a", 1, 8, late_days=2),
        peg("S1", "a", 1, 9, demand_serial="K-2"),
    ]
    (first, second) = reasons(parts).upwards.children[0].children
    columns = ("quantity", "late_days", "need_date")
    assert [first.peg[name] for name in columns] == [6, 4, day(6)]
    assert second.peg["demand_serial"] == "K-2"


def test_an_order_for_several_stands_once_below_what_serves_it() -> None:
    pegs = [
        peg("fin-1", "a", 2, from_order="fin-1", demand="S1"),
        peg("fin-1", "a", 3, from_order="fin-1", demand="S2"),
    ]
    (need,) = reasons(pegs, ["fin-1"]).upwards.children[0].children
    assert need.peg["quantity"] == 5


def test_a_need_leads_on_to_whom_its_order_serves_and_each_order_only_once() -> None:
    pegs = [
        peg("fin-1", "a", from_order="fin-1", demand="S1"),
        peg("fin-1", "b", from_order="fin-1", demand="S1"),
        peg("S1", "fin-1", item="fin", supply_kind="planned order"),
    ]
    assert told(reasons(pegs, ["fin-1"]).upwards) == [
        "bolt",
        ["a", ["fin-1", ["S1"]]],
        ["b", ["(fin-1)"]],
    ]


def test_at_most_so_many_branches_are_shown_and_one_more_at_the_top() -> None:
    four = [peg(f"S{n}", f"lot-{m}") for n in (1, 2, 3, 4) for m in (1, 2, 3, 4)]
    found = told(reasons(four, most=2).upwards)
    shown = [[f"lot-{n}", ["S1"], ["S2"], [2]] for n in (1, 2, 3)]
    assert found == ["bolt", *shown, [1]]
    assert told(reasons(four, most=4).upwards) == [
        "bolt",
        *([f"lot-{n}", ["S1"], ["S2"], ["S3"], ["S4"]] for n in (1, 2, 3, 4)),
    ]


def test_downwards_stand_orders_by_their_start_with_what_comes_too_late_the_latest_first() -> None:
    pegs = [
        asked("b-1", "p-2", 3, item="pin"),
        asked("b-1", "p-1", 3, item="pin"),
        asked("b-1", "a-1", 3, item="axle"),
        asked("b-1", "z-1", 8, item="tube"),
        asked("b-1", "y-1", 0, item="tape"),
        asked("b-1", "L1", 1, item="glue", supply_kind="open order"),
        asked("b-2", "p-1", 2, item="pin"),
        asked("p-1", "q-1", 1, item="bar"),
    ]
    orders = ["b-1", "b-2", "b-3", "p-1", "p-2", "a-1", "z-1", "q-1"]
    found = reasons(pegs, orders).downwards
    # b-2 starts first, and b-3 lacks nothing
    assert told(found) == [
        "bolt",
        ["b-2", ["p-1", ["q-1"]]],
        ["b-1", ["z-1"], ["a-1"], ["(p-1)"], ["p-2"], ["L1"]],
    ]
    assert all(node.is_supply for node in (*found.children, *found.children[0].children))
    assert told(reasons(pegs, orders, most=2).downwards) == [
        "bolt",
        ["b-2", ["p-1", ["q-1"]]],
        ["b-1", ["z-1"], ["a-1"], [3]],
    ]


def test_of_waiting_orders_one_more_than_of_other_branches_is_shown() -> None:
    orders = ["b-1", "b-2", "b-3", "b-4"]
    pegs = [asked(name, "p-1", 1, item="pin") for name in orders]
    assert told(reasons(pegs, orders, most=1).downwards) == [
        "bolt",
        ["b-4", ["p-1"]],
        ["b-3", ["p-1"]],
        [2],
    ]
    assert len(reasons(pegs, orders, most=3).downwards.children) == 4


def test_the_record_of_a_serial_is_its_own_and_the_common_one() -> None:
    pegs = [peg("S1", "a")]
    assert reasons(pegs).record["gross"].to_list() == [7]
    assert reasons(pegs, serial="K-1").record["gross"].to_list() == [3]


def test_a_serial_shows_what_is_planned_or_meant_for_it() -> None:
    pegs = [
        peg("S1", "own", serial="K-1"),
        peg("S2", "meant", demand_serial="K-1"),
        peg("S3", "other", serial="K-2", demand_serial="K-2"),
        peg("S4", "nut", item="nut", serial="K-1"),
    ]
    assert told(reasons(pegs, serial="K-1").upwards) == ["bolt", ["meant", ["S2"]], ["own", ["S1"]]]
