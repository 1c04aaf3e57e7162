"""Who asks from outside the plan, in which rank, and what leaves the house for it."""

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Ints, ints
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables

# Grounded aircraft, airframes and work in hand, routine spares, inspections, what lots leave.
RANKS = {"grounded": 0, "airframe": 1, "in work": 1, "mould": 1, "several": 1, "routine": 2}
RANKS |= {"inspection": 3, "stock": 4}
FOR_STOCK = 0  # number of the demand that stands for lot sizes and safety stock
SEVERAL = 1  # number of the demand that stands for more of them than can be told apart
OUTSIDE = -1  # in place of the number of an order: a need that no order asks for


def asking(network: Network) -> pl.DataFrame:
    """Who asks from outside and for which serial, numbered from 2; 0 is stock, 1 several.

    demand_id, demand, kind, whose, date, rank.
    """
    asked = (
        network.demands.group_by("demand", "kind", whose="serial")
        .agg(pl.col("date").min())
        .sort("kind", "date", "demand", "whose")
    )
    collective = pl.DataFrame(
        {
            "demand": ["", "several"],
            "kind": ["stock", "several"],
            "whose": ["", ""],
            "date": [None, None],
        },
        schema=asked.schema,
    )
    return (
        pl.concat([collective, asked])
        .with_row_index("demand_id")
        .with_columns(pl.col("demand_id").cast(pl.Int64), rank=pl.col("kind").replace_strict(RANKS))
    )


def turns(demands: pl.DataFrame) -> Ints:
    """Of each demand, by number, in which turn it is served: by rank, date and name."""
    served = ints(demands.sort("rank", "date", "demand", "whose")["demand_id"])
    turn_of = np.empty(len(served), np.int64)
    turn_of[served] = np.arange(len(served))
    return turn_of


def outside_needs(network: Network, demands: pl.DataFrame, asked: pl.DataFrame) -> pl.DataFrame:
    """Demands within the horizon as needs; asked: as spares_rows gives them.

    Columns key, day, quantity, from_id, demand_id, asked_id (the row of spares_orders, counted from
    0; OUTSIDE for others), leaves (whether it leaves the house), rank.
    """
    needs = network.demands
    needs = needs.with_columns(
        whose="serial", item=network.names[network.keys.item(ints(needs["key"]))]
    ).filter(~pl.col("past"))
    by_name = ["demand", "kind", "whose"]
    return (
        needs.join(demands.drop("date"), on=by_name, maintain_order="left")
        .join(asked, on=[*by_name, "item", "date"], how="left")
        .select(
            *("key", "day", "quantity"),
            from_id=pl.lit(OUTSIDE, pl.Int64),
            demand_id="demand_id",
            asked_id=pl.col("asked_id").fill_null(OUTSIDE),
            leaves=pl.col("asked_id").is_not_null(),
            rank="rank",
        )
    )


def spares_rows(tables: Tables | None) -> pl.DataFrame:
    """The rows of spares_orders: asked_id (counted from 0), demand, kind, whose, item, date,
    shelf (calendar days that what is packed must last)."""
    schema = {"asked_id": pl.Int64, "demand": pl.String, "kind": pl.String, "whose": pl.String}
    more = {"item": pl.String, "date": pl.Date, "shelf": pl.Int64}
    if tables is None:
        return pl.DataFrame(schema=schema | more)
    return (
        tables["spares_orders"]
        .with_row_index("asked_id")
        .select(
            pl.col("asked_id").cast(pl.Int64),
            demand="order",
            kind="urgency",
            whose="serial",
            item="item",
            date="need_date",
            shelf="min_shelf_days",
        )
    )
