"""The hours of each process by week: what orders take, and what there is."""

import datetime as dt

import pytest

from tests.planning.driver import day, item, need
from tests.planning.shops.test_in_work import FIRST, LAID_UP, SECOND, planned
from tests.random_tables import Row

LAY_UP: list[Row] = [{"process": "lay-up", "hours_per_week": 10.0}]
SATURDAY = day(9) + dt.timedelta(days=1)


def by_week(column: str, items: list[Row], /, **tables: list[Row]) -> dict[str, float]:
    """One column of the loads of laying up, by week."""
    loads = planned(items, processes=LAY_UP, **tables).loads.filter(process="lay-up")
    return dict(loads.select("week", column).iter_rows())


def test_a_week_has_as_many_fifths_of_its_hours_as_it_has_working_days() -> None:
    calendar: list[Row] = [{"date": day(1)}, {"date": SATURDAY, "open": "yes"}]
    found = by_week("capacity", [LAID_UP], calendar=calendar)
    assert [found[week] for week in (FIRST, SECOND, "2026-W51")] == [8, 12, 10]


def test_hours_of_an_order_are_spread_evenly_over_its_days() -> None:
    # 4 pieces at 5 hours and 2 once for the order, over days 3 to 6
    skin = LAID_UP | {"lead_days": 4, "hours_per_order": 2.0}
    found = by_week("hours", [skin], spares_orders=[need("skin", 4, 7)])
    assert (found[FIRST], found[SECOND]) == pytest.approx((11, 11))


def test_an_order_that_takes_no_day_takes_its_hours_on_the_day_of_its_start() -> None:
    skin = item("skin", source="make", unit="pc", process="lay-up", hours_each=5)
    found = by_week("hours", [skin], spares_orders=[need("skin", 2, 5)])
    assert (found[FIRST], found[SECOND]) == (0, 10)
