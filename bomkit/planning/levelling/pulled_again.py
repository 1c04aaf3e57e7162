"""A plan pulled again and again, each time from how it was, as far as that changes it."""

from collections.abc import Callable

import numpy as np

from bomkit.planning.netting.arrays import Flags, Floats, Ints
from bomkit.planning.netting.compiled_structure import Level, Structure
from bomkit.planning.netting.explode import Fan, add_needs, move_to_needs
from bomkit.planning.netting.level_by_level import Quantities, beside_level, net_some
from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.netting.supply_by_day import Supplied
from bomkit.planning.netting.too_much import too_much_named
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.words.progress import Tell, silent

Moving = Callable[[int, Floats], None]  # moves the starts of a level (its number) to earlier days
# moves what the keys of a level start, keys by usable days, to earlier days, in place
Pull = Callable[[Ints, Floats], None]


class ForwardFlows:
    """One plan, pulled forward again and again: each time from how it was."""

    def __init__(self, network: Network, before: Flows) -> None:
        """before: the network's plan as it is."""
        self._network, self._before = network, before
        self._plans = _Replanned(before.structure, before.supplied, before.quantities)

    def next(self, pull: Pull, tell: Tell = silent) -> Flows:
        """The plan pulled; `tell` is given a word on each level for a progress line."""
        structure = self._before.structure
        with too_much_named(self._network, structure):
            quantities = self._plans.planned(tell, _moving(structure, pull))
        return Flows(structure, self._before.supplied, quantities)


class _Replanned:
    """Plans of one structure and of what is beside it, one after the other.

    Each goes on from the one before: only rows of which something else is asked are netted anew,
    and only those that start otherwise ask anew. What comes out is as if all was.
    """

    def __init__(self, structure: Structure, beside: Supplied, plan: Quantities) -> None:
        """plan: one in which nothing was moved."""
        self._structure, self._beside, self._last = structure, beside, plan
        self._proven = plan.proven.copy()  # before anything was moved
        none = np.zeros(0, np.int64), np.zeros((0, beside.days))
        self._unmoved: list[tuple[Ints, Floats]] = [none for _ in structure.levels]
        self._outside = np.zeros_like(plan.gross)
        beside.outside.added_to(self._outside)
        self._asked = np.zeros((structure.sources, beside.days))
        for level in structure.levels:
            move_to_needs(plan.starts, self._asked, level.asks)

    def planned(self, tell: Tell, moving: Moving) -> Quantities:
        """The next plan; see planned_quantities."""
        structure, beside = self._structure, self._beside
        plan = Quantities(
            gross=self._last.gross.copy(),
            starts=self._last.starts.copy(),
            supply=beside.by_day(),
            counted=beside.by_day(structure.rules.lead),
            used=np.zeros(len(beside.expiring)),
            proven=np.zeros_like(self._proven),
        )
        fresh: Flags = np.zeros(structure.sources, np.bool_)  # what is asked otherwise
        with np.errstate(over="ignore", invalid="ignore"):
            for number, level in enumerate(structure.levels):
                tell(f"level {number + 1} of {len(structure.levels)}")
                self._net(plan, number, self._add_needs(plan.gross, level, fresh))
                self._move(plan, number, moving)
                self._ask(plan.starts, level, fresh)
        self._last = plan
        return plan

    def _add_needs(self, gross: Floats, level: Level, fresh: Flags) -> Ints:
        """Adds up anew what is asked otherwise; the rows of which something else is."""
        some = []
        for fan in level.fans:
            own = fresh[fan.source].any(axis=1)
            some.append(Fan(fan.child[own], fan.source[own], fan.factor[own]))
        rows: Ints = np.concatenate([np.zeros(0, np.int64), *(fan.child for fan in some)])
        rows.sort()
        before = gross[rows]
        gross[rows] = self._outside[rows]
        add_needs(self._asked, gross, some)
        return np.compress((gross[rows] != before).any(axis=1), rows)

    def _net(self, plan: Quantities, number: int, rows: Ints) -> None:
        """Nets some rows of a level; the others start what they did before anything was moved."""
        level = self._structure.levels[number]
        known = beside_level(self._structure, self._beside, plan, number)
        moved, starts = self._unmoved[number]
        plan.starts[moved] = starts
        plan.proven[level.first : level.last] = self._proven[level.first : level.last]
        net_some(self._structure, plan, rows, known)
        self._proven[level.first : level.last] = plan.proven[level.first : level.last]

    def _move(self, plan: Quantities, number: int, moving: Moving) -> None:
        """Moves starts of a level; keeps what they were."""
        level = self._structure.levels[number]
        netted = plan.starts[level.first : level.last].copy()
        moving(number, plan.starts)
        moved = np.flatnonzero((plan.starts[level.first : level.last] != netted).any(axis=1))
        plan.proven[level.first + moved] = False
        self._unmoved[number] = level.first + moved, netted[moved]

    def _ask(self, starts: Floats, level: Level, fresh: Flags) -> None:
        """Writes what the level asks of others where it starts otherwise than the last time."""
        before = self._last.starts
        otherwise = np.zeros(len(starts), np.bool_)
        own = slice(level.first, level.last)
        otherwise[own] = (starts[own] != before[own]).any(axis=1)
        for group in level.asks:
            asking = otherwise[group.parent]
            if asking.any():
                self._asked[group.first : group.last] = 0.0
                move_to_needs(starts, self._asked, [group])
                fresh[group.first : group.last] = asking


def _moving(structure: Structure, pull: Pull) -> Moving:
    """A pull of the keys of a level, ascending, as one of its rows."""

    def moved(number: int, starts: Floats) -> None:
        level = structure.levels[number]
        rows = structure.listed[level.first : level.last]
        of_level = starts[rows]
        pull(structure.keys[rows], of_level)
        starts[rows] = of_level

    return moved
