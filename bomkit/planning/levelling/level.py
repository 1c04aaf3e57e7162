"""Levelling: orders that do not fit into their week start in an earlier one that has room.

Never later, only earlier, and no further than their window allows. Weeks are filled from the last
to the first; in each, those orders go first that may wait the least, which for like pieces on one
resource places as many as can be placed at all (Glover, Maximum matching in a convex bipartite
graph, Naval Research Logistics Quarterly 14(3), 1967, from memory).
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from bomkit.planning.levelling.room import Placed, Room, Task
from bomkit.planning.netting.net import TOLERANCE

_MOST_PASSES = 50  # each takes something off the excess or back to its place; few are needed


def levelled(tasks: Sequence[Task], room: Room) -> list[Placed]:
    """All tasks with the days on which they start now; takes what they use from the room.

    What fits nowhere within its window stays where it was, and what was placed beside it gives way
    where it can.
    """
    weeks: dict[int, list[Task]] = {}
    for task in tasks:
        weeks.setdefault(room.week_of[task.start], []).append(task)
    placed: list[Placed] = []
    carried: list[Task] = []
    for week in range(max(weeks, default=-1), -1, -1):
        waiting = sorted(carried + weeks.get(week, []), key=lambda t: _urgency(t, room))
        carried = []
        for task in waiting:
            left = task.quantity
            for part in _placed_in_week(task, week, room):
                placed.append(part)
                left -= part.quantity
            if left > task.quantity * TOLERANCE:
                rest = replace(task, quantity=left)
                if room.week_of[task.earliest] < week:
                    carried.append(rest)
                else:
                    # at once: nothing more is to come into a week that is full
                    room.take(rest, left, task.start)
                    placed.append(Placed(rest, left, task.start))
    return _relieved(placed, room)


def _relieved(placed: list[Placed], room: Room) -> list[Placed]:
    """The same with less above capacity where that can be, from the last week to the first."""
    by_week: dict[int, list[Placed]] = {}
    for part in placed:
        by_week.setdefault(room.week_of[part.start], []).append(part)
    for _ in range(_MOST_PASSES):
        moved = False
        for week in sorted(by_week, reverse=True):
            over = room.over(week)
            here = by_week[week] if over else []
            now = [each for part in here for each in _yielded(part, over, room)]
            if now != here:
                moved = True
                by_week[week] = []
                for part in now:
                    by_week.setdefault(room.week_of[part.start], []).append(part)
        if not moved:
            break
    else:
        room.settled = False
    return _put_together(part for parts in by_week.values() for part in parts)


def _put_together(parts: Iterable[Placed]) -> list[Placed]:
    """The parts of one order that start on the same day as one."""
    found: dict[tuple[int, int, int], Placed] = {}
    for part in parts:
        where = part.task.key, part.task.start, part.start
        known = found.get(where)
        found[where] = replace(part, quantity=part.quantity + known.quantity) if known else part
    return list(found.values())


def _yielded(part: Placed, over: set[int], room: Room) -> list[Placed]:
    """What becomes of a part: it stays, unless its week is above capacity in what it uses.

    over: the resources of which the week asks more than there is, before anything yielded.
    Then, if it was pulled there, it goes back to where it was if no more is above capacity then.
    Else as much of it as fits into an earlier week moves there.
    """
    task, week = part.task, room.week_of[part.start]
    own = [use.resource for use in task.uses if use.resource in over]
    if not any(room.is_over(resource, week) for resource in own):
        return [part]
    if part.start < task.start and _went_back(part, room):
        return [replace(part, start=task.start)]
    room.take(task, -part.quantity, part.start)
    left, moved = part.quantity, list[Placed]()
    for earlier in range(week - 1, room.week_of[task.earliest] - 1, -1):
        if left <= part.quantity * TOLERANCE:
            break  # all of it has moved: what an order takes once must not be taken again
        for each in _placed_in_week(replace(task, quantity=left), earlier, room):
            moved.append(replace(each, task=task))
            left -= each.quantity
    if left <= part.quantity * TOLERANCE:
        return moved
    room.take(task, left, part.start)
    return [replace(part, quantity=left), *moved]


def _went_back(part: Placed, room: Room) -> bool:
    """Moves a part to where its task was, if no more is above capacity then; else leaves it."""
    task, now = part.task, part.start
    cells = {(use.resource, w) for day in (now, task.start) for use, w, _ in room.shares(task, day)}
    before = room.excess(cells)
    room.take(task, -part.quantity, now)
    room.take(task, part.quantity, task.start)
    if room.excess(cells) <= before * (1 + TOLERANCE):
        return True
    room.take(task, -part.quantity, task.start)
    room.take(task, part.quantity, now)
    return False


def _urgency(task: Task, room: Room) -> tuple[int, int, int, float]:
    """Those that may wait the least first; of these the earliest, which stand in this week."""
    return -room.week_of[task.earliest], task.start, task.key, task.quantity


def _placed_in_week(task: Task, week: int, room: Room) -> Iterator[Placed]:
    """The task, or what of it fits, on the latest possible days of a week; takes the room."""
    days = [day for day in room.days_of[week] if task.earliest <= day <= task.start]
    left = task.quantity
    for day in reversed(days):
        if room.most(task, left, day) >= left * (1 - TOLERANCE):
            room.take(task, left, day)
            yield Placed(task, left, day)
            return
    for day in reversed(days):
        part = _part(task, left, room.most(task, left, day))
        if part > 0:
            room.take(task, part, day)
            yield Placed(task, part, day)
            left -= part


def _part(task: Task, quantity: float, most: float) -> float:
    """The largest part that can be split off: whole steps, and the rest no order too small."""
    if task.step <= 0:
        return 0.0
    largest = min(most, quantity - max(task.minimum, task.step))
    part = math.floor(largest / task.step * (1 + TOLERANCE)) * task.step
    return part if part >= max(task.minimum, task.step) * (1 - TOLERANCE) else 0.0
