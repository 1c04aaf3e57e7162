"""What lies in the stores, in money, week by week."""

from collections.abc import Iterable

import polars as pl

from bomkit.planning.structure.mass_cost_hours import roll_up
from bomkit.tables.schema import Tables


def unit_costs(tables: Tables, serials: Iterable[str]) -> pl.DataFrame:
    """The rolled-up cost of one unit: item, serial ("" for what is no serial's own), cost.

    serials: those asked for beside ""; others of the fleet would be worked out for nobody.
    What has no cost, and nothing in it that has one, counts as nothing.
    """
    rolled = roll_up(tables, "cost", sorted({"", *serials}))
    serial_of = {column: serial for serial, column in rolled.columns.items()}
    return (
        rolled.items.select("item", *serial_of)
        .unpivot(index="item", variable_name="serial", value_name="cost")
        .with_columns(pl.col("serial").replace_strict(serial_of))
    )


def weekly_value(projection: pl.DataFrame, costs: pl.DataFrame) -> pl.DataFrame:
    """The value on hand at the end of each week: week, value.

    projection: the planning record; costs: of one unit of each item and serial.
    """
    on_hand = pl.col("projected").clip(0.0) * pl.col("cost")
    return (
        projection.join(costs, on=["item", "serial"], maintain_order="left")
        .group_by("week")
        .agg(value=on_hand.sum().round(2))
        .sort("week")
    )
