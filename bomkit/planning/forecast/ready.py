"""Which orders can start with everything at hand, and what the others wait for."""

import polars as pl

from bomkit.planning.forecast.forecast import Forecast
from bomkit.planning.network import Network
from bomkit.planning.pegging.peg import NOTHING
from bomkit.planning.pegging.supplies import PASSED_ON, PLANNED_ORDER, STOCK

COMPLETE, WAITING, SHORT = "complete", "waiting", "short"


def ready_table(
    network: Network, orders: pl.DataFrame, pegs: pl.DataFrame, forecast: Forecast
) -> pl.DataFrame:
    """Every planned order that has components, with its state: the columns of READY.

    complete: all of them are there on the day on which each is needed. waiting: what comes late is
    on order, in work or itself waiting. short: something late is not even ordered, and it is
    too late to order it in time.
    orders, pegs: as planned_orders and pegs_table give them.
    """
    begins = forecast.nodes.filter(pl.col("kind") == PLANNED_ORDER).select("begin", order="name")
    too_late = orders.filter(pl.col("late_days") > 0)["order"]
    beside = orders.filter(pl.col("source") != "buy").join(
        begins, on="order", maintain_order="left"
    )
    found = (
        beside.join(_by_order(pegs, too_late), on="order", how="left", maintain_order="left")
        .with_columns(pl.col("components", "in_stores", "coming", "missing").fill_null(0))
        .with_columns(starts=pl.max_horizontal("start", "begin"))
    )
    state = pl.when("short").then(pl.lit(SHORT)).when(pl.col("missing") > 0).then(pl.lit(WAITING))
    return found.with_columns(can_start=network.axis.on(found["starts"])).select(
        *("order", "item", "serial", "source", "process", "start_date"),
        state.otherwise(pl.lit(COMPLETE)).alias("state"),
        *("can_start", "components", "in_stores", "coming", "missing"),
        waits_for=pl.col("waits_for").fill_null(""),
        waits_from=pl.col("waits_from").fill_null(""),
    )


def _by_order(pegs: pl.DataFrame, too_late: pl.Series) -> pl.DataFrame:
    """For each order: components (different items), of these in_stores, coming (in time), missing;
    short, and what comes last of the missing ones from which supply."""
    waiting = pl.col("late")
    return (
        _components(pegs, too_late)
        .group_by(order="from_order")
        .agg(
            components=pl.len().cast(pl.Int64),
            in_stores=pl.col("stock").sum().cast(pl.Int64),
            coming=(~pl.col("stock") & ~pl.col("late")).sum().cast(pl.Int64),
            missing=pl.col("late").sum().cast(pl.Int64),
            short=pl.col("short").any(),
            waits_for=pl.col("item").filter(waiting).first(),
            waits_from=pl.col("last_from").filter(waiting).first(),
        )
    )


def _components(pegs: pl.DataFrame, too_late: pl.Series) -> pl.DataFrame:
    """Each component of each order, the latest first: late, stock (all of it lies there), short,
    last_from (which supply)."""
    # said of each row once: within agg the list is gone through again for every group
    planned_late = (pl.col("supply_kind") == PLANNED_ORDER) & pl.col("supply").is_in(
        too_late.implode()
    )
    unordered = planned_late | (pl.col("supply_kind") == NOTHING)
    return (
        pegs.filter((pl.col("from_order") != "") & (pl.col("supply_kind") != PASSED_ON))
        .with_columns(short=(pl.col("late_days") > 0) & unordered)
        .group_by("from_order", "item", "serial")
        .agg(
            late=pl.col("late_days").max() > 0,
            stock=(pl.col("supply_kind") == STOCK).all(),
            short=pl.col("short").any(),
            late_days=pl.col("late_days").max(),
            last_from=pl.col("supply").sort_by("late_days", "supply").last(),
        )
        .sort("late_days", "item", descending=[True, False])
    )
