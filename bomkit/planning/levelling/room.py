"""Orders that can be moved between weeks, and the room that each resource has in these."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bomkit.planning.netting.net import TOLERANCE


@dataclass(frozen=True)
class Use:
    """What an order takes of a resource: for each unit started, and once for the order.

    spread: evenly over the order's days, as hours of a process; else in the week of its start.
    """

    resource: int
    each: float
    once: float = 0.0
    spread: bool = False


@dataclass(frozen=True)
class Task:
    """A planned order that can be moved: its start day may lie from `earliest` on.

    length: days its hours are spread over; step: what it can be split in (0: not at all), each
    part at least the minimum.
    """

    key: int
    start: int
    length: int
    quantity: float
    earliest: int
    uses: tuple[Use, ...]
    step: float = 0.0
    minimum: float = 0.0


@dataclass(frozen=True)
class Placed:
    """Some or all of a task, and the day on which it starts now."""

    task: Task
    quantity: float
    start: int


class Room:
    """What is still free of each resource in each week."""

    def __init__(self, week_of: Sequence[int], capacity: Sequence[Sequence[float]]) -> None:
        """week_of: number of the week of each day; capacity: by resource and week."""
        self.week_of = week_of
        self.free = [list(by_week) for by_week in capacity]
        self.capacity = capacity
        self.least = [[-2 * TOLERANCE * max(1.0, most) for most in own] for own in capacity]
        self.settled = True  # False once giving way came to no rest
        self.parts: dict[tuple[int, int], list[tuple[int, float]]] = {}
        self.days_of: dict[int, list[int]] = {}
        for day, week in enumerate(week_of):
            self.days_of.setdefault(week, []).append(day)

    def most(self, task: Task, quantity: float, start: int) -> float:
        """How much of it fits with this start day, up to the quantity; 0 if nothing does."""
        fits = quantity
        for use, week, share in self.shares(task, start):
            free = self.free[use.resource][week] / share - use.once
            # a hair beyond the capacity is not beyond it
            free += self.capacity[use.resource][week] * TOLERANCE
            if free < 0:
                return 0.0
            if use.each > 0:
                fits = min(fits, free / use.each)
        return fits

    def take(self, task: Task, quantity: float, start: int) -> None:
        """Takes what the quantity uses, whether it is there or not; gives it back if negative."""
        once = 1.0 if quantity >= 0 else -1.0
        for use, week, share in self.shares(task, start):
            self.free[use.resource][week] -= (use.each * quantity + use.once * once) * share

    def is_over(self, resource: int, week: int) -> bool:
        """Whether more is taken than there is; a hair beyond the capacity is not beyond it."""
        return self.free[resource][week] < self.least[resource][week]

    def over(self, week: int) -> set[int]:
        """The resources that are above capacity in a week."""
        least = zip(self.free, self.least, strict=True)
        return {number for number, (free, own) in enumerate(least) if free[week] < own[week]}

    def excess(self, cells: Iterable[tuple[int, int]]) -> float:
        """What is taken beyond the capacity of some resources in some weeks, as shares of it."""
        return sum(
            max(0.0, -self.free[resource][week]) / (max(self.capacity[resource]) or 1.0)
            for resource, week in sorted(cells)
        )

    def shares(self, task: Task, start: int) -> list[tuple[Use, int, float]]:
        """Which share of each use falls into which week."""
        last = min(start + task.length, len(self.week_of)) - 1
        first_week = self.week_of[start]
        if first_week == self.week_of[last]:
            return [(use, first_week, 1.0) for use in task.uses]
        parts = self._parts(start, last)
        return [
            (use, week, share)
            for use in task.uses
            for week, share in (parts if use.spread else [(first_week, 1.0)])
        ]

    def _parts(self, start: int, last: int) -> list[tuple[int, float]]:
        """Which share of some days falls into each week; worked out once, as many tasks ask."""
        if (start, last) not in self.parts:
            self.parts[start, last] = [
                (week, sum(start <= day <= last for day in self.days_of[week]) / (last + 1 - start))
                for week in range(self.week_of[start], self.week_of[last] + 1)
            ]
        return self.parts[start, last]
