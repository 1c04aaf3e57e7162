"""One line says what matters most: aircraft on the ground, airframes, other orders, shops."""

import datetime as dt
from dataclasses import replace

import polars as pl
import pytest

from bomkit.runs.week.plan import Run
from bomkit.tables.results.plan import ORDERS
from bomkit.workbooks.headline import headline
from bomkit.workbooks.report import Report
from tests.workbooks.other_reports import with_results


def calm(run: Run) -> Report:
    """A report in which nothing is late and nothing is too much."""
    report = run.report
    return with_results(
        report,
        promises=report["promises"].with_columns(late_days=pl.lit(0)),
        forecast=report["forecast"].with_columns(late_days=pl.lit(0)),
        loads=report["loads"].with_columns(hours=pl.lit(0.0)),
        orders=report["orders"].with_columns(late_days=pl.lit(0)),
    )


def with_promises(report: Report, *rows: tuple[str, str, int]) -> Report:
    """The report with spares orders of (order, urgency, days late)."""
    few = (
        report["promises"]
        .head(len(rows))
        .with_columns(
            order=pl.Series([row[0] for row in rows]),
            urgency=pl.Series([row[1] for row in rows]),
            late_days=pl.Series([row[2] for row in rows], dtype=pl.Int64),
        )
    )
    return with_results(report, promises=few)


def with_late_airframe(report: Report) -> Report:
    """The report with its first airframe nine days late."""
    first = report["forecast"].filter(pl.col("demand_kind") == "airframe").head(1)
    late = first.with_columns(demand=pl.lit("A-1"), late_days=pl.lit(9), pacing_item=pl.lit("spar"))
    return with_results(report, forecast=late)


def with_overload(report: Report) -> Report:
    """The report with one process 4.5 hours over in its first week."""
    first = report["loads"].filter(pl.col("capacity") > 0).head(1)
    return with_results(report, loads=first.with_columns(hours=pl.col("capacity") + 4.5))


def with_late_order(report: Report) -> Report:
    """The report with one order that starts three days too late."""
    late = report["orders"].head(1).with_columns(late_days=pl.lit(3))
    return with_results(report, orders=late.select(ORDERS.column_names))


def test_where_nothing_is_late_and_all_fits_it_says_so(full_run: Run) -> None:
    assert headline(calm(full_run)) == "Every airframe and spares order is in time."


def test_what_is_wanted_past_the_horizon_is_not_called_in_time(full_run: Run) -> None:
    report = calm(full_run)
    orders = report.tables["spares_orders"]
    end = report.start + dt.timedelta(weeks=len(report.weeks))
    last, past = (
        orders.head(1).with_columns(order=pl.lit(name), need_date=pl.lit(day))
        for name, day in (("S-LAST", end - dt.timedelta(days=1)), ("S-PAST", end))
    )
    tables = {**report.tables, "spares_orders": pl.concat([last, past])}
    report = replace(report, plan=replace(report.plan, tables=tables))
    assert headline(report) == (
        "Every airframe and spares order of the horizon is in time; left out, as wanted past it: "
        "S-PAST."
    )


def test_an_aircraft_on_the_ground_comes_before_everything(full_run: Run) -> None:
    report = with_late_airframe(with_overload(calm(full_run)))
    told = headline(with_promises(report, ("S-1", "routine", 40), ("S-2", "grounded", 2)))
    assert told == (
        "First of all: grounded aircraft that wait too long: 1. The longest, S-2: 2 working days."
    )


def test_late_airframes_come_before_routine_orders_with_what_holds_them_up(full_run: Run) -> None:
    report = with_promises(with_late_airframe(calm(full_run)), ("S-1", "routine", 40))
    assert headline(report) == (
        "First of all: airframes late by the forecast: 1. The latest, A-1: 9 working days, held up "
        "by spar."
    )


def test_routine_orders_come_before_overloads_and_the_latest_is_named(full_run: Run) -> None:
    report = with_overload(calm(full_run))
    told = headline(with_promises(report, ("S-1", "routine", 4), ("S-2", "routine", 7)))
    assert told == (
        "First of all: spares orders that leave too late: 2. The latest, S-2: 7 working days."
    )


def test_overloads_come_before_orders_that_only_start_late(full_run: Run) -> None:
    report = with_late_order(with_overload(calm(full_run)))
    assert "has 4.5 hours too many this week" in headline(report)
    assert "starts" not in headline(report)


def test_an_order_that_starts_late_is_named_last(full_run: Run) -> None:
    report = with_late_order(calm(full_run))
    order, item = report["orders"].select("order", "item").row(0)
    assert f"{order} ({item}): 3 working days" in headline(report)


@pytest.mark.parametrize("hours", [0.0, 0.04])
def test_a_hair_beyond_the_hours_there_are_is_no_overload(full_run: Run, hours: float) -> None:
    report = with_overload(calm(full_run))
    loads = report["loads"].with_columns(hours=pl.col("capacity") + hours)
    assert (
        headline(with_results(report, loads=loads)) == "Every airframe and spares order is in time."
    )


def test_one_day_is_one_working_day(full_run: Run) -> None:
    late = with_promises(calm(full_run), ("S-1", "routine", 1))
    assert headline(late).endswith("The latest, S-1: 1 working day.")
