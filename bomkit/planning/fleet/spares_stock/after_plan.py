"""What is left of stock and open orders once the plan has what it needs."""

import polars as pl

from bomkit.planning.pegging.order_of_supplies import OPEN_ORDER, STOCK
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.planning.workdays import workdays_of
from bomkit.tables.columns_and_rules.orders import SPARES_ORDERS
from bomkit.tables.schema import Tables

_FOR_NOBODY = ("stock", "inspection")  # kinds of demand that a holding may serve instead


def left_by_plan(network: Network, pegged: Pegged) -> pl.DataFrame:
    """Stock and open orders that no airframe, work in hand or spares order has: item, quantity.

    What is kept for a serial is not counted.
    """
    waiting = pegged.demands.filter(~pl.col("kind").is_in(_FOR_NOBODY))["demand_id"]
    taken = (
        pegged.pegs.filter(pl.col("demand_id").is_in(waiting.implode()))
        .group_by("supply_id")
        .agg(taken=pl.col("quantity").sum())
    )
    free = pl.col("quantity") - pl.col("taken").fill_null(0.0)
    supplies = pegged.supplies.filter(
        pl.col("kind").is_in([STOCK, OPEN_ORDER]) & (pl.col("meant_for") == "")
    )
    left = supplies.join(taken, on="supply_id", how="left").select("key", quantity=free.clip(0))
    named = network.named(left)
    return (
        named.filter(pl.col("serial") == "")
        .group_by("item")
        .agg(pl.col("quantity").sort().sum())
        .sort("item")
    )


def orders_for_stock(tables: Tables, parts: pl.DataFrame) -> pl.DataFrame:
    """The spares orders there are, and below them what lacks of the holdings for the own shelf.

    parts: as in Holdings. What lacks is wanted on the first day on which it can be there, at the
    latest on the last day of the plan.
    """
    lacking = parts.filter(pl.col("gap") > 0)
    axis = workdays_of(tables)
    day = lacking["resupply_days"].fill_null(0).clip(0, axis.count - 1)
    rows = lacking.select(
        "item",
        order=pl.format("stock-{}", "item"),
        quantity=pl.col("gap").cast(pl.Float64),
        need_date=axis.on(day),
        kind=pl.lit("stock"),
    )
    filled = [
        pl.lit(value, dtype=SPARES_ORDERS.schema[name]).alias(name)
        for name, value in SPARES_ORDERS.when_empty.items()
        if name not in rows.columns
    ]
    asked = tables["spares_orders"].select(SPARES_ORDERS.column_names)
    return pl.concat([asked, rows.with_columns(filled).select(SPARES_ORDERS.column_names)])
