"""Which supplier, break and quantity is right for an order."""

import datetime as dt
import itertools
import random

import pytest

from bomkit.planning.buying.offers import (
    Break,
    Wish,
    advised,
)

TODAY = dt.date(2026, 11, 30)


def row(supplier: str, least: float, price: float, lead: int = 5, currency: str = "EUR") -> Break:
    """One row of a price list."""
    return Break(supplier, least, price, currency, lead)


def test_the_lowest_total_of_those_in_time_is_taken() -> None:
    breaks = [row("A", 1, 9.0), row("B", 1, 8.0, lead=11), row("C", 1, 8.5, lead=10)]
    advice = advised(Wish(10, TODAY, 10), breaks, "EUR")
    assert advice is not None
    assert (advice.best.supplier, advice.best.total, advice.late) == ("C", 85.0, 0)
    assert advice.faster is None


def test_a_larger_quantity_that_costs_less_in_total_is_named() -> None:
    """90 at 4.50 cost 405, 100 at 3.80 cost 380 (worked out here, not published)."""
    advice = advised(Wish(90, TODAY, 10), [row("A", 1, 4.5), row("A", 100, 3.8)], "EUR")
    assert advice is not None and advice.larger is not None
    assert advice.best.total == pytest.approx(405)
    assert advice.larger.quantity == 100
    assert advice.larger.total == pytest.approx(380)


def test_a_larger_quantity_that_costs_as_much_or_more_is_not_named() -> None:
    advice = advised(Wish(90, TODAY, 10), [row("A", 1, 4.0), row("A", 100, 3.6)], "EUR")
    assert advice is not None and advice.larger is None


def test_a_larger_quantity_keeps_to_the_multiple() -> None:
    breaks = [row("A", 1, 4.5), row("A", 100, 2.9)]
    advice = advised(Wish(90, TODAY, 10, multiple=45, whole=True), breaks, "EUR")
    assert advice is not None and advice.larger is not None
    assert advice.larger.quantity == 135


def test_where_the_lowest_break_is_above_what_is_needed_its_quantity_is_ordered() -> None:
    advice = advised(Wish(3, TODAY, 10), [row("A", 25, 2.0)], "EUR")
    assert advice is not None
    assert (advice.best.quantity, advice.best.total) == (25, 50)


@pytest.mark.parametrize(
    ("least", "multiple", "whole", "ordered"),
    [
        (25, 0, False, 25),
        (25, 0, True, 25),
        (24.5, 0, False, 24.5),
        (24.5, 0, True, 25),
        (10.0005, 0, False, 10.0005),
        (100, 50, False, 100),
        (101, 50, True, 150),
        (101, 2.5, False, 102.5),
        (101, 2.5, True, 103),  # 41 times 2.5, and then whole pieces
    ],
)
def test_what_a_break_begins_at_is_ordered_in_multiples_and_pieces_in_whole_ones(
    least: float, multiple: float, whole: bool, ordered: float
) -> None:
    wish = Wish(3, TODAY, 10, multiple, whole)
    advice = advised(wish, [row("A", least, 2.0)], "EUR")
    assert advice is not None
    assert advice.best.quantity == ordered


def test_what_has_no_multiple_and_no_pieces_is_ordered_as_the_break_begins() -> None:
    advice = advised(Wish(3, TODAY, 10), [row("A", 24.50005, 2.0)], "EUR")
    assert advice is not None
    assert advice.best.quantity == 24.50005


def test_for_a_late_order_the_fastest_and_its_extra_cost_are_named() -> None:
    breaks = [row("A", 1, 8.0, lead=20), row("B", 1, 9.0, lead=12), row("C", 1, 9.5, lead=14)]
    advice = advised(Wish(10, TODAY, 7), breaks, "EUR")
    assert advice is not None and advice.faster is not None
    assert (advice.best.supplier, advice.late) == ("A", 13)
    assert (advice.faster.supplier, advice.best.lead - advice.faster.lead) == ("B", 8)
    assert advice.extra == pytest.approx(10)


def test_currencies_are_not_compared() -> None:
    breaks = [row("A", 1, 9.0, lead=9), row("B", 1, 1.0, lead=6, currency="SEK")]
    advice = advised(Wish(10, TODAY, 10), breaks, "EUR")
    assert advice is not None
    assert advice.best.supplier == "A"
    assert [each.supplier for each in advice.abroad] == ["B"]
    late = advised(Wish(10, TODAY, 5), breaks, "EUR")
    assert late is not None and late.faster is not None
    assert (late.faster.supplier, late.extra) == ("B", None)


def test_a_price_counts_to_its_last_day_and_not_after() -> None:
    lapsing = [Break("A", 1, 2.0, "EUR", 5, TODAY), row("A", 1, 3.0)]
    known = [
        advised(Wish(1, TODAY + dt.timedelta(days=later), 9), lapsing, "EUR") for later in (0, 1)
    ]
    assert [each.best.price for each in known if each] == [2.0, 3.0]
    assert advised(Wish(1, TODAY + dt.timedelta(days=1), 9), lapsing[:1], "EUR") is None


@pytest.mark.parametrize("seed", range(200))
def test_the_advice_is_the_best_of_all_that_could_be_ordered(seed: int) -> None:
    chance = random.Random(seed)
    breaks = []
    for supplier, currency in itertools.product("ABC", ("EUR", "SEK")):
        lead = chance.randint(1, 15)
        for least in sorted(chance.sample(range(1, 40), chance.randint(0, 3))):
            breaks.append(row(supplier, least, chance.randint(1, 20) / 4, lead, currency))
    wish = Wish(chance.randint(1, 30), TODAY, chance.randint(-3, 16))
    advice = advised(wish, breaks, "EUR")
    if not breaks:
        assert advice is None
        return
    assert advice is not None
    every = []  # amount, total, lead of all whole quantities in the currency of the best
    for supplier in "ABC":
        own = [b for b in breaks if b.supplier == supplier and b.currency == advice.best.currency]
        for amount in range(int(wish.quantity), 61):
            reached = [b for b in own if b.from_quantity <= amount]
            if reached:
                price = max(reached, key=lambda b: b.from_quantity).price
                every.append((amount, amount * price, reached[0].lead, supplier))
    firsts = [min(e for e in every if e[3] == name) for name in {e[3] for e in every}]
    timely = [e for e in firsts if e[2] <= wish.days]
    anywhere = [b for b in breaks if b.lead <= wish.days]
    assert bool(timely) == bool(anywhere)
    assert advice.best.total == min(e[1] for e in timely or firsts)
    within = max(wish.days, advice.best.lead)
    cheapest = min(e[1] for e in every if e[2] <= within and e[0] > wish.quantity)
    if advice.larger:
        assert advice.larger.total == pytest.approx(cheapest)
    else:
        assert cheapest >= advice.best.total * (1 - 1e-9)
    if not timely:
        soonest = min(b.lead for b in breaks)
        found = advice.faster.lead if advice.faster else advice.best.lead
        assert found == soonest


def test_what_is_just_as_late_is_not_named_as_faster() -> None:
    # both ten days: the cheaper is taken, and the other one brings nothing sooner
    breaks = [row("A", 1, 4.0, lead=10), row("B", 1, 5.0, lead=10)]
    advice = advised(Wish(10, TODAY, 5), breaks, "EUR")
    assert advice is not None
    assert (advice.best.supplier, advice.late, advice.faster) == ("A", 5, None)
