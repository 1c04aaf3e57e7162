"""Spares to hold: textbook and paper examples, with the source of each."""

import polars as pl
import pytest

from bomkit.planning.fleet.spares_stock.best_next_piece import best_purchases, purchases_in_order
from bomkit.planning.fleet.spares_stock.stock_for_target import (
    at_stock,
    smallest_stocks,
    stock_levels,
)


def levels_of(*means: float) -> pl.DataFrame:
    """The stock levels of parts a, b, ... with these means over their resupply time."""
    names = [chr(ord("a") + number) for number in range(len(means))]
    return stock_levels(pl.DataFrame({"item": names, "mean": list(means)}))


def column(name: str, mean: float, stocks: range) -> list[float]:
    """A figure of a part with that mean for each of the stocks."""
    held = pl.DataFrame({"item": ["a"] * len(stocks), "held": list(stocks)})
    return at_stock(levels_of(mean), held)[name].to_list()


def hold(mean: float, target: float) -> int:
    return int(smallest_stocks(levels_of(mean), target, fill_rate=False)["hold"][0])


def test_twenty_parts_of_a_radar_for_three_months() -> None:
    """Blanchard, Logistics Engineering and Management: 20 parts, 0.1 failures in 1000 h, 2160 h,
    95 %: 8 spares. Recalled from memory."""
    mean = 20 * 0.1 / 1000 * 2160
    assert mean == pytest.approx(4.32)
    seven, eight = column("chance", mean, range(7, 9))
    assert (round(seven, 5), round(eight, 5)) == (0.92750, 0.96751)
    assert hold(mean, 0.95) == 8


def test_a_level_of_service_of_shortage_and_excess_cost() -> None:
    """Stevenson, Operations Management, 14th edition, p. 537: mean 4, shortage 3, excess 2.
    Read."""
    cumulative = column("chance", 4, range(6))
    assert [round(chance, 3) for chance in cumulative] == [0.018, 0.092, 0.238, 0.433, 0.629, 0.785]
    assert hold(4, 3 / (3 + 2)) == 4


def test_expected_backorders_of_units_in_resupply() -> None:
    """Palm's theorem (Feeney and Sherbrooke, Management Science 12(5), 1966; Sherbrooke, METRIC,
    Operations Research 16(1), 1968): formulas read, figures recomputed."""
    one = [round(value, 4) for value in column("backorders", 1, range(6))]
    assert one == [1, 0.3679, 0.1036, 0.0233, 0.0043, 0.0007]
    four = [round(value, 4) for value in column("backorders", 4, range(11))]
    assert four == [
        *(4, 3.0183, 2.1099, 1.3480, 0.7815, 0.4103, 0.1954, 0.0848, 0.0336, 0.0123, 0.0041),
    ]


def test_the_fill_rate_of_units_in_resupply() -> None:
    """The same sources: the share served at once is P(X <= s - 1)."""
    four = [round(value, 4) for value in column("fill_rate", 4, range(11))]
    assert four == [
        *(0, 0.0183, 0.0916, 0.2381, 0.4335, 0.6288, 0.7851, 0.8893, 0.9489, 0.9786, 0.9919),
    ]


def test_marginal_analysis_buys_what_lowers_backorders_most_for_its_cost() -> None:
    """Worked out here, not published: a has mean 1 and cost 5, b mean 4 and cost 1."""
    levels = levels_of(1, 4)
    priced = pl.DataFrame({"item": ["a", "b"], "price": [5.0, 1.0], "base": [0, 0]})
    queue = purchases_in_order(levels, priced)
    order = [{"a": 1, "b": 2}[item] for item in queue["item"].head(14)]
    assert order == [2, 2, 2, 2, 2, 2, 1, 2, 1, 2, 2, 1, 2, 1]
    bought = best_purchases(queue, priced, limit=30).held
    assert bought["hold"].to_list() == [4, 10]
    held = at_stock(levels, bought.select("item", held="hold"))
    assert round(held["backorders"].sum(), 4) == 0.0085
