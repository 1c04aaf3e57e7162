"""What fills up an order below a supplier's minimum."""

import datetime as dt

import polars as pl

from bomkit.planning.buying.supplier_minimum import Later, fill_ups, to_bring_forward


def test_later_orders_are_brought_forward_cheapest_holding_first_until_it_is_enough() -> None:
    later = [Later("b-3", 100, 7), Later("b-4", 20, 14), Later("b-5", 60, 28)]
    assert [each.order for each in to_bring_forward(later, 90)] == ["b-4", "b-3"]
    assert [each.order for each in to_bring_forward(later, 20)] == ["b-4"]
    assert to_bring_forward(later, 181) == []
    assert to_bring_forward(later, 0) == []


def test_days_brought_forward_count_from_the_first_order_of_the_week() -> None:
    start = dt.date(2026, 11, 30)
    days = {"b-1": 1, "b-2": 3, "b-3": 10}
    orders = pl.DataFrame(
        {"order": list(days), "start_date": [start + dt.timedelta(day) for day in days.values()]}
    )
    lines = pl.DataFrame(
        {
            "order": list(days),
            "item": ["bolt"] * 3,
            "supplier": ["screws"] * 3,
            "value": [20.0, 30.0, 60.0],
            "currency": ["EUR"] * 3,
        }
    )
    suppliers = pl.DataFrame(
        {"supplier": ["screws"], "order_minimum": [100.0], "currency": ["EUR"]}
    )
    added = fill_ups({"suppliers": suppliers}, orders, lines, ["2026-W49", "2026-W50"])
    assert added.select("week", "order", "value", "days").rows() == [("2026-W49", "b-3", 60.0, 9)]
