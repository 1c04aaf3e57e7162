"""Levelling: orders that do not fit into their week start in an earlier one that has room.

Never later, only earlier, and no further than their window allows. Weeks are filled from the last
to the first; in each, those orders go first that may wait the least, which for like pieces on one
resource places as many as can be placed at all (Glover, Maximum matching in a convex bipartite
graph, Naval Research Logistics Quarterly 14(3), 1967, from memory).
"""

import math
from collections.abc import Iterable, Sequence
from operator import itemgetter

from bomkit.planning.levelling.room import Placed, Room, Task, Way
from bomkit.units import TOLERANCE

_FIRST = itemgetter(0)
_Urgency = tuple[int, int, int, float]
_MOST_PASSES = 50  # each takes something off the excess or back to its place; few are needed


def levelled(tasks: Sequence[Task], room: Room) -> list[Placed]:
    """All tasks with the days on which they start now; takes what they use from the room.

    What fits nowhere within its window stays where it was, and what was placed beside it gives way
    where it can.
    """
    weeks: dict[int, list[tuple[_Urgency, Task]]] = {}
    for task in tasks:
        weeks.setdefault(room.week_of[task.start], []).append((_urgency(task, room), task))
    placed: list[Placed] = []
    carried: list[tuple[_Urgency, Task]] = []
    for week in range(max(weeks, default=-1), -1, -1):
        waiting = sorted(carried + weeks.get(week, []), key=_FIRST)
        carried = []
        for urgency, task in waiting:
            left = _left_in_week(task, task.quantity, week, room, placed)
            if left > task.quantity * TOLERANCE:
                rest = task if left == task.quantity else task._replace(quantity=left)
                if room.week_of[task.earliest] < week:
                    carried.append(((*urgency[:-1], left), rest))
                else:
                    # at once: nothing more is to come into a week that is full
                    room.take(rest, left, task.start)
                    placed.append(Placed(rest, left, task.start))
    return _relieved(placed, room)


def _relieved(placed: list[Placed], room: Room) -> list[Placed]:
    """The same with less above capacity where that can be, from the last week to the first.

    A week in which nothing moved is looked at again once something moved where it looked.
    """
    by_week: dict[int, list[Placed]] = {}
    for part in placed:
        by_week.setdefault(room.week_of[part.start], []).append(part)
    quiet: dict[int, range] = {}
    for _ in range(_MOST_PASSES):
        moved = False
        for week in sorted(by_week, reverse=True):
            if week in quiet:
                continue
            now, looked = _relieved_week(by_week[week], week, room)
            if now == by_week[week]:
                quiet[week] = looked
                continue
            moved = True
            quiet = {each: weeks for each, weeks in quiet.items() if _apart(weeks, looked)}
            by_week[week] = []
            for part in now:
                by_week.setdefault(room.week_of[part.start], []).append(part)
        if not moved:
            break
    else:
        room.settled = False
    return _put_together(part for parts in by_week.values() for part in parts)


def _apart(one: range, other: range) -> bool:
    return one.stop <= other.start or other.stop <= one.start


def _relieved_week(parts: list[Placed], week: int, room: Room) -> tuple[list[Placed], range]:
    """What becomes of the parts of a week, and the weeks that were looked at for it.

    Only those yield that use what was above capacity before anything yielded.
    """
    over = room.over(week)
    first, last = week, week
    now: list[Placed] = []
    asked = room.asked
    for part in parts if over else ():
        if over.isdisjoint(asked[part.task.uses]) or not _can_yield(part, over, room):
            now.append(part)
        else:
            now += _yielded(part, room)
            first = min(first, room.week_of[part.task.earliest])
            last = max(last, room.last_week(part.task))
    return now if over else parts, range(first, last + 1)


def _can_yield(part: Placed, over: set[int], room: Room) -> bool:
    """Whether a part's week is still above capacity in what it uses, and it may start elsewhere."""
    task, week = part.task, room.week_of[part.start]
    if part.start == task.start and room.week_of[task.earliest] == week:
        return False
    return room.is_over(over & room.asked[task.uses], week)


def _put_together(parts: Iterable[Placed]) -> list[Placed]:
    """The parts of one order that start on the same day as one."""
    together: dict[tuple[int, int, int], Placed] = {}
    for part in parts:
        where = part.task.key, part.task.start, part.start
        known = together.get(where)
        together[where] = part._replace(quantity=part.quantity + known.quantity) if known else part
    return list(together.values())


def _yielded(part: Placed, room: Room) -> list[Placed]:
    """What becomes of a part of a week that is above capacity in what it uses.

    If it was pulled there, it goes back to where it was if no more is above capacity then.
    Else as much of it as fits into an earlier week moves there.
    """
    task, week = part.task, room.week_of[part.start]
    if part.start < task.start and _went_back(part, room):
        return [part._replace(start=task.start)]
    room.take(task, -part.quantity, part.start)
    left, moved = part.quantity, list[Placed]()
    for earlier in range(week - 1, room.week_of[task.earliest] - 1, -1):
        if left <= part.quantity * TOLERANCE:
            break  # all of it has moved: what an order takes once must not be taken again
        left = _left_in_week(task, left, earlier, room, moved)
    if left <= part.quantity * TOLERANCE:
        return moved
    room.take(task, left, part.start)
    return [part._replace(quantity=left), *moved]


def _went_back(part: Placed, room: Room) -> bool:
    """Moves a part to where its task was, if no more is above capacity then; else leaves it."""
    task, now = part.task, part.start
    before = room.excess(task, (now, task.start))
    room.take(task, -part.quantity, now)
    room.take(task, part.quantity, task.start)
    if room.excess(task, (now, task.start)) <= before * (1 + TOLERANCE):
        return True
    room.take(task, -part.quantity, task.start)
    room.take(task, part.quantity, now)
    return False


def _urgency(task: Task, room: Room) -> _Urgency:
    """Those that may wait the least first; of these the earliest, which stand in this week."""
    return -room.week_of[task.earliest], task.start, task.key, task.quantity


def _left_in_week(
    task: Task, quantity: float, week: int, room: Room, placed: list[Placed]
) -> float:
    """Places so much of a task, or what of it fits, on the latest possible days of a week, and
    takes the room; returns what is left."""
    enough = quantity * (1 - TOLERANCE)
    ways: list[Way] = []
    for day in room.days(task, week):  # on the first one mostly all of it fits
        shares = room.shares(task, day)
        if ways and ways[-1].shares is shares:
            continue
        if room.has(shares, enough):
            room.take_shares(shares, quantity)
            placed.append(Placed(task, quantity, day))
            return 0.0
        ways.append(Way(day, shares))
    least = max(task.minimum, task.step)
    if task.step <= 0 or (quantity - least) * (1 + TOLERANCE) < least * (1 - TOLERANCE):
        return quantity  # it is not to be split, or too small for two parts
    return _left_of_parts(task, quantity, ways, room, placed)


def _left_of_parts(
    task: Task, quantity: float, ways: Sequence[Way], room: Room, placed: list[Placed]
) -> float:
    """Places what fits of a task as parts, on the latest of some days; returns what is left."""
    left = quantity
    for day, shares in ways:
        part = _part(task, left, room.most(shares, left))
        if part > 0:
            room.take_shares(shares, part)
            placed.append(Placed(task, part, day))
            left -= part
    return left


def _part(task: Task, quantity: float, most: float) -> float:
    """The largest part that can be split off: whole steps, and the rest no order too small."""
    least = max(task.minimum, task.step)
    largest = min(most, quantity - least)
    part = math.floor(largest / task.step * (1 + TOLERANCE)) * task.step
    return part if part >= least * (1 - TOLERANCE) else 0.0
