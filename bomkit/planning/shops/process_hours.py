"""How many hours the planned orders ask of each process in each week."""

from collections.abc import Iterable

import polars as pl

from bomkit.planning.shops.capacity_by_week import in_open_days
from bomkit.planning.workdays import Workdays

PRINT_PROCESS = "print"  # printed items without a process of their own


def process_name() -> pl.Expr:
    """The process whose hours an item takes; "" if it names none."""
    is_print = (pl.col("process") == "") & (pl.col("source") == "print")
    return pl.when(is_print).then(pl.lit(PRINT_PROCESS)).otherwise("process")


def process_loads(
    orders: pl.DataFrame,
    items: pl.DataFrame,
    processes: pl.DataFrame,
    axis: Workdays,
    in_work: pl.DataFrame,
) -> pl.DataFrame:
    """Hours by process and ISO week: process, week, hours, capacity (null if not stated), in_work.

    in_work: what open orders take, as process, week, in_work; it is part of hours.
    An order's hours (hours_each a unit started and hours_per_order) are spread evenly over its
    working days from the start to the day before it is due. Capacity is hours_per_week for five
    days, less or more by the share of those that are closed, or of Saturdays and Sundays open.
    """
    hours = _hours_by_week(orders, items, axis)
    spoken_for = in_work.filter(pl.col("process") != "")
    return (
        _every_week([processes, hours, spoken_for], axis)
        .join(hours, on=["process", "week"], how="left")
        .join(spoken_for, on=["process", "week"], how="left")
        .join(processes.select("process", "hours_per_week"), on="process", how="left")
        .sort("process", "week")
        .select(
            "process",
            "week",
            hours=(pl.col("hours").fill_null(0.0) + pl.col("in_work").fill_null(0.0)).round(6),
            capacity=in_open_days(pl.col("hours_per_week"), pl.col("days")).round(6),
            in_work=pl.col("in_work").fill_null(0.0).round(6),
        )
    )


def _every_week(frames: Iterable[pl.DataFrame], axis: Workdays) -> pl.DataFrame:
    """Each process that the frames name in each week: process, week, days (that are worked)."""
    schema = {"week": pl.String, "days": pl.Int64}
    open_days = pl.DataFrame(list(axis.open_days().items()), schema, orient="row")
    names = pl.concat([frame["process"] for frame in frames]).unique().to_frame()
    return names.join(open_days, how="cross")


def _hours_by_week(orders: pl.DataFrame, items: pl.DataFrame, axis: Workdays) -> pl.DataFrame:
    """The hours of orders in each week: process, week, hours."""
    weeks = axis.weeks().to_frame("week").with_row_index("day")
    return (
        _hours_by_day(orders, items)
        .join(weeks.with_columns(pl.col("day").cast(pl.Int64)), on="day")
        .group_by("process", "week")
        .agg(pl.col("hours").sort().sum())
    )


def _hours_by_day(orders: pl.DataFrame, items: pl.DataFrame) -> pl.DataFrame:
    """The hours of each order spread over its days: process, day, hours."""
    return (
        orders.join(items.select("item", "hours_each", "hours_per_order"), on="item")
        .with_columns(
            process=process_name(),
            hours=pl.col("hours_each") * pl.col("quantity") + pl.col("hours_per_order"),
            last=pl.max_horizontal(pl.col("due"), pl.col("start") + 1),
        )
        .filter((pl.col("process") != "") & (pl.col("hours") > 0))
        .select(
            "process",
            hours=pl.col("hours") / (pl.col("last") - pl.col("start")),
            day=pl.int_ranges("start", "last"),
        )
        .explode("day")
    )
