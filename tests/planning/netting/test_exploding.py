"""From planned orders to the needs of their components, and what passes straight through.

Orders are given as (start day, due day, quantity started), needs as day: quantity.
"""

from datetime import date

import pytest

from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.too_much import TooMuch
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import (
    MONDAY,
    Plan,
    day,
    item,
    line,
    lot,
    need,
    plan_of,
    receipt,
)
from tests.random_tables import Row


def skin(**columns: object) -> Row:
    """A made piece."""
    return item("skin", source="make", unit="pc", **columns)


def resin_for(
    wanted: dict[int, float], parent: Row, quantity: float = 1, unit: str = "kg", **columns: object
) -> Plan:
    """The plan of skins needed by day, each with resin by a line with these columns."""
    return plan_of(
        [parent, item("resin", unit=unit)],
        structure=[line("skin", "resin", quantity) | columns],
        spares_orders=[need("skin", quantity, number) for number, quantity in wanted.items()],
    )


# ---------------------------------------------------------------- how much


def test_a_line_asks_for_its_quantity_for_each_unit_started() -> None:
    # 8 good skins take 10 starts, each with 0.5 kg
    plan = resin_for({5: 8}, skin(scrap_rate=0.2), quantity=0.5)
    assert plan.orders_of("skin") == [(5, 5, 10)]
    assert plan.gross_of("resin") == {5: 5}


def test_lots_of_the_parent_are_supplied_whole() -> None:
    plan = resin_for({5: 8}, skin(multiple=6), quantity=0.5)
    assert plan.gross_of("resin") == {5: 6}


def test_a_line_for_each_order_asks_once_whatever_its_size() -> None:
    plan = resin_for({5: 8, 7: 1}, skin(), quantity=0.5, per="order")
    assert plan.gross_of("resin") == {5: 0.5, 7: 0.5}


def test_late_orders_that_start_on_one_day_each_ask_once() -> None:
    # two orders, as neither may cover more than a day
    late = skin(lead_days=9, longest_cover_days=1)
    plan = resin_for({1: 8, 2: 1}, late, quantity=0.5, per="order")
    assert plan.gross_of("resin") == {0: 1}


def test_waste_is_added_as_a_share_of_what_is_drawn() -> None:
    # 2 x 0.6 / (1 - 0.2) = 1.5
    assert resin_for({5: 2}, skin(), quantity=0.6, waste=0.2).gross_of("resin") == {5: 1.5}
    # 0.6 / (1 - 0.2) = 0.75, once
    once = resin_for({5: 2}, skin(), quantity=0.6, waste=0.2, per="order")
    assert once.gross_of("resin") == {5: 0.75}


@pytest.mark.parametrize(
    ("child_unit", "line_unit", "quantity", "asked"),
    [
        ("kg", "g", 500, 2),
        ("g", "kg", 0.5, 2000),
        ("m", "mm", 250, 1),
        ("m", "cm", 25, 1),
        ("cm", "mm", 250, 100),
        ("mm", "m", 0.25, 1000),
        ("l", "ml", 125, 0.5),
        ("kg", None, 0.5, 2),
        ("m2", "m2", 0.5, 2),
        ("pc", "pc", 3, 12),
    ],
)
def test_a_quantity_is_converted_to_the_unit_of_the_child(
    child_unit: str, line_unit: str | None, quantity: float, asked: float
) -> None:
    plan = plan_of(
        [skin(), item("resin", unit=child_unit)],
        structure=[line("skin", "resin", quantity, unit=line_unit)],
        spares_orders=[need("skin", 4, 5)],
    )
    assert plan.gross_of("resin") == {5: asked}


def test_several_lines_and_parents_add_up() -> None:
    # day 5: 2 skins x (1 + 0.5); day 6: 1 rib x 0.25
    plan = plan_of(
        [skin(), item("rib", source="make", unit="pc"), item("resin")],
        structure=[
            line("skin", "resin", 1, position="10"),
            line("skin", "resin", 0.5, position="20"),
            line("rib", "resin", 0.25),
        ],
        spares_orders=[need("skin", 2, 5), need("rib", 1, 6), need("resin", 4, 6)],
    )
    assert plan.gross_of("resin") == {5: 3, 6: 4.25}


def test_a_parent_served_from_stock_asks_for_nothing() -> None:
    plan = plan_of(
        [skin(), item("resin")],
        structure=[line("skin", "resin")],
        stock=[lot("skin", 2)],
        spares_orders=[need("skin", 2, 5)],
    )
    assert plan.gross_of("resin") == {}


def test_quantities_beyond_counting_are_refused_by_the_name_of_the_item() -> None:
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 1}],
            "items": [skin(), item("resin")],
            "structure": [line("skin", "resin", 1e12)],
            "spares_orders": [need("skin", 2, 1)],
        }
    )
    with pytest.raises(TooMuch, match="resin"):
        plan_flows(build_network(tables))


# ---------------------------------------------------------------- when


def test_components_are_needed_on_the_start_day() -> None:
    plan = resin_for({9: 1}, skin(lead_days=4, safety_days=2))
    assert plan.orders_of("skin") == [(3, 7, 1)]
    assert plan.gross_of("resin") == {3: 1}


def test_an_offset_moves_a_need_after_the_start_but_at_latest_to_the_due_day() -> None:
    parent = skin(lead_days=4, safety_days=2)
    assert resin_for({9: 1}, parent, offset_days=3).gross_of("resin") == {6: 1}
    assert resin_for({9: 1}, parent, offset_days=4).gross_of("resin") == {7: 1}
    assert resin_for({9: 1}, parent, offset_days=9).gross_of("resin") == {7: 1}


def test_a_negative_offset_moves_a_need_before_the_start_but_not_before_day_0() -> None:
    assert resin_for({9: 1}, skin(lead_days=4), offset_days=-2).gross_of("resin") == {3: 1}
    assert resin_for({5: 1}, skin(lead_days=4), offset_days=-2).gross_of("resin") == {0: 1}


def test_components_of_a_late_order_are_needed_from_day_0_on() -> None:
    # usable 3, due 1, start -3: shown as day 0
    parent = skin(lead_days=4, safety_days=2)
    assert resin_for({3: 1}, parent).gross_of("resin") == {0: 1}
    assert resin_for({3: 1}, parent, offset_days=3).gross_of("resin") == {1: 1}


def test_lead_times_add_up_through_the_levels() -> None:
    # wing: start 12 - 5 = 7; skin: due 7 - 1 = 6, start 3; resin: due 3, start 1
    plan = plan_of(
        [
            item("wing", source="make", unit="pc", lead_days=5),
            skin(lead_days=3, safety_days=1),
            item("resin", lead_days=2),
        ],
        structure=[line("wing", "skin", 2), line("skin", "resin", 0.25)],
        spares_orders=[need("wing", 1, 12)],
    )
    assert plan.orders_of("wing") == [(7, 12, 1)]
    assert plan.orders_of("skin") == [(3, 6, 2)]
    assert plan.orders_of("resin") == [(1, 3, 0.5)]


# ---------------------------------------------------------------- dates of a line


def test_the_dates_of_a_line_are_inclusive_and_compare_the_start_of_the_order() -> None:
    # starts on days 4 and 5 for needs on days 7 and 8
    parent = skin(lead_days=3)
    assert resin_for({7: 1, 8: 1}, parent, from_date=day(5)).gross_of("resin") == {5: 1}
    assert resin_for({7: 1, 8: 1}, parent, to_date=day(4)).gross_of("resin") == {4: 1}
    both = resin_for({7: 1, 8: 1, 9: 1}, parent, from_date=day(5), to_date=day(5))
    assert both.gross_of("resin") == {5: 1}


def test_a_date_on_a_day_off_parts_the_working_days_around_it() -> None:
    # day 4 is Friday 2026-12-04, day 5 is Monday 2026-12-07
    parent = skin(lead_days=3)
    sunday = date(2026, 12, 6)
    assert resin_for({7: 1, 8: 1}, parent, from_date=sunday).gross_of("resin") == {5: 1}
    assert resin_for({7: 1, 8: 1}, parent, to_date=sunday).gross_of("resin") == {4: 1}


def test_a_late_order_takes_the_lines_of_day_0() -> None:
    parent = skin(lead_days=9)
    assert resin_for({3: 1}, parent, to_date=day(-1)).gross_of("resin") == {}
    assert resin_for({3: 1}, parent, to_date=day(0)).gross_of("resin") == {0: 1}
    assert resin_for({3: 1}, parent, from_date=day(1)).gross_of("resin") == {}
    assert resin_for({3: 1}, parent, from_date=day(-4)).gross_of("resin") == {0: 1}


def test_a_line_that_begins_past_the_horizon_never_counts() -> None:
    assert resin_for({3: 1, 19: 1}, skin(), from_date=day(400)).gross_of("resin") == {}
    assert resin_for({3: 1, 19: 1}, skin(), to_date=day(400)).gross_of("resin") == {3: 1, 19: 1}


def test_the_dates_of_a_line_do_not_choose_by_the_day_of_the_component() -> None:
    # the order starts on day 4; its component on day 4 + 2 = 6 still goes by day 4
    plan = resin_for({7: 1}, skin(lead_days=3), to_date=day(4), offset_days=2)
    assert plan.gross_of("resin") == {6: 1}


# ---------------------------------------------------------------- phantoms and kits


SET_LINES = [line("wing", "set"), line("set", "screw", 8)]


def phantom_plan(
    rules: Row | None = None, structure: list[Row] = SET_LINES, **supply: list[Row]
) -> Plan:
    """A wing with one phantom set of 8 screws: one is started on day 3 and two on day 6."""
    return plan_of(
        [
            item("wing", source="make", unit="pc", lead_days=2),
            item("set", source="phantom", unit="pc", **(rules or {})),
            item("screw", unit="pc"),
        ],
        structure=structure,
        spares_orders=[need("wing", 1, 5), need("wing", 2, 8)],
        **supply,
    )


def test_a_phantom_has_no_order_and_passes_its_need_to_its_children_on_the_same_day() -> None:
    plan = phantom_plan()
    assert plan.orders_of("set") == []
    assert plan.gross_of("set") == {3: 1, 6: 2}
    assert plan.gross_of("screw") == {3: 8, 6: 16}


def test_stock_and_open_orders_of_a_phantom_are_used_first() -> None:
    # day 3: C 1, S 1; day 6: C 3, S 1 + 1; one is passed on
    plan = phantom_plan(stock=[lot("set", 1)], open_orders=[receipt("set", 1, 4)])
    assert plan.gross_of("screw") == {6: 8}


def test_a_phantom_has_no_lead_time_lot_rule_or_safety_stock() -> None:
    rules: Row = {
        "lead_days": 2,
        "safety_days": 1,
        "minimum": 10,
        "multiple": 6,
        "cover_days": 10,
        "safety_stock": 4,
    }
    assert phantom_plan(rules).gross_of("screw") == {3: 8, 6: 16}


@pytest.mark.parametrize("offset", [2, -2])
def test_the_lines_of_a_phantom_ask_on_the_same_day_whatever_their_offset(offset: int) -> None:
    lines = [line("wing", "set"), line("set", "screw", 8, offset_days=offset)]
    assert phantom_plan(structure=lines).gross_of("screw") == {3: 8, 6: 16}


def test_a_phantom_is_not_rounded_to_whole_pieces() -> None:
    lines = [line("wing", "set", 0.5), line("set", "screw", 8)]
    assert phantom_plan(structure=lines).gross_of("screw") == {3: 4, 6: 8}


def test_the_dates_of_a_phantoms_line_compare_the_day_on_which_it_is_passed() -> None:
    lines = [line("wing", "set"), line("set", "screw", 8, from_date=day(6))]
    assert phantom_plan(structure=lines).gross_of("screw") == {6: 16}


def test_a_phantom_in_a_phantom_passes_through_both() -> None:
    plan = plan_of(
        [
            item("outer", source="phantom", unit="pc"),
            item("inner", source="phantom", unit="pc"),
            item("screw", unit="pc"),
        ],
        structure=[line("outer", "inner", 2), line("inner", "screw", 8)],
        stock=[lot("inner", 1)],
        spares_orders=[need("outer", 1, 5)],
    )
    assert plan.gross_of("screw") == {5: 8}
    assert plan.orders["item"].to_list() == ["screw"]


def test_a_kit_is_planned_like_a_made_item_and_its_lead_time_is_the_packing() -> None:
    plan = plan_of(
        [item("kit", source="kit", unit="pc", lead_days=2, minimum=5), item("bolt", unit="pc")],
        structure=[line("kit", "bolt", 4)],
        spares_orders=[need("kit", 3, 5)],
    )
    assert plan.orders_of("kit") == [(3, 5, 5)]
    assert plan.gross_of("bolt") == {3: 20}


# ---------------------------------------------------------------- replacements


def test_the_old_item_is_used_up_first_and_the_rest_is_asked_of_the_new_one() -> None:
    # open order: 2 x 0.5 = 1 good on day 4
    # day 1: C 2, S 3; day 4: C 5, S 4, 1 passes on; day 6: C 10, 6 - 1 = 5 pass on
    # new, at least 3: day 4: 3 for 1; day 6: C 6, P 3, another 3
    plan = plan_of(
        [item("old", scrap_rate=0.5), item("new", lead_days=1, minimum=3)],
        replacements=[{"old": "old", "new": "new"}],
        stock=[lot("old", 3)],
        open_orders=[receipt("old", 2, 4)],
        spares_orders=[need("old", 2, 1), need("old", 3, 4), need("old", 5, 6)],
    )
    assert plan.orders_of("old") == []
    assert plan.gross_of("new") == {4: 1, 6: 5}
    assert plan.orders_of("new") == [(3, 4, 3), (5, 6, 3)]


def test_the_lot_rule_safety_stock_scrap_and_lead_time_of_the_old_item_no_longer_count() -> None:
    old = item(
        "old",
        lead_days=9,
        safety_days=2,
        minimum=100,
        multiple=50,
        cover_days=10,
        safety_stock=7,
        scrap_rate=0.5,
    )
    plan = plan_of(
        [old, item("new")],
        replacements=[{"old": "old", "new": "new"}],
        spares_orders=[need("old", 2, 1), need("old", 3, 4)],
    )
    assert plan.gross_of("new") == {1: 2, 4: 3}
    assert plan.orders["item"].unique().to_list() == ["new"]


def test_replacements_follow_one_another() -> None:
    # 1 of the first, 2 of the second, so 2 of the third
    plan = plan_of(
        [item("first"), item("second"), item("third")],
        replacements=[{"old": "first", "new": "second"}, {"old": "second", "new": "third"}],
        stock=[lot("first", 1), lot("second", 2)],
        spares_orders=[need("first", 5, 3)],
    )
    assert plan.gross_of("second") == {3: 4}
    assert plan.gross_of("third") == {3: 2}
    assert plan.orders["item"].to_list() == ["third"]


def test_needs_of_the_new_item_itself_are_added() -> None:
    plan = plan_of(
        [item("old"), item("new")],
        replacements=[{"old": "old", "new": "new"}],
        spares_orders=[need("old", 2, 3), need("new", 1, 3)],
    )
    assert plan.orders_of("new") == [(3, 3, 3)]


def test_a_replacement_is_asked_in_its_own_unit() -> None:
    plan = plan_of(
        [item("old", unit="g"), item("new", unit="kg")],
        replacements=[{"old": "old", "new": "new"}],
        stock=[lot("old", 500)],
        spares_orders=[need("old", 2000, 3)],
    )
    assert plan.gross_of("new") == {3: 1.5}


def test_the_lines_of_a_replaced_item_are_not_used_any_more() -> None:
    plan = plan_of(
        [item("old", source="make"), item("new", source="make"), item("glue"), item("tape")],
        structure=[line("old", "glue"), line("new", "tape")],
        replacements=[{"old": "old", "new": "new"}],
        spares_orders=[need("old", 2, 3)],
    )
    assert plan.gross_of("glue") == {}
    assert plan.gross_of("tape") == {3: 2}


def test_expiring_stock_of_the_old_item_is_used_in_time_or_lost() -> None:
    # 5 up to day 2, of which 2 are used; 4 of day 6 pass on
    plan = plan_of(
        [item("old"), item("new")],
        replacements=[{"old": "old", "new": "new"}],
        stock=[lot("old", 5, expires=2)],
        spares_orders=[need("old", 2, 1), need("old", 4, 6)],
    )
    assert plan.gross_of("new") == {6: 4}


# ---------------------------------------------------------------- open orders and what they lack


def test_an_open_order_without_allocations_has_all_its_components() -> None:
    plan = plan_of(
        [skin(), item("resin")],
        structure=[line("skin", "resin")],
        open_orders=[receipt("skin", 2, 5)],
        spares_orders=[need("skin", 2, 6)],
    )
    assert plan.orders_of("skin") == []
    assert plan.gross_of("resin") == {}


def test_what_an_open_order_still_lacks_is_needed_on_its_own_date() -> None:
    lacking: Row = {"order": "W-1", "item": "resin", "quantity": 0.75, "need_date": day(2)}
    plan = plan_of(
        [skin(), item("resin", lead_days=1)],
        structure=[line("skin", "resin")],
        open_orders=[receipt("skin", 2, 5, order="W-1")],
        allocations=[lacking],
        spares_orders=[need("skin", 3, 6)],
    )
    assert plan.gross_of("resin") == {2: 0.75, 6: 1}
    assert plan.orders_of("resin") == [(1, 2, 0.75), (5, 6, 1)]
