"""The best set within a limit: against trying everything, and against SciPy's integer programme."""

from itertools import product
from random import Random

import numpy as np
import pytest
from scipy import optimize, stats

from bomkit.planning.fleet.spares_stock.best_within_limit import BestSet, Numbers, best_set

SEEDS = range(40)


def pieces(chance: Random, parts: int, most: int) -> tuple[Numbers, Numbers]:
    """Gains and prices of pieces of random parts, the best for its price first."""
    rows = []
    for _ in range(parts):
        variable = stats.poisson(chance.uniform(0.05, 3))
        price = chance.choice((float(chance.randint(1, 40)), round(chance.uniform(0.5, 90), 2)))
        rows += [(float(variable.sf(held)), price) for held in range(most)]
    rows.sort(key=lambda row: -row[0] / row[1])
    gains, prices = zip(*rows, strict=True)
    return np.array(gains), np.array(prices)


def gained(gains: Numbers, prices: Numbers, found: BestSet, limit: float) -> float:
    """What a set gains; it keeps to the limit."""
    assert float(prices[found.taken].sum()) <= limit * (1 + 1e-12)
    return float(gains[found.taken].sum())


@pytest.mark.parametrize("seed", SEEDS)
def test_no_set_of_a_few_pieces_gains_more(seed: int) -> None:
    chance = Random(seed)
    gains, prices = pieces(chance, 3, 4)
    limit = chance.uniform(0, float(prices.sum()) * 1.1)
    every = np.array(list(product((0.0, 1.0), repeat=len(gains))))
    most = float((every @ gains)[every @ prices <= limit].max())
    found = best_set(gains, prices, limit)
    assert found.short == 0
    assert gained(gains, prices, found, limit) == pytest.approx(most, abs=1e-11)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_set_of_an_integer_programme_gains_more(seed: int) -> None:
    chance = Random(100 + seed)
    gains, prices = pieces(chance, 12, 6)
    limit = chance.uniform(0.02, 0.6) * float(prices.sum())
    solved = optimize.milp(
        -gains,
        constraints=optimize.LinearConstraint(prices[None, :], ub=limit),
        bounds=optimize.Bounds(0, 1),
        integrality=np.ones(len(gains)),
        options={"mip_rel_gap": 0.0},
    )
    found = best_set(gains, prices, limit)
    assert found.short == 0
    assert gained(gains, prices, found, limit) == pytest.approx(-solved.fun, abs=1e-7)


def test_piece_by_piece_alone_would_miss_the_best_set() -> None:
    # 10 for 6 is the best for its price, but leaves no room for the two of 8 for 5
    gains, prices = np.array([10.0, 8.0, 8.0]), np.array([6.0, 5.0, 5.0])
    for scale in (1.0, 1e-5):  # however little all of it gains
        found = best_set(gains * scale, prices, 10.0)
        assert found.taken.tolist() == [False, True, True]
        assert found.short == 0


@pytest.mark.parametrize("seed", SEEDS)
def test_a_search_that_is_cut_short_says_how_far_off_it_may_be(seed: int) -> None:
    chance = Random(200 + seed)
    gains, prices = pieces(chance, 10, 4)
    limit = 0.3 * float(prices.sum())
    best = gained(gains, prices, best_set(gains, prices, limit), limit)
    short = best_set(gains, prices, limit, most_sums=2)
    reached = gained(gains, prices, short, limit)
    assert reached <= best + 1e-11
    assert best <= reached + short.short + 1e-11


def test_the_bound_of_a_cut_search_is_said_where_there_is_one() -> None:
    found = [best_set(*pieces(Random(seed), 10, 4), 60.0, most_sums=2).short for seed in SEEDS]
    assert any(found)


def test_what_costs_nothing_is_taken_and_nothing_to_choose_is_no_trouble() -> None:
    assert best_set(np.array([1.0, 0.5]), np.array([0.0, 3.0]), 2.0).taken.tolist() == [True, False]
    assert best_set(np.array([]), np.array([]), 2.0).taken.tolist() == []
