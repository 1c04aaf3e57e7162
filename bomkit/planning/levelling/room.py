"""Orders that can be moved between weeks, and the room that each resource has in these."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import compress
from operator import lt
from typing import NamedTuple

from bomkit.units import TOLERANCE


@dataclass(frozen=True, eq=False)
class Use:
    """What an order takes of a resource: for each unit started, and once for the order.

    spread: evenly over the order's days, as hours of a process; else in the week of its start.
    """

    resource: int
    each: float
    once: float = 0.0
    spread: bool = False


Uses = tuple[Use, ...]


class Task(NamedTuple):
    """A planned order that can be moved: its start day may lie from `earliest` on.

    length: days its hours are spread over; step: what it can be split in (0: not at all), each
    part at least the minimum. A plan has tens of thousands of them, so they are plain tuples.
    """

    key: int
    start: int
    length: int
    quantity: float
    earliest: int
    uses: Uses
    step: float
    minimum: float


class Placed(NamedTuple):
    """Some or all of a task, and the day on which it starts now."""

    task: Task
    quantity: float
    start: int


# a place in the room, the share of a use that falls there, what is used for each unit and once for
# the order, and the hair beyond the capacity that is not beyond it
Share = tuple[int, float, float, float, float]


Shares = tuple[Share, ...]


class Way(NamedTuple):
    """The latest of the days of a week on which a task takes the same where it starts on them: of
    what does not fit then, nothing fits on the others."""

    day: int
    shares: Shares


class Room:
    """What is still free of each resource in each week.

    A place is a week and a resource: number of the week x number of resources + resource.
    """

    def __init__(self, week_of: Sequence[int], capacity: Sequence[Sequence[float]]) -> None:
        """week_of: number of the week of each day, ascending; capacity: by resource and week."""
        self.week_of = week_of
        self.resources = len(capacity)
        self.capacity = [most for of_week in zip(*capacity, strict=True) for most in of_week]
        self.least = [-2 * TOLERANCE * max(1.0, most) for most in self.capacity]
        self.largest = [max(own) or 1.0 for own in capacity]
        self.days_of: dict[int, range] = {}
        for day, week in enumerate(week_of):
            self.days_of[week] = range(self.days_of.get(week, range(day, day)).start, day + 1)
        self.known: dict[tuple[Uses, int, int], Shares] = {}  # by start and length
        self.within: dict[tuple[Uses, int], Shares] = {}  # of what ends in its week
        self.asked: dict[Uses, frozenset[int]] = {}  # the resources of what has taken any
        self.parts: dict[tuple[int, int], list[tuple[int, float]]] = {}
        self.clear()

    def clear(self) -> None:
        """Gives back all that was taken."""
        self.free = list(self.capacity)
        self.settled = True  # False once giving way came to no rest

    def most(self, shares: Iterable[Share], quantity: float) -> float:
        """How much fits where its shares fall, up to the quantity; 0 if nothing does."""
        fits = quantity
        for place, share, each, once, hair in shares:
            free = self.free[place] / share - once + hair
            if free < 0:
                return 0.0
            if each > 0 and free / each < fits:
                fits = free / each
        return fits

    def has(self, shares: Iterable[Share], quantity: float) -> bool:
        """Whether so much fits where its shares fall."""
        for place, share, each, once, hair in shares:
            free = self.free[place] / share - once + hair
            if free < 0 or (each > 0 and free / each < quantity):
                return False
        return True

    def take(self, task: Task, quantity: float, start: int) -> None:
        """Takes what the quantity uses, whether it is there or not; gives it back if negative."""
        self.take_shares(self.shares(task, start), quantity)

    def take_shares(self, shares: Iterable[Share], quantity: float) -> None:
        """Takes what the quantity uses where its shares fall; gives it back if negative."""
        sign = 1.0 if quantity >= 0 else -1.0
        free = self.free
        for place, share, each, once, _ in shares:
            free[place] -= (each * quantity + once * sign) * share

    def is_over(self, resources: Iterable[int], week: int) -> bool:
        """Whether more is taken than there is of any of these; a hair beyond it is not."""
        first, free, least = week * self.resources, self.free, self.least
        return any(free[first + resource] < least[first + resource] for resource in resources)

    def over(self, week: int) -> set[int]:
        """The resources that are above capacity in a week."""
        own = slice(week * self.resources, (week + 1) * self.resources)
        return set(compress(range(self.resources), map(lt, self.free[own], self.least[own])))

    def last_week(self, task: Task) -> int:
        """The last week that a task takes anything in, where it is."""
        return self.week_of[min(task.start + task.length, len(self.week_of)) - 1]

    def excess(self, task: Task, days: Iterable[int]) -> float:
        """What is taken beyond the capacity where a task falls that starts on one of some days, as
        shares of it."""
        places = {share[0] for day in days for share in self.shares(task, day)}
        cells = sorted((place % self.resources, place) for place in places)
        return sum(
            (max(0.0, -self.free[place]) / self.largest[resource] for resource, place in cells), 0.0
        )

    def days(self, task: Task, week: int) -> range:
        """The days of a week on which a task may start, the latest first."""
        days = self.days_of[week]
        last, first = days.stop - 1, days.start
        if task.start < last:
            last = task.start
        if task.earliest > first:
            first = task.earliest
        return range(last, first - 1, -1)

    def shares(self, task: Task, start: int) -> Shares:
        """Which share of each use falls where; the same object for days whose shares are alike."""
        known = self.known.get((task.uses, start, task.length))
        return known or self._worked_out(task, start)

    def _worked_out(self, task: Task, start: int) -> Shares:
        """The shares of a task that starts on a day; kept, as many tasks ask."""
        uses, week = task.uses, self.week_of[start]
        last = min(start + task.length, len(self.week_of)) - 1
        if self.week_of[last] > week:
            shares = self._shared(uses, week, self._parts(start, last))
        elif (uses, week) in self.within:
            shares = self.within[uses, week]
        else:
            shares = self.within[uses, week] = self._shared(uses, week, [(week, 1.0)])
        if uses not in self.asked:
            self.asked[uses] = frozenset(use.resource for use in uses)
        self.known[uses, start, task.length] = shares
        return shares

    def _shared(self, uses: Uses, week: int, parts: Sequence[tuple[int, float]]) -> Shares:
        """Uses from a week on; what is spread falls into some parts of weeks."""
        return tuple(
            self._share(use, *each)
            for use in uses
            for each in (parts if use.spread else [(week, 1.0)])
        )

    def _share(self, use: Use, week: int, share: float) -> Share:
        """What falls of a use into a week."""
        place = week * self.resources + use.resource
        return place, share, use.each, use.once, self.capacity[place] * TOLERANCE

    def _parts(self, start: int, last: int) -> list[tuple[int, float]]:
        """Which share of some days falls into each week; worked out once, as many tasks ask."""
        if (start, last) not in self.parts:
            self.parts[start, last] = [
                (week, sum(start <= day <= last for day in self.days_of[week]) / (last + 1 - start))
                for week in range(self.week_of[start], self.week_of[last] + 1)
            ]
        return self.parts[start, last]
