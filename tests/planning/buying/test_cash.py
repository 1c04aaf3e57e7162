"""When what is bought is paid: at which price, in which currency, in which week."""

import datetime as dt
from itertools import permutations

import pytest

from bomkit.planning.buying.buy_lines import buy_lines
from bomkit.planning.buying.cash import cash_by_week
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, day, item, receipt
from tests.random_tables import Row

BOLT = item("bolt", unit="pc") | {"supplier": "screws", "cost": 7}
ON_ORDER = [receipt("bolt", 50, 7, order="P-1")]
LONG = dt.date(2027, 12, 31)


def price(
    each: float, least: float = 1, currency: str = "EUR", until: dt.date | None = None
) -> Row:
    """A row of prices of the bolts' supplier."""
    about = {"item": "bolt", "supplier": "screws", "from_quantity": least, "price": each}
    return about | {"currency": currency, "valid_to": until}


def committed(
    *prices: Row, orders: list[Row] = ON_ORDER, days: int = 0
) -> list[tuple[str, str, float]]:
    """What is to be paid for open orders by week and currency."""
    tables = typed_tables(
        {
            "plan": [{"start": MONDAY, "horizon_weeks": 8}],
            "items": [BOLT],
            "suppliers": [{"supplier": "screws", "payment_days": days, "currency": "EUR"}],
            "prices": list(prices),
            "open_orders": orders,
        }
    )
    network = build_network(tables)
    planned = planned_orders(network, plan_flows(network))
    lines = buy_lines(network, tables, planned)
    return cash_by_week(network, tables, lines).select("week", "currency", "committed").rows()


def test_of_two_prices_from_one_quantity_on_the_one_that_ends_first_counts_in_any_order() -> None:
    prices = [price(10, until=dt.date(2026, 12, 31)), price(12), price(11, until=LONG)]
    for order in permutations(prices):
        assert committed(*order) == [("2026-W50", "EUR", 500.0)]


def test_a_price_counts_in_the_currency_it_is_asked_in() -> None:
    for order in permutations([price(10, least=100), price(11, least=40, currency="USD")]):
        assert committed(*order) == [("2026-W50", "USD", 550.0)]


def test_of_several_currencies_the_suppliers_own_counts_whatever_is_asked_in_others() -> None:
    for order in permutations([price(10), price(1, currency="CHF"), price(2, currency="USD")]):
        assert committed(*order) == [("2026-W50", "EUR", 500.0)]


def test_of_several_other_currencies_the_first_by_name_counts() -> None:
    for order in permutations([price(3, currency="USD"), price(4, currency="CHF")]):
        assert committed(*order) == [("2026-W50", "CHF", 200.0)]


@pytest.mark.parametrize("prices", [[], [price(9, least=51)], [price(9, until=MONDAY)]])
def test_what_no_price_reaches_or_is_past_counts_at_cost(prices: list[Row]) -> None:
    before = [row | {"valid_to": MONDAY - dt.timedelta(1)} if row["valid_to"] else row
              for row in prices]  # fmt: skip
    assert committed(*before) == [("2026-W50", "EUR", 350.0)]


def test_a_price_that_ends_on_the_first_day_still_counts() -> None:
    assert committed(price(9, until=MONDAY)) == [("2026-W50", "EUR", 450.0)]


def test_what_no_supplier_is_named_for_is_paid_when_it_comes() -> None:
    nobodys = [receipt("bolt", 50, 9, order="P-1", supplier="others")]  # a Friday
    assert committed(orders=nobodys, days=30) == [("2026-W50", "", 350.0)]


def test_it_is_paid_so_many_calendar_days_after_it_comes() -> None:
    assert committed(price(10), days=30) == [("2027-W01", "EUR", 500.0)]


def test_what_is_overdue_counts_as_arriving_on_the_first_day() -> None:
    late = [receipt("bolt", 50, day(0) - dt.timedelta(30), order="P-1")]
    assert committed(price(10), orders=late) == [("2026-W49", "EUR", 500.0)]
