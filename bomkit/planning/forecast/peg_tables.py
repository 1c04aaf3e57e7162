"""The result tables of pegging: who waits for what, and until when."""

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import NO_ROW, Ints, floats, in_order, ints, numbered
from bomkit.planning.netting.planned_orders import FIGURES
from bomkit.planning.pegging.peg import NOTHING, Pegged
from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.results.plan import NEEDS
from bomkit.tables.shared_columns import NEVER


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
    return _worded(network, _supplied(network, pegged.demands, pegs, supplies, orders))


def _worded(network: Network, supplied: pl.DataFrame) -> pl.DataFrame:
    """The columns of the table, of pegs as _supplied gives them."""
    from_outside, ever = pl.col("from_order") == "", pl.col("arrival") < NEVER
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
        comes=pl.when(ever).then(network.axis.on(supplied["arrival"])),
        late_days=pl.when(ever).then((pl.col("arrival") - pl.col("day")).clip(0)).otherwise(NEVER),
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
