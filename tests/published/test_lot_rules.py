"""Published records under several lot rules, each with its source.

"Read" means that inputs and answers stand in the source, "recalled from memory" that the source
was not at hand. A week is five working days; needs and receipts fall on its first day.
"""

from tests.planning.driver import (
    WEEK,
    Plan,
    item,
    lot,
    need,
    needs_by_period,
    plan_of,
    plan_over,
    receipt,
    releases,
)


def record_under(**rule: object) -> Plan:
    """Lead time 2 weeks, 37 on hand, 230 due in week 1."""
    return plan_over(
        8,
        [item("part", unit="pc", lead_days=2 * WEEK, **rule)],
        stock=[lot("part", 37)],
        open_orders=[receipt("part", 230, 0)],
        spares_orders=needs_by_period("part", [150, 0, 0, 120, 0, 150, 120, 0]),
    )


def test_lot_for_lot_orders_what_each_week_lacks() -> None:
    """Krajewski, Ritzman and Malhotra, Operations Management, chapter on resource planning.
    Read."""
    plan = record_under()
    assert plan.weekly("part", "planned") == [0, 0, 0, 3, 0, 150, 120, 0]
    assert releases(plan, "part", 8) == [0, 3, 0, 150, 120, 0, 0, 0]


def test_a_fixed_quantity_leaves_what_it_exceeds_on_hand() -> None:
    """The same record. Read."""
    plan = record_under(multiple=230)
    assert plan.weekly("part", "planned") == [0, 0, 0, 230, 0, 0, 230, 0]
    assert plan.weekly("part", "projected") == [117, 117, 117, 227, 227, 77, 187, 187]
    assert releases(plan, "part", 8) == [0, 230, 0, 0, 230, 0, 0, 0]


def test_a_period_of_three_weeks_is_covered_by_one_order() -> None:
    """The same record. Recalled from memory, recomputed."""
    plan = record_under(cover_days=3 * WEEK)
    assert plan.weekly("part", "planned") == [0, 0, 0, 153, 0, 0, 120, 0]
    assert releases(plan, "part", 8) == [0, 153, 0, 0, 120, 0, 0, 0]


def test_a_lot_size_meant_as_a_minimum_is_exceeded_by_a_greater_need() -> None:
    """Orlicky's Material Requirements Planning, 3rd ed., p. 146: lot 60, net 75. Read."""
    plan = plan_of([item("part", minimum=60)], spares_orders=[need("part", 75, WEEK)])
    assert plan.orders_of("part") == [(WEEK, WEEK, 75)]


def test_a_subassembly_in_economic_lots() -> None:
    """Lecture notes "Lot sizing in MRP systems". Read."""
    plan = plan_over(
        6,
        [item("subassembly", source="make", unit="pc", lead_days=WEEK, multiple=652)],
        stock=[lot("subassembly", 110)],
        spares_orders=needs_by_period("subassembly", [0, 120, 480, 440, 800, 400]),
    )
    assert plan.weekly("subassembly", "projected") == [110, 642, 162, 374, 226, 478]
    assert plan.weekly("subassembly", "planned") == [0, 652, 0, 652, 652, 652]
    assert releases(plan, "subassembly", 6) == [652, 0, 652, 652, 652, 0]
