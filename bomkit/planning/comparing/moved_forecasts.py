"""By how many days the forecast of each airframe and spares order moved, and since which table."""

from collections.abc import Sequence
from itertools import pairwise

import polars as pl

MOVED = {
    "demand": pl.String,
    "demand_kind": pl.String,
    "serial": pl.String,
    "before": pl.Date,
    "after": pl.Date,
    "days": pl.Int64,
    "change": pl.String,
}
CAUSES = {
    "demand": pl.String,
    "demand_kind": pl.String,
    "cause": pl.String,
    "before": pl.Date,
    "after": pl.Date,
    "days": pl.Int64,
}
_DEMAND = ("demand_kind", "demand")


def forecast_days(forecast: pl.DataFrame, promises: pl.DataFrame) -> pl.DataFrame:
    """When airframes are ready and spares orders can leave, not before they are wanted.

    forecast, promises: the result tables. Columns demand, demand_kind (airframe or spares order),
    serial, day (null: never).
    """
    airframes = forecast.filter(pl.col("demand_kind") == "airframe").select(
        "demand",
        "demand_kind",
        "serial",
        day=pl.when(pl.col("earliest_date").is_not_null()).then(
            pl.max_horizontal("earliest_date", "ready_date")
        ),
    )
    spares = promises.select(
        demand="order", demand_kind=pl.lit("spares order"), serial="serial", day="promise_date"
    )
    return pl.concat([airframes, spares])


def moved_forecasts(before: pl.DataFrame, after: pl.DataFrame) -> pl.DataFrame:
    """The airframes and spares orders whose day is another than in the plan before.

    before, after: as `forecast_days` gives them. Returns the columns of MOVED; days: calendar
    days, later positive, null where either plan has no day; change: new, gone, later, sooner,
    never (there is no day any more) or found (there is one again).
    """
    return (
        before.rename({"day": "before"})
        .join(
            after.rename({"day": "after"}).with_columns(now=pl.lit(True)),
            on=_DEMAND,
            how="full",
            coalesce=True,
            suffix="_after",
        )
        .with_columns(
            serial=pl.coalesce("serial_after", "serial"),
            days=_days(),
            change=pl.when(pl.col("serial").is_null())
            .then(pl.lit("new"))
            .when(pl.col("now").is_null())
            .then(pl.lit("gone"))
            .otherwise(_direction()),
        )
        .filter(pl.col("change").is_not_null())
        .select(pl.col(name).cast(kind) for name, kind in MOVED.items())
        .sort("demand_kind", pl.coalesce("after", "before"), "demand", nulls_last=True)
    )


def causes(steps: Sequence[tuple[str, pl.DataFrame]]) -> pl.DataFrame:
    """What each step on the way from one plan to the other moved.

    steps: the name of each step and the days after it, as `forecast_days` gives them; the first
    one is the plan before. Returns the columns of CAUSES: the days of one airframe or spares order
    add up to what it moved in all.
    """
    moved_by_step = [pl.DataFrame(schema=CAUSES)]
    for (_, before), (cause, after) in pairwise(steps):
        moved = moved_forecasts(before, after).with_columns(cause=pl.lit(cause))
        moved_by_step.append(moved.select(*CAUSES))
    return pl.concat(moved_by_step)


def _days() -> pl.Expr:
    """Calendar days from the one day to the other."""
    return (pl.col("after") - pl.col("before")).dt.total_days()


def _direction() -> pl.Expr:
    """Whether a day is later or sooner than before; null where it is the same."""
    was, now = pl.col("before"), pl.col("after")
    return (
        pl.when(was.is_null() & now.is_not_null())
        .then(pl.lit("found"))
        .when(was.is_not_null() & now.is_null())
        .then(pl.lit("never"))
        .when(now > was)
        .then(pl.lit("later"))
        .when(now < was)
        .then(pl.lit("sooner"))
    )
