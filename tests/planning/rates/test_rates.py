"""Other rates: the stretched build plan, the limit by bisection, and what one more buys."""

import datetime as dt

import polars as pl
import pytest

from bomkit.planning.levelling.resources import Resource
from bomkit.planning.rates.rate_limit import EXACTNESS, Loads, find_limit, rate_limit, with_one_more
from bomkit.planning.rates.rates import (
    STEADY_WEEKS,
    WEEKS_IN_MONTH,
    Window,
    rate_point,
    stretched,
    study_window,
)
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, airframe, item, line, lot, need, receipt
from tests.random_tables import Row

HANDS, OVEN = Resource("process", "lay-up"), Resource("process", "cure")


def silent(words: str) -> None:
    """Tells nobody."""


def shop(
    hours: float = 10, pulls: float = 4, count: int = 1, **more: list[Row]
) -> dict[str, pl.DataFrame]:
    """A kelto of two skins at 4 hours and a pull each, and three clips printed at 2 hours."""
    tables: dict[str, list[Row]] = {
        "plan": [{"start": MONDAY, "horizon_weeks": 8}],
        "items": [
            item("kelto", source="make", unit="pc", lead_days=5),
            item("skin", source="make", unit="pc", process="lay-up", lead_days=2, hours_each=4),
            item("clip", source="print", unit="pc", material="ASA", lead_days=1),
            item("cloth", unit="m2", cost=5),
            item("f-asa", unit="kg"),
        ],
        "structure": [
            line("kelto", "skin", 2),
            line("kelto", "clip", 3),
            line("skin", "cloth", 1.5),
            line("clip", "f-asa", 100, unit="g"),
        ],
        "build_plan": [airframe("KL-08", "kelto", 20, "red"), airframe("KL-09", "kelto", 30)],
        "processes": [{"process": "lay-up", "hours_per_week": hours}],
        "moulds": [{"mould": "M1", "item": "skin", "pulls_per_week": pulls}],
        "materials": [{"material": "ASA", "item": "f-asa", "spool_kg": 0.5}],
        "prints": [{"item": "clip", "hours": 2, "per_plate": 4, "printers": "old"}],
        "printers": [{"kind": "old", "count": count, "hours_per_week": 9}],
        **more,
    }
    return typed_tables(tables)


def test_the_build_plan_is_stretched_with_options_in_turn_and_serials_going_on() -> None:
    early = [airframe("KL-08", "kelto", 10, "red"), airframe("KL-09", "kelto", 30)]
    tables = shop(build_plan=early)
    built = stretched(tables, 2, study_window(tables))["build_plan"]
    assert built["serial"].to_list()[:4] == ["KL-08", "KL-09", "KL-10", "KL-11"]
    assert built["options"].to_list()[:4] == ["red", "", "red", ""]
    first = built["ready_date"][0]
    assert first == dt.date(2026, 12, 14)
    assert built["ready_date"][2] - first == dt.timedelta(days=30)
    assert built["ready_date"][12] - first == dt.timedelta(days=182)  # half a year


@pytest.mark.parametrize("first", [5, 20, 90, 400])
def test_the_averages_do_not_depend_on_when_the_first_airframe_is_ready(first: int) -> None:
    far = [airframe("KL-08", "kelto", first, "red"), airframe("KL-09", "kelto", first + 10)]
    tables = shop(build_plan=far)
    window = study_window(tables)
    loads = rate_point(tables, 3, window, silent).loads
    a_week = 3 / WEEKS_IN_MONTH
    expected = {"lay-up": 8 * a_week, "skin": 2 * a_week, "old": 6 * a_week}
    assert dict(loads.select("name", "average").iter_rows()) == pytest.approx(expected, rel=0.03)
    assert rate_limit(tables, window, silent).first.per_month == pytest.approx(
        10 / 8 * WEEKS_IN_MONTH,
        rel=0.03,  # lay-up has 10 hours a week, an airframe takes 8
    )


def test_what_is_there_once_does_not_come_again_every_month() -> None:
    tables = shop()
    window = study_window(tables)
    stocked = shop(
        stock=[lot("skin", 999), lot("clip", 999)],
        open_orders=[receipt("skin", 300, 9)],
        allocations=[{"serial": "KL-08", "item": "skin", "quantity": 2}],
        spares_orders=[need("clip", 5000, 9)],
        moulds=[{"mould": "M1", "item": "skin", "pulls_per_week": 4, "pulls_left": 3}],
    )
    alone, beside = (rate_point(each, 3, window, silent) for each in (tables, stocked))
    assert beside.loads.equals(alone.loads)
    assert beside.money == alone.money
    limits = [rate_limit(each, window, silent).first for each in (tables, stocked)]
    assert limits[0] == limits[1]


def test_serials_not_reached_stay_known_but_are_ready_past_the_horizon() -> None:
    tables = shop()
    window = study_window(tables)
    built = stretched(tables, 0.05, window)["build_plan"]
    end = MONDAY + dt.timedelta(weeks=window.horizon_weeks)
    assert built["serial"].to_list() == ["KL-08", "KL-09"]
    assert built["ready_date"][1] > end


def test_serials_of_the_fleet_are_not_given_twice() -> None:
    tables = shop(fleet=[{"serial": "KL-10", "item": "kelto"}])
    built = stretched(tables, 4, study_window(tables))["build_plan"]
    assert built["serial"].to_list()[:4] == ["KL-08", "KL-09", "KL-11", "KL-12"]


def test_the_averages_are_those_of_the_rate() -> None:
    tables = shop()
    point = rate_point(tables, 3, study_window(tables), silent)
    average = {(kind, name): each for kind, name, each, *_ in point.loads.iter_rows()}
    a_week = 3 / WEEKS_IN_MONTH
    assert average["process", "lay-up"] == pytest.approx(8 * a_week, rel=0.02)
    assert average["mould", "skin"] == pytest.approx(2 * a_week, rel=0.02)
    assert average["printer", "old"] == pytest.approx(6 * a_week, rel=0.02)
    assert point.spools == pytest.approx(3 * 0.3 / 0.5, rel=0.05)
    assert point.area == pytest.approx(3 * 3, rel=0.05)


@pytest.mark.parametrize(
    ("shops", "kind", "per_airframe", "there"),
    [
        (shop(hours=99, pulls=2.5, count=9), "mould", 2, 2.5),
        (shop(hours=99, pulls=9, count=1), "printer", 6, 9),
    ],
    ids=["mould", "printer"],  # a process is found by the test of the command
)
def test_the_bottleneck_is_found_and_one_more_of_it_moves_the_limit(
    shops: dict[str, pl.DataFrame], kind: str, per_airframe: float, there: float
) -> None:
    found = rate_limit(shops, study_window(shops), silent)
    assert found.first.resource is not None and found.first.resource.kind == kind
    expected = there / per_airframe * WEEKS_IN_MONTH
    assert found.first.per_month == pytest.approx(expected, rel=0.02, abs=2 * EXACTNESS)
    assert found.one_more is not None
    assert found.one_more.per_month > found.first.per_month + 2 * EXACTNESS


def test_nothing_gives_way_where_nothing_is_stated() -> None:
    # beyond 64 a month nobody looks
    found = find_limit(lambda rate: {"oven": 999 * rate}, {})
    assert found.resource is None and found.per_month == 64 and found.share == 0


def test_a_limit_is_found_to_within_a_twentieth_of_an_airframe_a_month() -> None:
    for limit in (0.31, 0.66, 1.02, 1.99, 2.7, 3.61, 5.55, 9.09, 17.3, 41.9):
        found = find_limit(lambda rate, limit=limit: {"hands": rate / limit}, {"hands": (HANDS, 1)})
        assert limit - 0.05 <= found.per_month <= limit


@pytest.mark.parametrize(("limit", "fits"), [(0.6, 0), (3.6, 0), (4.9, 4), (17.5, 4)])
def test_few_rates_are_planned_and_none_far_above_the_limit_as_that_takes_long(
    limit: float, fits: float
) -> None:
    asked = []

    def loads_at(rate: float) -> dict[str, float]:
        asked.append(rate)
        return {"hands": rate / limit}

    find_limit(loads_at, {"hands": (HANDS, 1)}, fits)
    assert max(asked) <= max(1, limit + EXACTNESS) and min(asked) >= min(1, limit - EXACTNESS)
    assert len(set(asked)) <= 3


@pytest.mark.parametrize("limit", [0.31, 3.61, 41.9])
def test_a_limit_is_found_where_loads_leap_at_it(limit: float) -> None:
    asked = []

    def loads_at(rate: float) -> dict[str, float]:
        asked.append(rate)
        return {"hands": 1e-3 if rate <= limit else 1e3}

    found = find_limit(loads_at, {"hands": (HANDS, 1)})
    assert limit - EXACTNESS <= found.per_month <= limit and found.share == 1e3
    assert len(set(asked)) <= 20


def test_bisection_finds_the_first_to_give_way() -> None:
    capacities = {"hands": (HANDS, 12.0), "oven": (OVEN, 20.0)}
    found = find_limit(lambda rate: {"hands": 3.3 * rate, "oven": 5 * rate}, capacities)
    assert found.resource == HANDS
    assert 12 / 3.3 - EXACTNESS <= found.per_month <= 12 / 3.3
    assert 1 <= found.share <= 1 + 0.05


def test_what_there_is_nothing_of_gives_way_at_once() -> None:
    found = find_limit(lambda rate: {"hands": rate}, {"hands": (HANDS, 0.0)})
    assert found.per_month <= EXACTNESS and found.resource == HANDS


def test_what_there_is_nothing_of_and_nobody_asks_for_does_not_give_way() -> None:
    capacities = {"hands": (HANDS, 1.0), "oven": (OVEN, 0.0), "saw": (Resource("process", "s"), 0)}
    found = find_limit(lambda rate: {"hands": rate / 3, "oven": 0.0}, capacities)
    assert found.resource == HANDS and found.per_month == pytest.approx(3, abs=EXACTNESS)


def test_of_two_that_give_way_together_the_last_by_name_is_told() -> None:
    for names in (("hands", "oven"), ("oven", "hands")):
        capacities = {name: (Resource("process", name), 2.0) for name in names}
        found = find_limit(lambda rate: dict.fromkeys(("hands", "oven"), rate), capacities)
        assert found.resource == Resource("process", "oven")


def test_where_nothing_gives_way_one_more_of_it_is_not_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("bomkit.planning.rates.rate_limit.HIGHEST", 1.0)
    tables = shop(hours=999, pulls=999, count=999)
    found = rate_limit(tables, study_window(tables), silent)
    assert (found.first.per_month, found.first.resource, found.one_more) == (1.0, None, None)


def test_what_an_order_takes_once_counts_for_the_load() -> None:
    # each kelto has an order of its own for its two skins: 8 hours, and 4 once
    skin = {"process": "lay-up", "lead_days": 2, "hours_each": 4, "hours_per_order": 4}
    items = [
        item("kelto", source="make", unit="pc", lead_days=5),
        item("skin", source="make", unit="pc", **skin),
    ]
    structure = [line("kelto", "skin", 2)]
    tables = shop(items=items, structure=structure, prints=[], moulds=[])
    asked = Loads(tables, study_window(tables), silent).at(3)
    (hours,) = asked.values()
    assert hours == pytest.approx(12 * 3 / WEEKS_IN_MONTH, rel=0.02)


def test_one_more_is_one_printer_one_mould_or_forty_hours() -> None:
    hours = [
        {"process": "lay-up", "hours_per_week": 10},
        {"process": "cure", "hours_per_week": 30},
        {"process": "paint"},
    ]
    tables = shop(processes=hours)
    printer = Resource("printer", "old", ("old",))
    more, named = with_one_more(tables, printer)
    assert named == "old" and more["printers"]["count"].to_list() == [2]
    more, named = with_one_more(tables, Resource("mould", "skin"))
    assert named == "M1" and more["moulds"]["count"].to_list() == [2]
    more, named = with_one_more(tables, HANDS)
    assert named == "lay-up"
    assert more["processes"]["hours_per_week"].to_list() == [50, 30, None]


def test_one_more_is_one_of_the_kind_that_works_longest_and_of_equal_ones_the_last() -> None:
    printers = [
        {"kind": kind, "count": 2, "hours_per_week": hours}
        for kind, hours in (("b", 20), ("c", 20), ("a", 9), ("other", 99))
    ]
    moulds = [
        {"mould": mould, "item": name, "count": 1, "pulls_per_week": pulls}
        for mould, name, pulls in (("M1", "skin", 3), ("M2", "skin", 5), ("M0", "fin", 9))
    ]
    tables = shop(printers=printers, moulds=moulds)
    more, named = with_one_more(tables, Resource("printer", "a, b, c", ("a", "b", "c")))
    assert named == "c" and more["printers"]["count"].to_list() == [2, 3, 2, 2]
    more, named = with_one_more(tables, Resource("mould", "skin"))
    assert named == "M2" and more["moulds"]["count"].to_list() == [1, 2, 1]


def test_a_plan_may_start_on_any_day_of_the_week() -> None:
    tables = shop(plan=[{"start": MONDAY + dt.timedelta(days=3), "horizon_weeks": 8}])
    point = rate_point(tables, 3, study_window(tables), silent)
    hours = point.loads.filter(pl.col("name") == "lay-up")["average"][0]
    assert hours == pytest.approx(8 * 3 / WEEKS_IN_MONTH, rel=0.02)


def test_weeks_at_either_end_of_the_window_count_for_less_and_less() -> None:
    weights = Window(2, 2 + STEADY_WEEKS + 3).weights
    rising = list(range(1, 11))
    eased = [*rising, *[10] * (STEADY_WEEKS - 20), *reversed(rising)]
    # one week more than the horizon: a plan that does not start on a Monday touches it
    expected = [0, 0, *(each / sum(eased) for each in eased), 0, 0, 0, 0]
    assert weights == pytest.approx(expected)


@pytest.mark.parametrize(("beyond", "over"), [(1.0005, True), (1.0, False)])
def test_a_week_counts_as_over_as_soon_as_it_asks_for_more_than_there_is(
    beyond: float, over: bool
) -> None:
    free = shop(hours=99)
    peak = rate_point(free, 3, study_window(free), silent).loads.filter(name="lay-up")["peak"][0]
    tables = shop(hours=peak / beyond)
    loads = rate_point(tables, 3, study_window(tables), silent).loads.filter(name="lay-up")
    assert (loads["weeks_over"][0] > 0) is over


def test_the_window_leaves_room_for_the_longest_chain_at_either_end() -> None:
    # a kelto takes 5 days and its skins 2: two weeks, and one for what is left of them
    window = study_window(shop())
    assert (window.first_week, window.horizon_weeks) == (3, 3 + 32 + 3)
    assert (window.weeks.start, window.weeks.stop) == (3, 3 + 32)
    slow = [
        item("kelto", source="make", unit="pc", lead_days=5, safety_days=4),
        item("skin", source="make", unit="pc", lead_days=2),
    ]
    tables = shop(items=slow, structure=[line("kelto", "skin")], moulds=[], prints=[])
    assert study_window(tables).first_week == 4
    slow[0]["safety_days"] = 3
    tables = shop(items=slow, structure=[line("kelto", "skin")], moulds=[], prints=[])
    assert study_window(tables).first_week == 3


def test_the_first_airframe_is_ready_at_the_beginning_of_the_window_at_the_latest() -> None:
    for ready, first in ((400, 21), (12, 16)):  # calendar days: day 12 is the third Wednesday
        tables = shop(build_plan=[airframe("KL-08", "kelto", ready)])
        built = stretched(tables, 1, Window(3, 38))["build_plan"]["ready_date"]
        assert built[0] == MONDAY + dt.timedelta(days=first)
        # as many as are ready within the horizon
        within = MONDAY + dt.timedelta(weeks=38)
        assert built[-1] < within <= built[-1] + dt.timedelta(days=31)


def test_serials_without_a_number_get_one() -> None:
    tables = shop(build_plan=[airframe("proto", "kelto", 10)])
    built = stretched(tables, 2, study_window(tables))["build_plan"]
    assert built["serial"].to_list()[:3] == ["proto", "proto1", "proto2"]


def test_new_serials_go_on_from_the_one_that_is_ready_last() -> None:
    plan = [airframe("KL-30", "kelto", 10), airframe("KL-09", "kelto", 20)]
    tables = shop(build_plan=plan)
    built = stretched(tables, 2, study_window(tables))["build_plan"]
    assert built["serial"].to_list()[:4] == ["KL-30", "KL-09", "KL-10", "KL-11"]


def test_resources_stand_as_processes_printers_and_moulds_and_what_has_no_hours_has_no_limit() -> (
    None
):
    tables = shop(processes=[{"process": "lay-up"}])
    for name in ("kelto", "skin", "clip", "cloth", "f-asa"):
        own = tables["items"]["item"] == name
        tables["items"] = tables["items"].with_columns(
            cost=pl.when(own).then(None).otherwise("cost")
        )
    point = rate_point(tables, 3, study_window(tables), silent)
    kinds = point.loads.select("kind", "name").rows()
    assert kinds == [("process", "lay-up"), ("printer", "old"), ("mould", "skin")]
    process = point.loads.row(0, named=True)
    assert process["capacity"] is None and process["weeks_over"] == 0
    assert process["peak"] >= process["average"] > 0
    assert point.money == 0


def test_weeks_outside_the_window_count_for_neither_peak_nor_average() -> None:
    # ten skins that are always kept are made in the first weeks: 40 hours and more
    tables = shop()
    own = tables["items"]["item"] == "skin"
    kept = tables["items"].with_columns(safety_stock=pl.when(own).then(10.0).otherwise(0.0))
    window = study_window(tables)
    point = rate_point({**tables, "items": kept}, 3, window, silent)
    assert point.loads.filter(name="lay-up")["peak"].to_list() == [8]
    assert point.loads.filter(name="lay-up")["weeks_over"].to_list() == [0]


def test_what_lies_in_the_stores_is_worth_what_is_left_of_rolls_on_average() -> None:
    # 9 m2 a month of rolls of 100: over years half a roll, 50 m2 at 5 a m2
    tables = shop(plan=[{"start": MONDAY, "horizon_weeks": 8}])
    rolls = tables["items"].with_columns(
        multiple=pl.when(pl.col("item") == "cloth").then(100.0).otherwise("multiple")
    )
    point = rate_point(tables | {"items": rolls}, 3, study_window(tables), silent)
    assert 0 < point.money < 100 * 5
    assert point.money == pytest.approx(250, rel=0.5)
