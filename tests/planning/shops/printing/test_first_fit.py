"""Plates: everything is on one, none is over a limit, and there are not many more than needed."""

import math
import random
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bomkit.planning.shops.printing.first_fit import Limits, Parts, fewest_plates, packed

seeds = st.integers(0, 99_999)
few = settings(deadline=None, derandomize=True, max_examples=60)


def shares(*sizes: float) -> list[Parts]:
    """One part of each share."""
    return [Parts(f"print-{number}", 1, size, 1.0) for number, size in enumerate(sizes)]


def random_parts(seed: int, most: int = 40) -> list[Parts]:
    """Some orders of a week: a few large parts and many small ones, as it comes."""
    chance = random.Random(seed)
    largest = chance.choice([0.2, 0.5, 0.7, 1.0])
    return [
        Parts(
            f"print-{number}",
            chance.randint(1, 8),
            chance.choice([1 / chance.randint(1, 30), chance.uniform(0.01, largest)]),
            round(chance.uniform(0.2, 9), 1),
        )
        for number in range(chance.randint(1, most))
    ]


def random_limits(seed: int) -> Limits:
    chance = random.Random(seed)
    return Limits(chance.choice([math.inf, 4, 12]), chance.choice([math.inf, 9.0, 24.0]))


def fewest_by_trying(sizes: list[float]) -> int:
    """The fewest plates for a handful of parts, by trying every way to lay them."""

    def least(left: list[float], filled: list[float], best: int) -> int:
        if len(filled) >= best:
            return best
        if not left:
            return len(filled)
        for number, used in enumerate(filled):
            if used + left[0] <= 1 + 1e-9:
                laid = [*filled[:number], used + left[0], *filled[number + 1 :]]
                best = min(best, least(left[1:], laid, best))
        return min(best, least(left[1:], [*filled, left[0]], best))

    return least(sizes, [], len(sizes) + 1)


def test_parts_go_onto_the_first_plate_they_fit_on_the_largest_first() -> None:
    plates = packed(shares(0.3, 0.6, 0.2, 0.8), Limits())
    assert [plate.parts for plate in plates] == [
        {"print-3": 1, "print-2": 1},
        {"print-1": 1, "print-0": 1},
    ]


def test_three_thirds_fill_a_plate() -> None:
    assert [plate.count for plate in packed([Parts("clip", 7, 1 / 3, 1)], Limits())] == [3, 3, 1]


def test_a_plate_takes_no_longer_than_its_printer_prints_in_one_go() -> None:
    plates = packed([Parts("clip", 9, 0.01, 4.0)], Limits(hours=16))
    assert [plate.count for plate in plates] == [4, 4, 1]
    assert fewest_plates([Parts("clip", 9, 0.01, 4.0)], Limits(hours=16)) == 3


def test_a_plate_takes_no_more_parts_than_its_printer_allows() -> None:
    assert len(packed([Parts("clip", 9, 0.01, 0.1)], Limits(parts=2))) == 5


def test_a_part_that_fits_on_no_plate_is_refused() -> None:
    with pytest.raises(ValueError, match="wing"):
        packed([Parts("wing", 1, 0.5, 30)], Limits(hours=24))


def test_the_lower_bound_knows_that_two_halves_and_a_bit_do_not_share_a_plate() -> None:
    assert fewest_plates(shares(0.51, 0.51, 0.51), Limits()) == 3  # the shares add up to 1.53
    assert fewest_plates(shares(0.9, 0.9, 0.3, 0.3), Limits()) == 3
    # none of the three fits beside one of the two, and no three of them on one
    assert fewest_plates(shares(0.7, 0.7, 0.4, 0.4, 0.4), Limits()) == 4


@given(seed=seeds)
@few
def test_every_part_is_placed_and_no_plate_is_over_a_limit(seed: int) -> None:
    batches, limits = random_parts(seed), random_limits(seed)
    plates = packed(batches, limits)
    placed: Counter[str] = Counter()
    of = {parts.order: parts for parts in batches}
    for plate in plates:
        placed.update(plate.parts)
        assert sum(of[order].share * count for order, count in plate.parts.items()) <= 1 + 1e-8
        hours = sum(of[order].hours * count for order, count in plate.parts.items())
        assert hours <= limits.hours * (1 + 1e-8)
        assert sum(plate.parts.values()) <= limits.parts
        assert min(plate.parts.values()) > 0
    assert placed == {parts.order: parts.count for parts in batches}


@given(seed=seeds)
@few
def test_there_are_at_most_22_percent_and_one_more_plates_than_the_lower_bound(seed: int) -> None:
    # first-fit decreasing takes at most 11/9 OPT + 6/9 plates (Dosa 2007, from memory)
    batches = random_parts(seed, most=60)
    bound = fewest_plates(batches, Limits())
    assert bound <= len(packed(batches, Limits())) <= 11 / 9 * bound + 1


def test_with_other_limits_few_cases_are_beyond_22_percent_and_none_beyond_60() -> None:
    # measured, not proved: the known bound holds for shares alone
    beyond = 0
    for seed in range(400):
        chance = random.Random(seed)
        limits = Limits(chance.choice([4, 12, math.inf]), chance.choice([9.0, 24.0]))
        batches = [
            Parts(
                f"print-{number}",
                chance.randint(1, 8),
                chance.uniform(0.01, chance.choice([0.2, 0.5, 0.7, 1])),
                chance.uniform(0.2, 9),
            )
            for number in range(chance.randint(1, 30))
        ]
        bound, plates = fewest_plates(batches, limits), len(packed(batches, limits))
        assert plates <= 1.6 * bound + 1
        beyond += plates > 11 / 9 * bound + 1
    assert beyond <= 8


@given(seed=seeds)
@few
def test_the_plates_of_few_parts_lie_between_the_bound_and_what_trying_every_way_finds(
    seed: int,
) -> None:
    chance = random.Random(seed)
    sizes = [round(chance.uniform(0.05, 0.9), 2) for _ in range(chance.randint(1, 8))]
    best = fewest_by_trying(sizes)
    assert fewest_plates(shares(*sizes), Limits()) <= best
    assert best <= len(packed(shares(*sizes), Limits())) <= 11 / 9 * best + 6 / 9


@given(seed=seeds)
@few
def test_the_bound_holds_with_all_limits_as_well(seed: int) -> None:
    batches, limits = random_parts(seed), random_limits(seed)
    assert fewest_plates(batches, limits) <= len(packed(batches, limits))


@given(seed=seeds)
@few
def test_the_order_of_the_orders_does_not_matter(seed: int) -> None:
    batches, limits = random_parts(seed), random_limits(seed)
    shuffled = random.Random(seed).sample(batches, len(batches))
    assert packed(batches, limits) == packed(shuffled, limits)


@pytest.mark.parametrize(
    ("parts", "limits", "plates"),
    [
        # by whichever of share and hours is more: the long small ones go first, then the large one
        ([(1, 0.5, 1.0), (3, 0.1, 4.0), (3, 0.3, 2.0)], Limits(hours=10.0), 2),
        # what the number on a plate asks for is more than the share of the smallest
        ([(3, 0.1, 5.0), (2, 0.4, 2.0), (2, 0.6, 2.0)], Limits(3, 10.0), 3),
        # by share and hours together
        ([(3, 0.5, 5.0), (3, 0.3, 2.0), (3, 0.6, 1.0), (3, 0.2, 2.0)], Limits(4, 10.0), 5),
        ([(3, 0.5, 3.0), (2, 0.1, 7.0), (2, 0.4, 1.0)], Limits(4, 10.0), 3),
    ],
)
def test_where_hours_limit_a_plate_too_the_best_of_several_orders_is_taken(
    parts: list[tuple[int, float, float]], limits: Limits, plates: int
) -> None:
    batches = [Parts(f"print-{number}", *each) for number, each in enumerate(parts)]
    assert len(packed(batches, limits)) == plates


@few
@given(seeds)
def test_no_other_way_of_filling_plates_is_better_than_as_few_as_can_be(seed: int) -> None:
    batches, limits = random_parts(seed), random_limits(seed)
    batches = [each for each in batches if each.hours <= limits.hours]
    fewest = fewest_plates(batches, limits) if batches else 0
    assert packed(batches, limits, fewest) == packed(batches, limits)
