"""Dates that are years away from the plan, where a slip of the year is likelier than meant."""

import datetime as dt
from collections.abc import Iterator

import polars as pl

from bomkit.checks.row_check import RowCheck
from bomkit.problems import Finding
from bomkit.tables.schema import Tables

FAR = "3y"  # no order is placed so long ahead; common practice, no source
_WANTED = {"build_plan": "ready_date", "spares_orders": "need_date"}
_DATES = {**_WANTED, "open_orders": "due_date", "allocations": "need_date"}


def far_date_checks(tables: Tables) -> Iterator[RowCheck]:
    """What is wanted or on order three years or more before the plan's first day, or after it and
    past the horizon."""
    horizon = _horizon(tables)
    if horizon is None:
        return
    start, end = horizon
    days = pl.Series([start])
    first, last = days.dt.offset_by(f"-{FAR}")[0], max(end, days.dt.offset_by(FAR)[0])
    for name, column in _DATES.items():
        far = (pl.col(column) <= first) | (pl.col(column) >= last)
        message = f"is years away from the plan's first day, {start}; is the year right?"
        yield RowCheck(name, column, tables[name].filter(far), message, "warning")


def nothing_within_findings(tables: Tables) -> list[Finding]:
    """A horizon in which no airframe and no spares order is wanted, though some are."""
    horizon = _horizon(tables)
    wanted = [day for name in _WANTED for day in tables[name][_WANTED[name]].drop_nulls()]
    if horizon is None or not wanted:
        return []
    start, end = horizon
    if any(start <= day < end for day in wanted):
        return []
    message = (
        f"no airframe or spares order is wanted between this day and the horizon's end, {end}: "
        f"they are wanted between {min(wanted)} and {max(wanted)}; is the year right?"
    )
    return [Finding("plan", 0, "start", str(start), message, "warning")]


def _horizon(tables: Tables) -> tuple[dt.date, dt.date] | None:
    """The plan's first day and the first one past its horizon; none where they can't be told."""
    plan = tables["plan"].filter(pl.col("start").is_not_null() & (pl.col("horizon_weeks") > 0))
    if plan.is_empty():
        return None
    start, weeks = plan["start"][0], plan["horizon_weeks"][0]
    return start, start + dt.timedelta(weeks=weeks)
