"""Who gets what within one planning key: against the naive way, and where pieces are counted."""

from random import Random

import pytest

from bomkit.planning.pegging.allocate import allocate
from bomkit.planning.pegging.counter import LASTS, Need, Supply
from tests.planning.driver import day
from tests.planning.pegging.naive_allocation import naive_allocation

DAYS = [day(number).toordinal() for number in range(12)]
CASES = range(30)  # each of them stands for sixty little allocations

Takes = dict[int, float]


def allocated(needs: list[Need], supplies: list[Supply], pieces: bool = True) -> list[Takes]:
    """What each need has of each supply, by the place of the supply."""
    allocate(needs, supplies, DAYS, pieces)
    return [dict(sorted(one.takes.items())) for need in needs for one in need.members or [need]]


def lying(quantity: float, last: int | None = None, kept_for: str = "") -> Supply:
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
            chance.choice(("", "", "K-1", "K-2")) if limited else "",
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
        until = DAYS[number] + shelf
        whose = chance.choice(("", "K-1", "K-2"))
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
