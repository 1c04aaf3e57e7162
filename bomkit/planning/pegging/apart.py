"""For whom orders take what is handed to them as one: the demands that they serve, told apart."""

from collections.abc import Sequence

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
from bomkit.planning.pegging.matching import NEED, in_line
from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.planning.pegging.served import Served
from bomkit.planning.pegging.shares import component_needs, is_shared
from bomkit.planning.pegging.stands_on import Ground


def told_apart(
    ground: Ground, levels: Sequence[Served], items: Flags, orders: Flags
) -> tuple[Rows, Rows]:
    """The needs of some items that some orders ask for, and the pegs that serve them: the columns
    of Served, by key.

    orders: by number, and in the end what no order asks for.
    """
    parts = _parts(ground, levels, items, orders)
    every = (one_after_other([level.needs for level in levels]),
             one_after_other([level.pegs for level in levels]))  # fmt: skip
    needs, pegs = (at_places(rows, _chosen(ground, rows, items, orders)) for rows in every)
    needs = one_after_other([at_places(needs, ~is_shared(ground, needs)), parts])
    shared = np.flatnonzero(is_shared(ground, pegs))
    told, of_shared = _pegs_of(parts, at_places(pegs, shared))
    others = np.flatnonzero(~is_shared(ground, pegs))
    place = in_order(np.concatenate([others, shared[of_shared]]))  # as they stood
    pegs = at_places(one_after_other([at_places(pegs, others), told]), place)
    needs, pegs = (at_places(rows, in_order(rows["key"])) for rows in (needs, pegs))
    return needs, pegs


def _chosen(ground: Ground, rows: Rows, items: Flags, orders: Flags) -> Flags:
    """Whether needs or pegs are of some items, and some orders ask for them."""
    found: Flags = items[ground.keys.item(rows["key"])] & orders[rows["from_id"]]
    return found


def _parts(ground: Ground, levels: Sequence[Served], items: Flags, orders: Flags) -> Rows:
    """What orders need of plain items for each demand, in the order in which it is served."""
    lines = ground.lines.to(ground.plain & items)
    shares = one_after_other([level.shares for level in levels])
    own = (shares["from_id"] != OUTSIDE) & orders[shares["from_id"]]
    found = component_needs(ground, at_places(shares, own), lines)
    return in_line(ground, {name: found[name] for name in NEED})


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
