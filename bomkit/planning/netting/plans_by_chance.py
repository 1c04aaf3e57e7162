"""Many plans of one structure: what comes out if scrap and deliveries turn out otherwise.

No command draws yet: scripts/bench_plan.py times it, and tests hold each to a single plan.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Floats, Ints, floats, ints
from bomkit.planning.netting.compiled_structure import Structure, compile_structure
from bomkit.planning.netting.level_by_level import Quantities, planned_quantities
from bomkit.planning.netting.supply_by_day import Events, Supplied, supplied
from bomkit.planning.tables_as_numbers.network import Network


@dataclass(frozen=True)
class Draw:
    """good: by item_id the share of what is started, or ordered, that is good; late: by row of the
    network's receipts the working days by which it comes later."""

    good: Floats
    late: Ints


def drawn_plans(
    network: Network, draws: Iterable[Draw], known: Structure | None = None
) -> Iterator[Quantities]:
    """The plan of each draw, the structure compiled once.

    known: the structure of the network, if it is compiled already.
    """
    structure = known or compile_structure(network)
    beside = supplied(network, structure)
    receipts = _Receipts(network, structure)
    passes = network.items["passes"].to_numpy()
    for draw in draws:
        good = np.where(passes, 1.0, draw.good)[structure.item_id]
        rules = replace(structure.rules, good=good)
        drawn = receipts.drawn(draw, beside)
        yield planned_quantities(replace(structure, rules=rules), drawn)


class _Receipts:
    """The receipts within the horizon, in the order in which they are added up."""

    def __init__(self, network: Network, structure: Structure) -> None:
        """Finds their rows."""
        within = network.receipts.with_row_index("place").filter(~pl.col("past"))
        ordered = within.sort("key", "quantity", "day")
        self.place, self.day = ints(ordered["place"]), ints(ordered["day"])
        self.ordered = floats(ordered["ordered"])
        self.item_id = network.keys.item(ints(ordered["key"]))
        self.row = structure.rows_of(ints(ordered["key"]))

    def drawn(self, draw: Draw, beside: Supplied) -> Supplied:
        """What is there as drawn; what comes past the horizon is left out."""
        day = self.day + draw.late[self.place]
        comes = day < beside.days
        good = self.ordered * draw.good[self.item_id]
        return replace(beside, receipts=Events(self.row[comes], day[comes], good[comes]))
