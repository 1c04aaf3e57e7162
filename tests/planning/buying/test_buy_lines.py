"""The buy list's lines, order minimums and payments of small plans."""

import datetime as dt

import polars as pl

from bomkit.planning.buying.buy_lines import buy_lines
from bomkit.planning.buying.cash import cash_by_week
from bomkit.planning.buying.supplier_minimum import fill_ups
from bomkit.planning.netting.netted_plan import plan_flows
from bomkit.planning.netting.planned_orders import planned_orders
from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, day, item, need, receipt
from tests.random_tables import Row

PLAN: list[Row] = [{"start": MONDAY, "horizon_weeks": 8}]
BOLT = item("bolt", unit="pc", cost=2.0, lead_days=10, supplier="HULM")
HULM: Row = {"supplier": "HULM", "currency": "EUR", "payment_days": 14, "order_minimum": 50.0}
DORN: Row = {"supplier": "DORN", "currency": "SEK"}


class Bought:
    """What is bought in a small plan."""

    def __init__(self, **tables: list[Row]) -> None:
        filled = {"plan": PLAN, "items": [BOLT], "suppliers": [HULM, DORN], **tables}
        self.tables = typed_tables(filled)
        self.network = build_network(self.tables)
        self.orders = planned_orders(self.network, plan_flows(self.network))
        self.lines = buy_lines(self.network, self.tables, self.orders)

    @property
    def cash(self) -> list[tuple[object, ...]]:
        """The rows of the table cash."""
        return cash_by_week(self.network, self.tables, self.lines).rows()

    def added(self, weeks: list[str]) -> list[tuple[object, ...]]:
        """Week, order and days of what is brought forward."""
        found = fill_ups(self.tables, self.orders, self.lines, weeks)
        return found.select("week", "order", "days").rows()


def price(supplier: str, least: float, each: float, **more: object) -> Row:
    """A row of the price list of the bolt."""
    return {"item": "bolt", "supplier": supplier, "from_quantity": least, "price": each, **more}


def test_without_a_price_list_cost_and_supplier_of_the_item_count() -> None:
    bought = Bought(spares_orders=[need("bolt", 30, 12)])
    (line,) = bought.lines.rows(named=True)
    assert (line["supplier"], line["value"], line["currency"]) == ("HULM", 60.0, "EUR")
    assert (line["arrives"], line["late_days"], line["lead_days"]) == (day(12), 0, 10)


def test_the_lead_time_of_a_price_says_when_it_arrives_and_how_late() -> None:
    prices = [price("HULM", 1, 2.0, lead_days=14), price("DORN", 1, 9.0, lead_days=9)]
    bought = Bought(spares_orders=[need("bolt", 30, 4)], prices=prices)
    (line,) = bought.lines.rows(named=True)
    assert (line["supplier"], line["arrives"], line["late_days"]) == ("HULM", day(14), 10)
    assert (line["faster_supplier"], line["faster_days"]) == ("DORN", 5)
    assert (line["faster_value"], line["faster_currency"]) == (270.0, "SEK")
    assert line["faster_extra"] is None


def test_a_quicker_supplier_in_the_same_currency_makes_a_late_order_timely() -> None:
    prices = [price("HULM", 1, 2.0), price("DORN", 1, 9.0, lead_days=4, currency="EUR")]
    bought = Bought(spares_orders=[need("bolt", 30, 4)], prices=prices)
    (line,) = bought.lines.rows(named=True)
    assert (line["supplier"], line["late_days"], line["arrives"]) == ("DORN", 0, day(4))


def test_the_next_order_of_a_supplier_makes_up_its_minimum_once() -> None:
    asked = [need("bolt", 20, 10), need("bolt", 5, 16), need("bolt", 20, 22)]
    bought = Bought(spares_orders=asked)
    assert bought.lines["value"].to_list() == [40, 10, 40]
    weeks = ["2026-W49", "2026-W50", "2026-W51"]
    assert bought.added(weeks) == [("2026-W49", "buy-0002", 8)]


def test_what_costs_nothing_makes_up_no_minimum() -> None:
    gift = BOLT | {"item": "gift", "cost": 0.0}
    asked = [need("bolt", 20, 10), need("bolt", 5, 16), need("gift", 5, 16)]
    bought = Bought(items=[BOLT, gift], spares_orders=asked)
    assert bought.lines.select("item", "value").rows() == [("bolt", 40), ("bolt", 10), ("gift", 0)]
    # the gift starts on the same day as the five bolts, which are enough
    assert bought.added(["2026-W49"]) == [("2026-W49", "buy-0002", 8)]


def test_an_order_is_paid_the_days_of_its_supplier_after_it_arrives() -> None:
    bought = Bought(
        spares_orders=[need("bolt", 50, 12)],
        open_orders=[receipt("bolt", 20, 1) | {"supplier": "HULM"}],
    )
    assert bought.orders["due_date"].to_list() == [day(12)]
    assert day(1) + dt.timedelta(days=14) == dt.date(2026, 12, 15)
    assert day(12) + dt.timedelta(days=14) == dt.date(2026, 12, 30)
    assert bought.cash == [("2026-W51", "EUR", 40.0, 0.0), ("2026-W53", "EUR", 0.0, 60.0)]


def test_payments_in_two_currencies_of_a_week_stay_two_rows() -> None:
    orders = [
        receipt("bolt", 20, 1) | {"supplier": "HULM", "order": "P-1"},
        receipt("bolt", 20, 11) | {"supplier": "DORN", "order": "P-2"},
    ]
    bought = Bought(open_orders=orders, prices=[price("DORN", 1, 21.0)])
    assert bought.cash == [("2026-W51", "EUR", 40.0, 0.0), ("2026-W51", "SEK", 420.0, 0.0)]


def test_what_is_overdue_is_paid_as_if_it_came_on_the_first_day() -> None:
    bought = Bought(open_orders=[receipt("bolt", 20, -8) | {"supplier": "HULM"}])
    assert bought.cash == [("2026-W51", "EUR", 40.0, 0.0)]


def test_what_names_no_supplier_is_paid_on_the_day_on_which_it_comes() -> None:
    unnamed = item("bolt", unit="pc", cost=2.0, lead_days=10)
    bought = Bought(items=[unnamed], open_orders=[receipt("bolt", 20, 1)])
    assert bought.cash == [("2026-W49", "", 40.0, 0.0)]


def test_payments_are_told_to_a_hundredth_of_a_cent() -> None:
    cheap = BOLT | {"cost": 0.12344}
    bought = Bought(
        items=[cheap],
        spares_orders=[need("bolt", 2, 12)],
        open_orders=[receipt("bolt", 1, 1) | {"supplier": "HULM"}],
    )
    # one is on order, one is planned: 0.12344 each, of which four places are told
    assert bought.cash == [("2026-W51", "EUR", 0.1234, 0.0), ("2026-W53", "EUR", 0.0, 0.1234)]


def test_what_has_no_price_is_left_out_of_the_payments() -> None:
    unpriced = item("bolt", unit="pc", lead_days=10, supplier="HULM")
    bought = Bought(items=[unpriced], spares_orders=[need("bolt", 3, 12)])
    assert bought.lines["value"].to_list() == [None]
    assert bought.cash == []
    assert bought.lines.schema["value"] == pl.Float64


def test_an_offer_in_another_currency_is_named_with_its_total() -> None:
    prices = [price("HULM", 1, 2.0), price("DORN", 1, 9.0)]
    bought = Bought(spares_orders=[need("bolt", 30, 12)], prices=prices)
    assert bought.lines["elsewhere"].to_list() == ["DORN 270.00 SEK"]
