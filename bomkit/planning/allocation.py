"""One allocation for every list: pegs, forecast, chains, what can start, promises and packing."""

from dataclasses import dataclass

import polars as pl

from bomkit.planning.allocation_by_forecast import Made, Turn, settled
from bomkit.planning.forecast.can_start import ready_table
from bomkit.planning.forecast.finished_from_house import finishable
from bomkit.planning.forecast.forecast import Forecast, forecast
from bomkit.planning.forecast.forecast_and_pacing_tables import forecast_table, pacing_table
from bomkit.planning.forecast.peg_tables import pegs_table
from bomkit.planning.forecast.stand_ins import no_stand_ins, stand_ins
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.promises.made_later_by_grounded import made_later, without_grounded
from bomkit.planning.promises.packing import Allocation, Packer
from bomkit.planning.promises.promise_tables import promise_tables
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.results.stores import FORECAST, PACING, PACKING, PROMISES, READY


@dataclass(frozen=True)
class Stores:
    """The allocation of a plan and its forecast, with what it was made from.

    by_plan: the pegs by the plan's own days; turn: the allocation that counts.
    """

    made: Made
    by_plan: Pegged
    turn: Turn
    ahead: Forecast

    @property
    def pegged(self) -> Pegged:
        """The pegs that count."""
        return self.turn.pegged

    @property
    def given(self) -> Allocation:
        """The allocation with the days of its own forecast."""
        turn = self.turn
        return Allocation(turn.pegged, turn.arrivals, turn.box, turn.foreseen.leaves)


def allocated(made: Made, first: Pegged) -> Stores:
    """Gives out again by the days of the forecast what is given out by the plan's own days."""
    turn = settled(made, first)
    return Stores(made, first, turn, forecast(turn.passed))


def stores_tables(stores: Stores) -> dict[str, pl.DataFrame]:
    """The tables pegs (and from_order), forecast, pacing, ready, stand_ins, promises, packing."""
    made, ahead = stores.made, stores.ahead
    network, orders = made.network, made.orders
    pegs = pegs_table(network, stores.pegged, stores.pegged.pegs, orders, ahead.nodes)
    pacing = pacing_table(network, stores.pegged, ahead)
    late = pegs.filter(pl.col("late_days") > 0)
    return {
        "pegs": pegs,
        "pacing": pacing,
        "forecast": forecast_table(network, stores.pegged, ahead, pacing, finishable(network)),
        "ready": ready_table(network, stores.pegged, orders, ahead.nodes, stores.turn.arrivals),
        "stand_ins": stand_ins(network, made.tables, stores.pegged, late),
        **promised(stores),
    }


def promised(stores: Stores) -> dict[str, pl.DataFrame]:
    """The tables promises and packing."""
    spared = without_grounded(stores.made, stores.turn)
    harms = {
        order: made_later(stores.made, stores.turn, stores.ahead.demands, pegged)
        for order, pegged in spared.items()
    }
    network = stores.made.network
    packer = Packer(network, stores.made.tables, stores.given, spared)
    return promise_tables(network, packer, harms)


def no_forecast(network: Network, pegged: Pegged, orders: pl.DataFrame) -> dict[str, pl.DataFrame]:
    """The same tables where nobody wants a forecast: orders come by their own lead time."""
    return {
        "pegs": pegs_table(network, pegged, pegged.pegs, orders, None),
        "pacing": PACING.empty(),
        "forecast": FORECAST.empty(),
        "ready": READY.empty(),
        "stand_ins": no_stand_ins(),
        "promises": PROMISES.empty(),
        "packing": PACKING.empty(),
    }
