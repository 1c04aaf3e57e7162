"""Open orders that should move, by hand and against the naive way on random tables."""

import random
from datetime import date

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bomkit.planning.buying.moves import Thresholds, proposed_moves, with_gains
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.buying.naive_moves import NaiveMove, naive_moves
from tests.planning.driver import MONDAY, day, item, line, lot, need, receipt
from tests.random_tables import Row, Tables, random_tables

Told = tuple[str, date | None, int, float]  # kind, right day, days, right quantity
PLAN: list[Row] = [{"start": MONDAY, "horizon_weeks": 8}]
BOLT = item("bolt", unit="pc", cost=2.0)
NUT = item("nut", unit="pc")


def moves_of(tables: Tables, days: int = 5, share: float = 0.1) -> pl.DataFrame:
    """The moves that are proposed for some tables."""
    typed = typed_tables({"plan": PLAN, **tables})
    network = build_network(typed)
    least = Thresholds(days, share)
    return proposed_moves(network, plan_flows(network), typed["items"], least)


def told(items: list[Row], **tables: list[Row]) -> list[Told]:
    """What is proposed in a plan of eight weeks."""
    found = moves_of({"items": items, **tables})
    return found.select("kind", "right_date", "days", "right_quantity").rows()


def test_an_order_that_comes_after_it_is_needed_is_asked_for_sooner() -> None:
    found = told([BOLT], spares_orders=[need("bolt", 4, 3)], open_orders=[receipt("bolt", 4, 7)])
    assert found == [("sooner", day(3), 4, 4)]


def test_an_order_that_comes_on_the_day_it_is_needed_stays() -> None:
    asked = [need("bolt", 4, 7)]
    assert told([BOLT], spares_orders=asked, open_orders=[receipt("bolt", 4, 7)]) == []


def test_safety_days_set_the_right_day_but_not_whether_it_is_too_late() -> None:
    kept, asked = [BOLT | {"safety_days": 2}], [need("bolt", 4, 7)]
    assert told(kept, spares_orders=asked, open_orders=[receipt("bolt", 4, 7)]) == []
    late = told(kept, spares_orders=asked, open_orders=[receipt("bolt", 4, 8)])
    assert late == [("sooner", day(5), 3, 4)]


def test_the_right_day_is_never_before_the_plan_begins() -> None:
    kept = [BOLT | {"safety_days": 9}]
    found = told(kept, spares_orders=[need("bolt", 4, 3)], open_orders=[receipt("bolt", 4, 7)])
    assert found == [("sooner", day(0), 7, 4)]


@pytest.mark.parametrize(("due", "moved"), [(4, False), (3, True)])
def test_an_order_may_come_later_if_that_is_more_than_the_days_that_count(
    due: int, moved: bool
) -> None:
    asked = [need("bolt", 4, 9)]
    found = told([BOLT], spares_orders=asked, open_orders=[receipt("bolt", 4, due)])
    assert found == ([("later", day(9), due - 9, 4)] if moved else [])


def test_stock_serves_first_and_the_next_order_is_needed_when_the_one_before_is_used_up() -> None:
    found = told(
        [BOLT],
        stock=[lot("bolt", 3)],
        spares_orders=[need("bolt", 3, 2), need("bolt", 2, 12), need("bolt", 2, 30)],
        open_orders=[receipt("bolt", 2, 1), receipt("bolt", 2, 2)],
    )
    assert found == [("later", day(12), -11, 2), ("later", day(30), -28, 2)]


def test_what_expires_unused_does_not_keep_an_order_away() -> None:
    found = told(
        [BOLT],
        stock=[lot("bolt", 4, 5)],
        spares_orders=[need("bolt", 4, 9)],
        open_orders=[receipt("bolt", 4, 11)],
    )
    assert found == [("sooner", day(9), 2, 4)]


def test_safety_stock_is_needed_from_the_first_day() -> None:
    kept = [BOLT | {"safety_stock": 4.0}]
    assert told(kept, open_orders=[receipt("bolt", 4, 6)]) == [("sooner", day(0), 6, 4)]


def test_an_order_that_nothing_needs_is_said_not_to_be_needed() -> None:
    found = told([BOLT], stock=[lot("bolt", 4)], open_orders=[receipt("bolt", 4, 6)])
    assert found == [("not needed", None, 0, 0)]


@pytest.mark.parametrize(("asked", "enough"), [(7, 7), (9, None), (8, 8)])
def test_less_is_asked_for_where_it_is_more_than_the_share_that_counts(
    asked: int, enough: int | None
) -> None:
    orders = [receipt("bolt", 10, 6)]
    found = told([BOLT], spares_orders=[need("bolt", asked, 6)], open_orders=orders)
    assert found == ([] if enough is None else [("less", day(6), 0, enough)])


def test_the_smaller_quantity_keeps_to_scrap_minimum_and_multiple() -> None:
    wasteful = [item("skin", unit="pc", scrap_rate=0.5, minimum=4, multiple=3)]
    orders = [receipt("skin", 20, 6)]
    found = told(wasteful, spares_orders=[need("skin", 1, 6)], open_orders=orders)
    assert found == [("less", day(6), 0, 6)]


def test_an_order_may_be_late_and_too_much_at_once() -> None:
    found = told([BOLT], spares_orders=[need("bolt", 4, 3)], open_orders=[receipt("bolt", 9, 7)])
    assert found == [("less", day(7), 0, 4), ("sooner", day(3), 4, 9)]


def test_an_overdue_order_is_told_with_the_day_it_is_needed() -> None:
    found = told([BOLT], spares_orders=[need("bolt", 4, 3)], open_orders=[receipt("bolt", 4, -1)])
    assert found == [("overdue", day(3), -3, 4)]


def test_firm_orders_are_only_asked_for_sooner_or_for_a_new_day() -> None:
    firm: Row = {"firm": "yes"}
    orders = [receipt("bolt", 50, -1) | firm, receipt("nut", 9, 7) | firm]
    found = told([BOLT, NUT], open_orders=orders, spares_orders=[need("nut", 4, 3)])
    assert found == [("overdue", None, 0, 50), ("sooner", day(3), 4, 9)]


def test_an_order_past_the_horizon_is_left_alone() -> None:
    assert told([BOLT], open_orders=[receipt("bolt", 4, 200)]) == []


def test_orders_of_the_same_day_are_taken_by_name() -> None:
    orders = [receipt("bolt", 4, 6) | {"order": name} for name in ("P-2", "P-1")]
    asked = [need("bolt", 4, 6)]
    found = moves_of({"items": [BOLT], "open_orders": orders, "spares_orders": asked})
    assert found.select("order", "kind").rows() == [("P-2", "not needed")]


def test_the_money_that_moves_is_what_the_moved_quantity_costs() -> None:
    found = moves_of(
        {
            "items": [BOLT, NUT],
            "open_orders": [receipt("bolt", 10, 7), receipt("nut", 3, 7)],
            "spares_orders": [need("bolt", 4, 3), need("nut", 3, 3)],
        }
    )
    values = {(row["item"], row["kind"]): row["value"] for row in found.iter_rows(named=True)}
    assert values == {("bolt", "less"): 12.0, ("bolt", "sooner"): 20.0, ("nut", "sooner"): None}


def test_needs_of_what_is_built_from_it_count_on_the_day_the_building_starts() -> None:
    made = item("box", source="make", unit="pc", lead_days=4)
    found = told(
        [made, BOLT],
        structure=[line("box", "bolt", 2)],
        spares_orders=[need("box", 3, 10)],
        open_orders=[receipt("bolt", 6, 8)],
    )
    assert found == [("sooner", day(6), 2, 6)]


def test_the_rest_that_sums_of_decimals_leave_is_no_need() -> None:
    resin = item("resin", unit="kg")  # 0.1 + 0.2 is above 0.3 by its last digit
    early, late = [need("resin", 0.1, 3), need("resin", 0.2, 5)], need("resin", 5, 30)
    there, coming = [lot("resin", 0.3)], [receipt("resin", 5, 12)]
    found = told([resin], stock=there, spares_orders=[*early, late], open_orders=coming)
    assert found == [("later", day(30), -18, 5)]
    found = told([resin], stock=there, spares_orders=early, open_orders=coming)
    assert found == [("not needed", None, 0, 0)]


def test_the_rest_of_what_has_expired_is_no_need() -> None:
    resin = item("resin", unit="kg")  # 13.13 less 6.61 and 6.52 is just below nothing
    there, coming = [lot("resin", 6.61, 4), lot("resin", 6.52, 8)], [receipt("resin", 5, 12)]
    found = told([resin], stock=there, spares_orders=[need("resin", 5, 30)], open_orders=coming)
    assert found == [("later", day(30), -18, 5)]


def test_who_waits_for_an_order_is_named_where_it_is_asked_for_sooner() -> None:
    moves = moves_of(
        {
            "items": [BOLT],
            "open_orders": [receipt("bolt", 10, 7) | {"order": "P-1"}],
            "spares_orders": [need("bolt", 4, 3)],
        }
    )
    pegs = pl.DataFrame(
        {
            "item": ["bolt"] * 5,
            "serial": [""] * 5,
            "supply_kind": [*["open order"] * 4, "planned order"],
            "supply": ["P-1"] * 5,
            "demand": ["A-2", "A-1", "A-3", "", "A-4"],
            "demand_kind": ["airframe", "routine", "airframe", "stock", "airframe"],
            "late_days": [1, 2, 0, 3, 5],
        }
    )
    found = with_gains(moves, pegs)
    assert dict(found.select("kind", "demand").rows()) == {"less": "", "sooner": "A-1, A-2"}


@settings(deadline=None, derandomize=True, max_examples=150)
@given(st.integers(0, 99_999))
def test_every_move_on_random_tables_is_that_of_the_naive_way(seed: int) -> None:
    tables = random_tables(seed)
    chance = random.Random(seed)
    for row in tables["open_orders"]:
        row["firm"] = chance.choice(["yes", "no", "no"])
        row["quantity"] = float(str(row["quantity"])) * chance.choice([1, 1, 3])
    days, share = chance.choice([0, 2, 5]), chance.choice([0.0, 0.1, 0.4])
    found = moves_of(tables, days, share).rows()
    expected = naive_moves(tables, days, share)
    assert [NaiveMove(*row)[:7] for row in found] == [move[:7] for move in expected]
    for real, naive in zip(found, expected, strict=True):
        assert real[10] == naive.meant_for
        assert real[7:9] == pytest.approx(naive[7:9])
        assert real[9] == (None if naive.value is None else pytest.approx(naive.value, rel=1e-9))


def test_what_expires_a_day_before_the_last_one_does_not_serve_a_need_on_it() -> None:
    # eight weeks are days 0 to 39
    asked, coming = [need("bolt", 4, 39)], [receipt("bolt", 4, 39)]
    found = told([BOLT], stock=[lot("bolt", 4, 38)], spares_orders=asked, open_orders=coming)
    assert found == []
    lasting = told([BOLT], stock=[lot("bolt", 4, 39)], spares_orders=asked, open_orders=coming)
    assert [kind for kind, *_ in lasting] == ["not needed"]
