"""The late forecast: how early everything can be, what sets the date, and who can start.

Chains are (item, supply, first day, days, last day), what comes first in front.
"""

from itertools import pairwise

import polars as pl
import pytest
from hypothesis import given

from bomkit.planning.forecast.forecast import forecast, foreseen
from bomkit.planning.forecast.peg_graph import peg_graph
from bomkit.tables.shared_columns import NEVER
from tests.planning.driver import (
    Plan,
    airframe,
    day,
    item,
    line,
    lot,
    need,
    piece,
    plan_of,
    plan_over,
    receipt,
)
from tests.planning.random_plans import FOLDERS, each, random_plan, seeds, some
from tests.random_tables import Row, random_tables, serial_specific_items


def test_an_airframe_with_everything_in_stores_takes_its_own_lead_time() -> None:
    plan = plan_of(
        [piece("glider", "make", 3), piece("bolt", "buy", 9)],
        structure=[line("glider", "bolt")],
        build_plan=[airframe("KL-1", "glider", 12)],
        stock=[lot("bolt", 1)],
    )
    assert plan.earliest_of("KL-1") == (day(3), 0, 9)
    assert plan.chain_of("KL-1") == [("glider", "make-0001", day(0), 3, day(3))]


def test_the_longest_chain_of_lead_times_sets_the_date() -> None:
    # wing: cloth 8, then 4, then the glider 3; fin: 2, then 3
    plan = plan_of(
        [
            piece("glider", "make", 3),
            piece("wing", "make", 4),
            piece("fin", "make", 2),
            item("cloth", lead_days=8),
        ],
        structure=[line("glider", "wing"), line("glider", "fin"), line("wing", "cloth", 2)],
        build_plan=[airframe("KL-1", "glider", 10)],
    )
    assert plan.earliest_of("KL-1") == (day(15), 5, 0)
    assert plan.chain_of("KL-1") == [
        ("cloth", "buy-0001", day(0), 8, day(8)),
        ("wing", "make-0001", day(8), 4, day(12)),
        ("glider", "make-0003", day(12), 3, day(15)),
    ]


def test_a_component_that_is_needed_some_days_after_the_start_holds_up_by_less() -> None:
    plan = plan_of(
        [piece("glider", "make", 6), piece("seat", "buy", 9)],
        structure=[line("glider", "seat", offset_days=4)],
        build_plan=[airframe("KL-1", "glider", 15)],
    )
    assert plan.earliest_of("KL-1") == (day(11), 0, 4)


def test_an_open_order_comes_on_its_day_and_paces_what_waits_for_it() -> None:
    plan = plan_of(
        [piece("glider", "make", 3), piece("engine", "buy", 15)],
        structure=[line("glider", "engine")],
        build_plan=[airframe("KL-1", "glider", 8)],
        open_orders=[receipt("engine", 1, 7, order="B-9")],
    )
    assert plan.earliest_of("KL-1") == (day(10), 2, 0)
    assert plan.chain_of("KL-1") == [
        ("engine", "B-9", None, 0, day(7)),
        ("glider", "make-0001", day(7), 3, day(10)),
    ]


def test_an_overdue_open_order_counts_on_the_first_day_and_is_named_as_overdue() -> None:
    plan = plan_of(
        [piece("glider", "make", 3), piece("seat", "make", 2), piece("belt", "buy", 4)],
        structure=[line("glider", "seat"), line("seat", "belt")],
        build_plan=[airframe("KL-1", "glider", 8)],
        open_orders=[receipt("seat", 1, -2, order="B-9")],
        allocations=[{"order": "B-9", "item": "belt", "quantity": 1, "need_date": day(-4)}],
    )
    # the belt can be there on day 4, four days after it counts as needed
    assert plan.chain_of("KL-1")[:2] == [
        ("belt", "buy-0001", day(0), 4, day(4)),
        ("seat", "B-9", None, 4, day(4)),
    ]
    assert plan.pacing["overdue_since"].to_list() == [None, day(-2), None]
    assert plan.earliest_of("KL-1") == (day(7), 0, 1)


def test_what_an_open_order_lacks_makes_it_late_by_as_many_days() -> None:
    plan = plan_of(
        [piece("glider", "make", 3), piece("belt", "buy", 6)],
        structure=[line("glider", "belt")],
        build_plan=[airframe("KL-1", "glider", 5)],
        open_orders=[receipt("glider", 1, 5, order="W-1", serial="KL-1")],
        allocations=[{"order": "W-1", "item": "belt", "quantity": 1, "need_date": day(2)}],
    )
    assert plan.earliest_of("KL-1") == (day(9), 4, 0)
    assert plan.chain_of("KL-1") == [
        ("belt", "buy-0001", day(0), 6, day(6)),
        ("glider", "W-1", None, 4, day(9)),
    ]


def test_an_open_order_may_lack_what_stands_beside_it_in_the_structure() -> None:
    # a one-off: the seat in work lacks a rack, which is made on the same level from bar
    plan = plan_of(
        [
            piece("glider", "make", 3),
            piece("seat", "make", 2),
            piece("rack", "make", 5),
            piece("bar", "buy", 4),
        ],
        structure=[line("glider", "seat"), line("glider", "rack"), line("rack", "bar")],
        build_plan=[airframe("KL-1", "glider", 15)],
        open_orders=[receipt("seat", 1, 2, order="W-1")],
        allocations=[{"order": "W-1", "item": "rack", "quantity": 1, "need_date": day(1)}],
    )
    # rack: 4 + 5, so the seat of day 2 is 8 days late
    assert plan.earliest_of("KL-1") == (day(13), 0, 2)


def test_open_orders_that_lack_each_other_still_get_a_date() -> None:
    plan = plan_of(
        [piece("glider", "make", 3), piece("seat", "make", 2), piece("rack", "make", 5)],
        structure=[line("glider", "seat"), line("glider", "rack")],
        build_plan=[airframe("KL-1", "glider", 15)],
        open_orders=[receipt("seat", 1, 2, order="W-1"), receipt("rack", 1, 4, order="W-2")],
        allocations=[
            {"order": "W-1", "item": "rack", "quantity": 1, "need_date": day(1)},
            {"order": "W-2", "item": "seat", "quantity": 1, "need_date": day(1)},
        ],
    )
    # no date unties the loop, so both count with their own days; a further rack takes five
    assert plan.earliest_of("KL-1") == (day(8), 0, 7)
    lacked = plan.pegs.filter(demand_kind="in work").select("demand", "supply", "comes").rows()
    assert lacked == [("W-1", "W-2", day(4)), ("W-2", "W-1", day(2))]


def test_days_late_of_what_is_overdue_count_from_the_day_it_was_wanted() -> None:
    plan = plan_of([piece("glider", "make", 3)], build_plan=[airframe("KL-1", "glider", -20)])
    assert plan.earliest_of("KL-1") == (day(3), 23, 0)


def test_phantoms_and_replaced_items_hand_waiting_on() -> None:
    plan = plan_of(
        [
            piece("glider", "make", 3),
            piece("set", "phantom"),
            piece("old", "buy", 2),
            piece("new", "buy", 7),
        ],
        structure=[line("glider", "set"), line("set", "old")],
        build_plan=[airframe("KL-1", "glider", 5)],
        replacements=[{"old": "old", "new": "new"}],
    )
    assert plan.earliest_of("KL-1") == (day(10), 5, 0)
    assert [link[0] for link in plan.chain_of("KL-1")] == ["new", "glider"]


def test_mending_the_first_link_improves_the_date_or_names_the_next_one() -> None:
    items = [
        piece("glider", "make", 3),
        piece("wing", "make", 4),
        piece("gear", "buy", 9),
        item("cloth", lead_days=8),
    ]
    structure = [line("glider", "wing"), line("glider", "gear"), line("wing", "cloth")]
    ready = [airframe("KL-1", "glider", 10)]
    stock = []
    seen = []
    for _ in range(3):
        plan = plan_of(items, structure=structure, build_plan=ready, stock=stock)
        first = plan.chain_of("KL-1")[0][0]
        seen.append((first, plan.earliest_of("KL-1")[0]))
        stock = [*stock, lot(first, 1)]
    assert seen == [("cloth", day(15)), ("gear", day(12)), ("wing", day(7))]


def naive_ends(plan: Plan) -> dict[tuple[str, str], int]:
    """The end of each order and demand, found by putting off by a day whatever lacks something.

    Everything begins on day 0. As long as anybody needs a component before it is there, that one
    begins a day later; whoever waits for it is looked at again.
    """
    network = plan.network
    leads = dict(network.items.select("item_id", "lead").rows())
    kinds = dict(plan.pegged.demands.select("demand_id", "kind").rows())
    names = dict(plan.pegged.demands.select("demand_id", "demand").rows())
    start = dict(plan.orders.select("order", "start").rows())
    delay: dict[tuple[str, str], int] = {}
    lead = {
        ("planned order", order): leads[key // network.serial_count]
        for order, key in plan.orders.select("order", "key").rows()
    }
    pegs = plan.told_pegs.filter(pl.col("kind") != "passed on").select(
        "from_order", "demand_id", "day", "kind", "supply", "usable"
    )

    def ready(kind: str, supply: str, usable: int) -> int:
        if kind == "stock":
            return 0
        if kind == "open order":
            return usable + delay.get(("open order", supply), 0)
        return delay.get((kind, supply), 0) + lead[kind, supply]

    moved = True
    while moved:
        moved = False
        for from_order, demand_id, needed, kind, supply, usable in pegs.rows():
            there = ready(kind, supply, usable)
            if from_order:
                waiting, bound = ("planned order", from_order), needed - start[from_order]
            elif kinds[demand_id] == "in work":
                waiting, bound = ("open order", names[demand_id]), needed
            else:
                waiting, bound = ("demand", str(demand_id)), 0
            while there > delay.get(waiting, 0) + bound:
                delay[waiting] = delay.get(waiting, 0) + 1
                moved = True
    return delay


def loops_through_open_orders(plan: Plan) -> bool:
    """Whether an open order lacks something that its own item goes into or stands beside."""
    levels = dict(plan.network.items.select("item_id", "level").rows())
    count = plan.network.serial_count
    lacking = plan.network.demands.filter(pl.col("kind") == "in work")
    made = plan.network.receipts.select("order", own=pl.col("key") // count)
    links = lacking.select(order="demand", child=pl.col("key") // count).join(made, on="order")
    return any(levels[own] >= levels[child] for _, child, own in links.rows())


@each
@given(seed=seeds)
def test_no_demand_is_forecast_earlier_or_later_than_a_simulation_by_days_says(seed: int) -> None:
    plan = random_plan(seed)
    if loops_through_open_orders(plan):
        return  # has tests of its own; a loop has no end that a simulation could reach
    simulated = naive_ends(plan)
    found = dict(plan.ahead.demands.select("demand_id", "end").rows())
    assert found == {number: simulated.get(("demand", str(number)), 0) for number in found}
    asked = plan.told_pegs.filter(pl.col("from_order") == "").join(
        plan.pegged.demands.filter(~pl.col("kind").is_in(["in work", "stock", "several"])),
        on="demand_id",
        how="semi",
    )
    assert set(found) >= set(asked.filter(pl.col("kind") != "passed on")["demand_id"])


def test_the_simulation_is_tried_on_random_tables_with_open_orders_that_lack_something() -> None:
    plans = [random_plan(seed) for seed in FOLDERS]
    tried = [plan for plan in plans if not loops_through_open_orders(plan)]
    assert len(tried) > 20
    assert any(len(plan.network.demands.filter(pl.col("kind") == "in work")) for plan in tried)
    assert any(plan.ahead.demands["late_days"].max() for plan in tried)


@each
@given(seed=seeds)
def test_every_link_of_a_pacing_chain_holds(seed: int) -> None:
    plan = random_plan(seed)
    begin = dict(plan.ahead.nodes.select("node", "begin").rows())
    end = dict(plan.ahead.nodes.select("node", "end").rows())
    whole = dict(plan.ahead.demands.select("demand_id", "end").rows())
    for chain in plan.ahead.chains.partition_by("demand_id"):
        links = chain.sort("step").select("node", "needed_after").rows()
        for (node, lag), (later, _) in pairwise(links):
            assert end[node] - lag == begin[later]
        assert end[links[-1][0]] == whole[chain["demand_id"][0]]


@some
@given(seed=seeds)
def test_without_lead_times_only_stock_kept_for_a_serial_makes_anybody_wait(seed: int) -> None:
    tables = random_tables(seed)
    quick = {"lead_days": 0, "safety_days": 0}
    specific = serial_specific_items(tables)
    plan = Plan(
        tables
        | {
            "items": [row | quick for row in tables["items"]],
            "stock": [
                row for row in tables["stock"] if row["item"] in specific or not row.get("serial")
            ],
        }
    )
    if loops_through_open_orders(plan):
        return
    assert plan.pegs.filter(pl.col("late_days") > 0).rows() == []
    wanted_already = pl.col("ready_date") < plan.network.axis.dates[0]
    assert plan.forecast.filter((pl.col("late_days") > 0) & ~wanted_already).rows() == []


def states(plan: Plan) -> dict[str, tuple[str, int]]:
    """For each item its order's state and how many components are missing."""
    rows = plan.ready.select("item", "state", "missing").rows()
    return {name: (state, missing) for name, state, missing in rows}


def test_an_order_is_complete_when_all_is_there_on_the_day_it_is_needed() -> None:
    plan = plan_of(
        [piece("fin", "make", 3), piece("bolt", "buy", 9), piece("lamp", "buy", 9)],
        structure=[line("fin", "bolt"), line("fin", "lamp")],
        spares_orders=[need("fin", 1, 8)],
        stock=[lot("bolt", 1)],
        open_orders=[receipt("lamp", 1, 5, order="B-9")],
    )
    assert states(plan) == {"fin": ("complete", 0)}
    assert plan.ready.select("components", "in_stores", "coming").row(0) == (2, 1, 1)


def test_what_comes_a_day_late_is_missing_already() -> None:
    plan = plan_of(
        [piece("fin", "make", 3), piece("lamp", "buy", 15)],
        structure=[line("fin", "lamp")],
        spares_orders=[need("fin", 1, 8)],
        open_orders=[receipt("lamp", 1, 6, order="B-9")],
    )
    assert states(plan) == {"fin": ("waiting", 1)}


def test_an_order_waits_for_what_is_on_order_and_says_until_when() -> None:
    plan = plan_of(
        [piece("fin", "make", 3), piece("lamp", "buy", 15)],
        structure=[line("fin", "lamp")],
        spares_orders=[need("fin", 1, 8)],
        open_orders=[receipt("lamp", 1, 7, order="B-9")],
    )
    assert states(plan) == {"fin": ("waiting", 1)}
    assert plan.ready.select("can_start", "waits_for", "waits_from").row(0) == (
        day(7),
        "lamp",
        "B-9",
    )


def test_an_order_is_short_of_what_is_not_even_ordered_and_too_late_to_order() -> None:
    plan = plan_of(
        [piece("fin", "make", 3), piece("lamp", "buy", 9)],
        structure=[line("fin", "lamp")],
        spares_orders=[need("fin", 1, 8)],
    )
    assert states(plan) == {"fin": ("short", 1)}
    assert plan.ready["can_start"][0] == day(9)


def test_an_order_waits_for_one_that_is_itself_short() -> None:
    plan = plan_of(
        [piece("fin", "make", 3), piece("rib", "make", 2), piece("lamp", "buy", 9)],
        structure=[line("fin", "rib"), line("rib", "lamp")],
        spares_orders=[need("fin", 1, 8)],
    )
    assert states(plan) == {"fin": ("waiting", 1), "rib": ("short", 1)}


def test_free_stock_of_an_alternate_is_proposed_and_spoken_for_stock_is_not() -> None:
    plan = plan_of(
        [piece("fin", "make", 3), piece("lamp", "buy", 9), piece("light", safety_stock=1.0)],
        structure=[line("fin", "lamp")],
        spares_orders=[need("fin", 1, 8), need("light", 2, 9)],
        stock=[lot("light", 5, location="R1"), lot("lamp", 3, status="quarantine")],
        alternates=[{"item": "lamp", "alternate": "light", "note": "landing only"}],
    )
    # 5 less 2 that are asked for and 1 that is always kept
    found = plan.stand_ins.select("item", "kind", "stand_in", "quantity", "locations", "note")
    assert found.rows() == [
        ("lamp", "alternate", "light", 2.0, "R1", "landing only"),
        ("lamp", "held", "quarantine", 3.0, "", ""),
    ]


def test_an_alternate_is_never_taken_by_itself() -> None:
    tables: dict[str, list[Row]] = {
        "structure": [line("fin", "lamp")],
        "spares_orders": [need("fin", 1, 8)],
        "stock": [lot("light", 5)],
    }
    items = [piece("fin", "make", 3), piece("lamp", "buy", 9), piece("light")]
    without = plan_of(items, **tables)
    beside = plan_of(items, **tables, alternates=[{"item": "lamp", "alternate": "light"}])
    assert beside.orders.equals(without.orders)
    assert beside.pegs.equals(without.pegs)


def test_an_alternate_kept_for_another_serial_is_not_proposed() -> None:
    plan = plan_of(
        [
            piece("glider", "make", 3),
            piece("wing", "make", 9),
            piece("old-wing", "make", 9),
            piece("lamp"),
        ],
        structure=[
            line("glider", "wing"),
            line("wing", "lamp", with_option="lights"),
            line("old-wing", "lamp", with_option="lights"),
        ],
        build_plan=[airframe("KL-1", "glider", 8, "lights"), airframe("KL-2", "glider", 9)],
        stock=[lot("old-wing", 1, serial="KL-2")],
        alternates=[{"item": "wing", "alternate": "old-wing"}],
    )
    proposed = plan.stand_ins.select("item", "serial", "stand_in").rows()
    assert proposed == [("wing", "KL-2", "old-wing")]


def house_tables() -> tuple[list[Row], dict[str, list[Row]]]:
    """Three gliders of one wing and two bolts each, with cloth for wings."""
    items = [
        piece("glider", "make", 3),
        piece("wing", "make", 2),
        piece("bolt", "buy", 5),
        item("cloth", lead_days=5),
    ]
    tables = {
        "structure": [line("glider", "wing"), line("glider", "bolt", 2), line("wing", "cloth", 3)],
        "build_plan": [
            airframe("KL-1", "glider", 9),
            airframe("KL-2", "glider", 12),
            airframe("KL-3", "glider", 15),
        ],
    }
    return items, tables


def test_airframes_are_finished_from_the_house_in_the_order_of_their_ready_dates() -> None:
    items, tables = house_tables()
    plan = plan_of(items, **tables, stock=[lot("bolt", 5), lot("wing", 1), lot("cloth", 7)])
    # one wing lies there, cloth is enough for two more, bolts for two gliders
    assert plan.from_house.rows() == [("KL-1", 1), ("KL-2", 2)]


def test_an_airframe_that_can_not_be_finished_takes_nothing_from_those_after_it() -> None:
    items, tables = house_tables()
    tables["structure"].append(line("glider", "winch", with_option="tow"))
    tables["build_plan"][0]["options"] = "tow"
    plan = plan_of(
        [*items, piece("winch", "buy", 4)], **tables, stock=[lot("bolt", 4), lot("wing", 2)]
    )
    assert plan.from_house.rows() == [("KL-2", 1), ("KL-3", 2)]


def test_what_is_on_order_does_not_count_but_work_in_the_shops_does() -> None:
    items, tables = house_tables()
    plan = plan_of(
        items,
        **tables,
        stock=[lot("bolt", 2)],
        open_orders=[
            receipt("wing", 1, 4, order="W-1"),
            receipt("cloth", 90, 1, order="B-1"),
            receipt("bolt", 90, 1, order="B-2"),
        ],
    )
    assert plan.from_house.rows() == [("KL-1", 1)]


def test_work_in_the_shops_takes_what_it_lacks_from_stores_too() -> None:
    items, tables = house_tables()
    work: dict[str, list[Row]] = {
        "open_orders": [receipt("glider", 1, 4, order="W-1", serial="KL-1")],
        "allocations": [{"order": "W-1", "item": "bolt", "quantity": 2, "need_date": day(3)}],
    }
    assert plan_of(items, **tables, **work, stock=[lot("bolt", 1)]).from_house.rows() == []
    plan = plan_of(items, **tables, **work, stock=[lot("bolt", 2)])
    assert plan.from_house.rows() == [("KL-1", 1)]


def test_stock_kept_for_an_airframe_is_in_the_house_for_that_one_only() -> None:
    items, tables = house_tables()
    stock = [lot("bolt", 2, serial="KL-2"), lot("wing", 2)]
    assert plan_of(items, **tables, stock=stock).from_house.rows() == [("KL-2", 1)]


def test_what_will_be_scrap_is_taken_from_the_house_too() -> None:
    items, tables = house_tables()
    items[1] |= {"scrap_rate": 0.5}
    for cloth, finished in ((5.9995, []), (6, [("KL-1", 1)])):
        stock = [lot("bolt", 6), lot("cloth", cloth)]
        assert plan_of(items, **tables, stock=stock).from_house.rows() == finished


def test_what_an_order_takes_once_is_taken_once_for_each_airframe() -> None:
    items, tables = house_tables()
    tables["structure"].append(line("wing", "peel", 2, per="order"))
    items[1] |= {"scrap_rate": 0.5}
    stock = [lot("bolt", 6), lot("cloth", 99), lot("peel", 5)]
    plan = plan_of([*items, item("peel", lead_days=5)], **tables, stock=stock)
    assert plan.from_house.rows() == [("KL-1", 1), ("KL-2", 2)]


def test_only_lines_that_count_today_ask_for_something_from_the_house() -> None:
    items, tables = house_tables()
    ready = [("KL-1", 1)]
    for when, finished in (
        ({"to_date": day(0)}, []),
        ({"to_date": day(-1)}, ready),
        ({"from_date": day(0)}, []),
        ({"from_date": day(1)}, ready),
    ):
        lines = [*tables["structure"], line("glider", "winch", **when)]
        plan = plan_of(
            [*items, piece("winch", "buy", 4)],
            **{**tables, "structure": lines},
            stock=[lot("bolt", 2), lot("wing", 1)],
        )
        assert plan.from_house.rows() == finished


def test_what_is_planned_for_each_serial_is_in_the_house_for_its_own_one_only() -> None:
    items, tables = house_tables()
    tables["structure"].append(line("wing", "lamp", with_option="lights"))
    tables["build_plan"][1]["options"] = "lights"
    stock = [lot("bolt", 9), lot("cloth", 9), lot("wing", 1, serial="KL-3"), lot("lamp", 1)]
    plan = plan_of([*items, piece("lamp")], **tables, stock=stock)
    # KL-1 and KL-2 take three of cloth each, KL-2 the lamp as well; the last three stay
    assert plan.from_house.rows() == [("KL-1", 1), ("KL-2", 2), ("KL-3", 3)]
    stock = [row for row in stock if row["item"] != "lamp"]
    stock[1] = lot("cloth", 3)
    plan = plan_of([*items, piece("lamp")], **tables, stock=stock)
    assert plan.from_house.rows() == [("KL-1", 1), ("KL-3", 2)]


def test_work_in_the_shops_serves_one_airframe_after_the_other() -> None:
    items, tables = house_tables()
    plan = plan_of(
        items,
        **tables,
        stock=[lot("bolt", 9)],
        open_orders=[receipt("wing", 1, 4, order="W-1"), receipt("wing", 1, 5, order="W-2")],
    )
    assert plan.from_house.rows() == [("KL-1", 1), ("KL-2", 2)]
    two = [receipt("wing", 2, 4, order="W-1")]
    plan = plan_of(items, **tables, stock=[lot("bolt", 9)], open_orders=two)
    assert plan.from_house.rows() == [("KL-1", 1), ("KL-2", 2)]


def test_what_work_in_the_shops_lacks_is_taken_once_for_all_of_it() -> None:
    items, tables = house_tables()
    for orders in (
        [receipt("wing", 2, 4, order="W-1")],
        [receipt("wing", 1, 4, order="W-1"), receipt("wing", 1, 5, order="W-1")],
    ):
        for cloth, finished in ((3, [("KL-1", 1), ("KL-2", 2)]), (2, [])):
            plan = plan_of(
                items,
                **tables,
                stock=[lot("bolt", 9), lot("cloth", cloth)],
                open_orders=orders,
                allocations=[{"order": "W-1", "item": "cloth", "quantity": 3, "need_date": day(3)}],
            )
            assert plan.from_house.rows() == finished


def test_what_is_lacked_of_nothing_need_not_be_there() -> None:
    items, tables = house_tables()
    plan = plan_of(
        items,
        **tables,
        stock=[lot("bolt", 2)],
        open_orders=[receipt("wing", 1, 4, order="W-1")],
        allocations=[{"order": "W-1", "item": "cloth", "quantity": 0, "need_date": day(3)}],
    )
    assert plan.from_house.rows() == [("KL-1", 1)]


def test_grounded_aircraft_take_from_the_house_before_airframes() -> None:
    items, tables = house_tables()
    spares = [need("bolt", 1, 3, urgency="grounded")]
    plan = plan_of(items, **tables, spares_orders=spares, stock=[lot("bolt", 2), lot("wing", 1)])
    assert plan.from_house.rows() == []


@pytest.mark.parametrize("kind", ["stock", "open order", "planned order"])
def test_the_result_table_of_pegs_gives_the_day_of_each_supply(kind: str) -> None:
    plan = plan_of(
        [piece("bolt", "buy", 3)],
        stock=[lot("bolt", 1, lot="L1", location="R1")],
        open_orders=[receipt("bolt", 1, 4, order="B-9")],
        spares_orders=[need("bolt", 3, 9, order="S1")],
    )
    dates = {"stock": day(0), "open order": day(4), "planned order": day(9)}
    found = plan.pegs.filter(pl.col("supply_kind") == kind)
    assert found.select("need", "supply_date", "comes", "quantity").rows() == [
        ("S1", dates[kind], dates[kind], 1.0)
    ]


def test_an_order_without_a_mould_begins_when_one_is_there_again() -> None:
    plan = plan_over(
        6,
        [piece("glider", "make", 2), piece("skin", "make", 3)],
        structure=[line("glider", "skin")],
        build_plan=[airframe("K-1", "glider", 10)],
    )
    (skin,) = plan.orders.filter(pl.col("item") == "skin")["order"]
    waits = forecast(foreseen(peg_graph(plan.network, plan.orders, plan.pegged, {skin: 12})))
    # begun on day 12, there on day 15, so the glider on day 17, seven days late
    assert waits.demands.select("end", "late_days").rows() == [(17, 7)]
    named = waits.nodes.select("node", "name")
    chain = waits.chains.join(named, on="node").sort("step")["name"].to_list()
    assert chain[0] == skin
    # a skin on the shelf needs no mould: the glider would be there on day 2
    assert waits.demands["gain_days"].to_list() == [15]
    soon = forecast(foreseen(peg_graph(plan.network, plan.orders, plan.pegged, {skin: 1})))
    assert soon.demands.select("end", "late_days").rows() == [(6, 0)]
    never = forecast(foreseen(peg_graph(plan.network, plan.orders, plan.pegged, {skin: NEVER})))
    assert never.demands["end"].item() >= NEVER


def test_what_is_bought_in_place_of_something_else_counts_as_in_the_house() -> None:
    items = [item("kelto", source="make", unit="pc"), piece("old bolt"), piece("new bolt")]
    tables: dict[str, list[Row]] = {
        "structure": [line("kelto", "old bolt")],
        "build_plan": [airframe("KL-1", "kelto", 9)],
        "replacements": [{"old": "old bolt", "new": "new bolt"}],
    }
    assert plan_of(items, **tables).from_house.rows() == []
    plan = plan_of(items, **tables, stock=[lot("new bolt", 1)])
    assert plan.from_house.rows() == [("KL-1", 1)]
