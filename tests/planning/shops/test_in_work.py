"""Open make and print orders take hours, printer hours and pulls before anything planned does."""

import polars as pl
import pytest

from bomkit.planning.shop_loads import shop_loads
from bomkit.planning.shop_plan import ShopPlan
from bomkit.planning.shops.in_work import work_in_progress
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.planning.workdays import workdays_of
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, need, plan_shops, receipt
from tests.random_tables import Row

LAID_UP = item("skin", source="make", unit="pc", process="lay-up", lead_days=1, hours_each=5)
PRINTED = item("mount", source="print", unit="pc", material="PA", lead_days=1)
FIRST, SECOND = "2026-W49", "2026-W50"


def planned(items: list[Row], pull: int = 0, **more: list[Row]) -> ShopPlan:
    """Four weeks of these tables."""
    plan: list[Row] = [{"start": MONDAY, "horizon_weeks": 4}]
    tables = typed_tables({"plan": plan, "items": items, **more})
    return plan_shops(build_network(tables), tables, pull)


def hours(plan: ShopPlan, process: str = "lay-up") -> dict[str, float]:
    """The hours in work by week, as far as there are any."""
    own = plan.loads.filter((pl.col("process") == process) & (pl.col("in_work") > 0))
    assert own["hours"].to_list() == own["in_work"].to_list()
    return dict(own.select("week", "in_work").iter_rows())


def test_all_hours_of_an_open_order_lie_between_the_first_day_and_its_due_day() -> None:
    assert hours(planned([LAID_UP], open_orders=[receipt("skin", 2, 5)])) == {FIRST: 10}


def test_hours_of_an_order_due_in_a_later_week_are_spread_over_the_days_until_then() -> None:
    # 20 hours over days 0 to 7: five days in the first week, three in the second
    assert hours(planned([LAID_UP], open_orders=[receipt("skin", 4, 8)])) == {
        FIRST: 12.5,
        SECOND: 7.5,
    }


@pytest.mark.parametrize("due", [-3, 0, 1])
def test_what_is_overdue_or_due_at_once_counts_on_the_first_day(due: int) -> None:
    assert hours(planned([LAID_UP], open_orders=[receipt("skin", 2, due)])) == {FIRST: 10}


def test_hours_left_take_the_place_of_the_hours_of_the_whole_order() -> None:
    open_orders = [receipt("skin", 4, 8) | {"hours_left": 8.0}]
    assert hours(planned([LAID_UP], open_orders=open_orders)) == {FIRST: 5, SECOND: 3}


def test_an_order_with_no_hours_left_takes_none() -> None:
    assert (
        hours(planned([LAID_UP], open_orders=[receipt("skin", 4, 8) | {"hours_left": 0.0}])) == {}
    )


def test_what_falls_past_the_horizon_is_left_out() -> None:
    # 20 working days of the horizon out of 40
    found = hours(planned([LAID_UP], open_orders=[receipt("skin", 8, 40)]))
    assert found[FIRST] == 5
    assert sum(found.values()) == pytest.approx(20)


def test_what_is_bought_takes_no_hours() -> None:
    bought = item("skin", source="buy", unit="pc", process="lay-up", hours_each=5)
    assert hours(planned([bought], open_orders=[receipt("skin", 2, 5)])) == {}


def test_an_hour_an_order_takes_once_is_in_work_too() -> None:
    once = LAID_UP | {"hours_per_order": 3.0}
    assert hours(planned([once], open_orders=[receipt("skin", 2, 5)])) == {FIRST: 13}


def test_printed_parts_without_a_process_are_in_work_at_the_print_process() -> None:
    printed = PRINTED | {"hours_each": 0.5}
    assert hours(planned([printed], open_orders=[receipt("mount", 4, 5)]), "print") == {FIRST: 2}


def printers(plan: ShopPlan) -> dict[tuple[str, str], tuple[float, float]]:
    """Hours in work and hours by kind and week, where there are any."""
    own = plan.prints.loads.filter(pl.col("hours") > 0)
    return {
        (kind, week): (in_work, all_hours)
        for kind, week, in_work, all_hours in own.select(
            "kind", "week", "in_work", "hours"
        ).iter_rows()
    }


PROFILE: Row = {"item": "mount", "hours": 2.0, "per_plate": 4, "printers": "small big"}
SMALL: Row = {"kind": "small", "count": 1, "hours_per_week": 10.0}
BIG: Row = {"kind": "big", "count": 1, "hours_per_week": 10.0}


def test_open_print_orders_take_printer_hours_before_planned_ones() -> None:
    plan = planned(
        [PRINTED],
        prints=[PROFILE],
        printers=[SMALL, BIG],
        open_orders=[receipt("mount", 4, 4)],
        spares_orders=[need("mount", 7, 4)],
    )
    # 8 of the 10 small hours are in work: of three more pieces one goes there, two to the big one
    assert printers(plan) == {("small", FIRST): (8, 10), ("big", FIRST): (0, 4)}


def test_print_hours_are_left_in_the_proportion_of_the_hours_left() -> None:
    printed = PRINTED | {"hours_each": 1.0}
    open_orders = [receipt("mount", 4, 5) | {"hours_left": 1.0}]
    plan = planned([printed], prints=[PROFILE], printers=[SMALL], open_orders=open_orders)
    assert printers(plan) == {("small", FIRST): (2, 2)}


def test_hours_left_of_a_part_without_hours_of_its_own_are_those_of_a_printer() -> None:
    open_orders = [receipt("mount", 4, 5) | {"hours_left": 3.0}]
    plan = planned([PRINTED], prints=[PROFILE], printers=[SMALL], open_orders=open_orders)
    assert printers(plan) == {("small", FIRST): (3, 3)}
    assert plan.loads.is_empty() or plan.loads["in_work"].sum() == 0


def mould(**more: object) -> Row:
    return {"mould": "M1", "item": "skin", "count": 1, "pulls_per_week": 4.0, **more}


def test_open_orders_pull_on_top_of_the_pulls_left_but_within_those_of_a_week() -> None:
    plan = planned(
        [LAID_UP],
        moulds=[mould(pulls_left=1.0)],
        open_orders=[receipt("skin", 2, 4)],
        spares_orders=[need("skin", 3, 4)],
    )
    first = plan.pulls.filter(pl.col("week") == FIRST)
    # one pull left after the two in work: three of the four that a week gives
    assert first.select("pulls", "capacity", "in_work").rows() == [(3, 3, 2)]


def test_a_week_gives_no_more_pulls_than_a_week_has_whatever_is_in_work() -> None:
    plan = planned([LAID_UP], moulds=[mould()], open_orders=[receipt("skin", 3, 5)])
    assert plan.pulls.filter(pl.col("week") == FIRST)["capacity"].to_list() == [4]


def test_the_pulls_of_two_moulds_are_in_work_by_what_each_gives_a_week() -> None:
    moulds = [mould(pulls_left=0.0), mould(mould="M2", pulls_per_week=12.0, pulls_left=0.0)]
    plan = planned([LAID_UP], moulds=moulds, open_orders=[receipt("skin", 8, 5)])
    assert plan.pulls.filter(pl.col("week") == FIRST).select("capacity", "in_work").rows() == [
        (8, 8)
    ]


def test_orders_are_not_pulled_into_hours_that_open_orders_take() -> None:
    shop: list[Row] = [{"process": "lay-up", "hours_per_week": 10.0}]
    tables: dict[str, list[Row]] = {"processes": shop, "spares_orders": [need("skin", 3, 11)]}
    # 15 hours in the third week: one skin of them starts in the second, where there is room
    free = planned([LAID_UP], 2, **tables)
    assert free.moves["quantity"].to_list() == [1]
    full = planned(
        [LAID_UP], 2, **tables, open_orders=[receipt("skin", 0.001, 10) | {"hours_left": 20.0}]
    )
    assert full.moves.is_empty()


def test_orders_are_not_pulled_to_where_open_orders_take_the_moulds() -> None:
    tables: dict[str, list[Row]] = {
        "moulds": [mould(pulls_per_week=2.0)],
        "spares_orders": [need("skin", 3, 7)],
    }
    assert planned([LAID_UP], 1, **tables).moves["quantity"].to_list() == [1]
    in_work = [receipt("skin", 2, 5, serial="") | {"order": "W-1"}]
    more = [need("skin", 5, 7)]
    assert planned(
        [LAID_UP], 1, **{**tables, "spares_orders": more}, open_orders=in_work
    ).moves.is_empty()


def test_both_loads_of_a_printer_and_a_mould_have_the_work_in_progress() -> None:
    items = [LAID_UP, PRINTED]
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 4}],
            "items": items,
            "prints": [PROFILE],
            "printers": [SMALL],
            "moulds": [mould()],
            "open_orders": [receipt("mount", 1, 5), receipt("skin", 2, 5)],
        }
    )
    plan = plan_shops(build_network(tables), tables, 0)
    found = shop_loads(plan, tables).filter(pl.col("in_work") > 0)
    assert found.select("kind", "load_before", "load", "in_work").rows() == [
        ("printer", 2, 2, 2),
        ("mould", 2, 2, 2),
    ]


def test_less_than_an_hour_counts_too() -> None:
    open_orders = [receipt("skin", 4, 5) | {"hours_left": 0.5}]
    assert hours(planned([LAID_UP], open_orders=open_orders)) == {FIRST: 0.5}


def test_a_printed_part_with_few_hours_of_its_own_counts_these_and_its_print_hours() -> None:
    printed = PRINTED | {"hours_each": 0.1}
    open_orders = [receipt("mount", 4, 5) | {"hours_left": 0.1}]
    plan = planned([printed], prints=[PROFILE], printers=[SMALL], open_orders=open_orders)
    assert hours(plan, "print") == {FIRST: pytest.approx(0.1)}
    # a quarter of its own 0.4 hours is left, so a quarter of the 8 hours of printing is
    assert printers(plan) == {("small", FIRST): (2, 2)}


def test_hours_left_of_what_states_neither_hours_nor_a_print_are_hours_of_its_process() -> None:
    bare = LAID_UP | {"hours_each": 0}
    open_orders = [receipt("skin", 2, 5) | {"hours_left": 6.0}]
    assert hours(planned([bare], open_orders=open_orders)) == {FIRST: 6}
    settings: list[Row] = [{"start": MONDAY, "horizon_weeks": 4}]
    tables = typed_tables({"plan": settings, "items": [bare], "open_orders": open_orders})
    taken = work_in_progress(tables, workdays_of(tables))
    assert taken.select("hours", "print_hours", "pulls", "last").rows() == [(6, 0, 2, 5)]


def test_where_there_is_no_printer_nothing_is_put_on_plates() -> None:
    prints: list[Row] = [{"item": "mount", "hours": 2, "per_plate": 4, "printers": "old"}]
    plan = planned([PRINTED], prints=prints, spares_orders=[need("mount", 3, 6)])
    assert plan.prints.plates.is_empty() and plan.prints.loads.is_empty()


def test_what_is_in_work_keeps_its_printer_hours_from_what_is_planned() -> None:
    prints: list[Row] = [{"item": "mount", "hours": 2, "per_plate": 4, "printers": "old new"}]
    printers: list[Row] = [
        {"kind": kind, "count": 1, "hours_per_week": 9} for kind in ("old", "new")
    ]
    plan = planned(
        [PRINTED],
        prints=prints,
        printers=printers,
        open_orders=[receipt("mount", 4, 3)],
        spares_orders=[need("mount", 5, 4)],
    )
    # one more is begun in the first week: of the nine hours eight are spoken for
    first = plan.prints.loads.filter(week=FIRST).select("kind", "in_work", "hours").rows()
    assert sorted(first) == [("new", 0, 2), ("old", 8, 8)]
