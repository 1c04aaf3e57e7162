"""Published examples of requirements planning, each with its source.

"Read" means that inputs and answers stand in the source; "recomputed" that only the inputs do;
"recalled from memory" that the source was not at hand. One week or period of an example is five
working days without closed days; needs and receipts fall on its first day.
"""

import pytest

from tests.planning.driver import (
    WEEK,
    Plan,
    item,
    line,
    lot,
    need,
    needs_by_period,
    plan_of,
    plan_over,
    receipt,
    releases,
)

BRACKET_LINES = [
    line("bracket", "base", 1),
    line("bracket", "spring", 2),
    line("bracket", "clamp", 4),
    line("base", "clamp", 1),
    line("base", "housing", 2),
    line("clamp", "handle", 1),
    line("clamp", "casting", 1),
    line("housing", "bearing", 2),
    line("housing", "shaft", 1),
]
BRACKET_PARTS = ["base", "spring", "clamp", "handle", "casting", "housing", "bearing", "shaft"]

SEVEN_LINES = [
    line("A", "B", 2),
    line("A", "C", 3),
    line("B", "D", 2),
    line("B", "E", 2),
    line("C", "E", 2),
    line("C", "F", 2),
    line("F", "D", 2),
    line("F", "G", 1),
]
SEVEN_LEADS = {"A": 1, "B": 2, "C": 1, "D": 1, "E": 2, "F": 3, "G": 2}


def total_gross(plan: Plan, name: str) -> float:
    return sum(plan.gross_of(name).values())


def total_planned(plan: Plan, name: str) -> float:
    return sum(quantity for _, _, quantity in plan.orders_of(name))


def test_a_single_record_is_netted_period_by_period() -> None:
    """Ptak and Smith, Orlicky's Material Requirements Planning, 3rd ed., McGraw-Hill 2011,
    figures 7-2 to 7-7, pp. 121-123. Read."""
    plan = plan_over(
        8,
        [item("part")],
        stock=[lot("part", 23)],
        open_orders=[receipt("part", 30, 2 * WEEK)],
        spares_orders=needs_by_period("part", [0, 20, 0, 25, 0, 15, 12, 0]),
    )
    assert plan.weekly("part", "gross") == [0, 20, 0, 25, 0, 15, 12, 0]
    assert plan.weekly("part", "receipts") == [0, 0, 30, 0, 0, 0, 0, 0]
    net = plan.weekly("part", "planned")
    assert net == [0, 0, 0, 0, 0, 7, 12, 0]
    assert sum(net) == 19
    # the book shows what would be on hand without planned orders
    bare = [
        on_hand - sum(net[: w + 1]) for w, on_hand in enumerate(plan.weekly("part", "projected"))
    ]
    assert bare == [23, 3, 33, 8, 8, -7, -19, -19]


def test_three_levels_are_offset_by_their_lead_times() -> None:
    """The same book, figure 7-10, p. 129. Read."""
    plan = plan_over(
        9,
        [item(name, source="make", lead_days=2 * WEEK) for name in "ABC"],
        structure=[line("A", "B"), line("B", "C")],
        stock=[lot("A", 12), lot("B", 28), lot("C", 8)],
        open_orders=[receipt("A", 14, 2 * WEEK)],
        spares_orders=needs_by_period("A", [10, 0, 15, 10, 20, 5, 0, 10, 15]),
    )
    assert releases(plan, "A", 9) == [0, 9, 20, 5, 0, 10, 15, 0, 0]
    assert releases(plan, "B", 9) == [1, 5, 0, 10, 15, 0, 0, 0, 0]
    assert releases(plan, "C", 9) == [0, 8, 15, 0, 0, 0, 0, 0, 0]
    assert plan.weekly("B", "gross") == [0, 9, 20, 5, 0, 10, 15, 0, 0]
    assert plan.weekly("C", "gross") == [1, 5, 0, 10, 15, 0, 0, 0, 0]
    assert plan.orders["late_days"].to_list() == [0] * len(plan.orders)


def test_each_level_is_netted_before_it_is_exploded() -> None:
    """The same book, pp. 104-105: a hundred trucks. Read. Netting each part against 100 would
    give 54 of D."""
    plan = plan_of(
        [item(name, source="make", unit="pc") for name in "XABCD"],
        structure=[line(above, below) for above, below in zip("XABC", "ABCD", strict=True)],
        stock=[lot("A", 2), lot("B", 15), lot("C", 7), lot("D", 46)],
        spares_orders=[need("X", 100, 0)],
    )
    assert [total_planned(plan, name) for name in "XABCD"] == [100, 98, 83, 76, 30]


def test_a_part_on_two_levels_is_planned_once_for_both() -> None:
    """Heizer and Render, Operations Management, 12th ed., Pearson 2017, problem 14.3.
    Inputs read, answers recomputed."""
    items = [item(name, source="make", unit="pc") for name in ["bracket", *BRACKET_PARTS]]
    wanted = [need("bracket", 50, WEEK)]
    bare = plan_of(items, structure=BRACKET_LINES, spares_orders=wanted)
    gross = [total_gross(bare, name) for name in BRACKET_PARTS]
    assert gross == [50, 100, 250, 250, 250, 100, 200, 100]
    stock = [lot("base", 25), lot("clamp", 100)]
    netted = plan_of(items, structure=BRACKET_LINES, spares_orders=wanted, stock=stock)
    planned = [total_planned(netted, name) for name in BRACKET_PARTS]
    assert planned == [25, 100, 125, 125, 125, 50, 100, 50]


def seven_items(stock: dict[str, float]) -> Plan:
    """The plan of 50 A in week 8."""
    items = [
        item(name, source="make", unit="pc", lead_days=weeks * WEEK)
        for name, weeks in SEVEN_LEADS.items()
    ]
    return plan_over(
        8,
        items,
        structure=SEVEN_LINES,
        stock=[lot(name, quantity) for name, quantity in stock.items()],
        spares_orders=[need("A", 50, 7 * WEEK)],
    )


def releases_by_week(plan: Plan) -> dict[str, dict[int, float]]:
    """What is started of each item, by week; the first is week 1."""
    return {
        name: {start // WEEK + 1: quantity for start, _, quantity in plan.orders_of(name)}
        for name in SEVEN_LEADS
    }


def test_seven_items_on_four_levels_without_stock() -> None:
    """Heizer and Render, chapter 14, examples 1 to 4. Recalled from memory, recomputed."""
    assert releases_by_week(seven_items({})) == {
        "A": {7: 50},
        "B": {5: 100},
        "C": {6: 150},
        "E": {3: 200, 4: 300},
        "F": {3: 300},
        "D": {2: 600, 4: 200},
        "G": {1: 300},
    }


def test_seven_items_on_four_levels_with_stock() -> None:
    """Heizer and Render, chapter 14, examples 1 to 4. Recalled from memory, recomputed."""
    stock: dict[str, float] = {"A": 10, "B": 15, "C": 20, "D": 10, "E": 10, "F": 5}
    assert releases_by_week(seven_items(stock)) == {
        "A": {7: 40},
        "B": {5: 65},
        "C": {6: 100},
        "E": {3: 120, 4: 200},
        "F": {3: 195},
        "D": {2: 380, 4: 130},
        "G": {1: 195},
    }


def test_a_need_less_stock_and_open_orders_is_the_net_requirement() -> None:
    """Orlicky's Material Requirements Planning, 3rd ed., p. 96. Read."""
    plan = plan_of(
        [item("part", unit="pc")],
        stock=[lot("part", 25)],
        open_orders=[receipt("part", 50, WEEK)],
        spares_orders=[need("part", 120, 2 * WEEK)],
    )
    assert plan.orders_of("part") == [(2 * WEEK, 2 * WEEK, 45)]


def test_a_lead_time_longer_than_the_time_left_makes_the_release_overdue() -> None:
    """The same book, p. 168: lead time 5 periods, 25 wanted in period 4. Read."""
    # period 4 begins on day 15; 25 days before it is day -10, two periods ago
    plan = plan_of(
        [item("part", unit="pc", lead_days=5 * WEEK)], spares_orders=[need("part", 25, 3 * WEEK)]
    )
    assert plan.orders_of("part") == [(0, 3 * WEEK, 25)]
    assert plan.late_days_of("part") == [2 * WEEK]


@pytest.mark.parametrize("source", ["make", "buy"])
def test_pieces_cut_from_sheets_come_in_whole_sheets(source: str) -> None:
    """The same book, p. 158: nine pieces a sheet, 30 wanted, so four sheets and 36. Read."""
    plan = plan_of(
        [item("piece", source=source, unit="pc", multiple=9), item("sheet", unit="pc")],
        structure=[line("piece", "sheet", 1 / 9)],
        spares_orders=[need("piece", 30, WEEK)],
    )
    assert plan.orders_of("piece") == [(WEEK, WEEK, 36)]
    assert plan.orders_of("sheet") == [(WEEK, WEEK, 4)]
