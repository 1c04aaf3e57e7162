"""Who gets what within one planning key: against the naive way, and where pieces are counted."""

from random import Random

import pytest

from bomkit.planning.pegging.need_by_need.needs import LASTS, NOBODY, Need, Supply
from bomkit.planning.pegging.need_by_need.rank_by_rank import allocate
from tests.planning.driver import day
from tests.planning.pegging.naive_allocation import naive_allocation

DAYS = [day(number).toordinal() for number in range(12)]
SERIALS = (1, 2)
CASES = range(30)  # each of them stands for sixty little allocations

Takes = dict[int, float]


def allocated(needs: list[Need], supplies: list[Supply], pieces: bool = True) -> list[Takes]:
    """What each need has of each supply, by the place of the supply; what it lacks is left out."""
    allocate(needs, supplies, DAYS, pieces)
    found = []
    for need in needs:
        for one in need.members or [need]:
            told = dict(one.taken())
            assert sum(told.values()) == pytest.approx(one.quantity)
            found.append({place: each for place, each in told.items() if place is not None})
    return found


def lying(quantity: float, last: int | None = None, kept_for: int = NOBODY) -> Supply:
    """A lot; last: number of the day up to which it lasts."""
    lasts = LASTS if last is None else DAYS[last]
    return Supply(quantity, 0, True, lasts, kept_for)


def some_supplies(chance: Random, limited: bool) -> list[Supply]:
    """Lots and orders in the order in which they are offered."""
    lots = [
        Supply(
            chance.randint(1, 4),
            0,
            True,
            chance.choice((LASTS, *DAYS[1:])) if limited else LASTS,
            chance.choice((NOBODY, NOBODY, *SERIALS)) if limited else NOBODY,
        )
        for _ in range(chance.randint(0, 4))
    ]
    orders = [
        Supply(chance.randint(1, 4), chance.randint(0, 14)) for _ in range(chance.randint(0, 4))
    ]
    return sorted([*lots, *orders], key=lambda each: (each.comes, not each.is_stock, each.last))


def some_needs(chance: Random) -> list[Need]:
    """Needs in line, some of them of several like ones."""
    needs = []
    for _ in range(chance.randint(1, 5)):
        parts = [float(chance.randint(1, 3)) for _ in range(chance.choice((1, 1, 2)))]
        number = chance.randint(0, 11)
        shelf = chance.choice((0, 0, 2))
        until = DAYS[number] + shelf + chance.choice((0, 0, 3))
        whose = chance.choice((NOBODY, *SERIALS))
        rank = chance.randint(0, 2)
        needs.append(Need(rank, number, sum(parts), until, shelf, whose, parts))
    return sorted(needs, key=lambda need: (need.rank, need.day))


@pytest.mark.parametrize("limited", [False, True], ids=["any may have all", "some may not"])
@pytest.mark.parametrize("seed", CASES)
def test_everybody_gets_what_the_naive_way_gives(seed: int, limited: bool) -> None:
    chance = Random(seed)
    for _ in range(60):
        needs, supplies = some_needs(chance), some_supplies(chance, limited)
        expected = naive_allocation(needs, supplies, DAYS)
        assert allocated(needs, supplies) == [dict(sorted(each.items())) for each in expected]


def test_like_needs_that_are_late_are_told_one_by_one() -> None:
    need = Need(0, 2, 3.0, DAYS[2], parts=[1.0, 2.0])
    allocate([need], [lying(2), Supply(5, 4)], DAYS, True)
    assert list(need.taken()) == [(0, 1.0), (0, 1.0), (1, 1.0)]


def test_what_a_need_lacks_is_told_last() -> None:
    need = Need(0, 2, 3.0, DAYS[2])
    allocate([need], [lying(2)], DAYS, True)
    assert list(need.taken()) == [(0, 2.0), (None, 1.0)]


def two_ranks(first: float, second: float) -> list[Need]:
    """What is wanted on day 5, and by the next rank on day 0."""
    return [Need(0, 5, first, DAYS[5]), Need(1, 0, second, DAYS[0])]


def test_pieces_that_lie_there_are_taken_whole_and_orders_give_the_less_for_it() -> None:
    # 0.9 of either order would leave 0.2 for the shelf: a whole one, and 0.8 less of the last
    wanted = two_ranks(2, 2)
    first, second = allocated(wanted, [lying(2), Supply(0.9, 3), Supply(0.9, 5)])
    assert first == pytest.approx({0: 1, 1: 0.9, 2: 0.1})
    assert second == pytest.approx({0: 1, 2: 0.8})


@pytest.mark.parametrize(
    ("pieces", "expected"),
    [(True, [{0: 1, 1: 0.5}, {0: 1, 1: 0.4}]), (False, [{0: 0.6, 1: 0.9}, {0: 1.4}])],
)
def test_what_is_measured_is_taken_as_it_is(pieces: bool, expected: list[Takes]) -> None:
    got = allocated(two_ranks(1.5, 2), [lying(2), Supply(0.9, 5)], pieces)
    assert got == [pytest.approx(each) for each in expected]


def test_where_no_order_gives_less_for_it_no_piece_more_is_taken() -> None:
    first, second = allocated(two_ranks(1.5, 1), [lying(2)])
    assert (first, second) == (pytest.approx({0: 1.5}), pytest.approx({0: 0.5}))
