"""The needs of a level and what serves them, as far as it goes as another allocation has it."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bomkit.planning.netting.arrays import NO_ROW, Flags, Rows, at_places, in_order, one_after_other
from bomkit.planning.pegging.matching import NEED, Matching
from bomkit.planning.pegging.shares import NO_HANDED, handed_down, too_many


@dataclass(frozen=True)
class Served:
    """Of one level, by key: needs as Matching.in_line gives them; pegs, the same columns and
    supply_id (NO_ROW: nothing serves it); left: key, quantity, supply_id of what nobody needs.

    handed: what the orders of the level ask of components, as handed_down gives it; together:
    whether the shares of an order are handed down as one.
    """

    needs: Rows
    pegs: Rows
    left: Rows
    handed: Rows
    together: bool = False


_NO_NEEDS = {name: NO_HANDED[name] for name in NEED}
_NO_LEFT = {
    "key": np.zeros(0, np.int64),
    "quantity": np.zeros(0),
    "supply_id": np.zeros(0, np.int64),
}
NOTHING_SERVED = Served(
    _NO_NEEDS, {**_NO_NEEDS, "supply_id": _NO_LEFT["supply_id"]}, _NO_LEFT, NO_HANDED
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
        rows = [_of({name: part[name] for name in NEED}, looked_at) for part in asked]
        needs = self.matching.in_line(one_after_other(rows))
        others = (here & self.moved) | _otherwise(needs, before.needs, looked_at)
        needs = at_places(needs, others[needs["key"]])
        pegs, left = _parted(needs, self.matching.side_by_side(needs, others))
        pegs, left = _beside(pegs, before.pegs, others), _beside(left, before.left, others)
        together = too_many(ground, pegs, left)
        anew = others if together == before.together else here
        new = handed_down(ground, _of(pegs, anew), _of(left, anew), together)
        old = before.handed
        self.touched[old["key"][anew[old["of"]]]] = True
        self.touched[new["key"]] = True
        handed = one_after_other([at_places(old, ~anew[old["of"]]), new])
        return Served(_beside(needs, before.needs, others), pegs, left, handed, together)


def _of(rows: Rows, keys: Flags) -> Rows:
    """The rows of some keys."""
    return at_places(rows, keys[rows["key"]])


def _beside(new: Rows, old: Rows, keys: Flags) -> Rows:
    """The new rows of some keys, and the old ones of all others, by key."""
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


def _otherwise(one: Rows, other: Rows, keys: Flags) -> Flags:
    """By key, of some, whether not the same is asked; both by key."""
    other = _of(other, keys)
    counts = [np.bincount(rows["key"], minlength=len(keys)) for rows in (one, other)]
    differ: Flags = counts[0] != counts[1]
    rows = [at_places(each, ~differ[each["key"]]) for each in (one, other)]
    for name in NEED:
        differ[rows[0]["key"][rows[0][name] != rows[1][name]]] = True
    return differ
