"""The levelled plan: work pulled forward with all it needs, never later, nothing made late."""

import random
from functools import cache

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bomkit.planning.levelling import levelled_plan
from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.shop_loads import shop_loads
from bomkit.planning.shop_plan import ShopPlan
from bomkit.planning.tables_as_numbers.network import Network, build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, line, lot, need, plan_shops, receipt
from tests.random_tables import Row, Tables, random_tables

CASES = [(seed, 1 + seed % 4) for seed in range(700, 715)]  # seeds, and weeks to pull forward by
cases = st.sampled_from(CASES)
few = settings(deadline=None, derandomize=True, max_examples=len(CASES))


class Levelled:
    """A plan of these tables with and without levelling."""

    def __init__(self, tables: Tables, weeks: int) -> None:
        """Plan the tables twice."""
        self.tables = typed_tables(tables)
        self.network: Network = build_network(self.tables)
        self.before: ShopPlan = plan_shops(self.network, self.tables, 0)
        self.after: ShopPlan = plan_shops(self.network, self.tables, weeks)

    def starts(self, name: str) -> list[tuple[int, float]]:
        """Start day and quantity of an item's orders."""
        own = self.after.orders.filter(pl.col("item") == name).sort("start")
        return own.select("start", "quantity").rows()


def levelled(items: list[Row], weeks: int = 2, /, **tables: list[Row]) -> Levelled:
    """Four weeks of these tables, levelled by at most some weeks."""
    plan: list[Row] = [{"start": MONDAY, "horizon_weeks": 4}]
    return Levelled({"plan": plan, "items": items, **tables}, weeks)


SHOP: list[Row] = [{"process": "lay-up", "hours_per_week": 10}]
SKIN = item("skin", source="make", unit="pc", process="lay-up", lead_days=1, hours_each=5)


def test_what_an_order_needs_is_asked_for_as_much_earlier() -> None:
    plan = levelled(
        [SKIN, item("cloth", lead_days=2)],
        processes=SHOP,
        structure=[line("skin", "cloth", 3)],
        spares_orders=[need("skin", 3, 16)],
    )
    # 15 hours in the fourth week: one skin starts on the last day of the third
    assert plan.starts("skin") == [(14, 1), (15, 2)]
    assert plan.starts("cloth") == [(12, 3), (13, 6)]
    assert plan.after.moves.select("item", "quantity", "days").rows() == [("skin", 1, 1)]


def test_without_weeks_to_pull_nothing_moves() -> None:
    plan = levelled([SKIN], 0, processes=SHOP, spares_orders=[need("skin", 9, 16)])
    assert plan.starts("skin") == [(15, 9)]
    assert plan.after.moves.is_empty() and plan.after.value.is_empty()


def test_loads_stand_beside_those_before_levelling() -> None:
    plan = levelled([SKIN], processes=SHOP, spares_orders=[need("skin", 3, 16)])
    assert plan.after.loads.select("hours_before", "hours", "capacity").rows() == [
        *((0, 0, 10), (0, 0, 10), (0, 5, 10), (15, 10, 10)),
    ]


def test_no_order_is_pulled_so_far_that_it_spoils() -> None:
    spoils = SKIN | {"longest_cover_days": 3}
    plan = levelled([spoils], 3, processes=SHOP, spares_orders=[need("skin", 5, 18)])
    # made two days sooner it still lasts through the day it is for; the third week is beyond
    assert plan.starts("skin") == [(17, 5)]
    plan = levelled([spoils], 3, processes=SHOP, spares_orders=[need("skin", 3, 17)])
    assert plan.starts("skin") == [(14, 1), (16, 2)]


def test_nothing_is_pulled_to_where_its_components_would_be_late() -> None:
    def plan_with(lead: int, stock: float) -> Levelled:
        return levelled(
            [SKIN, item("cloth", lead_days=lead)],
            processes=SHOP,
            structure=[line("skin", "cloth")],
            spares_orders=[need("skin", 3, 11)],
            stock=[lot("cloth", stock)],
        )

    assert plan_with(9, 0).starts("skin") == [(9, 1), (10, 2)]
    assert plan_with(10, 0).starts("skin") == [(10, 3)]
    # with cloth in stores it may be pulled all the same
    assert plan_with(10, 5).starts("skin") == [(9, 1), (10, 2)]


def test_nothing_is_bought_again_for_work_that_is_pulled_to_before_its_receipt() -> None:
    def plan_with(due: int, **rules: float) -> Levelled:
        return levelled(
            [SKIN, item("cloth", **rules)],
            processes=SHOP,
            structure=[line("skin", "cloth", 3)],
            spares_orders=[need("skin", 3, 16)],
            open_orders=[receipt("cloth", 9, due)],
        )

    # the cloth comes on the first day of the fourth week, when the skins start
    assert plan_with(15).starts("skin") == [(15, 3)]
    assert plan_with(15).starts("cloth") == []
    assert plan_with(15, minimum=20).starts("cloth") == []
    # a day sooner one skin can be pulled to that day, two days sooner as well
    assert plan_with(14).starts("skin") == [(14, 1), (15, 2)]
    assert plan_with(12).starts("skin") == [(14, 1), (15, 2)]
    assert plan_with(14).starts("cloth") == []


def test_nothing_is_bought_again_through_levels_that_are_not_levelled() -> None:
    plan = levelled(
        [SKIN, item("rib", source="make", unit="pc", lead_days=2), item("cloth")],
        processes=SHOP,
        structure=[line("skin", "rib"), line("rib", "cloth", 3, offset_days=-1)],
        spares_orders=[need("skin", 3, 16)],
        open_orders=[receipt("cloth", 9, 11)],
    )
    # a rib starts two days before the skin, and takes its cloth a day before
    assert plan.starts("skin") == [(14, 1), (15, 2)]
    assert plan.starts("cloth") == []
    later = levelled(
        [SKIN, item("rib", source="make", unit="pc", lead_days=2), item("cloth")],
        processes=SHOP,
        structure=[line("skin", "rib"), line("rib", "cloth", 3, offset_days=-1)],
        spares_orders=[need("skin", 3, 16)],
        open_orders=[receipt("cloth", 9, 12)],
    )
    assert later.starts("skin") == [(15, 3)]
    assert later.starts("cloth") == []


def test_an_order_that_is_late_already_stays() -> None:
    plan = levelled([SKIN | {"lead_days": 9}], processes=SHOP, spares_orders=[need("skin", 9, 3)])
    assert plan.starts("skin") == [(0, 9)]
    assert plan.after.orders["late_days"].to_list() == [6]


def test_higher_levels_take_their_room_first() -> None:
    wing = SKIN | {"item": "wing"}
    rib = SKIN | {"item": "rib", "lead_days": 0}
    plan = levelled(
        [wing, rib],
        processes=SHOP,
        structure=[line("wing", "rib")],
        spares_orders=[need("wing", 2, 16)],
    )
    assert plan.starts("wing") == [(15, 2)]
    assert plan.starts("rib") == [(14, 2)]


def test_nothing_is_pulled_into_a_week_that_work_further_down_fills_anyway() -> None:
    wing = SKIN | {"item": "wing", "lead_days": 0}
    plan = levelled(
        [wing, SKIN | {"lead_days": 0}, item("jig", source="make", unit="pc")],
        processes=SHOP,
        structure=[line("jig", "skin")],  # so that the skin stands further down
        spares_orders=[need("wing", 3, 6), need("skin", 3, 2)],
    )
    # five hours are too many in each of the first two weeks, wherever the wings are begun
    assert plan.starts("wing") == [(6, 3)]
    assert plan.starts("skin") == [(2, 3)]


def test_printers_are_levelled_by_the_kinds_a_part_is_approved_for() -> None:
    part: Row = item("clip", source="print", unit="pc", material="ASA", lead_days=1)
    old = part | {"item": "old-clip"}
    printers: list[Row] = [
        {"kind": "old", "count": 1, "hours_per_week": 10},
        {"kind": "new", "count": 1, "hours_per_week": 20},
    ]
    prints: list[Row] = [
        {"item": "clip", "hours": 5, "per_plate": 2, "printers": "old new"},
        {"item": "old-clip", "hours": 5, "per_plate": 2, "printers": "old"},
    ]
    plan = levelled(
        [part, old],
        prints=prints,
        printers=printers,
        spares_orders=[need("clip", 4, 16), need("old-clip", 3, 16)],
    )
    # the new ones take all clips, the old ones two of the three that are only for them
    assert plan.starts("clip") == [(15, 4)]
    assert plan.starts("old-clip") == [(14, 1), (15, 2)]
    assert plan.after.prints.overloads.is_empty()
    assert not plan.before.prints.overloads.is_empty()
    last = shop_loads(plan.after, plan.tables).filter(pl.col("week") == "2026-W52")
    assert last.select("name", "load_before", "load", "capacity").rows() == [
        *(("new", 20, 20, 20), ("old", 15, 10, 10))
    ]


def test_what_levelling_adds_in_stock_is_valued_at_what_it_costs() -> None:
    plan = levelled(
        [SKIN, item("cloth", cost=7)],
        processes=SHOP,
        structure=[line("skin", "cloth", 3)],
        spares_orders=[need("skin", 5, 18)],
    )
    assert plan.starts("skin") == [(9, 1), (14, 2), (17, 2)]
    # the first skin, worth 3 m2 of cloth at 7, lies in stores at the end of the third week
    assert plan.after.value["added"].to_list() == [0, 0, 21, 0]


# ---------------------------------------------------------------- for any tables


def tight_tables(seed: int, lots: bool) -> Tables:
    """Random tables in which the shops have less time than work."""
    tables = random_tables(seed)
    chance = random.Random(seed)
    left_out = set() if lots else {"minimum", "multiple", "cover_days", "longest_cover_days"}
    items: list[Row] = []
    for row in tables["items"]:
        kept = {name: value for name, value in row.items() if name not in left_out}
        items.append(kept | {"hours_each": chance.choice([0.5, 1, 4]), "hours_per_order": 0.5})
        items[-1].setdefault("process", chance.choice(tables["processes"])["process"])
    hours = chance.choice([5, 20, 60])
    shops = [row | {"hours_per_week": hours} for row in tables["processes"]]
    return {**tables, "items": items, "processes": shops}


@cache
def any_plan(seed: int, weeks: int, lots: bool) -> Levelled:
    """The plan of such tables, made once for all that is asked of it; not to be changed."""
    return Levelled(tight_tables(seed, lots), weeks)


def cumulative(flow: pl.DataFrame, days: int) -> pl.DataFrame:
    """What has come of each key by the end of each day."""
    names = [str(day) for day in range(days)]
    sums = pl.cum_sum_horizontal(*names).alias("sums")
    return flow.sort("key").select("key", sums).unnest("sums")


def least_differences(
    more: pl.DataFrame, less: pl.DataFrame, days: int, fewer_in_the_end: bool = False
) -> dict[int, float]:
    """The least of more - less over all days by key; below zero: on some day there is less.

    fewer_in_the_end: by so much as there is less on the last day there may be on every day.
    """
    names = [str(day) for day in range(days)]
    joined = less.join(more, on="key", how="left", suffix="_more").fill_null(0.0)
    last = names[-1]
    spared = (pl.col(last) - pl.col(f"{last}_more")).clip(0.0) if fewer_in_the_end else pl.lit(0.0)
    gaps = joined.select(
        "key",
        pl.min_horizontal(
            (pl.col(f"{name}_more") + spared - pl.col(name)) / (1 + pl.col(name)) for name in names
        ).alias("gap"),
    )
    return dict(gaps.iter_rows())


def least_left(flows: Flows, days: int) -> dict[int, float]:
    """By key the least of what is there less what was asked for; below zero: not in time.

    Needs that an open order comes too late for are not in time before levelling either.
    """
    names = [str(day) for day in range(days)]
    there = flows.supply.join(flows.good, on="key", suffix="_good").select(
        "key", *(pl.col(name) + pl.col(f"{name}_good") for name in names)
    )
    return least_differences(cumulative(there, days), cumulative(flows.gross, days), days)


def late_quantity(plan: ShopPlan) -> dict[str, float]:
    """How much of each item starts too late."""
    late = plan.orders.filter(pl.col("late_days") > 0)
    return dict(late.group_by("item").agg(pl.col("quantity").sum()).iter_rows())


@pytest.mark.parametrize("case", [*CASES, (21, 1), (65, 2), (107, 3)])  # fewer are needed in these
def test_no_order_is_later_where_no_lot_rule_gathers_orders_anew(case: tuple[int, int]) -> None:
    plan = any_plan(*case, lots=False)
    days = plan.network.axis.count
    before, after = (
        cumulative(flows.starts, days) for flows in (plan.before.flows, plan.after.flows)
    )
    # orders pulled to one day are rounded up to whole pieces once, so that less may be needed
    gaps = least_differences(after, before, days, fewer_in_the_end=True)
    assert min(gaps.values(), default=0.0) >= -1e-9


@given(cases)
@few
def test_every_need_is_served_in_time_as_before(case: tuple[int, int]) -> None:
    plan = any_plan(*case, lots=True)
    days = plan.network.axis.count
    before = least_left(plan.before.flows, days)
    for key, left in least_left(plan.after.flows, days).items():
        assert left >= min(0.0, before.get(key, 0.0)) - 1e-9
    late_before = late_quantity(plan.before)
    for name, quantity in late_quantity(plan.after).items():
        assert quantity <= late_before.get(name, 0.0) * (1 + 1e-6), name


@given(cases)
@few
def test_no_more_is_left_over_in_the_end_than_before(case: tuple[int, int]) -> None:
    plan = any_plan(*case, lots=False)
    days = [str(day) for day in range(plan.network.axis.count)]
    whole = plan.network.items.select("item_id", "whole").rows()
    pieces = {item for item, counted in whole if counted}

    def left_over(flows: Flows) -> dict[int, float]:
        there = flows.supply.join(flows.good, on="key").join(flows.gross, on="key", suffix="_gross")
        left = pl.sum_horizontal(
            pl.col(d) + pl.col(f"{d}_right") - pl.col(f"{d}_gross") for d in days
        )
        return dict(there.select("key", left.alias("left")).iter_rows())

    before, after = left_over(plan.before.flows), left_over(plan.after.flows)
    for key, left in after.items():
        rounding = 1.0 if key // plan.network.serial_count in pieces else 0.0
        assert left <= before.get(key, left) + rounding + 1e-6


@given(cases)
@few
def test_moves_are_whole_and_within_the_weeks_and_the_shelf_life(case: tuple[int, int]) -> None:
    plan = any_plan(*case, lots=True)
    rows = plan.after.moves.join(
        plan.tables["items"].select("item", "unit", "multiple", "longest_cover_days"), on="item"
    )
    monday_before = pl.col("start_before").dt.truncate("1w").dt.offset_by(f"-{7 * case[1]}d")
    assert rows.filter(pl.col("start") < monday_before).is_empty()
    assert rows.filter(pl.col("days") <= 0).is_empty()
    assert rows.filter(pl.col("days") > pl.col("longest_cover_days")).is_empty()
    pieces = rows.filter(pl.col("unit") == "pc")["quantity"]
    assert ((pieces - pieces.round(0)).abs() < 1e-6).all()


def test_no_order_is_pulled_to_before_its_component_can_come_though_a_lot_hides_it() -> None:
    skin = item("skin", source="make", unit="pc", process="lay-up", lead_days=1, hours_each=10)
    plan = levelled(
        [skin, item("cloth", lead_days=10, multiple=100)],
        1,
        processes=[{"process": "lay-up", "hours_per_week": 20}],
        structure=[line("skin", "cloth")],
        spares_orders=[need("skin", 1, 5, order="S0"), need("skin", 3, 14, order="S1")],
    )
    # one lot of cloth, late for the first skin, comes on day 10: two skins then, a third waits
    assert [start for start, _ in plan.starts("skin")] == [4, 13]


def test_levelling_that_comes_to_no_end_pulls_nothing_and_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("bomkit.planning.levelling.levelled_plan._MOST_TURNS", 0)
    plan = levelled([SKIN], processes=SHOP, spares_orders=[need("skin", 3, 16)])
    assert plan.starts("skin") == [(15, 3)]
    assert plan.after.moves.is_empty() and not plan.after.level_settled


def test_giving_way_that_comes_to_no_rest_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bomkit.planning.levelling.level._MOST_PASSES", 0)
    plan = levelled([SKIN], processes=SHOP, spares_orders=[need("skin", 3, 16)])
    assert not plan.after.level_settled


def test_what_makes_a_part_late_is_held_together_so_that_levelling_ends_soon(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # six skins of one film that comes in time and no sooner; pulled one in place of the other, each
    # would make the film late for itself in turn
    turns: list[int] = []
    once = levelled_plan.ForwardFlows.next
    monkeypatch.setattr(
        levelled_plan.ForwardFlows,
        "next",
        lambda plans, *given: (turns.append(1), once(plans, *given))[1],
    )
    names = [f"skin {number}" for number in range(6)]
    plan = levelled(
        [*({**SKIN, "item": name} for name in names), item("film", lead_days=15)],
        processes=SHOP,
        structure=[line(name, "film") for name in names],
        spares_orders=[need(name, 1, 16, order=f"S-{name}") for name in names],
    )
    assert [plan.starts(name) for name in names] == [[(15, 1)]] * 6
    assert plan.after.level_settled and len(turns) == 2


def test_work_that_is_held_for_a_receipt_may_start_on_the_very_day_of_it() -> None:
    # five skins fill two weeks and a half; cloth is there from the last day of the third week on,
    # so two are pulled to that day, and the one that would go further stays
    plan = levelled(
        [SKIN, item("cloth")],
        processes=SHOP,
        structure=[line("skin", "cloth", 3)],
        spares_orders=[need("skin", 5, 16)],
        open_orders=[receipt("cloth", 15, 14)],
    )
    assert plan.starts("skin") == [(14, 2), (15, 3)]
    assert plan.starts("cloth") == []
