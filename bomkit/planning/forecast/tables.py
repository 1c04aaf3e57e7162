"""The result tables of pegging and of the late forecast: who waits for what, and until when."""

import numpy as np
import polars as pl

from bomkit.planning.forecast.forecast import Forecast
from bomkit.planning.forecast.waits_for import NEVER
from bomkit.planning.netting.arrays import NO_ROW, Ints, floats, in_order, ints, numbered
from bomkit.planning.netting.orders import FIGURES
from bomkit.planning.network import Network
from bomkit.planning.pegging.order_of_supplies import OPEN_ORDER, PLANNED_ORDER
from bomkit.planning.pegging.peg import NOTHING, Pegged
from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.tables.results.plan import NEEDS


def needs_table(network: Network, pegged: Pegged, orders: pl.DataFrame) -> pl.DataFrame:
    """Every need with the demand it serves in the end: the columns of NEEDS."""
    needs = pegged.needs.with_columns(pl.col("quantity").round_sig_figs(FIGURES))
    columns = [ints(needs[name]) for name in ("key", "day")]
    ranks = _asking_ranks(orders, needs), _ranks(pegged.demands["demand"])[ints(needs["demand_id"])]
    needs = network.named(needs[in_order(*columns, floats(needs["quantity"]), *ranks)])
    return needs.select(
        *("item", "serial", "quantity"),
        need_date=network.axis.on(needs["day"]),
        from_order=asking_order(orders, needs["from_id"]),
        demand=pegged.demands["demand"][needs["demand_id"]],
    ).select(NEEDS.column_names)


def _ranks(values: pl.Series) -> Ints:
    """The places of values among all different ones, from 1 on."""
    return ints(values.rank("dense"))


def _asking_ranks(orders: pl.DataFrame, needs: pl.DataFrame) -> Ints:
    """The ranks of the orders that ask; of a need from outside before all."""
    return np.append(_ranks(orders["order"]), 0)[ints(needs["from_id"])]


def asking_order(orders: pl.DataFrame, from_id: pl.Series) -> pl.Series:
    """The names of the orders with these row numbers; "" for a need from outside."""
    return orders["order"].gather(from_id.replace(OUTSIDE, None)).fill_null("")


def pegs_table(
    network: Network,
    pegged: Pegged,
    pegs: pl.DataFrame,
    orders: pl.DataFrame,
    ends: pl.DataFrame | None,
) -> pl.DataFrame:
    """Which supply serves which need, and when it can be there; pegs: all or some of pegged.

    The columns of PEGS and from_order. supply_date: the day of the plan; comes: the day that the
    forecast allows (ends: its nodes), if that is later than by the order's own lead time;
    late_days: working days by which it comes after the need.
    """
    supplies = arriving(pegged.supplies, orders, ends)
    pegs = pegs.with_columns(pl.col("quantity").round_sig_figs(FIGURES))
    pegs = pegs[_in_order_of_names(pegged, pegs, orders, supplies)]
    supplied = _supplied(network, pegged.demands, pegs, supplies, orders)
    from_outside = pl.col("from_order") == ""
    return supplied.select(
        *("item", "serial"),
        need=pl.when(from_outside).then("demand").otherwise("from_order"),
        need_date=network.axis.on(supplied["day"]),
        supply_kind=pl.col("kind").fill_null(NOTHING),
        supply=pl.col("supply").fill_null(""),
        supply_date=network.axis.on(supplied["due"]),
        quantity="quantity",
        location=pl.col("location").fill_null(""),
        demand="demand",
        demand_kind="demand_kind",
        demand_serial="whose",
        comes=network.axis.on(supplied["arrival"]),
        late_days=(pl.col("arrival") - pl.col("day")).clip(0).fill_null(NEVER),
        from_order="from_order",
    )


def _in_order_of_names(
    pegged: Pegged, pegs: pl.DataFrame, orders: pl.DataFrame, supplies: pl.DataFrame
) -> Ints:
    """The places of pegs sorted by the columns of the table, on numbers: keys are in the order of
    their names, and of all others each name is compared once, not in each peg."""
    demands, asking = pegged.demands, ints(pegs["from_id"])
    of_demand, outside = ints(pegs["demand_id"]), asking == OUTSIDE
    names = _ranks(pl.concat([demands["demand"], orders["order"]]))
    need = names[np.where(outside, of_demand, len(demands) + asking)]
    of_supply = (
        numbered(*(_ranks(supplies[name]) for name in ("kind", "supply", "due"))) + 1,
        _ranks(supplies["location"]),
        ints(supplies["arrival"]),
    )
    place = pegs["supply_id"].cast(pl.Int64).fill_null(NO_ROW).to_numpy()
    supply, location, arrival = (np.append(ranks, 0)[place] for ranks in of_supply)
    whose = numbered(*(_ranks(demands[name]) for name in ("demand", "kind", "whose")))[of_demand]
    key, day, quantity = ints(pegs["key"]), ints(pegs["day"]), floats(pegs["quantity"])
    return in_order(key, need, day, supply, quantity, location, whose, arrival, ~outside)


def _supplied(
    network: Network,
    demands: pl.DataFrame,
    pegs: pl.DataFrame,
    supplies: pl.DataFrame,
    orders: pl.DataFrame,
) -> pl.DataFrame:
    """The pegs by name, beside their demands, the orders that ask and their supplies (as arriving
    gives them)."""
    place, whose = pegs["supply_id"], pegs["demand_id"]
    columns = ("kind", "supply", "location", "arrival", "due")
    return network.named(pegs).with_columns(
        **{name: supplies[name][place] for name in columns},
        demand=demands["demand"][whose],
        demand_kind=demands["kind"][whose],
        whose=demands["whose"][whose],
        from_order=asking_order(orders, pegs["from_id"]),
    )


def arriving(
    supplies: pl.DataFrame, orders: pl.DataFrame, ends: pl.DataFrame | None
) -> pl.DataFrame:
    """The supplies with due (day of the plan) and arrival (day on which they can be there)."""
    own, usable = ints(supplies["order_id"].fill_null(NO_ROW)), ints(supplies["usable"])
    due, arrival = (
        np.where(own == NO_ROW, usable, np.append(ints(orders[name]), 0)[own])
        for name in ("due", "arrival")
    )
    if ends is not None:
        coming = ends.filter(pl.col("supply_id").is_not_null())
        np.maximum.at(arrival, ints(coming["supply_id"]), ints(coming["end"]))
    return supplies.with_columns(pl.Series("due", due), pl.Series("arrival", arrival))


def beginnings(supplies: pl.DataFrame, nodes: pl.DataFrame) -> pl.DataFrame:
    """The day on which each planned order begins: order_id, begin; nodes: of a forward pass."""
    coming = nodes.filter(pl.col("supply_id").is_not_null())
    order = supplies["order_id"][coming["supply_id"]]
    return pl.DataFrame({"begin": coming["begin"], "order_id": order}).drop_nulls("order_id")


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
            start_date=pl.when(planned).then("start_date"),
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
    demands = pegged.demands.select(
        "demand_id", "demand", demand_kind="kind", demand_serial="whose"
    )
    return network.named(
        forecast.chains.join(forecast.nodes.drop("demand_id"), on="node", maintain_order="left")
        .join(
            receipts.unique(["key", "usable", "name"], keep="first", maintain_order=True),
            on=["kind", "key", "usable", "name"],
            how="left",
            maintain_order="left",
        )
        .join(demands, on="demand_id", maintain_order="left")
        .drop_nulls("key")  # what nothing brings is no step
    )


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
    demands = pegged.demands.rename({"kind": "demand_kind", "whose": "demand_serial"})
    found = (
        forecast.demands.join(demands, on="demand_id")
        .join(_wanted(network), on=_WHOSE)
        .join(_in_words(pacing), on=_WHOSE, how="left")
        .join(from_house.select(demand="serial", from_house="place"), on="demand", how="left")
        .sort("rank", "date", "demand", "demand_serial")
    )
    return found.with_columns(earliest_date=network.axis.on(found["end"])).select(
        *("demand", "demand_kind"),
        serial="demand_serial",
        ready_date="ready_date",
        earliest_date=pl.when(pl.col("end") < NEVER).then("earliest_date"),
        late_days=pl.col("late_days") + pl.col("overdue_days"),
        spare_days=(pl.col("need_day") - pl.col("end")).clip(0),
        gain_days="gain_days",
        pacing_item=pl.col("pacing_item").fill_null(""),
        pacing=pl.col("pacing").fill_null(""),
        from_house=pl.when(pl.col("demand_kind") == "airframe").then("from_house"),
    )


_WHOSE = ["demand", "demand_kind", "demand_serial"]


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
