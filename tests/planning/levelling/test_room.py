"""Levelling one set of orders: how far they move, what stays, and that no less could be over.

The least possible overload is found with SciPy's HiGHS as a linear programme: pieces of one
resource to weeks within their windows. Like pieces make it a flow, so whole pieces reach it.
"""

import random
from collections import Counter
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog  # type: ignore[import-untyped]  # ships no types

from bomkit.planning.levelling.level import levelled
from bomkit.planning.levelling.room import Placed, Room, Task, Use

seeds = st.integers(0, 99_999)
few = settings(deadline=None, derandomize=True, max_examples=60)
WEEK = 5


def weeks(count: int) -> list[int]:
    """The week of each day."""
    return [day // WEEK for day in range(count * WEEK)]


def task(start: int, quantity: float = 1, earliest: int = 0, key: int = 0, **more: object) -> Task:
    """An order that takes an hour a piece of resource 0 in the week it starts."""
    given: dict[str, object] = {"length": 1, "uses": (Use(0, 1.0),), "step": 1.0, "minimum": 0.0}
    given |= more
    return Task(key, start, quantity=quantity, earliest=earliest, **given)  # type: ignore[arg-type]


def loads(placed: Sequence[Placed], count: int) -> list[float]:
    """Pieces by week of their start."""
    found = Counter[int]()
    for each in placed:
        found[each.start // WEEK] += int(each.quantity)
    return [float(found[week]) for week in range(count)]


def starts(placed: Sequence[Placed]) -> list[tuple[int, float]]:
    return sorted((each.start, each.quantity) for each in placed)


def test_what_fits_stays_on_its_day() -> None:
    room = Room(weeks(3), [[4, 4, 4]])
    assert starts(levelled([task(3, 4), task(7, 3), task(14, 4)], room)) == [
        *((3, 4), (7, 3), (14, 4))
    ]


def test_what_does_not_fit_goes_to_the_last_day_before_that_has_room() -> None:
    room = Room(weeks(3), [[4, 4, 4]])
    assert starts(levelled([task(12, 6)], room)) == [(9, 2), (12, 4)]


def test_whole_orders_move_where_they_can_not_be_split() -> None:
    room = Room(weeks(3), [[9, 9, 4]])
    assert starts(levelled([task(12, 6, step=0)], room)) == [(9, 6)]


def test_parts_are_whole_multiples_and_no_smaller_than_the_minimum() -> None:
    room = Room(weeks(2), [[9, 5]])
    assert starts(levelled([task(7, 8, step=2)], room)) == [(4, 4), (7, 4)]
    room = Room(weeks(2), [[9, 5]])
    # 5 fit, but then 3 would be left: less than an order may be
    assert starts(levelled([task(7, 8, minimum=4)], room)) == [(4, 4), (7, 4)]


def test_nothing_moves_further_than_its_window() -> None:
    room = Room(weeks(4), [[9, 0, 0, 0]])
    assert starts(levelled([task(17, 2, earliest=5)], room)) == [(17, 2)]
    room = Room(weeks(4), [[9, 0, 0, 0]])
    assert starts(levelled([task(17, 2, earliest=4)], room)) == [(4, 2)]


def test_those_that_can_not_wait_push_the_others_further_ahead() -> None:
    room = Room(weeks(3), [[2, 2, 1]])
    placed = levelled([task(11, 2, earliest=5, key=1), task(6, 2, earliest=0, key=2)], room)
    assert {(p.task.key, p.start // WEEK): p.quantity for p in placed} == {
        (1, 2): 1,
        (1, 1): 1,
        (2, 1): 1,
        (2, 0): 1,
    }


def test_in_the_first_week_what_stands_there_stays() -> None:
    room = Room(weeks(2), [[2, 0]])
    placed = levelled([task(2, 2, key=1), task(7, 2, key=2)], room)
    assert starts(placed) == [(2, 2), (7, 2)]


def test_every_resource_of_an_order_must_have_room() -> None:
    uses = (Use(0, 1.0), Use(1, 2.0))
    room = Room(weeks(3), [[9, 9, 0], [4, 3, 9]])
    assert starts(levelled([task(12, 2, uses=uses, step=0)], room)) == [(4, 2)]


def test_hours_are_spread_over_the_days_of_an_order() -> None:
    room = Room(weeks(2), [[10, 6]])
    uses = (Use(0, 0.0, 10.0, spread=True),)
    # 10 hours over five days from day 5 on are too many for the second week; with two of the days
    # in the first week it has the 6 that are left
    for earliest, start in ((0, 3), (3, 3), (4, 5)):
        room.clear()
        spread = task(5, 1, earliest, length=5, uses=uses, step=0)
        assert starts(levelled([spread], room)) == [(start, 1)]


def test_giving_way_that_comes_to_no_rest_is_told_of_the_room(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # one look moves the small ones, another one finds that nothing moves any more
    monkeypatch.setattr("bomkit.planning.levelling.level._MOST_PASSES", 1)
    room = Room(weeks(2), [[5, 5]])
    big = task(7, 3, uses=(Use(0, 3.0),), key=1)
    levelled([big, task(8, 2, uses=(Use(0, 1.0),), key=2)], room)
    assert not room.settled
    room.clear()
    levelled([task(8, 2)], room)
    assert room.settled


def test_an_order_takes_its_setting_up_once_for_each_part() -> None:
    room = Room(weeks(2), [[9, 5]])
    uses = (Use(0, 1.0, 2.0),)
    assert starts(levelled([task(7, 6, uses=uses)], room)) == [(4, 3), (7, 3)]


def test_an_order_of_less_than_one_takes_its_setting_up_all_the_same() -> None:
    room = Room(weeks(2), [[9, 2]])
    uses = (Use(0, 1.0, 2.0),)
    assert starts(levelled([task(7, 0.5, uses=uses, step=0)], room)) == [(4, 0.5)]
    assert room.free == [6.5, 2]


@pytest.mark.parametrize(("most", "back"), [(4, False), (5, True), (6, True)])
def test_what_was_pulled_goes_back_if_no_greater_share_of_a_capacity_is_lacking_then(
    most: float, back: bool
) -> None:
    # two hours of ten lack where it was pulled to, one of so many where it comes from
    room = Room(weeks(3), [[0, 10, 10], [most, most, 0]])
    pulled = task(12, 1, 5, key=1, step=0, uses=(Use(0, 4.0), Use(1, 1.0)))
    stuck = task(7, 1, 0, key=2, step=0, uses=(Use(0, 8.0),))
    assert starts(levelled([pulled, stuck], room)) == [(7, 1), (12 if back else 9, 1)]


def test_what_would_run_past_the_last_day_is_spread_over_the_days_there_are() -> None:
    # on the last day or two all of it falls into the second week, which has too little room
    room = Room(weeks(2), [[10, 6]])
    uses = (Use(0, 0.0, 10.0, spread=True),)
    assert starts(levelled([task(9, 1, length=5, uses=uses, step=0)], room)) == [(3, 1)]
    room = Room(weeks(2), [[10, 6]])
    assert starts(levelled([task(9, 1, 7, length=3, uses=uses, step=0)], room)) == [(9, 1)]
    assert room.free == [10, -4]


def test_orders_above_leave_less_room_for_those_below() -> None:
    room = Room(weeks(2), [[4, 4]])
    levelled([task(6, 3)], room)
    assert starts(levelled([task(6, 3)], room)) == [(4, 2), (6, 1)]


def test_what_is_placed_gives_way_to_what_fits_nowhere() -> None:
    # as many hours as two weeks have, but three pieces of 3 do not fit into 5 and 5
    room = Room(weeks(2), [[5, 5]])
    big = task(7, 3, uses=(Use(0, 3.0),), key=1)
    small = task(8, 2, uses=(Use(0, 1.0),), key=2)
    placed = levelled([big, small], room)
    assert min(room.free) == pytest.approx(-1)  # 6 of 5 hours, and 5 of 5 with both small ones
    assert sorted(room.free) == pytest.approx([-1, 0])
    assert sum(each.quantity for each in placed) == 5


def test_nothing_stays_pulled_into_a_week_that_is_above_capacity_in_the_end() -> None:
    room = Room(weeks(2), [[10, 10]])
    stuck = task(3, 1, uses=(Use(0, 8.0),), key=1, step=0)
    levelled([task(2, 1, uses=(Use(0, 5.0),), key=0, step=0)], room)
    placed = levelled([stuck, task(7, 3, uses=(Use(0, 4.0),), key=2)], room)
    # 13 of 10 hours are in the first week whatever is done: nothing more is pulled there
    assert starts(placed) == [(3, 1), (7, 3)]
    assert room.free == [-3, -2]


# ---------------------------------------------------------------- for any orders


def random_case(seed: int) -> tuple[list[Task], list[float], int]:
    """Some orders of pieces with windows of one length, but for some with a shelf life."""
    chance = random.Random(seed)
    count = chance.randint(2, 8)
    window = chance.randint(0, 3)
    tasks = []
    for key in range(chance.randint(1, 12)):
        start = chance.randrange(count * WEEK)
        ahead = window if chance.random() < 0.7 else chance.randint(0, window)
        earliest = max(0, (start // WEEK - ahead) * WEEK)
        tasks.append(task(start, chance.randint(1, 6), min(start, earliest), key))
    capacity = [float(chance.choice([0, 2, 4, 6, 9])) for _ in range(count)]
    return tasks, capacity, count


def least_overload(tasks: Sequence[Task], capacity: Sequence[float]) -> float:
    """The least number of pieces above capacity, by a linear programme."""
    pairs = [
        (number, week)
        for number, each in enumerate(tasks)
        for week in range(each.earliest // WEEK, each.start // WEEK + 1)
    ]
    over = len(capacity)
    all_pieces = np.zeros((len(tasks), len(pairs) + over))
    within = np.zeros((over, len(pairs) + over))
    for place, (number, week) in enumerate(pairs):
        all_pieces[number, place] = 1
        within[week, place] = 1
    within[:, len(pairs) :] = -np.eye(over)
    cost = np.concatenate([np.zeros(len(pairs)), np.ones(over)])
    found = linprog(
        cost,
        A_ub=within,
        b_ub=capacity,
        A_eq=all_pieces,
        b_eq=[each.quantity for each in tasks],
        method="highs",
    )
    return float(found.fun)


@given(seed=seeds)
@few
def test_no_order_is_later_and_none_is_moved_beyond_its_window(seed: int) -> None:
    tasks, capacity, count = random_case(seed)
    placed = levelled(tasks, Room(weeks(count), [capacity]))
    of_key: dict[int, float] = {}
    for each in placed:
        assert each.task.earliest <= each.start <= each.task.start
        assert each.quantity > 0 and each.quantity % 1 == 0
        of_key[each.task.key] = of_key.get(each.task.key, 0) + each.quantity
    assert of_key == {each.key: each.quantity for each in tasks}


@given(seed=seeds)
@few
def test_no_week_is_above_capacity_unless_all_weeks_of_the_window_are_full(seed: int) -> None:
    tasks, capacity, count = random_case(seed)
    placed = levelled(tasks, Room(weeks(count), [capacity]))
    by_week = loads(placed, count)
    for each in placed:
        week = each.start // WEEK
        if by_week[week] > capacity[week] and each.start == each.task.start:
            # some piece of this week is over; those that could move further find no room
            mine = range(each.task.earliest // WEEK, week)
            others = [p for p in placed if p.start // WEEK == week and p.start == p.task.start]
            if each.task.earliest == min(p.task.earliest for p in others):
                assert all(by_week[earlier] >= capacity[earlier] for earlier in mine)


@given(seed=seeds)
@few
def test_no_less_could_be_above_capacity_says_a_linear_programme(seed: int) -> None:
    tasks, capacity, count = random_case(seed)
    by_week = loads(levelled(tasks, Room(weeks(count), [capacity])), count)
    over = sum(max(0.0, load - there) for load, there in zip(by_week, capacity, strict=True))
    assert over == pytest.approx(least_overload(tasks, capacity))


@given(seed=seeds)
@few
def test_with_unequal_hours_no_piece_stays_above_capacity_that_could_start_sooner(
    seed: int,
) -> None:
    chance = random.Random(seed)
    tasks, capacity, count = random_case(seed)
    tasks = [each._replace(uses=(Use(0, float(chance.choice([1, 2, 3, 5]))),)) for each in tasks]
    placed = levelled(tasks, Room(weeks(count), [capacity]))
    hours = [0.0] * count
    for each in placed:
        hours[each.start // WEEK] += each.quantity * each.task.uses[0].each
    for each in placed:
        week = each.start // WEEK
        if hours[week] > capacity[week]:
            sooner = range(each.task.earliest // WEEK, week)
            assert all(hours[w] + each.task.uses[0].each > capacity[w] for w in sooner)
    before = [0.0] * count
    for given_task in tasks:
        before[given_task.start // WEEK] += given_task.quantity * given_task.uses[0].each
    over = [max(0.0, load - there) for load, there in zip(hours, capacity, strict=True)]
    was = [max(0.0, load - there) for load, there in zip(before, capacity, strict=True)]
    assert sum(over) <= sum(was) + 1e-9


@given(seed=seeds)
@few
def test_the_order_of_the_orders_does_not_matter(seed: int) -> None:
    tasks, capacity, count = random_case(seed)
    shuffled = random.Random(seed).sample(tasks, len(tasks))
    one, other = (levelled(given, Room(weeks(count), [capacity])) for given in (tasks, shuffled))
    assert starts(one) == starts(other)


@pytest.mark.parametrize("seed", range(200))
def test_nothing_is_lost_or_made_of_nothing_where_orders_take_something_once(seed: int) -> None:
    chance = random.Random(seed)
    room = Room(weeks(4), [[10.0] * 4])
    tasks = [
        task(
            chance.randint(0, 19),
            float(chance.randint(1, 4)),
            key=key,
            uses=(Use(0, chance.choice([1.0, 2.0, 3.5]), chance.choice([1.0, 2.0, 3.0]), True),),
        )
        for key in range(chance.randint(2, 5))
    ]
    placed = levelled(tasks, room)
    for each in tasks:
        parts = [part.quantity for part in placed if part.task.key == each.key]
        assert min(parts) >= 1 and sum(parts) == each.quantity


def test_what_is_smaller_than_an_hour_fits_into_less_than_an_hour() -> None:
    # half an hour is left of the second week: two of the four that the third has no room for
    small = task(10, 8, uses=(Use(0, 0.25),), earliest=5)
    placed = levelled([small], Room(weeks(3), [[9, 0.5, 1.0]]))
    assert loads(placed, 3) == [0, 2, 6]
