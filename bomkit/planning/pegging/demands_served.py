"""For whom orders take what is handed to them as one: the demands that they serve, told apart."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from bomkit.planning.netting.arrays import (
    NO_ROW,
    Flags,
    Floats,
    Ints,
    Rows,
    at_places,
    heads,
    in_order,
    laid_along,
    numbered,
    one_after_other,
    stretch_of,
    sums,
)
from bomkit.planning.pegging.asked_and_offered import Ground
from bomkit.planning.pegging.matching import NEED, in_line
from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.planning.pegging.reused_pegs import Served
from bomkit.planning.pegging.shares_of_orders import component_needs, is_shared


@dataclass(frozen=True)
class Apart:
    """What some orders need of some items, told apart by demand; both by number, orders with one
    more in the end for what no order asks for.

    parts: what each takes of plain items for each demand, in the order in which it is served.
    """

    ground: Ground
    levels: Sequence[Served]
    items: Flags
    orders: Flags

    @cached_property
    def parts(self) -> Rows:
        """The needs of what orders take as one, for each demand."""
        lines = self.ground.lines.to(self.ground.plain & self.items)
        shares = one_after_other([level.shares for level in self.levels])
        own = (shares["from_id"] != OUTSIDE) & self.orders[shares["from_id"]]
        needs = component_needs(self.ground, at_places(shares, own), lines)
        return in_line(self.ground, {name: needs[name] for name in NEED})

    def needs(self) -> Rows:
        """The needs, by key."""
        rows = self._chosen([level.needs for level in self.levels])
        rows = at_places(rows, ~is_shared(self.ground, rows))
        rows = one_after_other([rows, self.parts])
        return at_places(rows, in_order(rows["key"]))

    def pegs(self) -> Rows:
        """What serves them, by key."""
        rows = self._chosen([level.pegs for level in self.levels])
        one = is_shared(self.ground, rows)
        shared, others = np.flatnonzero(one), np.flatnonzero(~one)
        told, of_shared = _pegs_of(self.parts, at_places(rows, shared))
        stood = np.concatenate([others, shared[of_shared]])
        rows = one_after_other([at_places(rows, others), told])
        return at_places(rows, in_order(rows["key"], stood))

    def _chosen(self, levels: Sequence[Rows]) -> Rows:
        """The rows of levels that are of the items, and that the orders ask for."""
        items = self.ground.keys.item
        return one_after_other(
            [
                at_places(rows, self.items[items(rows["key"])] & self.orders[rows["from_id"]])
                for rows in levels
            ]
        )


def _pegs_of(parts: Rows, pegs: Rows) -> tuple[Rows, Ints]:
    """The pegs with the demands of the needs that they serve, and which of the given pegs each is
    of; pegs: of what orders take as one."""
    of_part, of_peg = _numbered(parts, pegs)
    by_one = np.bincount(of_peg, minlength=len(of_part) + len(of_peg)) == 1
    peg_of = np.full(len(by_one), NO_ROW)
    peg_of[of_peg] = np.arange(len(of_peg))
    alone = np.flatnonzero(by_one[of_part])
    need, peg, quantity = _laid(
        at_places({"group": of_part, "quantity": parts["quantity"], "row": np.arange(len(of_part))},
                  ~by_one[of_part]),
        at_places({"group": of_peg, "quantity": pegs["quantity"], "row": np.arange(len(of_peg)),
                   "supply_id": pegs["supply_id"]}, ~by_one[of_peg]),
    )  # fmt: skip
    need = np.concatenate([alone, need])
    peg = np.concatenate([peg_of[of_part[alone]], peg])
    quantity = np.concatenate([parts["quantity"][alone], quantity])
    told = at_places(parts, need)
    return {**told, "quantity": quantity, "supply_id": pegs["supply_id"][peg]}, peg


def _laid(asked: Rows, offered: Rows) -> tuple[Ints, Ints, Floats]:
    """The needs of groups laid along several pegs each: rows of needs and pegs, quantities; both:
    group, quantity, row, and supply_id of pegs."""
    asked = at_places(asked, in_order(asked["group"]))
    offered = at_places(offered, in_order(offered["group"]))
    first = heads(offered["group"], offered["supply_id"])  # what one supply gives is one
    of_supply = at_places(offered, first)
    quantity = sums(offered["quantity"], stretch_of(first, len(offered["group"])), len(first))
    laid = laid_along(
        {"key": asked["group"], "quantity": asked["quantity"], "row": asked["row"]},
        {"key": of_supply["group"], "quantity": quantity, "row": of_supply["row"]},
    )
    both = at_places(laid, (laid["need"] != NO_ROW) & (laid["supply_id"] != NO_ROW))
    return both["need"], both["supply_id"], both["quantity"]


def _numbered(parts: Rows, pegs: Rows) -> tuple[Ints, Ints]:
    """A number for each order's needs of a key on a day: of the parts, and of the pegs."""
    columns = (np.concatenate([parts[name], pegs[name]]) for name in ("key", "day", "from_id"))
    numbers = numbered(*columns)
    return numbers[: len(parts["key"])], numbers[len(parts["key"]) :]
