"""The needs and supplies of one level: laid along each other, or handed to `allocate` by key."""

import numpy as np

from bomkit.planning.netting.arrays import (
    Flags,
    Rows,
    at_places,
    heads,
    in_order,
    laid_along,
    one_after_other,
    stretch_of,
    sums,
)
from bomkit.planning.pegging.choosing import Choosing
from bomkit.planning.pegging.demands import OUTSIDE
from bomkit.planning.pegging.ground import Ground
from bomkit.planning.pegging.lasting import Foreseen, Lasting

NEED = ("key", "day", "quantity", "from_id", "demand_id", "asked_id", "leaves", "rank")


class Matching:
    """Knows of each need in which turn it is served, and of supplies when they come."""

    def __init__(self, ground: Ground, foreseen: Foreseen | None = None) -> None:
        """foreseen: when supplies come, if not as the plan has it."""
        self.ground = ground
        offered = ground.offered
        self.comes = offered.comes if foreseen is None else foreseen.comes
        # the supplies as they are taken: of what is there on a day stock, and what expires, first
        order = in_order(offered.key, self.comes, offered.kind, offered.last, offered.usable)
        self.supplies: Rows = {
            "key": offered.key[order],
            "row": order,
            "quantity": offered.quantity[order],
        }
        self.choosing = Choosing(ground, self.comes, Lasting(ground.dates, ground.asked, foreseen))

    def in_line(self, needs: Rows) -> Rows:
        """The needs of some keys, those alike added up, by key and day; those of one order stand
        together, as it takes whole pieces for all whom it serves."""
        alike = _added_up({**needs, "turn": self.ground.turns[needs["demand_id"]]})
        key, day, turn, order = (alike[name] for name in ("key", "day", "turn", "from_id"))
        first = heads(key, day, order)
        of_order = turn[first][stretch_of(first, len(key))]
        front = np.where(order == OUTSIDE, turn, of_order)
        line = in_order(key, day, front, order, turn, alike["asked_id"], alike["leaves"])
        return at_places({name: alike[name] for name in NEED}, line)

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


def _added_up(needs: Rows) -> Rows:
    """The needs, those that differ in quantity and rank alone as one, by key, day, order, turn."""
    columns = [needs[name] for name in ("key", "day", "from_id", "turn", "asked_id", "leaves")]
    order = in_order(*columns)
    first = heads(*(column[order] for column in columns))
    group = stretch_of(first, len(order))
    several = np.bincount(group)[group] > 1
    own = order[several]  # added up by quantity, so that a sum is the same however they came
    order[several] = own[in_order(group[several], needs["quantity"][own])]
    alike = dict(at_places(needs, order[first]))
    alike["quantity"] = sums(needs["quantity"][order], group, len(first))
    if len(first):
        alike["rank"] = np.minimum.reduceat(needs["rank"][order], first)
    return alike
