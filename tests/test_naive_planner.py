"""The naive planner on tiny cases worked by hand, and the random tables on two hundred seeds.

The plan starts on Monday 2026-11-30 (ISO week 2026-W49) and lasts two weeks: days 0 to 9.
"""

from collections import Counter
from collections.abc import Callable
from datetime import date, timedelta
from itertools import accumulate, islice

import pytest

from tests.naive_planner import (
    NaiveOrder,
    NaivePlanner,
    date_in,
    levels,
    naive_orders,
    naive_projection,
    serial_in_range,
    text_in,
    whole_in,
    working_days,
)
from tests.random_tables import Row, Tables, is_conditional, random_tables, serial_specific_items

MONDAY = date(2026, 11, 30)
SEEDS = range(200)
DEMAND_AND_SUPPLY = ("stock", "open_orders", "allocations", "spares_orders")


def day(number: int) -> date:
    """Return the working day of this number."""
    return MONDAY + timedelta(days=number // 5 * 7 + number % 5)


def plan_of(items: list[Row], **tables: list[Row]) -> Tables:
    """Return tables of a plan of two weeks; items are made and counted in pieces by default."""
    plan: list[Row] = [{"start": MONDAY, "horizon_weeks": 2}]
    return {
        "plan": plan,
        "items": [{"source": "make", "unit": "pc"} | item for item in items],
        **tables,
    }


def need(item: str, quantity: float, on: date, serial: str | None = None) -> Row:
    """Return one spares order."""
    return {"item": item, "quantity": quantity, "need_date": on, "serial": serial}


def shape(tables: Tables) -> list[tuple[str, str, int, int, float]]:
    """Return (item, serial, start day, due day, started) of each order."""
    number = {on: position for position, on in enumerate(working_days(tables).days)}
    return [
        (o.item, o.serial, number[o.start_date], number[o.due_date], round(o.quantity, 6))
        for o in naive_orders(tables)
    ]


def test_twelve_needs_with_eight_percent_scrap_take_fourteen_starts() -> None:
    processes: list[Row] = [{"process": "lay-up", "scrap_rate": 0.08}]
    needs = [need("rib", 1, day(number % 10)) for number in range(12)]
    tables = plan_of([{"item": "rib", "process": "lay-up"}], processes=processes)
    orders = naive_orders(tables | {"spares_orders": needs})
    assert sum(order.quantity for order in orders) == 14
    assert sum(order.expected_good for order in orders) == pytest.approx(14 * 0.92)


def test_the_scrap_rate_of_the_item_wins_over_that_of_its_process_even_if_it_is_zero() -> None:
    processes: list[Row] = [{"process": "lay-up", "scrap_rate": 0.5}]
    item: Row = {"item": "rib", "process": "lay-up", "scrap_rate": 0.0}
    tables = plan_of([item], processes=processes, spares_orders=[need("rib", 4, day(3))])
    assert shape(tables) == [("rib", "", 3, 3, 4)]


def test_lead_and_safety_days_move_an_order_back_and_the_cut_part_is_reported_as_late() -> None:
    item: Row = {"item": "spar", "lead_days": 6, "safety_days": 2}
    needs = [need("spar", 1, day(9)), need("spar", 1, day(4)), need("spar", 1, day(1))]
    orders = naive_orders(plan_of([item], spares_orders=needs))
    assert [(o.start_date, o.due_date, o.late_days) for o in orders] == [
        (day(0), day(0), 7),
        (day(1), day(7), 0),
    ]
    assert [order.quantity for order in orders] == [2, 1]  # one for what is late, days 1 and 4


def test_a_late_order_covers_what_is_needed_before_one_placed_today_is_in_time() -> None:
    # in time from day 8 on; a longest cover of 4 days from day 1 ends with day 4
    needs = [need("spar", number, day(number)) for number in (1, 4, 7, 8)]
    item: Row = {"item": "spar", "lead_days": 6, "safety_days": 2}
    assert shape(plan_of([item], spares_orders=needs)) == [
        ("spar", "", 0, 0, 12),
        ("spar", "", 0, 6, 8),
    ]
    spoiling = item | {"longest_cover_days": 4}
    assert shape(plan_of([spoiling], spares_orders=needs)) == [
        ("spar", "", 0, 0, 5),
        ("spar", "", 0, 5, 7),
        ("spar", "", 0, 6, 8),
    ]


def test_an_open_order_within_the_lead_time_counts_for_the_needs_before_it() -> None:
    item: Row = {"item": "spar", "lead_days": 6}
    needs = [need("spar", 2, day(3))]
    for due, expected in ((6, []), (7, [("spar", "", 0, 3, 2)])):
        receipts: list[Row] = [{"item": "spar", "quantity": 2, "due_date": day(due)}]
        assert shape(plan_of([item], open_orders=receipts, spares_orders=needs)) == expected


def test_an_open_saturday_is_a_working_day() -> None:
    saturday = day(5) - timedelta(days=2)
    tables = plan_of([{"item": "spar"}], calendar=[{"date": saturday, "open": "yes"}])
    assert working_days(tables).days[4:7] == (day(4), saturday, day(5))


def test_needs_move_back_to_a_working_day_and_receipts_move_forward() -> None:
    saturday = MONDAY + timedelta(days=5)
    tables = plan_of(
        [{"item": "bolt", "source": "buy"}],
        calendar=[{"date": day(4), "reason": "holiday"}],
        spares_orders=[need("bolt", 5, saturday)],
        open_orders=[{"item": "bolt", "quantity": 2, "due_date": day(4)}],
    )
    assert [(order.due_date, order.quantity) for order in naive_orders(tables)] == [(day(3), 5)]
    first, second = naive_projection(tables)
    assert (first.week, first.gross, first.receipts, first.planned) == ("2026-W49", 5, 0, 5)
    assert (second.week, second.receipts, second.projected) == ("2026-W50", 2, 2)


def test_overdue_counts_on_day_0_and_what_lies_past_the_horizon_is_left_out() -> None:
    needs = [need("bolt", 7, MONDAY - timedelta(days=9)), need("bolt", 90, day(10))]
    receipts: list[Row] = [
        {"item": "bolt", "quantity": 3, "due_date": MONDAY - timedelta(days=1)},
        {"item": "bolt", "quantity": 50, "due_date": day(9) + timedelta(days=1)},
        {"item": "bolt", "quantity": 50, "due_date": day(10)},
    ]
    tables = plan_of([{"item": "bolt"}], spares_orders=needs, open_orders=receipts)
    assert shape(tables) == [("bolt", "", 0, 0, 4)]


def test_an_order_covers_its_days_but_not_more_than_the_shelf_life() -> None:
    needs = [need("resin", 1, day(number)) for number in (2, 3, 4, 5, 6)]
    resin: Row = {"item": "resin", "cover_days": 4}
    assert shape(plan_of([resin], spares_orders=needs)) == [
        ("resin", "", 2, 2, 4),
        ("resin", "", 6, 6, 1),
    ]
    resin |= {"longest_cover_days": 2}
    assert [order[3:] for order in shape(plan_of([resin], spares_orders=needs))] == [
        (2, 2),
        (4, 2),
        (6, 1),
    ]


def test_an_order_is_raised_to_the_minimum_then_to_the_multiple_then_to_whole_pieces() -> None:
    item: Row = {"item": "rib", "minimum": 4, "multiple": 2.5}
    assert shape(plan_of([item], spares_orders=[need("rib", 1, day(0))]))[0][4] == 5
    assert shape(plan_of([item], spares_orders=[need("rib", 6, day(0))]))[0][4] == 8
    item |= {"unit": "kg"}
    assert shape(plan_of([item], spares_orders=[need("rib", 6, day(0))]))[0][4] == 7.5


def test_safety_stock_is_wanted_from_day_0_without_any_need() -> None:
    stock: list[Row] = [
        {"item": "bolt", "quantity": 2, "status": "usable"},
        {"item": "bolt", "quantity": 9, "status": "quarantine"},
    ]
    tables = plan_of([{"item": "bolt", "safety_stock": 6}], stock=stock)
    assert shape(tables) == [("bolt", "", 0, 0, 4)]
    assert [row.projected for row in naive_projection(tables)] == [6, 6]


def test_expiring_lots_serve_first_and_what_is_left_of_them_is_lost() -> None:
    # Lot 5 expires on day 3 and has served 2 by then; the lasting lot serves 4 of the other 8.
    saturday = MONDAY + timedelta(days=5)
    tables = plan_of(
        [{"item": "resin", "unit": "kg"}],
        calendar=[{"date": day(4)}],
        stock=[
            {"item": "resin", "quantity": 4},
            {"item": "resin", "quantity": 5, "expires": saturday},
            {"item": "resin", "quantity": 70, "expires": MONDAY - timedelta(days=1)},
        ],
        spares_orders=[need("resin", 2, day(1)), need("resin", 8, day(6))],
    )
    assert [(order.due_date, order.quantity) for order in naive_orders(tables)] == [(day(6), 4)]
    assert [row.projected for row in naive_projection(tables)] == [7, 0]


def test_lots_that_expire_earlier_serve_needs_before_lots_that_expire_later() -> None:
    # The lot of 4 serves 3 by day 2 and loses 1; the lot of 6 serves the other 4 and loses 2.
    stock: list[Row] = [
        {"item": "resin", "quantity": 6, "expires": day(5)},
        {"item": "resin", "quantity": 4, "expires": day(2)},
    ]
    needs = [need("resin", 3, day(1)), need("resin", 4, day(5)), need("resin", 1, day(6))]
    tables = plan_of([{"item": "resin"}], stock=stock, spares_orders=needs)
    assert shape(tables) == [("resin", "", 6, 6, 1)]


def test_a_line_asks_its_child_in_the_unit_of_the_child_with_waste_and_offset() -> None:
    # 4 skins x 500 g / (1 - 0.2) = 2.5 kg on day 3 + 2, and 0.1 kg once for the order on day 3 + 9
    # which is later than the due day 7.
    lines: list[Row] = [
        {"parent": "skin", "child": "resin", "quantity": 500, "unit": "g"}
        | {"waste": 0.2, "offset_days": 2},
        {"parent": "skin", "child": "resin", "quantity": 0.1, "per": "order", "offset_days": 9},
    ]
    tables = plan_of(
        [{"item": "skin", "lead_days": 4}, {"item": "resin", "source": "buy", "unit": "kg"}],
        structure=lines,
        spares_orders=[need("skin", 4, day(7))],
    )
    assert shape(tables) == [
        ("resin", "", 5, 5, 2.5),
        ("resin", "", 7, 7, 0.1),
        ("skin", "", 3, 7, 4),
    ]


def test_the_dates_of_a_line_compare_the_start_of_the_order_and_day_0_if_it_is_late() -> None:
    lines: list[Row] = [
        {"parent": "skin", "child": "old glue", "quantity": 1, "to_date": day(0)},
        {"parent": "skin", "child": "new glue", "quantity": 1, "from_date": day(1)},
    ]
    tables = plan_of(
        [{"item": "skin", "lead_days": 3}, {"item": "old glue"}, {"item": "new glue"}],
        structure=lines,
        spares_orders=[need("skin", 1, day(1)), need("skin", 2, day(4))],
    )
    assert shape(tables)[:2] == [("new glue", "", 1, 1, 2), ("old glue", "", 0, 0, 1)]


def test_each_serial_gets_its_own_options_and_nothing_of_another_serial() -> None:
    # The wing inherits its serial from the conditional line of its panel; the bolt is common.
    tables = plan_of(
        [{"item": name} for name in ("wing", "panel", "lamp", "bolt")],
        build_plan=[
            {"serial": "A-7", "item": "wing", "ready_date": day(5), "options": "lamps, radio"},
            {"serial": "A-8", "item": "wing", "ready_date": day(5), "options": "radio"},
        ],
        structure=[
            {"parent": "wing", "child": "panel", "quantity": 2},
            {"parent": "panel", "child": "lamp", "quantity": 1, "with_option": "radio;lamps"},
            {"parent": "panel", "child": "bolt", "quantity": 3, "without_option": "lamps floats"},
            {"parent": "panel", "child": "bolt", "quantity": 1, "from_serial": "A-008"},
        ],
        stock=[
            {"item": "panel", "quantity": 1, "serial": "A-7"},
            {"item": "bolt", "quantity": 5, "serial": "A-7"},
        ],
    )
    assert serial_specific_items(tables) == {"wing", "panel"}
    assert shape(tables) == [
        ("bolt", "", 5, 5, 3),
        ("lamp", "", 5, 5, 1),
        ("panel", "A-7", 5, 5, 1),
        ("panel", "A-8", 5, 5, 2),
        ("wing", "A-7", 5, 5, 1),
        ("wing", "A-8", 5, 5, 1),
    ]


def test_a_serial_specific_item_must_be_asked_for_a_known_serial() -> None:
    built: Row = {"serial": "A-7", "item": "wing", "ready_date": day(5)}
    tables = plan_of([{"item": "wing"}], build_plan=[built])
    with pytest.raises(ValueError, match="must name a serial"):
        naive_orders(tables | {"spares_orders": [need("wing", 1, day(5), "A-9")]})


def test_a_serial_range_compares_the_number_at_the_end_of_the_same_prefix() -> None:
    assert serial_in_range("A-010", "A-9", "A-10")
    assert not serial_in_range("A-011", "A-9", "A-10")
    assert not serial_in_range("B-010", "A-9", "")
    assert not serial_in_range("A-8", "A-9", "")
    assert serial_in_range("A-8", "", "A-9")


def test_a_phantom_passes_on_what_its_stock_does_not_cover_on_the_same_day() -> None:
    phantom: Row = {"item": "set", "source": "phantom", "lead_days": 5, "minimum": 50}
    phantom |= {"scrap_rate": 0.5, "safety_stock": 9}
    tables = plan_of(
        [phantom, {"item": "bolt"}, {"item": "label"}],
        structure=[
            {"parent": "set", "child": "bolt", "quantity": 2, "offset_days": 1},
            {"parent": "set", "child": "label", "quantity": 1, "per": "order"},
        ],
        stock=[{"item": "set", "quantity": 3}],
        open_orders=[{"item": "set", "quantity": 4, "due_date": day(6)}],
        spares_orders=[need("set", 2, day(1)), need("set", 4, day(4)), need("set", 5, day(8))],
    )
    # Short 3 on day 4; on day 8 the open order has brought 4 x 0.5, and 11 - 5 - 3 are short.
    assert shape(tables) == [
        ("bolt", "", 4, 4, 6),
        ("bolt", "", 8, 8, 6),
        ("label", "", 4, 4, 1),
        ("label", "", 8, 8, 1),
    ]
    planned = [row.planned for row in naive_projection(tables) if row.item == "set"]
    assert planned == [3, 3]


def test_old_stock_is_used_up_before_the_last_of_a_chain_of_replacements_is_ordered() -> None:
    tables = plan_of(
        [
            {"item": "glue", "unit": "g", "multiple": 1000, "lead_days": 3, "safety_stock": 50},
            {"item": "better glue", "unit": "kg"},
            {"item": "best glue", "unit": "g"},
        ],
        replacements=[
            {"old": "glue", "new": "better glue"},
            {"old": "better glue", "new": "best glue"},
        ],
        stock=[{"item": "glue", "quantity": 100}, {"item": "better glue", "quantity": 0.25}],
        spares_orders=[need("glue", 200, day(2)), need("glue", 300, day(5))],
    )
    assert shape(tables) == [("best glue", "", 5, 5, 150)]


def test_an_open_order_asks_only_for_its_allocations() -> None:
    tables = plan_of(
        [{"item": "skin"}, {"item": "cloth"}, {"item": "resin"}],
        structure=[
            {"parent": "skin", "child": "cloth", "quantity": 1},
            {"parent": "skin", "child": "resin", "quantity": 1},
        ],
        open_orders=[{"order": "17", "item": "skin", "quantity": 2, "due_date": day(4)}],
        allocations=[{"order": "17", "item": "resin", "quantity": 2, "need_date": day(1)}],
        spares_orders=[need("skin", 2, day(6))],
    )
    assert shape(tables) == [("resin", "", 1, 1, 2)]


def test_a_level_is_the_longest_distance_from_the_top_and_a_loop_is_an_error() -> None:
    tables = plan_of(
        [{"item": name} for name in "abcd"],
        structure=[{"parent": "a", "child": "b"}, {"parent": "a", "child": "d"}],
        replacements=[{"old": "b", "new": "c"}],
    )
    tables["structure"].append({"parent": "c", "child": "d"})
    assert levels(tables) == {"a": 0, "b": 1, "c": 2, "d": 3}
    tables["structure"].append({"parent": "d", "child": "b"})
    with pytest.raises(ValueError, match="loop"):
        levels(tables)


def test_an_exact_fit_with_rounding_noise_orders_nothing_more() -> None:
    needs = [need("resin", 0.1, day(number)) for number in range(3)]
    stock: list[Row] = [{"item": "resin", "quantity": 0.3}]
    tables = plan_of([{"item": "resin", "unit": "kg"}], stock=stock, spares_orders=needs)
    assert 0.1 + 0.1 + 0.1 > 0.3
    assert naive_orders(tables) == []


def order_is_sane(order: NaiveOrder) -> bool:
    """Tell whether an order is positive and starts before it is due."""
    return (
        order.quantity > 0
        and 0 < order.expected_good <= order.quantity
        and order.start_date <= order.due_date
        and order.late_days >= 0
        and order.source != "phantom"
    )


def test_two_hundred_random_plans_have_sane_orders() -> None:
    orders = [order for seed in SEEDS for order in naive_orders(random_tables(seed))]
    assert len(orders) > 10 * len(SEEDS)
    assert [order for order in orders if not order_is_sane(order)] == []


def test_two_hundred_random_plans_balance_and_fall_short_only_of_what_is_within_reach() -> None:
    for seed in SEEDS:
        planner = NaivePlanner(random_tables(seed))
        for (item, _), account in planner.accounts.items():
            row = planner.items[item]
            passes = text_in(row, "source") == "phantom" or item in planner.successor
            lead_days = 0 if passes else whole_in(row, "lead_days")
            there = account.supply_within_reach(lead_days)
            volume = sum(account.gross) + sum(account.planned) + 1
            planned, needed = accumulate(account.planned), accumulate(account.gross)
            for have, plan, want in zip(there, planned, needed, strict=True):
                assert have + plan - want >= -1e-8 * volume


def test_a_plan_does_not_depend_on_the_order_of_rows() -> None:
    def rounded(tables: Tables) -> list[tuple[str, str, date, date, float]]:
        return sorted(
            (o.item, o.serial, o.start_date, o.due_date, round(o.quantity, 6))
            for o in naive_orders(tables)
        )

    for seed in SEEDS[:40]:
        tables = random_tables(seed)
        turned = {name: rows[::-1] for name, rows in tables.items()}
        assert rounded(tables) == rounded(turned)


def test_random_tables_depend_on_the_seed_alone() -> None:
    assert random_tables(5) == random_tables(5)
    assert random_tables(5) != random_tables(6)


def problems_of(tables: Tables) -> list[str]:
    """Return what is not valid in random tables."""
    specific = serial_specific_items(tables)
    items = {str(item["item"]): item for item in tables["items"]}
    serials = [row["serial"] for row in [*tables["build_plan"], *tables["fleet"]]]
    parents = {str(line["parent"]) for line in tables["structure"]}
    has_lines = {name for name, item in items.items() if item["source"] != "buy"}
    named = [row for name in DEMAND_AND_SUPPLY for row in tables[name]]
    checks = {
        "serials repeat": len(serials) != len(set(serials)),
        "lines and sources disagree": parents != has_lines,
        "safety stock by serial": any("safety_stock" in items[name] for name in specific),
        "no serial": any(r["item"] in specific and r.get("serial") not in serials for r in named),
        "new is specific, old is not": any(
            row["new"] in specific and row["old"] not in specific for row in tables["replacements"]
        ),
        "print without material": any(
            item["source"] == "print" and not item.get("material") for item in items.values()
        ),
    }
    return [problem for problem, found in checks.items() if found]


def test_random_tables_are_valid() -> None:
    found = {seed: problems_of(random_tables(seed)) for seed in SEEDS}
    assert {seed: problems for seed, problems in found.items() if problems} == {}


def columns_used(tables: Tables) -> set[str]:
    """Return table.column for each column that has a value."""
    return {f"{name}.{column}" for name, rows in tables.items() for row in rows for column in row}


def expiries(tables: Tables) -> list[date]:
    """Return the expiry dates in stock."""
    dates = (date_in(row, "expires") for row in tables["stock"])
    return [expires for expires in dates if expires is not None]


RULES: dict[str, Callable[[Tables], bool]] = {
    "start is not a working Monday": lambda t: (
        date_in(t["plan"][0], "start") not in working_days(t).days
        or working_days(t).days[0].isoweekday() != 1
    ),
    "chain of replacements": lambda t: bool(
        {r["old"] for r in t["replacements"]} & {r["new"] for r in t["replacements"]}
    ),
    "expired lot": lambda t: any(e < working_days(t).days[0] for e in expiries(t)),
    "lot expires past the horizon": lambda t: any(e >= working_days(t).end for e in expiries(t)),
    "equal expiries of one item": lambda t: any(
        count > 1
        for count in Counter(
            (r["item"], date_in(r, "expires")) for r in t["stock"] if r.get("expires")
        ).values()
    ),
    "conditional phantom": lambda t: bool(
        {line["parent"] for line in t["structure"] if is_conditional(line)}
        & {item["item"] for item in t["items"] if item["source"] == "phantom"}
    ),
    "common child of a serial-specific item": lambda t: any(
        line["parent"] in serial_specific_items(t) and line["child"] not in serial_specific_items(t)
        for line in t["structure"]
    ),
    "late order": lambda t: any(order.late_days for order in naive_orders(t)),
    "two orders with the same dates": lambda t: (
        max(
            Counter((o.item, o.serial, o.start_date, o.due_date) for o in naive_orders(t)).values(),
            default=0,
        )
        > 1
    ),
}


@pytest.mark.parametrize("rule", RULES)
def test_every_rule_appears_in_several_random_plans(rule: str) -> None:
    found = (seed for seed in SEEDS if RULES[rule](random_tables(seed)))
    assert len(list(islice(found, 5))) == 5


def test_every_planning_column_has_values_in_many_random_plans() -> None:
    used = Counter(column for seed in SEEDS for column in columns_used(random_tables(seed)))
    planning_columns = {
        "items": "lead_days safety_days scrap_rate process minimum multiple cover_days "
        "longest_cover_days safety_stock",
        "structure": "unit per waste offset_days with_option without_option from_serial to_serial "
        "from_date to_date",
        "stock": "expires serial status",
        "open_orders": "due_date serial",
        "allocations": "need_date serial",
        "spares_orders": "need_date serial",
        "fleet": "options",
        "replacements": "new",
        "calendar": "date",
    }
    rare = [
        f"{table}.{column}"
        for table, columns in planning_columns.items()
        for column in columns.split()
        if used[f"{table}.{column}"] < 40
    ]
    assert rare == []
