"""The needs of a level and what serves them, as far as it goes as another allocation has it: one of
the same plan, or of the plan before, in which orders and supplies have other numbers."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bomkit.planning.netting.arrays import (
    NO_ROW,
    Flags,
    Ints,
    Rows,
    at_places,
    in_order,
    one_after_other,
)
from bomkit.planning.pegging.asked_and_offered import Ground, Offered
from bomkit.planning.pegging.matching import NEED, Matching, in_line
from bomkit.planning.pegging.shares_of_orders import (
    NO_HANDED,
    NO_SHARES,
    handed_down,
    is_shared,
    shares_of,
    too_many,
)

_GONE = -2  # in place of the number of an order that is not in the next plan
_COLUMNS = ("usable", "comes", "kind", "quantity", "last", "kept_for", "stock", "passing")


@dataclass(frozen=True)
class Served:
    """Of one level, by key: needs as in_line gives them; pegs, the same columns and
    supply_id (NO_ROW: nothing serves it); left: key, quantity, supply_id of what nobody needs.

    shares: for whom the orders of the level are, as shares_of gives them; handed: what these ask of
    components, as handed_down gives it; together: whether the shares of an order are one.
    """

    needs: Rows
    pegs: Rows
    left: Rows
    shares: Rows
    handed: Rows
    together: bool = False


_NO_NEEDS = {name: NO_HANDED[name] for name in NEED}
_NO_LEFT = {
    "key": np.zeros(0, np.int64),
    "quantity": np.zeros(0),
    "supply_id": np.zeros(0, np.int64),
}
NOTHING_SERVED = Served(
    _NO_NEEDS, {**_NO_NEEDS, "supply_id": _NO_LEFT["supply_id"]}, _NO_LEFT, NO_SHARES, NO_HANDED
)


class TakingOver:
    """Serves level after level; what is asked and offered as in another allocation of the plan is
    taken over from it, as keys are served one by one."""

    def __init__(self, matching: Matching, moved: Flags, touched: Flags) -> None:
        """moved: by key whether its supplies come, or last, otherwise than there; touched: whether
        something else may be asked of it."""
        self.matching, self.moved, self.touched = matching, moved, touched
        self.key_levels = np.repeat(matching.ground.levels, matching.ground.keys.serial_count)

    def served(self, level: int, asked: Sequence[Rows], before: Served) -> Served:
        """The needs of a level and what serves them.

        asked: what may be asked on it, of whatever level, as handed_down gives it; before: the
        level in the other allocation.
        """
        ground, here = self.matching.ground, self.key_levels == level
        looked_at = here & (self.touched | self.moved)
        if not looked_at.any():
            return before
        rows = [_of({name: part[name] for name in NEED}, looked_at) for part in asked]
        needs = in_line(ground, one_after_other(rows))
        others = (here & self.moved) | self._otherwise(needs, before.needs, looked_at)
        if not others.any():
            return before
        needs = at_places(needs, others[needs["key"]])
        pegs, left = _parted(needs, self.matching.side_by_side(needs, others))
        pegs, left = _beside(pegs, before.pegs, others), _beside(left, before.left, others)
        together = too_many(ground, pegs, left)
        anew = others if together == before.together else here
        shares = shares_of(ground, _of(pegs, anew), _of(left, anew), together)
        new, old = handed_down(ground, shares), before.handed
        self.touched[old["key"][anew[old["of"]]]] = True
        self.touched[new["key"]] = True
        handed = one_after_other([at_places(old, ~anew[old["of"]]), new])
        needs, shares = _beside(needs, before.needs, others), _beside(shares, before.shares, anew)
        return Served(needs, pegs, left, shares, handed, together)

    def _otherwise(self, one: Rows, other: Rows, keys: Flags) -> Flags:
        """By key, of some, whether not the same is asked in the same order; both by key."""
        other = _of(other, keys)
        counts = [np.bincount(rows["key"], minlength=len(keys)) for rows in (one, other)]
        differ: Flags = counts[0] != counts[1]
        rows = [at_places(each, ~differ[each["key"]]) for each in (one, other)]
        for name in NEED:
            apart = rows[0][name] != rows[1][name]
            if name == "demand_id":  # who is first for whom an order takes something is its affair
                apart &= ~is_shared(self.matching.ground, rows[0]) | rows[0]["leaves"]
            differ[rows[0]["key"][apart]] = True
        return differ


def _of(rows: Rows, keys: Flags) -> Rows:
    """The rows of some keys."""
    return at_places(rows, keys[rows["key"]])


def _beside(new: Rows, old: Rows, keys: Flags) -> Rows:
    """The new rows of some keys, and the old ones of all others, by key; both are."""
    if not len(old["key"]):
        return new
    rows = one_after_other([_of(old, ~keys), new])
    return at_places(rows, in_order(rows["key"]))


def _parted(needs: Rows, stretches: Rows) -> tuple[Rows, Rows]:
    """The stretches that serve a need with its columns, and those of supplies that nobody needs."""
    serving = stretches["need"] != NO_ROW
    own = at_places(stretches, serving)
    columns = {name: needs[name][own["need"]] for name in NEED}
    pegs = {**columns, "quantity": own["quantity"], "supply_id": own["supply_id"]}
    left = at_places(stretches, ~serving)
    return pegs, {name: left[name] for name in _NO_LEFT}


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
    differ: Flags = count[0] != count[1]
    own, its = ({n: c[~differ[rows["key"]]] for n, c in rows.items()} for rows in (one, other))
    for name, column in own.items():
        differ[own["key"][column != its[name]]] = True
    return differ


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
    needs, pegs, left, shares, handed = (
        {
            name: supplies[column]
            if name == "supply_id"
            else orders[column]
            if name == "from_id"
            else column
            for name, column in rows.items()
        }
        for rows in (level.needs, level.pegs, level.left, level.shares, level.handed)
    )
    return Served(needs, pegs, left, shares, handed, level.together)
