"""Times the allocation of the full-size sample beside one netted plan of the same tables.

The netted plan is the one that bench_plan.py times: quantities of all rows, the structure compiled
beforehand. The allocation is what stands on it: pegs by the plan's days and again by the
forecast's, told apart by demand, the forecast itself, and promises with what is packed for them.
Beside it stand the tables that are made of all this for people. All run in this process, by turns;
the least processor time counts. First the allocation is made anew without what it took over from
its first round, and the two must be the same.
"""

import argparse
import sys
from dataclasses import replace

from bench_plan import SAMPLE, best_seconds

from bomkit.planning.allocation import Stores, allocated, promised, stores_tables
from bomkit.planning.allocation_by_forecast import Made
from bomkit.planning.forecast.forecast import forecast, foreseen
from bomkit.planning.forecast.peg_graph import NO_BOUNDS
from bomkit.planning.netting.compiled_structure import compile_structure
from bomkit.planning.netting.level_by_level import planned_quantities
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders
from bomkit.planning.netting.supply_by_day import supplied
from bomkit.planning.pegging.peg import Pegged, peg
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.runs.checked_tables import checked_inputs


def main() -> int:
    """Check, time and print; 1 if what is taken over changes anything."""
    arguments = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    arguments.add_argument("--quick", action="store_true", help="once each")
    times = 1 if arguments.parse_args().quick else 5
    tables = checked_inputs(SAMPLE)[0].tables
    network = build_network(tables)
    flows = plan_flows(network)
    orders = planned_orders(network, flows)
    made = Made(network, tables, flows, orders, NO_BOUNDS)
    stores = allocated(made, _by_plan(made))
    same = _same_anew(stores)
    print(f"the sample: {len(orders):,} planned orders, {len(stores.pegged.pegs):,} pegs")
    print(f"made anew, the allocation is {'the same' if same else 'another one'}")
    print_beside(made, times)
    return 0 if same else 1


def _same_anew(stores: Stores) -> bool:
    """Whether the pegs are those of an allocation that takes nothing over."""
    anew = stores.made.pegged(stores.turn.counted_on, None)
    return anew.pegs.equals(stores.pegged.pegs)


def _by_plan(made: Made) -> Pegged:
    """The pegs by the plan's own days."""
    return peg(made.network, made.flows, made.orders, made.tables)


def print_beside(made: Made, times: int) -> None:
    """Times the allocation, its parts, and the netted plan."""
    compiled = compile_structure(made.network)
    beside = supplied(made.network, compiled)
    stores = allocated(made, _by_plan(made))
    netted, pegs, ahead, both, apart, promises, tables = best_seconds(
        lambda: planned_quantities(compiled, beside),
        lambda: _by_plan(made),
        lambda: forecast(foreseen(made.graph(stores.pegged))),
        lambda: allocated(made, _by_plan(made)),
        lambda: replace(stores.pegged).pegs,  # a copy, which remembers nothing
        lambda: promised(stores),
        lambda: stores_tables(stores),
        times=times,
    )
    together = both + apart + promises
    print(f"one netted plan                    {netted * 1000:7.1f} ms")
    print(f"pegs, once                         {pegs * 1000:7.1f} ms")
    print(f"forecast, once                     {ahead * 1000:7.1f} ms")
    print(f"pegs, forecast and pegs again      {both * 1000:7.1f} ms")
    print(f"pegs told apart by demand          {apart * 1000:7.1f} ms")
    print(f"promises and what is packed        {promises * 1000:7.1f} ms")
    print(f"pegs, forecast and promises        {together * 1000:7.1f} ms")
    print(f"ratio of all that to one plan      {together / netted:7.2f}")
    print(f"the tables for people beside it    {(tables - promises) * 1000:7.1f} ms")


if __name__ == "__main__":
    sys.exit(main())
