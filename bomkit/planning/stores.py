"""All that stores want to know of a plan, put together: pegs, forecast, chains, what can start."""

from collections.abc import Mapping

import polars as pl

from bomkit.planning.forecast.forecast import forecast
from bomkit.planning.forecast.from_house import finishable
from bomkit.planning.forecast.graph import NO_BOUNDS, peg_graph
from bomkit.planning.forecast.ready import ready_table
from bomkit.planning.forecast.stand_ins import no_stand_ins, stand_ins
from bomkit.planning.forecast.tables import arriving, forecast_table, pacing_table, pegs_table
from bomkit.planning.network import Network, Tables
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.promises.promise_tables import packing_table, promises_table
from bomkit.planning.promises.promises import pack_orders
from bomkit.tables.stores_results import FORECAST, PACING, PACKING, PROMISES, READY


def waiting_tables(
    network: Network,
    tables: Tables,
    pegged: Pegged,
    orders: pl.DataFrame,
    not_before: Mapping[str, int] = NO_BOUNDS,
) -> dict[str, pl.DataFrame]:
    """The tables pegs (and from_order), forecast, pacing, ready, stand_ins, promises and packing.

    orders: as planned_orders gives them; not_before: by order the day before which it can't begin.
    """
    ahead = forecast(peg_graph(network, orders, pegged, not_before))
    pegs = pegs_table(network, pegged, orders, ahead.nodes)
    pacing = pacing_table(network, pegged, ahead)
    late = pegs.filter(pl.col("late_days") > 0)
    ends = dict(ahead.demands.select("demand_id", "end").iter_rows())
    arrivals = arriving(pegged.supplies, orders, ahead.nodes)["arrival"]
    packed = pack_orders(network, pegged, tables, ends, arrivals)
    return {
        "pegs": pegs,
        "pacing": pacing,
        "forecast": forecast_table(network, pegged, ahead, pacing, finishable(network)),
        "ready": ready_table(network, orders, pegs, ahead),
        "stand_ins": stand_ins(network, tables, pegged, late),
        "promises": promises_table(network, packed),
        "packing": packing_table(network, packed),
    }


def no_forecast(network: Network, pegged: Pegged, orders: pl.DataFrame) -> dict[str, pl.DataFrame]:
    """The same tables where nobody wants a forecast: orders come by their own lead time."""
    return {
        "pegs": pegs_table(network, pegged, orders, None),
        "pacing": PACING.empty(),
        "forecast": FORECAST.empty(),
        "ready": READY.empty(),
        "stand_ins": no_stand_ins(),
        "promises": PROMISES.empty(),
        "packing": PACKING.empty(),
    }
