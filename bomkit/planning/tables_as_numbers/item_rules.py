"""Items as numbers: how each of them is planned, scrap resolved, level by level."""

import polars as pl

from bomkit import units
from bomkit.planning.structure.levels import item_levels
from bomkit.planning.structure.options_and_serials import serial_specific_items
from bomkit.planning.structure.replaced import is_replaced, passes_on
from bomkit.planning.tables_as_numbers.frame_columns import ITEMS, columns_of
from bomkit.planning.workdays import WORKING_DAYS_IN_YEAR
from bomkit.tables.schema import Tables

UNLIMITED = 10**9  # working days; more than any plan has


def numbered_items(tables: Tables) -> pl.DataFrame:
    """The items in the order of their names, with numbers, scrap resolved and levels."""
    specific = serial_specific_items(tables["structure"], tables["build_plan"])
    process_scrap = tables["processes"].select("process", process_scrap="scrap_rate")
    worked_out = {
        "item_id": pl.int_range(pl.len(), dtype=pl.Int64),
        "specific": pl.col("item").is_in(specific.implode()),
        "replaced": is_replaced(tables),
        **_planning_columns(passes_on(tables), tables["plan"]["holding_rate"][0] or 0.0),
    }
    return (
        tables["items"]
        .join(process_scrap, on="process", how="left")
        .join(item_levels(tables), on="item", how="left")
        .sort("item")
        .select(columns_of(ITEMS, worked_out))
    )


def _planning_columns(passes: pl.Expr, holding_rate: float) -> dict[str, pl.Expr]:
    """How an item is planned; what passes straight on has no lead time, lot rule or scrap."""
    good = 1 - pl.coalesce("scrap_rate", "process_scrap", pl.lit(0.0))
    own: dict[str, tuple[pl.Expr, float | int | bool]] = {
        "lead": (pl.col("lead_days"), 0),
        "safety": (pl.col("safety_days"), 0),
        "good": (good, 1.0),
        "minimum": (pl.col("minimum"), 0.0),
        "multiple": (pl.col("multiple"), 0.0),
        "whole": (pl.col("unit").is_in(units.WHOLE_UNITS), False),
        "cover": (pl.min_horizontal("cover_days", "longest_cover_days").clip(1), 1),
        "longest": (pl.col("longest_cover_days").fill_null(UNLIMITED), UNLIMITED),
        "safety_stock": (pl.col("safety_stock"), 0.0),
        "least_cost": (pl.col("lot_rule") == "least_cost", False),
        "order_cost": (pl.col("order_cost").fill_null(0.0), 0.0),
        "holding": (pl.col("cost").fill_null(0.0) * holding_rate / WORKING_DAYS_IN_YEAR, 0.0),
    }
    columns = {
        name: pl.when(passes).then(pl.lit(passing)).otherwise(value)
        for name, (value, passing) in own.items()
    }
    return {**columns, "receipt_good": good, "passes": passes}
