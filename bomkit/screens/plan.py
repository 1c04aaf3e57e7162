"""What `bomkit plan` prints: the orders by week, and what is late."""

from collections.abc import Iterator
from typing import Any

import polars as pl

from bomkit.tables.shared_columns import NEVER
from bomkit.tables.weeks import iso_week
from bomkit.words import overview
from bomkit.words.common import NO_DATE, first_few
from bomkit.words.screens import summary as said
from bomkit.workbooks.for_whom import demand_in_words
from bomkit.workbooks.report import Report

_KINDS = ("make", "print", "buy", "kit")
_MOST_WEEKS = 8  # the rest of the horizon stands in one line
_LATEST = 5
_MOST_LEFT_OUT = 5


def summary_lines(report: Report) -> Iterator[str]:
    """Orders per week and kind, how many are late, and the five latest."""
    yield f"{report.title}: run {report.run_id}, {len(report['orders'])} planned orders"
    yield from report.asides
    yield ""
    yield "".join(f"{head:>10}" for head in said.SUMMARY_HEADS)
    weekly = _by_week(report)
    for row in weekly[:_MOST_WEEKS]:
        yield "".join(f"{cell:>10}" for cell in row)
    rest = weekly[_MOST_WEEKS:]
    if rest:
        sums = [sum(row[number] for row in rest) for number in range(1, len(rest[0]))]
        yield "".join(f"{cell:>10}" for cell in (said.SUMMARY_LATER, *sums))
    yield ""
    yield from _latest(report)
    if len(report["forecast"]):
        yield ""
        yield from _forecast_late(report)
        late = int((report["promises"]["late_days"] > 0).sum())
        if late:
            yield said.SUMMARY_PROMISES.format(count=late, all=len(report["promises"]))


def _forecast_late(report: Report) -> Iterator[str]:
    """The airframes and spares orders that the forecast calls late by the most."""
    urgent = ~pl.col("demand_kind").is_in(
        ["routine", "inspection"]
    )  # these stand with the promises
    late = (
        report["forecast"]
        .filter(urgent & (pl.col("late_days") > 0))
        .sort("late_days", "ready_date", "demand", descending=[True, False, False])
    )
    if late.is_empty():
        named = first_few(report.left_out, _MOST_LEFT_OUT)
        yield said.SUMMARY_IN_TIME_BUT.format(named=named) if named else said.SUMMARY_IN_TIME
        return
    yield said.SUMMARY_FORECAST.format(count=len(late))
    for row in late.head(_LATEST).iter_rows(named=True):
        who = demand_in_words(row["demand"], row["demand_kind"])
        if row["late_days"] >= NEVER:
            yield f"  {NO_DATE:>9}  {who}: {row['pacing']}"
        else:
            ready = row["earliest_date"]
            yield f"  {row['late_days']:>4} days  {who}, ready {ready}: {row['pacing']}"


def _by_week(report: Report) -> list[tuple[Any, ...]]:
    """For each week of the horizon the orders of each kind that start, and how many are late."""
    week = iso_week("start_date").alias("week")
    counted = (
        report["orders"]
        .group_by(week)
        .agg(
            *((pl.col("source") == kind).sum().alias(kind) for kind in _KINDS),
            (pl.col("late_days") > 0).sum().alias("late"),
        )
    )
    weeks = pl.DataFrame({"week": report.weeks}, schema={"week": pl.String})
    return weeks.join(counted, on="week", how="left", maintain_order="left").fill_null(0).rows()


def _latest(report: Report) -> Iterator[str]:
    """The orders that start too late by the most."""
    late = (
        report["orders"]
        .filter(pl.col("late_days") > 0)
        .sort("late_days", "due_date", "order", descending=[True, False, False])
    )
    if late.is_empty():
        yield overview.NO_LATE
        return
    yield said.SUMMARY_LATE.format(count=len(late))
    for order in late.head(_LATEST).iter_rows(named=True):
        item = report.items[order["item"]]
        serial = f" for {order['serial']}" if order["serial"] else ""
        yield (
            f"  {order['late_days']:>4} working days  {order['order']}  {order['item']}{serial}  "
            f"{item['description']}, {order['quantity']:.6g} {order['unit']}, "
            f"due {order['due_date']}"
        )
