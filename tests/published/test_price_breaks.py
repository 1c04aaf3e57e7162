"""A published example of price breaks.

J. Heizer, B. Render, Operations Management, ch. 12, the example of quantity discounts: recalled
from memory, totals recomputed. Demand 5,000 a year, 49 an order, holding 20 % of the price a year;
5.00 each, 4.80 from 1,000 on, 4.75 from 2,000 on.
"""

import datetime as dt

import pytest

from bomkit.planning.buying.offers import Break, Wish, advised, price_for

MONDAY = dt.date(2026, 11, 30)
BREAKS = [
    Break("HULM", least, price, "EUR", lead=5)
    for least, price in ((1, 5.00), (1000, 4.80), (2000, 4.75))
]
A_YEAR, AN_ORDER, HOLDING = 5000, 49, 0.20


def cost_a_year(amount: float) -> float:
    """What a year costs in orders of an amount: the book's sum, at the price for the amount."""
    price = price_for(amount, BREAKS)
    assert price is not None
    return A_YEAR / amount * AN_ORDER + amount / 2 * HOLDING * price + A_YEAR * price


@pytest.mark.parametrize(
    ("amount", "cost"), [(700, 25_700.00), (1000, 24_725.00), (2000, 24_822.50)]
)
def test_a_year_costs_what_the_book_says_at_each_break(amount: float, cost: float) -> None:
    assert cost_a_year(amount) == pytest.approx(cost)


def test_the_break_the_book_chooses_costs_the_least_of_all_amounts() -> None:
    assert min(range(1, 5001), key=cost_a_year) == 1000


@pytest.mark.parametrize(("amount", "larger"), [(959, None), (960, None), (961, 1000)])
def test_more_is_named_where_it_costs_less_at_the_next_break(
    amount: float, larger: float | None
) -> None:
    """Worked out here, not published: 1,000 at 4.80 cost what 960 at 5.00 do."""
    advice = advised(Wish(amount, MONDAY, 10, whole=True), BREAKS, "EUR")
    assert advice is not None
    assert (advice.larger.quantity if advice.larger else None) == larger
