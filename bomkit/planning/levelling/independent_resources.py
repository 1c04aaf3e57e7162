"""Resources in groups that have nothing to do with each other, each levelled by itself.

No order uses any of one group and any of another, so what happens in one changes nothing in the
others. A turn that holds a few items more than the one before mostly changes a group or two.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from bomkit.planning.levelling.level import levelled
from bomkit.planning.levelling.pull_windows import Orders, Rules, Windows
from bomkit.planning.levelling.resources import Resources
from bomkit.planning.levelling.room import Placed, Room, Use, Uses
from bomkit.planning.netting.arrays import Ints


@dataclass(frozen=True)
class Part:
    """The resources of a group, numbered anew: capacity by resource and week; uses: by item_id."""

    capacity: Sequence[Sequence[float]]
    uses: Mapping[int, Uses]

    def is_as(self, other: "Part") -> bool:
        """Whether as much of the same is there, and the same items use as much of it."""
        return self.capacity == other.capacity and self._figures() == other._figures()

    def _figures(self) -> dict[int, list[tuple[int, float, float, bool]]]:
        return {item: [_figures(use) for use in own] for item, own in self.uses.items()}


def _figures(use: Use) -> tuple[int, float, float, bool]:
    return use.resource, use.each, use.once, use.spread


def parted(resources: Resources) -> list[Part]:
    """The groups of those resources that any item uses; items that use the same share it."""
    group_of = _numbers_of_groups(resources)
    members: dict[int, list[int]] = {}
    for number, group in enumerate(group_of):
        members.setdefault(group, []).append(number)
    uses: dict[int, dict[int, Uses]] = {}
    shared: dict[tuple[tuple[int, float, float, bool], ...], Uses] = {}
    for item, own in resources.uses.items():
        group = group_of[own[0].resource]
        alike = tuple(map(_figures, own))
        if alike not in shared:
            shared[alike] = tuple(
                Use(members[group].index(number), each, once, spread)
                for number, each, once, spread in alike
            )
        uses.setdefault(group, {})[item] = shared[alike]
    return [
        Part([resources.capacity[number] for number in members[group]], own)
        for group, own in sorted(uses.items())
    ]


def _numbers_of_groups(resources: Resources) -> list[int]:
    """By resource the lowest number of any in its group."""
    group_of = list(range(len(resources.all)))
    for own in resources.uses.values():
        joined = {group_of[use.resource] for use in own}
        if len(joined) > 1:
            lowest = min(joined)
            group_of = [lowest if group in joined else group for group in group_of]
    return group_of


@dataclass(frozen=True)
class _Step:
    """What was to be levelled in one step, what came of it, and the room that was left then."""

    orders: Orders
    windows: Windows
    moved: list[Placed]
    free: list[float]
    settled: bool

    def is_of(self, orders: Orders, windows: Windows) -> bool:
        """Whether the same was to be levelled."""
        return (
            np.array_equal(self.orders.keys, orders.keys)
            and np.array_equal(self.orders.usable, orders.usable)
            and np.array_equal(self.orders.quantity, orders.quantity)
            and np.array_equal(self.windows.earliest, windows.earliest)
        )


class Group:
    """Pulls the orders of a group forward, level by level from what was stuck on.

    As long as a turn goes as the one before it did, be it one of the plan before, what came of
    that is taken.
    """

    def __init__(self, part: Part, week_of: Sequence[int], rules: Rules) -> None:
        """week_of: as in Resources."""
        self.uses, self._part, self._rules = part.uses, part, rules
        self._room = Room(week_of, part.capacity)
        self._steps: list[_Step] = []
        self._at: int  # the next step
        self._again: bool  # whether all steps of this turn so far were as in the one before

    def levels_as(self, part: Part, week_of: Sequence[int], rules: Rules) -> bool:
        """Whether the same orders would be levelled likewise there."""
        same = self._part.is_as(part) and self._rules.treats_as(rules)
        return same and self._room.week_of == week_of

    @property
    def settled(self) -> bool:
        """Whether giving way came to rest in every step."""
        return all(step.settled for step in self._steps[: self._at])

    def begin(self, stuck: Orders, windows: Windows) -> None:
        """Begins a turn, in which some orders can't move: these take their room from the start."""
        self._at, self._again = 0, True
        self._stuck, self._stuck_windows = stuck, windows
        if self._goes_on(stuck, windows):
            for task in self._rules.tasks(stuck, windows, self.uses):
                self._room.take(task, task.quantity, task.start)
            self._keep(stuck, windows, [])

    def pulled(self, keys: Ints, orders: Orders, windows: Windows) -> list[Placed]:
        """What of a level's orders starts earlier; keys: all of that level, ascending."""
        if self._goes_on(orders, windows):
            own = np.isin(self._stuck.keys, keys)
            stuck = self._stuck.among(own), self._stuck_windows.among(own)
            for task in self._rules.tasks(*stuck, self.uses):
                self._room.take(task, -task.quantity, task.start)
            placed = levelled(self._rules.tasks(orders, windows, self.uses), self._room)
            self._keep(orders, windows, [part for part in placed if part.start < part.task.start])
        return self._steps[self._at - 1].moved

    def _goes_on(self, orders: Orders, windows: Windows) -> bool:
        """Whether the next step has to be gone; if it is as it was, it has been."""
        gone = self._again and self._at < len(self._steps)
        if gone and self._steps[self._at].is_of(orders, windows):
            self._at += 1
            return False
        if self._again:
            self._again = False
            del self._steps[self._at :]
            self._room.free = list(self._steps[-1].free if self._steps else self._room.capacity)
        self._room.settled = True
        return True

    def _keep(self, orders: Orders, windows: Windows, moved: list[Placed]) -> None:
        """Keeps what came of a step."""
        room = self._room
        self._steps.append(_Step(orders, windows, moved, list(room.free), room.settled))
        self._at += 1
