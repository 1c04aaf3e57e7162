"""What is likelier a slip than meant: a day far off or not past, a part of a piece."""

import datetime as dt
from collections.abc import Iterator

import polars as pl

from bomkit.checks.row_check import RowCheck
from bomkit.problems import Finding
from bomkit.tables.schema import Tables
from bomkit.units import WHOLE_UNITS

FAR = "3y"  # no order is placed so long ahead; common practice, no source
_WANTED = {"build_plan": "ready_date", "spares_orders": "need_date"}
_COUNTED = ("stock", "open_orders", "spares_orders")
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


def past_to_come_checks(tables: Tables) -> Iterator[RowCheck]:
    """Issues and works that are said to be past on the plan's first day or later."""
    start = tables["plan"]["start"].drop_nulls().min()
    if start is None:
        return
    for name in ("issues", "inspection_log"):
        yield RowCheck(
            name,
            "date",
            tables[name].filter(pl.col("date") >= start),
            f"is not past on the plan's first day, {start!s}, and does not count",
            "warning",
        )


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


def whole_piece_checks(tables: Tables) -> Iterator[RowCheck]:
    """Rows with a part of a piece of an item that is counted in pieces."""
    counted = tables["items"].filter(pl.col("unit").is_in(WHOLE_UNITS))["item"].implode()
    for name in _COUNTED:
        part = pl.col("item").is_in(counted) & (pl.col("quantity") % 1 != 0)
        yield RowCheck(
            name,
            "quantity",
            tables[name].filter(part),
            "should be a whole number: {item} is counted in pieces; correct it, or the item's unit",
            "warning",
        )


def _horizon(tables: Tables) -> tuple[dt.date, dt.date] | None:
    """The plan's first day and the first one past its horizon; none where they can't be told."""
    plan = tables["plan"].filter(pl.col("start").is_not_null() & (pl.col("horizon_weeks") > 0))
    if plan.is_empty():
        return None
    start, weeks = plan["start"][0], plan["horizon_weeks"][0]
    return start, start + dt.timedelta(weeks=weeks)
