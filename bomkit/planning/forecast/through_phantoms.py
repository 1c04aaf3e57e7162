"""When what phantoms and replaced items hand down can be there: with the last of what is in it."""

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import (
    Flags,
    Ints,
    each_once,
    each_repeated,
    ints,
    numbered,
)
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.tables_as_numbers.network import Network


def with_passed_on(network: Network, pegged: Pegged, arrivals: pl.Series) -> pl.Series:
    """The days on which supplies arrive, by row of Pegged.supplies, for what is passed on as well.

    It is as late as the latest of what whoever it is for needs of its components in its place, and
    not before the day that the plan has.
    """
    ground = pegged.ground
    supply = np.flatnonzero(ground.offered.passing)
    if not len(supply):
        return arrivals
    level = ground.levels[ground.keys.item(ground.offered.key[supply])]
    days = arrivals.to_numpy().copy()
    inside = _Inside(network, pegged)
    for own in sorted(set(level.tolist()), reverse=True):
        own_level: Flags = np.zeros(len(days), np.bool_)
        own_level[supply[level == own]] = True
        at, needed, taken = inside.of(own_level)
        late = days[inside.supply[taken]] - (inside.day[taken] - needed)
        np.maximum.at(days, at, late)
    return pl.Series(arrivals.name, days)


class _Inside:
    """The pegs of what is passed on and of what lies in it, by the item that is needed and for
    whom."""

    def __init__(self, network: Network, pegged: Pegged) -> None:
        parent, child = (ints(network.lines[name]) for name in ("parent_id", "child_id"))
        once = each_once(parent, child)
        self.parent, self.child = parent[once], child[once]
        offered = pegged.ground.offered
        items: Flags = np.zeros(len(network.items), np.bool_)
        items[network.keys.item(offered.key[offered.passing])] = True
        items[self.child[items[self.parent]]] = True
        pegs = pegged.of_items(items).filter(pl.col("supply_id").is_not_null())
        self.item = network.keys.item(ints(pegs["key"]))
        self.whose = numbered(*(ints(pegs[name]) for name in ("from_id", "demand_id")))
        self.span = int(self.whose.max(initial=0)) + 1
        self.day, self.supply = ints(pegs["day"]), ints(pegs["supply_id"])
        place = self.item * self.span + self.whose
        self.order = np.argsort(place, kind="stable")
        self.sorted = place[self.order]

    def of(self, supplies: Flags) -> tuple[Ints, Ints, Ints]:
        """What some supplies hand down: the supply, the day on which whoever it is for needs it,
        and a peg of what lies in it, for the same and not before that day."""
        given = np.flatnonzero(supplies[self.supply])
        first = np.searchsorted(self.parent, self.item[given])
        count = np.searchsorted(self.parent, self.item[given], "right") - first
        child = self.child[each_repeated(first, count)]
        peg = np.repeat(given, count)
        wanted = child * self.span + self.whose[peg]
        low = np.searchsorted(self.sorted, wanted)
        count = np.searchsorted(self.sorted, wanted, "right") - low
        taken, peg = self.order[each_repeated(low, count)], np.repeat(peg, count)
        later = self.day[taken] >= self.day[peg]
        peg, taken = peg[later], taken[later]
        return self.supply[peg], self.day[peg], taken
