"""An allocation that takes over what another one of the same plan has is the one made anew."""

import random

import polars as pl
from hypothesis import given
from polars.testing import assert_frame_equal

from bomkit.planning.pegging.peg import Pegged, peg
from bomkit.planning.promises.made_later_by_grounded import without
from tests.planning.random_plans import FOLDERS, each, random_plan, seeds


def assert_same(one: Pegged, other: Pegged) -> None:
    """The same to the last bit: needs, pegs, and what nobody needs."""
    assert_frame_equal(one.needs, other.needs, check_exact=True)
    assert_frame_equal(one.pegs, other.pegs, check_exact=True)
    for level, like in zip(one.levels, other.levels, strict=True):
        for name, column in level.left.items():
            assert column.tolist() == like.left[name].tolist()


@each
@given(seed=seeds)
def test_by_the_days_of_the_forecast_it_is_the_same(seed: int) -> None:
    stores = random_plan(seed).stores
    anew = stores.made.pegged(stores.turn.counted_on, None)
    assert_same(stores.pegged, anew)


@each
@given(seed=seeds)
def test_without_some_demands_it_is_the_same(seed: int) -> None:
    stores = random_plan(seed).stores
    numbers = stores.pegged.demands["demand_id"].to_list()[2:]  # the first two are collective
    chosen = random.Random(seed).sample(numbers, min(2, len(numbers)))
    left_out = pl.Series(chosen, dtype=pl.Int64)
    anew = stores.made.pegged(stores.turn.counted_on, None, left_out)
    assert_same(without(stores.made, stores.turn, left_out), anew)


def test_what_is_taken_over_from_the_plan_before_is_the_same_as_made_anew() -> None:
    again = 0
    for seed in FOLDERS:
        stores = random_plan(seed).stores
        made, first = stores.made, stores.by_plan
        assert_same(first, peg(made.network, made.flows, made.orders, made.tables))
        again += len(made.network.least) > 0
    assert again > len(FOLDERS) / 5
