"""The needs and supplies of one level: laid along each other, or handed to `allocate` by key."""

from collections.abc import Sequence

import numpy as np

from bomkit.planning.netting.arrays import (
    Flags,
    Ints,
    Rows,
    at_places,
    each_repeated,
    heads,
    in_order,
    laid_along,
    one_after_other,
    stretch_of,
    sums,
)
from bomkit.planning.pegging.asked_and_offered import Ground
from bomkit.planning.pegging.must_last import Foreseen, Lasting
from bomkit.planning.pegging.need_by_need.keys_with_choice import Choosing
from bomkit.planning.pegging.order_of_supplies import as_taken
from bomkit.planning.pegging.ranked_demands import OUTSIDE

NEED = ("key", "day", "quantity", "from_id", "demand_id", "asked_id", "leaves", "rank")


class Matching:
    """Lays needs and supplies along each other; knows of supplies when they come."""

    def __init__(self, ground: Ground, foreseen: Foreseen | None = None) -> None:
        """foreseen: when supplies come, if not as the plan has it."""
        self.ground = ground
        offered = ground.offered
        self.comes = offered.comes if foreseen is None else foreseen.comes
        order = as_taken(offered.key, self.comes, offered.kind, offered.last, offered.usable)
        self.supplies: Rows = {
            "key": offered.key[order],
            "row": order,
            "quantity": offered.quantity[order],
        }
        self.choosing = Choosing(ground, self.comes, Lasting(ground.dates, ground.asked, foreseen))

    def side_by_side(self, needs: Rows, keys: Flags) -> Rows:
        """Which supply serves which need, for some keys: a row for each stretch.

        need (row of needs, NO_ROW for nobody), key, quantity, supply_id (NO_ROW: nothing).
        """
        choosy = self._choosy(needs)
        supplies = at_places(self.supplies, keys[self.supplies["key"]])
        rows = {**needs, "row": np.arange(len(needs["key"]))}
        needing, offering = choosy[needs["key"]], choosy[supplies["key"]]
        plain = laid_along(at_places(rows, ~needing), at_places(supplies, ~offering))
        chosen = self.choosing.stretches(at_places(rows, needing), at_places(supplies, offering))
        met = one_after_other([plain, chosen])
        return at_places(met, in_order(met["key"], met["need"]))

    def _choosy(self, needs: Rows) -> Flags:
        """Whether needs of a key are of different ranks, leave the house, or may not have all."""
        choosy = self.choosing.expiring | self.choosing.kept
        choosy[needs["key"][needs["leaves"]]] = True
        first = heads(needs["key"])
        if len(first):
            ranks = needs["rank"]
            several = np.minimum.reduceat(ranks, first) < np.maximum.reduceat(ranks, first)
            choosy[needs["key"][first[several]]] = True
        return choosy


def in_line(ground: Ground, needs: Rows) -> Rows:
    """The needs of some keys, those alike added up, by key and day; those of one order stand
    together, as it takes whole pieces for all whom it serves.

    Alike are those that differ in quantity and rank alone.
    """
    turn = ground.turns[needs["demand_id"]]
    columns = [needs["key"], needs["day"], needs["from_id"], turn]
    columns += [needs["asked_id"], needs["leaves"]]
    order = _by_front(in_order(*columns), columns)
    first = heads(*(column[order] for column in columns))
    if len(first) == len(order):
        return at_places({name: needs[name] for name in NEED}, order)
    group = stretch_of(first, len(order))
    several = np.bincount(group)[group] > 1
    own = order[several]  # added up by quantity, so that a sum is the same however they came
    order[several] = own[in_order(group[several], needs["quantity"][own])]
    alike = {name: needs[name][order[first]] for name in NEED}
    alike["quantity"] = sums(needs["quantity"][order], group, len(first))
    alike["rank"] = np.minimum.reduceat(needs["rank"][order], first)
    return alike


def _by_front(order: Ints, columns: Sequence[Ints]) -> Ints:
    """The places of needs, in order by key, day, order that asks and turn, with those of each order
    in front as the first of them is served; what no order asks for stands by itself."""
    key, day, asking, turn = (column[order] for column in columns[:4])
    first = heads(key, day, asking, np.where(asking == OUTSIDE, turn, OUTSIDE))
    met = in_order(key[first], day[first], turn[first], asking[first])
    count = np.diff(np.append(first, len(order)))
    return order[each_repeated(first[met], count[met])]
