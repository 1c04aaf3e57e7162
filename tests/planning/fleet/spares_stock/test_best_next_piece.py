"""Which pieces are bought for a sum, where a price or a sum is just met."""

import polars as pl
import pytest

from bomkit.planning.fleet.spares_stock.best_next_piece import (
    LEAST_GAIN,
    best_purchases,
    purchases_in_order,
)
from bomkit.planning.fleet.spares_stock.stock_for_target import stock_levels


def bought(mean: float, price: float, limit: float, base: int = 0) -> int:
    """How many pieces of one part are held for a sum."""
    levels = stock_levels(pl.DataFrame({"item": ["a"], "mean": [mean]}))
    priced = pl.DataFrame({"item": ["a"], "price": [price], "base": [base]})
    queue = purchases_in_order(levels, priced)
    return int(best_purchases(queue, priced, limit).held["hold"].item())


def test_a_sum_for_ten_pieces_buys_ten_though_tenths_do_not_add_up_and_no_cent_more() -> None:
    assert bought(8, 0.1, 1.0) == 10
    assert bought(8, 1.0, 10.0) == 10
    assert bought(8, 1.00001, 10.0) == 9


def test_pieces_are_bought_on_top_of_what_is_there() -> None:
    assert bought(8, 1.0, 3.0, base=5) == 8
    assert bought(8, 1.0, 0.5, base=5) == 5


@pytest.mark.parametrize("mean", [0.5, 400.0])
def test_every_piece_is_worth_buying_that_brings_a_millionth_of_a_backorder(mean: float) -> None:
    levels = stock_levels(pl.DataFrame({"item": ["a"], "mean": [mean]}))
    priced = pl.DataFrame({"item": ["a"], "price": [1.0], "base": [0]})
    queue = purchases_in_order(levels, priced)
    # with the first piece on, one after the other, as long as the next is asked for at all
    assert queue["held"].to_list() == list(range(1, len(queue) + 1))
    assert queue["gain"].min() >= 1e-6 == LEAST_GAIN
    last = levels.filter(held=len(queue))
    assert last["over"].item() < 1e-6


def test_of_equal_worth_the_part_first_by_name_and_of_one_part_piece_after_piece() -> None:
    levels = stock_levels(pl.DataFrame({"item": ["b", "a"], "mean": [1.0, 1.0]}))
    priced = pl.DataFrame({"item": ["b", "a"], "price": [2.0, 2.0], "base": [0, 0]})
    queue = purchases_in_order(levels, priced).head(4)
    assert queue.select("item", "held").rows() == [("a", 1), ("b", 1), ("a", 2), ("b", 2)]


def test_a_piece_that_is_surely_asked_for_brings_one_backorder_less_and_no_more() -> None:
    # 400 expected: the first pieces are surely asked for, 1 / 0.56 = 1.79 a unit of money each;
    # the first one of the other, of which 3 are expected, brings 0.950 / 0.5 = 1.90
    levels = stock_levels(pl.DataFrame({"item": ["sure", "likely"], "mean": [400.0, 3.0]}))
    priced = pl.DataFrame({"item": ["sure", "likely"], "price": [0.56, 0.5], "base": [0, 0]})
    queue = purchases_in_order(levels, priced)
    assert queue.head(2).select("item", "held").rows() == [("likely", 1), ("sure", 1)]
    assert queue.filter(item="sure").head(5)["gain"].to_list() == [1.0] * 5
