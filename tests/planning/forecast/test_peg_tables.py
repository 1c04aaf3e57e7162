"""The result tables of pegs, pacing chains and forecast, row by row."""

import polars as pl

from bomkit.planning.allocation import allocated, stores_tables
from bomkit.planning.allocation_by_forecast import Made
from bomkit.planning.forecast.peg_graph import NO_BOUNDS
from bomkit.planning.pegging.peg import peg
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.tables.shared_columns import NEVER
from tests.builders import typed_tables
from tests.planning.driver import (
    MONDAY,
    Netted,
    airframe,
    day,
    line,
    lot,
    need,
    piece,
    plan_of,
    receipt,
)


def unserved() -> dict[str, pl.DataFrame]:
    """The tables of a plan that is not made again though nothing may serve its last cap.

    Netting counts the pin that is kept for another serial.
    """
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 4}],
            "items": [piece("cap", "make"), piece("box", "make", 2), piece("pin", "buy", 3)],
            "structure": [line("cap", "pin"), line("box", "cap")],
            "stock": [lot("pin", 1, serial="K-9")],
            "spares_orders": [need("box", 1, 8, order="S1"), need("pin", 1, 4, order="S2")],
        }
    )
    plan = Netted(build_network(tables))
    pegged = peg(plan.network, plan.flows, plan.orders, tables)
    made = Made(plan.network, tables, plan.flows, plan.orders, NO_BOUNDS)
    return stores_tables(allocated(made, pegged))


def test_what_nothing_serves_has_no_day_in_any_table() -> None:
    tables = unserved()
    lacking = tables["pegs"].filter(supply_kind="none")
    assert lacking.select("item", "supply", "supply_date", "comes", "late_days").rows() == [
        ("pin", "", None, None, NEVER)
    ]
    dates = dict(tables["forecast"].select("demand", "earliest_date").rows())
    assert dates == {"S1": None, "S2": day(3)}
    # the cap is made of the pin on the day on which that is there: never
    never = tables["pacing"].filter(demand="S1").select("item", "finish_date").rows()
    assert never == [("cap", None), ("box", None)]
    assert tables["ready"].filter(item="cap")["state"].to_list() == ["short"]


def test_comes_is_the_later_of_the_orders_own_day_and_the_forecasts() -> None:
    plan = plan_of(
        [piece("fin", "make", 2), piece("lamp", "buy", 6), piece("tyre", "buy", 3)],
        structure=[line("fin", "lamp")],
        spares_orders=[need("fin", 1, 5), need("tyre", 1, 9), need("lamp", 1, 9)],
    )
    found = plan.pegs.select("item", "supply_date", "comes", "late_days").rows()
    assert found == [
        ("fin", day(5), day(8), 3),
        ("lamp", day(3), day(6), 3),
        ("lamp", day(9), day(9), 0),
        ("tyre", day(9), day(9), 0),
    ]


def test_an_order_of_several_rows_is_there_with_the_last_and_as_late_as_the_latest() -> None:
    plan = plan_of(
        [piece("lamp", "buy", 3), piece("tyre", "buy", 5)],
        spares_orders=[need("lamp", 1, 1, order="S"), need("tyre", 1, 11, order="S")],
    )
    columns = ("ready_date", "earliest_date", "late_days", "spare_days")
    assert plan.forecast.select(columns).rows() == [(day(11), day(5), 2, 6)]


def test_what_was_wanted_before_the_first_day_is_late_by_these_working_days_too() -> None:
    plan = plan_of(
        [piece("lamp", "buy", 3), piece("tyre", "buy", 3)],
        spares_orders=[need("lamp", 1, -4, order="S1"), need("tyre", 1, 0, order="S2")],
    )
    late = dict(plan.forecast.select("demand", "late_days").rows())
    assert late == {"S1": 3 + 4, "S2": 3}


def test_a_chain_says_of_each_link_when_it_begins_and_ends_and_what_it_leaves_over() -> None:
    plan = plan_of(
        [
            piece("glider", "make", 6),
            piece("seat", "make", 2),
            piece("belt", "buy", 4),
        ],
        structure=[line("glider", "seat", offset_days=2), line("seat", "belt")],
        build_plan=[airframe("KL-1", "glider", 8)],
        open_orders=[receipt("belt", 1, 3, order="B-1")],
    )
    columns = ("step", "item", "supply_kind", "start_date", "days", "finish_date", "needed_after")
    # the glider could begin on day 3, and the seat is there on its third day
    assert plan.pacing.select(columns).rows() == [
        (1, "belt", "open order", None, 0, day(3), 0),
        (2, "seat", "planned order", day(3), 2, day(5), 2),
        (3, "glider", "planned order", day(3), 6, day(9), 0),
    ]
    words = f"belt (B-1, {day(3)}) > seat (make-0002, 2 d) > glider (make-0001, 6 d)"
    assert plan.forecast.select("pacing_item", "pacing").rows() == [("belt", words)]
    assert plan.earliest_of("KL-1") == (day(9), 1, 0)


def test_what_lies_there_paces_nothing_and_of_what_comes_the_last_does() -> None:
    parts = ("axle", "bolt", "clip", "disc")
    plan = plan_of(
        [piece("glider", "make", 3), *(piece(name, "buy", 15) for name in parts)],
        structure=[line("glider", name) for name in parts],
        build_plan=[airframe("KL-1", "glider", 8), airframe("KL-2", "glider", 9)],
        stock=[lot("axle", 2), lot("bolt", 1), lot("clip", 1), lot("disc", 1)],
        open_orders=[receipt("bolt", 1, 4), receipt("clip", 1, 6), receipt("disc", 1, 5)],
    )
    assert plan.pacing.select("demand", "step", "item", "needed_after").rows() == [
        ("KL-1", 1, "glider", 0),
        ("KL-2", 1, "clip", 0),
        ("KL-2", 2, "glider", 0),
    ]


def test_of_supplies_that_come_on_the_same_day_the_first_item_paces() -> None:
    plan = plan_of(
        [piece("glider", "make", 3), piece("clip", "buy", 15), piece("disc", "buy", 15)],
        structure=[line("glider", "disc"), line("glider", "clip")],
        build_plan=[airframe("KL-1", "glider", 8)],
        open_orders=[receipt("disc", 1, 6, order="B-1"), receipt("clip", 1, 6, order="B-2")],
    )
    assert plan.pacing["item"].to_list() == ["clip", "glider"]
