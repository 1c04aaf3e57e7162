"""Pegging: which supply serves which need, and for whom each need is in the end.

Pegs are (demand, day of the need, quantity, kind of supply, name of the supply), needs are
(demand, day, quantity, order that asks). An empty demand is for stock.
"""

import polars as pl
import pytest

from bomkit.planning.pegging.peg import peg
from tests.planning.driver import (
    Plan,
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


def spare(name: str, quantity: float, when: int, order: str, urgency: str = "routine") -> Row:
    """A spares order with a number of its own."""
    return need(name, quantity, when, order=order, urgency=urgency)


FRESH: Row = {"min_shelf_days": 0}  # good on the day on which it leaves


def test_stock_serves_first_then_open_orders_then_planned_ones_by_the_day_they_can_be_used() -> (
    None
):
    # day 3: C 7, S 6, so 1 is planned; day 6: C 12, 5 more
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 4, lot="L1")],
        open_orders=[receipt("resin", 2, 2, order="B-9")],
        spares_orders=[
            spare("resin", 3, 1, "S1"),
            spare("resin", 4, 3, "S2"),
            spare("resin", 5, 6, "S3"),
        ],
    )
    assert plan.pegs_of("resin") == [
        ("S1", 1, 3, "stock", "L1"),
        ("S2", 3, 1, "stock", "L1"),
        ("S2", 3, 2, "open order", "B-9"),
        ("S2", 3, 1, "planned order", "buy-0001"),
        ("S3", 6, 5, "planned order", "buy-0002"),
    ]


def test_a_receipt_serves_only_needs_from_its_day_on() -> None:
    plan = plan_of(
        [item("resin")],
        open_orders=[receipt("resin", 6, 4, order="B-9")],
        spares_orders=[spare("resin", 4, 3, "S1"), spare("resin", 5, 8, "S2")],
    )
    assert plan.pegs_of("resin") == [
        ("S1", 3, 4, "planned order", "buy-0001"),
        ("S2", 8, 5, "open order", "B-9"),
    ]


def test_an_open_order_serves_whom_a_planned_one_would_serve_later_still() -> None:
    # nothing can be there on day 3; nothing ordered today is there before the open order
    plan = plan_of(
        [item("resin", lead_days=15)],
        open_orders=[receipt("resin", 4, 8, order="B-9")],
        spares_orders=[spare("resin", 4, 3, "S1"), spare("resin", 5, 18, "S2")],
    )
    assert plan.pegs_of("resin") == [
        ("S1", 3, 4, "open order", "B-9"),
        ("S2", 18, 5, "planned order", "buy-0001"),
    ]


def test_stock_that_names_a_serial_serves_that_serial_first() -> None:
    plan = plan_of(
        [item("glider", source="make", unit="pc"), item("bolt", unit="pc")],
        structure=[line("glider", "bolt")],
        build_plan=[airframe("KL-1", "glider", 2), airframe("KL-2", "glider", 5)],
        stock=[lot("bolt", 1, lot="L2", serial="KL-2")],
    )
    assert plan.pegs_of("bolt") == [
        ("KL-1", 2, 1, "planned order", "buy-0001"),
        ("KL-2", 5, 1, "stock", "L2"),
    ]


def test_what_is_kept_for_a_serial_serves_nobody_else_and_others_get_an_order_of_their_own() -> (
    None
):
    # netting counts all four bolts for both; KT-1 may have one of them, so one more is ordered
    plan = plan_of(
        [item("glider", source="make", unit="pc"), item("bolt", unit="pc")],
        structure=[line("glider", "bolt", 2)],
        build_plan=[airframe("KL-1", "glider", 2), airframe("KL-2", "glider", 5)],
        stock=[lot("bolt", 3, lot="L2", serial="KL-2"), lot("bolt", 1, lot="L1")],
    )
    assert sorted(plan.pegs_of("bolt")) == [
        ("KL-1", 2, 1, "planned order", "buy-0001"),
        ("KL-1", 2, 1, "stock", "L1"),
        ("KL-2", 5, 2, "stock", "L2"),
    ]


def test_stock_of_two_serials_that_would_serve_each_other_is_exchanged() -> None:
    plan = plan_of(
        [item("glider", source="make", unit="pc"), item("bolt", unit="pc")],
        structure=[line("glider", "bolt")],
        build_plan=[airframe("KL-1", "glider", 2), airframe("KL-2", "glider", 5)],
        stock=[
            lot("bolt", 1, lot="A", serial="KL-2"),
            lot("bolt", 1, lot="B", serial="KL-1"),
        ],
    )
    assert plan.pegs_of("bolt") == [("KL-1", 2, 1, "stock", "B"), ("KL-2", 5, 1, "stock", "A")]


def test_stock_kept_for_a_serial_that_expires_before_it_is_needed_serves_nobody() -> None:
    # on day 5 the lot is no longer good for KL-2, and it is not KL-1's
    plan = plan_of(
        [item("glider", source="make", unit="pc"), item("bolt", unit="pc")],
        structure=[line("glider", "bolt")],
        build_plan=[airframe("KL-1", "glider", 2), airframe("KL-2", "glider", 5)],
        stock=[lot("bolt", 1, expires=3, lot="L2", serial="KL-2")],
    )
    assert plan.pegs_of("bolt") == [
        ("KL-1", 2, 1, "planned order", "buy-0001"),
        ("KL-2", 5, 1, "planned order", "buy-0002"),
    ]


def test_stock_of_a_serial_specific_item_is_its_serials_whoever_asks() -> None:
    # the order for the spare and the airframe's lot share the stock by day as usual
    plan = plan_of(
        [
            item("glider", source="make", unit="pc"),
            item("fin", source="make", unit="pc"),
            item("lamp", unit="pc"),
        ],
        structure=[line("glider", "fin"), line("fin", "lamp", with_option="lights")],
        build_plan=[airframe("KL-1", "glider", 2, "lights")],
        stock=[lot("fin", 1, lot="A", serial="KL-1")],
        open_orders=[receipt("fin", 1, 6, order="W-1", serial="KL-1")],
        spares_orders=[spare("fin", 1, 6, "S1") | {"serial": "KL-1"}],
    )
    assert plan.pegs_of("fin", "KL-1") == [
        ("KL-1", 2, 1, "stock", "A"),
        ("S1", 6, 1, "open order", "W-1"),
    ]


def test_a_spares_order_has_the_stock_that_names_its_serial() -> None:
    plan = plan_of(
        [item("glider", source="make", unit="pc"), item("bolt", unit="pc")],
        fleet=[{"serial": "KL-9", "item": "glider"}],
        stock=[lot("bolt", 1, lot="L9", serial="KL-9")],
        spares_orders=[
            spare("bolt", 1, 1, "S1", "grounded"),
            spare("bolt", 1, 4, "S2") | {"serial": "KL-9"},
        ],
    )
    assert plan.pegs_of("bolt") == [
        ("S1", 1, 1, "planned order", "buy-0001"),
        ("S2", 4, 1, "stock", "L9"),
    ]


def test_lots_serve_in_the_order_in_which_they_expire() -> None:
    plan = plan_of(
        [item("resin")],
        stock=[
            lot("resin", 2, lot="lasting"),
            lot("resin", 2, expires=8, lot="later"),
            lot("resin", 2, expires=3, lot="sooner"),
        ],
        spares_orders=[spare("resin", 3, 2, "S1") | FRESH, spare("resin", 3, 7, "S2") | FRESH],
    )
    assert plan.pegs_of("resin") == [
        ("S1", 2, 2, "stock", "sooner"),
        ("S1", 2, 1, "stock", "later"),
        ("S2", 7, 1, "stock", "later"),
        ("S2", 7, 2, "stock", "lasting"),
    ]


def test_what_expires_unused_serves_nobody() -> None:
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 5, expires=3, lot="sooner")],
        spares_orders=[spare("resin", 3, 2, "S1") | FRESH, spare("resin", 3, 7, "S2") | FRESH],
    )
    assert plan.pegs_of("resin") == [
        ("S1", 2, 3, "stock", "sooner"),
        ("S2", 7, 3, "planned order", "buy-0001"),
    ]


def test_what_comes_on_the_day_serves_the_first_in_rank_and_frees_the_stock_for_the_next() -> None:
    # all are served on day 2: the grounded one gives stock back for the order of that day
    plan = plan_of(
        [item("glider", source="make", unit="pc"), item("bolt", unit="pc")],
        structure=[line("glider", "bolt")],
        build_plan=[airframe("KL-1", "glider", 2)],
        stock=[lot("bolt", 2, lot="L1")],
        spares_orders=[spare("bolt", 1, 2, "A-routine"), spare("bolt", 1, 2, "S", "grounded")],
    )
    assert plan.pegs_of("bolt") == [
        ("S", 2, 1, "planned order", "buy-0001"),
        ("KL-1", 2, 1, "stock", "L1"),
        ("A-routine", 2, 1, "stock", "L1"),
    ]


def test_on_one_day_grounded_aircraft_come_first_then_airframes_then_routine_spares() -> None:
    # what is ordered comes on day 10, too late for all of them
    plan = plan_of(
        [item("glider", source="make", unit="pc"), item("bolt", unit="pc", lead_days=10)],
        structure=[line("glider", "bolt")],
        build_plan=[airframe("KL-1", "glider", 2)],
        stock=[lot("bolt", 2, lot="L1")],
        spares_orders=[spare("bolt", 1, 2, "A-routine"), spare("bolt", 1, 2, "S", "grounded")],
    )
    assert plan.pegs_of("bolt") == [
        ("S", 2, 1, "stock", "L1"),
        ("KL-1", 2, 1, "stock", "L1"),
        ("A-routine", 2, 1, "planned order", "buy-0001"),
    ]


def test_a_more_urgent_demand_comes_before_an_earlier_day_where_it_would_be_late() -> None:
    plan = plan_of(
        [item("bolt", unit="pc", lead_days=10)],
        stock=[lot("bolt", 1, lot="L1")],
        spares_orders=[spare("bolt", 1, 1, "R"), spare("bolt", 1, 2, "S", "grounded")],
    )
    assert [(demand, kind) for demand, _, _, kind, _ in plan.pegs_of("bolt")] == [
        ("R", "planned order"),
        ("S", "stock"),
    ]


def test_of_what_is_there_in_time_an_earlier_day_takes_what_is_there_first() -> None:
    plan = plan_of(
        [item("bolt", unit="pc")],
        stock=[lot("bolt", 1, lot="L1")],
        spares_orders=[spare("bolt", 1, 1, "R"), spare("bolt", 1, 2, "S", "grounded")],
    )
    assert [demand for demand, *_ in plan.pegs_of("bolt")] == ["R", "S"]


def test_of_two_equal_demands_on_one_day_the_one_with_the_earlier_date_comes_first() -> None:
    # both are overdue and count on day 0
    plan = plan_of(
        [item("bolt", unit="pc")],
        stock=[lot("bolt", 1, lot="L1")],
        spares_orders=[spare("bolt", 1, -1, "A"), spare("bolt", 1, -5, "B")],
    )
    assert [(demand, kind) for demand, _, _, kind, _ in plan.pegs_of("bolt")] == [
        ("B", "stock"),
        ("A", "planned order"),
    ]


def test_an_airframe_is_followed_through_every_level() -> None:
    # glider starts 12 - 3 = 9; wing starts 9 - 4 = 5
    plan = plan_of(
        [
            item("glider", source="make", unit="pc", lead_days=3),
            item("wing", source="make", unit="pc", lead_days=4),
            item("resin"),
        ],
        structure=[line("glider", "wing", 2), line("wing", "resin", 0.5)],
        build_plan=[airframe("KL-1", "glider", 12)],
    )
    # orders of a source are numbered by their start day
    assert plan.needs_of("glider", "KL-1") == [("KL-1", 12, 1, "")]
    assert plan.needs_of("wing") == [("KL-1", 9, 2, "make-0002")]
    assert plan.needs_of("resin") == [("KL-1", 5, 1, "make-0001")]
    assert plan.pegs_of("resin") == [("KL-1", 5, 1, "planned order", "buy-0001")]


def test_an_order_for_several_asks_for_components_in_their_shares_and_the_rest_is_for_stock() -> (
    None
):
    # 10 skins: 2 for A, 3 for B and 5 over; each takes 1 kg, and the order 1 kg once
    plan = plan_of(
        [item("skin", source="make", unit="pc", multiple=10), item("resin"), item("peel")],
        structure=[line("skin", "resin"), line("skin", "peel", per="order")],
        spares_orders=[spare("skin", 2, 5, "A"), spare("skin", 3, 5, "B")],
    )
    assert plan.needs_of("resin") == [
        ("A", 5, 2, "make-0001"),
        ("B", 5, 3, "make-0001"),
        ("", 5, 5, "make-0001"),
    ]
    assert plan.needs_of("peel") == [
        ("A", 5, 0.2, "make-0001"),
        ("B", 5, 0.3, "make-0001"),
        ("", 5, 0.5, "make-0001"),
    ]


def test_the_starts_that_will_be_scrap_are_for_those_who_get_the_good_ones() -> None:
    # 4 good take 5 starts: all 5 kg are for A
    plan = plan_of(
        [item("skin", source="make", unit="pc", scrap_rate=0.2), item("resin")],
        structure=[line("skin", "resin")],
        spares_orders=[spare("skin", 4, 5, "A")],
    )
    assert plan.pegs_of("skin") == [("A", 5, 4, "planned order", "make-0001")]
    assert plan.needs_of("resin") == [("A", 5, 5, "make-0001")]


def test_what_one_lot_leaves_over_is_pegged_to_the_next_need() -> None:
    plan = plan_of(
        [item("skin", source="make", unit="pc", minimum=4)],
        spares_orders=[spare("skin", 3, 5, "A"), spare("skin", 2, 7, "B")],
    )
    assert plan.pegs_of("skin") == [
        ("A", 5, 3, "planned order", "make-0001"),
        ("B", 7, 1, "planned order", "make-0001"),
        ("B", 7, 1, "planned order", "make-0002"),
    ]


def test_an_order_for_safety_stock_is_for_stock() -> None:
    plan = plan_of(
        [item("skin", source="make", unit="pc", safety_stock=2), item("resin")],
        structure=[line("skin", "resin")],
    )
    assert plan.pegs_of("skin") == []
    assert plan.needs_of("resin") == [("", 0, 2, "make-0001")]


def test_stock_serves_needs_before_it_serves_as_safety_stock() -> None:
    # 2 in stock serve the need; the order of 2 brings the safety stock back
    plan = plan_of(
        [item("skin", source="make", unit="pc", safety_stock=2), item("resin")],
        structure=[line("skin", "resin")],
        stock=[lot("skin", 2, lot="L1")],
        spares_orders=[spare("skin", 2, 5, "A")],
    )
    assert plan.pegs_of("skin") == [("A", 5, 2, "stock", "L1")]
    assert plan.needs_of("resin") == [("", 5, 2, "make-0001")]


def passing_plan(**tables: list[Row]) -> Plan:
    """One set of eight screws in stock for two wings."""
    return plan_of(
        [
            item("wing", source="make", unit="pc", lead_days=2),
            item("set", source="phantom", unit="pc"),
            item("screw", unit="pc"),
        ],
        structure=[line("wing", "set"), line("set", "screw", 8)],
        spares_orders=[spare("wing", 1, 5, "A"), spare("wing", 1, 8, "B")],
        **tables,
    )


def test_what_a_phantom_passes_on_is_for_those_whom_its_stock_does_not_serve() -> None:
    plan = passing_plan(stock=[lot("set", 1, lot="L1")])
    assert plan.pegs_of("set") == [
        ("A", 3, 1, "stock", "L1"),
        ("B", 6, 1, "passed on", ""),
    ]
    # the order that asks is that of the wing, since the phantom has none
    assert plan.needs_of("screw") == [("B", 6, 8, "make-0002")]


def test_what_a_replaced_item_passes_on_keeps_its_demand() -> None:
    plan = plan_of(
        [item("old"), item("new")],
        replacements=[{"old": "old", "new": "new"}],
        stock=[lot("old", 3, lot="L1")],
        spares_orders=[spare("old", 2, 1, "A"), spare("old", 2, 4, "B")],
    )
    assert plan.pegs_of("old") == [
        ("A", 1, 2, "stock", "L1"),
        ("B", 4, 1, "stock", "L1"),
        ("B", 4, 1, "passed on", ""),
    ]
    assert plan.needs_of("new") == [("B", 4, 1, "")]


def test_what_an_open_order_lacks_is_for_that_order() -> None:
    lacking: Row = {"order": "W-1", "item": "resin", "quantity": 0.75, "need_date": day(2)}
    plan = plan_of([item("resin")], allocations=[lacking])
    assert plan.pegs_of("resin") == [("W-1", 2, 0.75, "planned order", "buy-0001")]


def test_needs_of_one_demand_by_one_order_on_one_day_are_one_need() -> None:
    plan = plan_of(
        [item("skin", source="make", unit="pc"), item("resin")],
        structure=[line("skin", "resin", 1), line("skin", "resin", 0.5)],
        spares_orders=[spare("skin", 2, 5, "A")],
    )
    assert plan.needs_of("resin") == [("A", 5, 3, "make-0001")]


def test_needs_past_the_horizon_are_not_pegged() -> None:
    plan = plan_over(
        1,
        [item("resin")],
        stock=[lot("resin", 5)],
        spares_orders=[spare("resin", 1, 3, "A"), spare("resin", 1, 5, "B")],
    )
    assert plan.needs_of("resin") == [("A", 3, 1, "")]


def test_late_orders_that_start_on_one_day_are_pegged_apart() -> None:
    plan = plan_of(
        [
            item("skin", source="make", unit="pc", lead_days=9, longest_cover_days=1),
            item("resin"),
        ],
        structure=[line("skin", "resin")],
        spares_orders=[spare("skin", 1, 1, "A"), spare("skin", 2, 2, "B")],
    )
    assert plan.needs_of("resin") == [("A", 0, 1, "make-0001"), ("B", 0, 2, "make-0002")]


def test_demands_of_the_same_name_but_different_urgency_stay_apart() -> None:
    plan = plan_of(
        [item("bolt", unit="pc"), item("nut", unit="pc")],
        spares_orders=[spare("bolt", 1, 2, "S"), spare("nut", 1, 2, "S", "grounded")],
    )
    asked = plan.pegged.demands.filter(pl.col("demand") == "S").sort("kind")
    assert asked["kind"].to_list() == ["grounded", "routine"]
    assert plan.pegs_of("bolt") == [("S", 2, 1, "planned order", "buy-0001")]


def test_where_needs_would_be_too_many_one_order_serves_several(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # one order of two brackets, with two bolts each, for A and B
    asked: dict[str, list[Row]] = {
        "structure": [line("bracket", "bolt", 2)],
        "spares_orders": [spare("bracket", 1, 3, "A"), spare("bracket", 1, 4, "B")],
    }
    items = [item("bracket", source="make", cover_days=5), item("bolt")]
    apart = plan_of(items, **asked).needs_of("bolt")
    assert [(demand, quantity) for demand, _, quantity, _ in apart] == [("A", 2), ("B", 2)]
    monkeypatch.setattr("bomkit.planning.pegging.shares_of_orders.MOST_NEEDS", 1)
    together = plan_of(items, **asked).needs_of("bolt")
    assert [(demand, quantity) for demand, _, quantity, _ in together] == [("several", 4)]


@pytest.mark.parametrize(("days", "kind"), [(3, "stock"), (4, "planned order")])
def test_what_leaves_the_house_must_last_some_days_after_it(days: int, kind: str) -> None:
    # wanted on day 5, a Monday; the lot lasts until the Thursday
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 2, 8, lot="L1")],
        spares_orders=[spare("resin", 2, 5, "S1") | {"min_shelf_days": days}],
    )
    assert [peg[3] for peg in plan.pegs_of("resin")] == [kind]


def test_orders_that_begin_later_than_planned_are_served_by_what_lasts_until_then() -> None:
    # both wait for bolts of day 60; what expires on day 10 is of no use to them
    plan = plan_over(
        26,
        [
            item("fin", source="make", unit="pc", lead_days=2),
            item("tab", source="make", unit="pc", lead_days=3),
            item("bolt", unit="pc", lead_days=60),
            item("resin"),
        ],
        structure=[line(part, name) for part in ("fin", "tab") for name in ("bolt", "resin")],
        stock=[lot("resin", 2, 10, lot="L1")],
        spares_orders=[spare("fin", 1, 8, "S1"), spare("tab", 1, 8, "S2")],
    )
    assert {peg[3] for peg in plan.pegs_of("resin")} == {"planned order"}


def test_a_piece_that_lies_there_is_not_cut_for_what_orders_are_expected_to_leave() -> None:
    # nine tenths of each order are good: a whole bolt from the shelf, and the orders give the less
    plan = plan_of(
        [item("bolt", unit="pc", lead_days=1, scrap_rate=0.1)],
        stock=[lot("bolt", 2, lot="L1")],
        open_orders=[receipt("bolt", 1, 3, order="B-1"), receipt("bolt", 1, 5, order="B-2")],
        spares_orders=[spare("bolt", 2, 5, "S1", "grounded"), spare("bolt", 1, 0, "S2")],
    )
    shelf = [peg for peg in plan.pegs_of("bolt") if peg[3] == "stock"]
    assert shelf == [("S2", 0, 1, "stock", "L1"), ("S1", 5, 1, "stock", "L1")]


def test_a_lot_of_nothing_is_offered_to_nobody() -> None:
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 0, lot="L1"), lot("resin", 2, lot="L2")],
        spares_orders=[spare("resin", 2, 5, "S1")],
    )
    assert plan.pegged.supplies["supply"].to_list() == ["L2"]


def test_without_tables_nothing_is_known_of_shelves_and_all_else_is_pegged_alike() -> None:
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 2, 8, lot="L1")],
        spares_orders=[spare("resin", 2, 5, "S1")],
    )
    pegged = peg(plan.network, plan.flows, plan.orders)
    assert pegged.told(pegged.pegs, "supply").select("day", "supply").rows() == [(5, "L1")]
