"""The tables of orders and of the planning record: names, figures kept, what is nothing."""

import pytest

from tests.planning.driver import Plan, day, item, line, lot, need, piece, plan_of, receipt


def resin(quantity: float, on_hand: float = 0, **rules: object) -> Plan:
    """The plan of a need of resin on day 2."""
    return plan_of(
        [item("resin", **rules)],
        stock=[lot("resin", on_hand)],
        spares_orders=[need("resin", quantity, 2)],
    )


def test_orders_are_numbered_by_source_start_item_and_day_with_four_figures() -> None:
    plan = plan_of(
        [piece("fin", "make", 1), piece("set", "kit", 1), piece("lug"), item("glue")],
        structure=[line("fin", "lug"), line("set", "glue")],
        spares_orders=[
            need("fin", 1, 9),
            need("fin", 1, 4),
            need("set", 1, 4),
            need("glue", 2, 1),
            need("glue", 1, 3, order="later"),
        ],
    )
    told = plan.orders.select("order", "item", "start").sort("order").rows()
    assert told == [
        ("buy-0001", "glue", 1),
        ("buy-0002", "glue", 3),
        ("buy-0003", "lug", 3),
        ("buy-0004", "lug", 8),
        ("make-0001", "fin", 3),
        ("make-0002", "fin", 8),
        ("pack-0001", "set", 3),
    ]


def test_quantities_keep_twelve_figures() -> None:
    assert resin(1 / 3).orders["quantity"].to_list() == [0.333333333333]
    scrapped = resin(1000 / 3, scrap_rate=0.5).orders
    assert scrapped.select("quantity", "expected_good").rows() == [(666.666666667, 333.333333333)]


@pytest.mark.parametrize(("multiple", "ordered"), [(0.25, 1.25), (0.5, 1.5), (1, 2), (0, 1.2)])
def test_small_multiples_are_kept_to_as_well(multiple: float, ordered: float) -> None:
    assert resin(1.2, multiple=multiple).orders["quantity"].to_list() == [ordered]


def test_half_a_unit_that_is_always_kept_is_ordered_though_nobody_asks() -> None:
    plan = plan_of([item("resin", safety_stock=0.5), item("tape", safety_stock=0)])
    assert plan.orders.select("item", "quantity").rows() == [("resin", 0.5)]


def test_a_late_order_arrives_by_its_own_lead_time_and_one_in_time_on_its_day() -> None:
    columns = ("start_date", "due_date", "arrives", "late_days")
    rules = {"lead_days": 4, "safety_days": 1}
    assert resin(1, **rules).orders.select(columns).rows() == [(day(0), day(1), day(4), 3)]
    quick = resin(1, lead_days=1, safety_days=1).orders
    assert quick.select(columns).rows() == [(day(0), day(1), day(1), 0)]


def test_what_is_left_of_much_is_shown_and_what_arithmetic_leaves_is_not() -> None:
    assert resin(1000, 1000.5).weekly("resin", "projected") == [0.5] * 4
    plan = plan_of(
        [item("resin")],
        stock=[lot("resin", 0.3)],
        spares_orders=[need("resin", 0.1, 1), need("resin", 0.2, 2)],
    )
    assert plan.weekly("resin", "projected") == [0.0] * 4


def test_the_record_says_of_each_week_what_is_asked_comes_and_is_left() -> None:
    plan = plan_of(
        [item("resin"), item("tape")],
        stock=[lot("resin", 1)],
        open_orders=[receipt("resin", 4, 6), receipt("tape", 1, 0)],
        spares_orders=[
            *(need("resin", 2, when) for when in (3, 8, 12)),
            need("tape", 3, 17),
        ],
    )
    columns = ("item", "week", "gross", "receipts", "planned", "projected")
    assert plan.projection.select(columns).rows() == [
        ("resin", "2026-W49", 2, 0, 1, 0),
        ("resin", "2026-W50", 2, 4, 0, 2),
        ("resin", "2026-W51", 2, 0, 0, 0),
        ("resin", "2026-W52", 0, 0, 0, 0),
        ("tape", "2026-W49", 0, 1, 0, 1),
        ("tape", "2026-W50", 0, 0, 0, 1),
        ("tape", "2026-W51", 0, 0, 0, 1),
        ("tape", "2026-W52", 3, 0, 2, 0),
    ]
