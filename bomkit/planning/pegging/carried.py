"""An allocation of one plan as what the next plan's takes over, where only some orders are others.

Orders and supplies go by number, and every plan numbers its own; here those that are the same in
both get the numbers that they have in the next one.
"""

import numpy as np

from bomkit.planning.netting.arrays import Flags, Ints, Rows
from bomkit.planning.pegging.ground import Ground, Offered
from bomkit.planning.pegging.served import Served

_GONE = -2  # in place of the number of an order that is not in the next plan
_COLUMNS = ("usable", "comes", "kind", "quantity", "last", "kept_for", "stock", "passing")


def same_asked(one: Ground, other: Ground) -> bool:
    """Whether the same is asked from outside in two plans, with the same numbers of demands and
    serials."""
    serials = (each.supplies["meant_for"].unique().sort() for each in (one, other))
    return (
        one.demands.equals(other.demands)
        and next(serials).equals(next(serials))
        and all(np.array_equal(own, other.outside[name]) for name, own in one.outside.items())
    )


def carried(levels: tuple[Served, ...], last: Ground, stands: Ground) -> tuple[list[Served], Flags]:
    """The levels of an allocation by the numbers of the next plan, and by key whether its supplies
    are others there.

    levels, last: of the plan before; stands: the ground of the next one, where the same is asked.
    """
    others = _others(last, stands)
    same = [ground.offered.key for ground in (last, stands)]
    rows = [np.flatnonzero(~others[key]) for key in same]  # as many, in the same order
    supplies = _numbered(rows[0], rows[1], len(same[0]))
    ids = [ground.offered.order_id[own] for ground, own in zip((last, stands), rows, strict=True)]
    orders = _numbered(ids[0], ids[1], len(last.started))
    return [_renumbered(level, supplies, orders) for level in levels], others


def _others(last: Ground, stands: Ground) -> Flags:
    """By key whether its supplies are not the same in two plans."""
    one, other = (_beside_starts(ground) for ground in (last, stands))
    count = [np.bincount(rows["key"], minlength=stands.key_count) for rows in (one, other)]
    found: Flags = count[0] != count[1]
    own, its = ({n: c[~found[rows["key"]]] for n, c in rows.items()} for rows in (one, other))
    for name, column in own.items():
        found[own["key"][column != its[name]]] = True
    return found


def _beside_starts(ground: Ground) -> Rows:
    """The supplies, with what is started of those that are planned."""
    offered: Offered = ground.offered
    started = np.append(ground.started, 0.0)[offered.order_id]  # the last: of no order
    return {"key": offered.key, "started": started} | {n: getattr(offered, n) for n in _COLUMNS}


def _numbered(own: Ints, its: Ints, count: int) -> Ints:
    """By number in the plan before the one in the next; what has none (-1) keeps it."""
    numbers = np.full(count + 1, _GONE)
    numbers[own] = its
    numbers[-1] = -1
    return numbers


def _renumbered(level: Served, supplies: Ints, orders: Ints) -> Served:
    """A level with other numbers."""
    needs, pegs, left, handed = (
        {
            name: supplies[column]
            if name == "supply_id"
            else orders[column]
            if name == "from_id"
            else column
            for name, column in rows.items()
        }
        for rows in (level.needs, level.pegs, level.left, level.handed)
    )
    return Served(needs, pegs, left, handed, level.together)
