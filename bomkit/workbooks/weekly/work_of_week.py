"""What a shop has to do in a week: orders of the plan that start, and orders that are in work."""

from collections.abc import Collection

import polars as pl

from bomkit.tables.weeks import in_weeks
from bomkit.workbooks.report import Report

_ABOUT = (
    *("item", "description", "unit", "source", "process", "material", "structure_class"),
    *("hours_each", "hours_per_order"),
)


def work_of(report: Report, week: str, sources: Collection[str]) -> pl.DataFrame:
    """The orders of some sources that start in a week, and in the first week those in work.

    The columns of the table orders with description, material, structure_class, hours and in_work;
    of what is in work start_date and expected_good are null.
    """
    about = report.tables["items"].select(_ABOUT).filter(pl.col("source").is_in(sources))
    starting = (
        report["orders"]
        .drop("unit", "source", "process")
        .filter(in_weeks("start_date", week))
        .join(about, on="item", how="inner", maintain_order="left")
        .with_columns(
            hours=pl.col("hours_each") * pl.col("quantity") + pl.col("hours_per_order"),
            in_work=pl.lit(False),
        )
        .sort("start_date", "due_date", "order")
    )
    return pl.concat([_in_work(report, week, about), starting], how="diagonal")


def _in_work(report: Report, week: str, about: pl.DataFrame) -> pl.DataFrame:
    """Open orders that the shops have begun, by the day they are due; none after the first week."""
    begun = report.tables["open_orders"].join(about, on="item", how="inner", maintain_order="left")
    return (
        begun.filter(pl.lit(week == report.list_weeks[0]))
        .select(
            *("order", "item", "serial", "quantity", "due_date", "description", "unit", "source"),
            *("process", "material", "structure_class"),
            late_days=pl.lit(0, pl.Int64),
            hours=pl.col("hours_left"),
            in_work=pl.lit(True),
        )
        .sort("due_date", "order", "item", "serial")
    )
