"""What fills up an order below a supplier's minimum."""

from bomkit.planning.buying.supplier_minimum import Later, to_bring_forward


def test_later_orders_are_brought_forward_cheapest_holding_first_until_it_is_enough() -> None:
    later = [Later("b-3", 100, 7), Later("b-4", 20, 14), Later("b-5", 60, 28)]
    assert [each.order for each in to_bring_forward(later, 90)] == ["b-4", "b-3"]
    assert [each.order for each in to_bring_forward(later, 20)] == ["b-4"]
    assert to_bring_forward(later, 181) == []
    assert to_bring_forward(later, 0) == []
