"""Coming inspections: due dates by hours, by months and whichever comes first."""

import calendar
from datetime import date, timedelta
from functools import cache
from random import Random

import polars as pl
import pytest

from bomkit.planning.fleet.inspections_due import inspection_demands, inspections_due, months_later
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders
from bomkit.planning.pegging.peg import peg
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, airframe, item, line, need
from tests.random_tables import Row

Due = tuple[date, str]
YEAR = 365.25


def aircraft(serial: str = "K-1", **columns: object) -> Row:
    """An aircraft with 90 hours that flies an hour in three days, delivered on 2025-01-31."""
    row: Row = {"serial": serial, "item": "kelto", "hours": 90.0, "hours_per_year": YEAR / 3}
    return row | {"delivered": date(2025, 1, 31)} | columns


def work(**columns: object) -> Row:
    return {"item": "kit"} | columns


def tables_of(
    fleet: list[Row], works: list[Row], weeks: int, **more: list[Row]
) -> dict[str, pl.DataFrame]:
    settings: list[Row] = [{"start": MONDAY, "horizon_weeks": weeks}]
    items = [item("kelto", source="make", unit="pc"), item("kit", unit="pc")]
    return typed_tables(
        {"plan": settings, "items": items, "fleet": fleet, "inspection_rules": works, **more}
    )


def due(fleet: list[Row] | Row, rules: list[Row] | Row, weeks: int = 26) -> list[Due]:
    """When something is due, and why."""
    aircraft_rows = fleet if isinstance(fleet, list) else [fleet]
    works = rules if isinstance(rules, list) else [rules]
    found = inspections_due(tables_of(aircraft_rows, works, weeks))
    return found.select("due_date", "cause").rows()


def test_hours_grow_evenly_to_each_multiple_of_the_interval() -> None:
    # 10 hours are 30 days, 50 more are 150: 30 November, 30 December, 29 May; 26 weeks end 31 May
    assert due(aircraft(), work(every_hours=50.0)) == [
        (date(2026, 12, 30), "hours"),
        (date(2027, 5, 29), "hours"),
    ]


def test_the_first_time_may_come_at_other_hours() -> None:
    # 25, 75, 125: 35 hours are 105 days, to 15 March
    assert due(aircraft(), work(every_hours=50.0, first_hours=25.0)) == [
        (date(2027, 3, 15), "hours")
    ]
    # the first time is still to come: 92 hours in 6 days, then 142
    found = due(aircraft(), work(every_hours=50.0, first_hours=92.0))
    assert found == [(date(2026, 12, 6), "hours"), (date(2027, 5, 5), "hours")]


def test_a_point_reached_on_the_first_day_is_due_on_it() -> None:
    assert due(aircraft(hours=100.0), work(every_hours=50.0))[0] == (MONDAY, "hours")
    assert due(aircraft(delivered=date(2025, 11, 30)), work(every_months=12)) == [
        (MONDAY, "months")
    ]


def test_a_point_within_a_day_is_due_on_that_day() -> None:
    # 92.5 hours are reached in 7 and a half days
    [first, *_] = due(aircraft(), work(every_hours=500.0, first_hours=92.5))
    assert first == (date(2026, 12, 7), "hours")


def logged(log: list[Row], rules: list[Row] | Row, weeks: int = 26, **craft: object) -> list[Due]:
    """When something is due on an aircraft whose log says when it was last done."""
    works = rules if isinstance(rules, list) else [rules]
    rows = [{"serial": "K-1", "work": "kit"} | row for row in log]
    tables = tables_of([aircraft(**craft)], works, weeks, inspection_log=rows)
    return inspections_due(tables).select("due_date", "cause").rows()


def test_hours_count_from_what_was_done() -> None:
    # done at 60, so due at 110 (20 hours are 60 days), not at 100
    log: list[Row] = [{"date": date(2026, 9, 1), "hours": 60.0}]
    assert logged(log, work(every_hours=50.0)) == [(date(2027, 1, 29), "hours")]


def test_months_count_from_what_was_done() -> None:
    log: list[Row] = [{"date": date(2026, 2, 15)}]
    found = logged(log, work(every_months=12, first_months=3), weeks=70)
    assert found == [(date(2027, 2, 15), "months"), (date(2028, 2, 15), "months")]


def test_what_is_past_by_its_log_is_due_on_the_first_day_and_counts_from_there() -> None:
    log: list[Row] = [{"date": date(2025, 2, 15), "hours": 20.0}]
    assert logged(log, work(every_hours=50.0)) == [(MONDAY, "hours"), (date(2027, 4, 29), "hours")]
    found = logged(log, work(every_months=6), weeks=40)
    assert found == [(MONDAY, "months"), (date(2027, 5, 30), "months")]


def test_whichever_comes_first_counts_from_what_was_done_too() -> None:
    # done at 88 hours on 1 October: 138 hours are 144 days away, six months come on 1 April
    log: list[Row] = [{"date": date(2026, 10, 1), "hours": 88.0}]
    assert logged(log, work(every_hours=50.0, every_months=6), weeks=17) == []
    assert logged(log, work(every_hours=50.0, every_months=6), weeks=26)[0] == (
        *(MONDAY + timedelta(days=122), "months"),
    )


def test_hours_reckoned_back_to_before_the_first_flight_count_as_none() -> None:
    # done a year ago: 122 hours less than 90 would be less than none, so it is due at 92.9995
    log: list[Row] = [{"date": MONDAY - timedelta(days=366)}]
    found = logged(log, work(every_hours=90 + 2.9995 / 3), weeks=4)
    assert found == [(MONDAY + timedelta(days=2), "hours")]


def test_without_a_record_of_the_hours_they_are_reckoned_back() -> None:
    # 60 days before the start it had 20 hours less than 90: due at 120, in 90 days
    log: list[Row] = [{"date": MONDAY - timedelta(days=60)}]
    assert logged(log, work(every_hours=50.0)) == [(MONDAY + timedelta(days=90), "hours")]


def test_the_last_row_of_the_log_counts_and_none_of_days_to_come() -> None:
    log: list[Row] = [
        {"date": date(2026, 9, 1), "hours": 60.0},
        {"date": date(2026, 5, 1), "hours": 40.0},
        {"date": MONDAY, "hours": 90.0},
    ]
    assert logged(log, work(every_hours=50.0)) == [(date(2027, 1, 29), "hours")]


def test_a_work_with_a_name_of_its_own_is_logged_by_it_and_its_item_stands_for_all() -> None:
    rules = [work(every_months=3, work="seals"), work(every_months=4, work="hoses")]
    by_name: list[Row] = [{"work": "seals", "date": date(2026, 11, 1)}]
    found = inspections_due(tables_of([aircraft()], rules, 20, inspection_log=[
        {"serial": "K-1"} | row for row in by_name]))  # fmt: skip
    assert found.select("due_date", "last_done").rows() == [
        (date(2027, 1, 31), None),
        (date(2027, 2, 1), date(2026, 11, 1)),
    ]
    assert logged([{"date": date(2026, 11, 1)}], rules, weeks=20) == [
        (date(2027, 2, 1), "months"),
        (date(2027, 3, 1), "months"),
    ]


def test_a_record_of_another_aircraft_changes_nothing() -> None:
    log: list[Row] = [{"serial": "K-2", "date": date(2026, 9, 1), "hours": 60.0}]
    assert logged(log, work(every_hours=50.0)) == due(aircraft(), work(every_hours=50.0))


def test_months_are_calendar_months_and_end_with_a_shorter_month() -> None:
    # delivered on 31 January 2025; every month from there, the 31st or the last of the month
    assert [day for day, _ in due(aircraft(), work(every_months=1))] == [
        *(date(2026, 11, 30), date(2026, 12, 31), date(2027, 1, 31), date(2027, 2, 28)),
        *(date(2027, 3, 31), date(2027, 4, 30)),
    ]


def test_the_first_time_may_come_after_other_months() -> None:
    # 31 January 2025 and 23 months, then every 60
    assert due(aircraft(), work(every_months=60, first_months=23)) == [
        (date(2026, 12, 31), "months")
    ]


@pytest.mark.parametrize(
    ("day", "months", "then"),
    [
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2023, 1, 31), 1, date(2023, 2, 28)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2026, 11, 30), 2, date(2027, 1, 30)),
        (date(2026, 12, 15), 0, date(2026, 12, 15)),
        (date(2026, 10, 31), 62, date(2031, 12, 31)),
    ],
)
def test_a_month_later_is_the_same_day_or_the_last(day: date, months: int, then: date) -> None:
    assert months_later(day, months) == then


def test_with_both_limits_the_earlier_counts_and_both_count_anew() -> None:
    # by hours: 100 after 30 days, on 30 December; by months: 31 January. Then 100 hours more take
    # 300 days, but a month from 30 December is 30 January, from there 28 February, and so on
    found = due(aircraft(), work(every_hours=100.0, every_months=1), weeks=20)
    assert found == [
        (date(2026, 11, 30), "months"),
        (date(2026, 12, 30), "months"),
        (date(2027, 1, 30), "months"),
        (date(2027, 2, 28), "months"),
        (date(2027, 3, 28), "months"),
    ]
    # every 20 hours are 60 days: 100 hours on 30 December; 20 more take 60 days from there
    found = due(aircraft(), work(every_hours=20.0, every_months=3))
    assert found == [
        (date(2026, 12, 30), "hours"),
        (date(2027, 2, 28), "hours"),
        (date(2027, 4, 29), "hours"),
    ]


def test_what_is_not_known_is_not_foreseen() -> None:
    both = work(every_hours=50.0, every_months=12)
    assert due(aircraft(hours=None), work(every_hours=50.0)) == []
    assert due(aircraft(hours_per_year=None), work(every_hours=50.0)) == []
    assert due(aircraft(hours_per_year=0.0), work(every_hours=50.0)) == []
    assert due(aircraft(delivered=None), work(every_months=1)) == []
    assert due(aircraft(hours=None), both) == [(date(2027, 1, 31), "months")]
    assert due(aircraft(delivered=None), both)[0] == (date(2026, 12, 30), "hours")


def test_what_lies_ages_ahead_is_not_due() -> None:
    assert due(aircraft(), work(every_hours=1e300)) == []
    assert due(aircraft(hours_per_year=1e-300), work(every_hours=50.0)) == []
    assert due(aircraft(), work(every_hours=1e300, every_months=1200)) == []


def test_no_aircraft_flies_more_than_the_hours_of_the_day() -> None:
    found = due(aircraft(hours=0.0, hours_per_year=1e12), work(every_hours=24.0), weeks=1)
    assert [day for day, _ in found] == [MONDAY + timedelta(days=number) for number in range(1, 7)]


def test_only_aircraft_whose_options_and_number_fit_fall_due() -> None:
    fleet = [
        aircraft(f"K-{number}", options=options) for number, options in enumerate(("", "SKIS"))
    ]
    works = [
        work(every_months=12, with_option="SKIS", note="a"),
        work(every_months=12, without_option="SKIS", note="b"),
        work(every_months=12, from_serial="K-1", note="c"),
        work(every_months=12, to_serial="K-0", note="d"),
    ]
    found = inspections_due(tables_of(fleet, works, 26)).select("serial", "note").rows()
    assert found == [("K-0", "b"), ("K-0", "d"), ("K-1", "a"), ("K-1", "c")]


def simulated(row: Row, rule: Row, start: date, weeks: int) -> list[Due]:
    """The same day by day: each day's hours are counted up, and limits watched.

    Months are tried one by one: whether today is the day of the month some months after a day.
    """
    every_hours, every_months = rule.get("every_hours"), rule.get("every_months")
    hours, daily = float(row["hours"]), float(row["hours_per_year"]) / YEAR  # type: ignore[arg-type]
    anchor, months = row["delivered"], int(rule.get("first_months", every_months) or 0)  # type: ignore[call-overload]
    assert isinstance(anchor, date)
    limit = float(rule.get("first_hours", every_hours) or 0)  # type: ignore[arg-type]
    while every_hours and limit < hours - 1e-9 * float(every_hours):  # type: ignore[arg-type]
        limit += float(every_hours)  # type: ignore[arg-type]
    while every_months and day_after_months(anchor, months) < start:
        months += int(every_months)  # type: ignore[call-overload]
    found: list[Due] = []
    for number in range(weeks * 7):
        today = start + timedelta(days=number)
        while True:
            flown_by_evening = hours + (number + 1) * daily
            by_hours = bool(every_hours) and limit < flown_by_evening - 1e-7
            by_months = bool(every_months) and day_after_months(anchor, months) == today
            if not (by_hours or by_months):
                break
            both = bool(every_hours and every_months)
            found.append((today, "hours" if by_hours else "months"))
            done = limit if by_hours else hours + number * daily
            if by_hours or both:
                limit = done + float(every_hours)  # type: ignore[arg-type]
            if both:
                anchor, months = today, int(every_months)  # type: ignore[call-overload]
            elif by_months and not by_hours:
                months += int(every_months)  # type: ignore[call-overload]
    return found


@cache
def day_after_months(day: date, months: int) -> date:
    """Counted month by month from the first of the month."""
    first = day.replace(day=1)
    for _ in range(months):
        first = (first + timedelta(days=31)).replace(day=1)
    return first.replace(day=min(day.day, calendar.monthrange(first.year, first.month)[1]))


@pytest.mark.parametrize("seed", range(40))
def test_random_fleets_fall_due_as_in_a_simulation_day_by_day(seed: int) -> None:
    chance = Random(seed)
    for _ in range(10):
        row = aircraft(
            hours=round(chance.uniform(0, 900), 1),
            hours_per_year=round(chance.uniform(5, 900), 1),
            delivered=MONDAY - timedelta(days=chance.randint(0, 3000)),
        )
        rule = work()
        kinds = chance.choice((("hours",), ("months",), ("hours", "months")))
        if "hours" in kinds:
            rule["every_hours"] = float(chance.choice((10, 25, 50, 100, 333)))
            if chance.random() < 0.4:
                rule["first_hours"] = float(chance.choice((5, 25, 1000)))
        if "months" in kinds:
            rule["every_months"] = chance.choice((1, 2, 5, 12, 60))
            if chance.random() < 0.4:
                rule["first_months"] = chance.choice((1, 3, 24))
        assert due(row, rule) == simulated(row, rule, MONDAY, 26), (row, rule)


def test_the_plan_holds_inspections_as_forecast_demand_only_when_asked() -> None:
    tables = tables_of([aircraft()], [work(every_hours=50.0)], weeks=8)
    forecast = inspection_demands(inspections_due(tables))
    assert build_network(tables).demands.is_empty()
    demands = build_network(tables, forecast).demands
    assert demands.select("demand", "kind", "quantity").rows() == [
        ("inspection K-1 2026-12-30", "inspection", 1.0)
    ]


def test_a_kit_of_the_aircrafts_own_is_planned_for_its_serial() -> None:
    lines = [line("kit", "lamp", with_option="LAMP"), line("kit", "wick", without_option="LAMP")]
    fleet = [aircraft(options="LAMP"), aircraft("K-2")]
    rows = tables_of(fleet, [work(every_hours=50.0)], 8, structure=lines)
    parts = typed_tables({"items": [item("lamp", unit="pc"), item("wick", unit="pc")]})["items"]
    tables = {**rows, "items": pl.concat([rows["items"], parts])}
    network = build_network(tables, inspection_demands(inspections_due(tables)))
    found = planned_orders(network, plan_flows(network)).select("item", "serial", "quantity").rows()
    assert sorted(found) == [("kit", "K-1", 1), ("kit", "K-2", 1), ("lamp", "", 1), ("wick", "", 1)]


def test_firm_demand_keeps_its_kind_and_is_served_before_a_forecast_of_the_same_day() -> None:
    rows = tables_of(
        [aircraft()],
        [work(every_hours=50.0)],
        8,
        spares_orders=[need("kit", 1, date(2026, 12, 30), order="S-1")],
        build_plan=[airframe("K-9", "kelto", date(2026, 12, 30))],
        structure=[line("kelto", "kit")],
        stock=[{"item": "kit", "quantity": 2.0, "lot": "L"}],
    )
    network = build_network(rows, inspection_demands(inspections_due(rows)))
    flows = plan_flows(network)
    pegged = peg(network, flows, planned_orders(network, flows))
    served = (
        pegged.told(pegged.pegs, "kind")
        .join(pegged.demands.rename({"kind": "asked"}), on="demand_id", how="left")
        .join(network.named(pegged.pegs).select("key", "item").unique(), on="key")
        .filter(pl.col("item") == "kit")
        .select("demand", "asked", "kind")
        .rows()
    )
    # what is ordered is there in time, so the first in line leaves a lot to those after it
    assert sorted(served) == [
        ("K-9", "airframe", "planned order"),
        ("S-1", "routine", "stock"),
        ("inspection K-1 2026-12-30", "inspection", "stock"),
    ]
    firm = build_network(rows)
    firm_flows = plan_flows(firm)
    alone = peg(firm, firm_flows, planned_orders(firm, firm_flows)).demands
    beside = pegged.demands.filter(pl.col("kind") != "inspection")
    assert beside.drop("demand_id").equals(alone.drop("demand_id"))
