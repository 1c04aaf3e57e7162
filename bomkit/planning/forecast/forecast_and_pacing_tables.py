"""The result tables of the late forecast: when each demand can be ready, and what paces it."""

import polars as pl

from bomkit.planning.forecast.forecast import Forecast
from bomkit.planning.pegging.order_of_supplies import OPEN_ORDER, PLANNED_ORDER
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.shared_columns import NEVER

_WHOSE = ["demand", "demand_kind", "demand_serial"]


def pacing_table(network: Network, pegged: Pegged, forecast: Forecast) -> pl.DataFrame:
    """The chain that paces each demand, what comes first at the top: the columns of PACING."""
    steps = _steps(network, pegged, forecast)
    planned = pl.col("kind") == PLANNED_ORDER
    return (
        steps.with_columns(
            start_date=network.axis.on(steps["begin"]), finish_date=network.axis.on(steps["end"])
        )
        .sort("demand_kind", "demand", "demand_serial", "step")
        .select(
            *("demand", "demand_kind", "demand_serial", "step", "item", "serial"),
            supply_kind="kind",
            supply="name",
            start_date=pl.when(planned & (pl.col("begin") < NEVER)).then("start_date"),
            days=pl.when(planned).then("days").otherwise("begin"),
            finish_date=pl.when(pl.col("end") < NEVER).then("finish_date"),
            needed_after="needed_after",
            overdue_since="overdue_since",
        )
    )


def _steps(network: Network, pegged: Pegged, forecast: Forecast) -> pl.DataFrame:
    """The steps of all chains by name, with their nodes, demands and overdue open orders."""
    receipts = network.receipts.filter("overdue").select(
        "key", usable="day", name="order", kind=pl.lit(OPEN_ORDER), overdue_since="date"
    )
    return network.named(
        forecast.chains.join(forecast.nodes.drop("demand_id"), on="node", maintain_order="left")
        .join(
            receipts.unique(["key", "usable", "name"], keep="first", maintain_order=True),
            on=["kind", "key", "usable", "name"],
            how="left",
            maintain_order="left",
        )
        .join(_demands(pegged).select("demand_id", *_WHOSE), on="demand_id", maintain_order="left")
        .drop_nulls("key")  # what nothing brings is no step
    )


def _demands(pegged: Pegged) -> pl.DataFrame:
    """The demands of an allocation, their columns named as in the tables."""
    return pegged.demands.rename({"kind": "demand_kind", "whose": "demand_serial"})


def forecast_table(
    network: Network,
    pegged: Pegged,
    forecast: Forecast,
    pacing: pl.DataFrame,
    from_house: pl.DataFrame,
) -> pl.DataFrame:
    """When each airframe and spares order can be ready at the earliest: the columns of FORECAST.

    pacing: as pacing_table gives it; from_house: serial and place, as finishable gives it.
    """
    demands = (
        forecast.demands.join(_demands(pegged), on="demand_id")
        .join(_wanted(network), on=_WHOSE)
        .join(_in_words(pacing), on=_WHOSE, how="left")
        .join(from_house.select(demand="serial", from_house="place"), on="demand", how="left")
        .sort("rank", "date", "demand", "demand_serial")
    )
    return demands.with_columns(earliest_date=network.axis.on(demands["end"])).select(
        *("demand", "demand_kind"),
        serial="demand_serial",
        ready_date="ready_date",
        earliest_date=pl.when(pl.col("end") < NEVER).then("earliest_date"),
        late_days=(pl.col("late_days") + pl.col("overdue_days")).clip(upper_bound=NEVER),
        spare_days=(pl.col("need_day") - pl.col("end")).clip(0),
        gain_days="gain_days",
        pacing_item=pl.col("pacing_item").fill_null(""),
        pacing=pl.col("pacing").fill_null(""),
        from_house=pl.when(pl.col("demand_kind") == "airframe").then("from_house"),
    )


def _wanted(network: Network) -> pl.DataFrame:
    """When all of each demand is wanted: ready_date, need_day, and overdue_days before day 0."""
    first = pl.lit(network.axis.dates[0])
    # the calendar need not go back: before the first day every Monday to Friday counts
    overdue = pl.business_day_count(pl.min_horizontal("ready_date", first), first)
    return (
        network.demands.filter(~pl.col("past"))
        .rename({"kind": "demand_kind", "serial": "demand_serial"})
        .group_by(_WHOSE)
        .agg(ready_date=pl.col("date").max(), need_day=pl.col("day").max())
        .with_columns(overdue_days=overdue.cast(pl.Int64))
    )


def _in_words(pacing: pl.DataFrame) -> pl.DataFrame:
    """Each chain as one line, and its first item: the demand's columns, pacing_item, pacing."""
    there = pl.format("{} ({}, {})", "item", "supply", "finish_date")
    link = (
        pl.when(pl.col("supply_kind") == PLANNED_ORDER)
        .then(pl.format("{} ({}, {} d)", "item", "supply", "days"))
        .otherwise(pl.coalesce(there, "item"))
    )
    return pacing.group_by(_WHOSE).agg(
        pacing_item=pl.col("item").first(), pacing=link.str.join(" > ")
    )
