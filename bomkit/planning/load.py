"""How many hours the planned orders ask of each process in each week."""

import polars as pl

from bomkit.planning.workdays import Workdays

PRINT_PROCESS = "print"  # printed items without a process of their own


def process_loads(
    orders: pl.DataFrame, items: pl.DataFrame, processes: pl.DataFrame, axis: Workdays
) -> pl.DataFrame:
    """Hours by process and ISO week: process, week, hours, capacity (null if not stated).

    An order's hours (hours_each a unit started and hours_per_order) are spread evenly over its
    working days from the start to the day before it is due. Capacity is hours_per_week less the
    share of Monday to Friday on which the calendar is closed.
    """
    worked = orders.join(
        items.select("item", "hours_each", "hours_per_order"), on="item"
    ).with_columns(
        process=pl.when((pl.col("process") == "") & (pl.col("source") == "print"))
        .then(pl.lit(PRINT_PROCESS))
        .otherwise("process"),
        hours=pl.col("hours_each") * pl.col("quantity") + pl.col("hours_per_order"),
        last=pl.max_horizontal(pl.col("due"), pl.col("start") + 1),
    )
    spread = (
        worked.filter((pl.col("process") != "") & (pl.col("hours") > 0))
        .sort("order")
        .select(
            "process",
            hours=pl.col("hours") / (pl.col("last") - pl.col("start")),
            day=pl.int_ranges("start", "last"),
        )
        .explode("day")
    )
    weeks = (
        axis.weeks()
        .to_frame("week")
        .with_row_index("day")
        .with_columns(pl.col("day").cast(pl.Int64))
    )
    open_days = weeks.group_by("week").agg(days=pl.len()).sort("week")
    names = pl.concat([processes["process"], spread["process"]]).unique().sort().to_frame()
    hours = (
        spread.join(weeks, on="day")
        .sort("process", "week", "hours")
        .group_by("process", "week", maintain_order=True)
        .agg(pl.col("hours").sum())
    )
    return (
        names.join(open_days, how="cross")
        .join(hours, on=["process", "week"], how="left")
        .join(processes.select("process", "hours_per_week"), on="process", how="left")
        .sort("process", "week")
        .select(
            "process",
            "week",
            hours=pl.col("hours").fill_null(0.0).round(6),
            capacity=(pl.col("hours_per_week") * pl.col("days") / 5).round(6),
        )
    )
