"""What can be packed for spares orders today, from whom it is taken, and what is promised."""

from datetime import date, timedelta
from random import Random

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bomkit.planning.structure.kit_contents import Contents
from tests.checks.by_serial.test_fitting import children, fenlark
from tests.planning.driver import (
    MONDAY,
    USUAL_SHELF,
    Plan,
    airframe,
    day,
    item,
    line,
    lot,
    need,
    piece,
    plan_of,
    receipt,
)
from tests.random_tables import Row, Tables

seeds = st.integers(0, 10_000)
FLEET: list[Row] = [
    {"serial": "KL-7", "item": "glider", "options": "lights"},
    {"serial": "KL-8", "item": "glider", "options": ""},
]


def order(name: str, quantity: float, when: int, urgency: str = "routine", **more: object) -> Row:
    """A spares order S-1."""
    return need(name, quantity, when, urgency=urgency, **({"order": "S-1"} | USUAL_SHELF | more))


def taken(plan: Plan) -> list[tuple[str, str, float, str]]:
    """What is taken or waited for: part, state, quantity and lot."""
    return plan.packing.select("part", "state", "quantity", "lot").rows()


def promise(plan: Plan, name: str = "S-1") -> tuple[date, int]:
    """Day from which an order can leave, and late days."""
    row: tuple[date, int] = (
        plan.promises.filter(pl.col("order") == name).select("earliest_date", "late_days").row(0)
    )
    return row


def test_what_can_leave_early_is_promised_for_the_day_it_is_wanted() -> None:
    plan = plan_of(
        [piece("bolt", lead=4)], stock=[lot("bolt", 5)], spares_orders=[order("bolt", 2, 6)]
    )
    assert plan.promises.select("promise_date", "earliest_date").row(0) == (day(6), day(0))


def test_what_has_to_wait_comes_with_the_order_that_the_plan_has_for_it() -> None:
    # wanted on day 9 and ordered in time for it, though it could come sooner
    plan = plan_of([piece("bolt", lead=4)], spares_orders=[order("bolt", 2, 9)])
    assert plan.packing.select("can_take", "supply").row(0) == (day(9), "buy-0001")
    assert promise(plan) == (day(9), 0)


@pytest.mark.parametrize(("days", "fitting"), [(0, 2), (-1, 0)])
def test_a_lot_that_lasts_just_so_long_as_it_must_when_it_leaves_counts_as_in_stock(
    days: int, fitting: int
) -> None:
    # wanted on day 6, to last 90 calendar days from then
    last = day(6) + timedelta(days=90 + days)
    plan = plan_of(
        [piece("bolt", lead=4)],
        stock=[lot("bolt", 2, expires=last, lot="L1")],
        spares_orders=[order("bolt", 2, 6, min_shelf_days=90)],
    )
    assert plan.packing["in_stock"].to_list() == [fitting]
    assert taken(plan) == [("bolt", "take" if fitting else "wait", 2, "L1" if fitting else "")]


def test_a_part_in_stock_that_nobody_else_needs_is_taken_today() -> None:
    plan = plan_of(
        [piece("bolt", lead=4)],
        stock=[lot("bolt", 5, lot="L1")],
        spares_orders=[order("bolt", 2, 6)],
    )
    assert taken(plan) == [("bolt", "take", 2, "L1")]
    assert promise(plan) == (day(0), 0)


def test_kits_hold_for_every_aircraft_of_the_sample_what_the_naive_way_finds() -> None:
    tables = fenlark()
    contents = Contents(tables)
    kits = tables["items"].filter(pl.col("source") == "kit")["item"].to_list()
    assert len(kits) >= 5
    different = set()
    for kit in kits:
        for serial, options in tables["fleet"].select("serial", "options").rows():
            found = [part.item for part in contents.parts(kit, 1, serial, date(2027, 5, 20))]
            assert sorted(found) == sorted(children(kit, serial, options))
            different.add((kit, *found))
    assert len(different) > len(kits)


LINE = {
    "structure": [line("glider", "bolt", 2)],
    "build_plan": [airframe("KL-1", "glider", 6)],
}
BOLTS = [piece("glider", "make", 2), piece("bolt", lead=10)]


def test_a_routine_order_does_not_take_what_an_airframe_needs_before_it_can_come_again() -> None:
    # KL-1 needs two bolts on day 4; ordered today, others come on day 10
    plan = plan_of(BOLTS, **LINE, stock=[lot("bolt", 2)], spares_orders=[order("bolt", 1, 1)])
    assert taken(plan) == [("bolt", "wait", 1, "")]
    assert promise(plan) == (day(10), 9)
    told = plan.packing.select("in_stock", "free", "waiting", "waiting_days").row(0)
    assert told == (2, 0, "KL-1", 6)


def test_a_grounded_order_takes_it_and_says_from_whom() -> None:
    plan = plan_of(
        BOLTS, **LINE, stock=[lot("bolt", 2)], spares_orders=[order("bolt", 1, 1, "grounded")]
    )
    assert taken(plan) == [("bolt", "take", 1, "")]
    assert promise(plan) == (day(0), 0)
    assert plan.packing.select("waiting", "waiting_days").row(0) == ("KL-1", 6)


def test_what_can_come_again_before_the_airframe_needs_it_is_free() -> None:
    later = LINE | {"build_plan": [airframe("KL-1", "glider", 12)]}
    plan = plan_of(BOLTS, **later, stock=[lot("bolt", 2)], spares_orders=[order("bolt", 1, 1)])
    assert taken(plan) == [("bolt", "take", 1, "")]


def test_an_open_order_beyond_what_the_line_needs_sets_the_date() -> None:
    plan = plan_of(
        BOLTS,
        **LINE,
        stock=[lot("bolt", 2)],
        open_orders=[receipt("bolt", 3, 5, order="B-9")],
        spares_orders=[order("bolt", 1, 1)],
    )
    # the airframe's two are gone on day 4 and three come on day 5: nobody waits from day 0 on
    # for a bolt that comes before it is needed, but on days 0 to 4 both are spoken for
    assert promise(plan) == (day(5), 4)


def test_safety_stock_serves_a_spares_order_and_is_ordered_again() -> None:
    plan = plan_of(
        [piece("bolt", lead=4, safety_stock=4.0)],
        stock=[lot("bolt", 5)],
        spares_orders=[order("bolt", 2, 6)],
    )
    assert taken(plan) == [("bolt", "take", 2, "")]
    assert plan.orders["quantity"].to_list() == [1]


def test_two_orders_do_not_take_the_same_piece() -> None:
    plan = plan_of(
        [piece("bolt", lead=4)],
        stock=[lot("bolt", 2)],
        spares_orders=[order("bolt", 2, 6), order("bolt", 1, 7, order="S-2")],
    )
    assert plan.packing.select("order", "state").rows() == [("S-1", "take"), ("S-2", "wait")]


def test_grounded_orders_come_first_and_then_those_wanted_sooner() -> None:
    plan = plan_of(
        [piece("bolt", lead=4)],
        stock=[lot("bolt", 2)],
        spares_orders=[
            order("bolt", 1, 1),
            order("bolt", 1, 9, order="S-2"),
            order("bolt", 1, 8, "grounded", order="S-3"),
        ],
    )
    told = dict(plan.packing.select("order", "state").rows())
    assert told == {"S-3": "take", "S-1": "take", "S-2": "wait"}


def test_what_is_packed_must_last_and_what_expires_first_of_that_goes_first() -> None:
    leaves = MONDAY + timedelta(days=4)
    stock = [
        lot("glue", 1, MONDAY + timedelta(days=30), lot="soon"),
        lot("glue", 1, leaves + timedelta(days=90), lot="just"),
        lot("glue", 1, MONDAY + timedelta(days=300), lot="long"),
        lot("glue", 1, lot="ever"),
    ]
    glue = [piece("glue", lead=4)]
    plan = plan_of(glue, stock=stock, spares_orders=[order("glue", 2, 4)])
    assert [row[3] for row in taken(plan)] == ["just", "long"]
    short = order("glue", 1, 4, min_shelf_days=10)
    assert taken(plan_of(glue, stock=stock, spares_orders=[short]))[0][3] == "soon"


def kit_tables() -> tuple[list[Row], dict[str, list[Row]]]:
    """A kit with a lamp for aircraft with lights, and resin by the gram."""
    items = [
        piece("glider", "make", 2),
        piece("kit", "kit", 3),
        piece("lamp", lead=5),
        piece("cap", lead=5),
        piece("screws", "phantom"),
        piece("screw", lead=5),
        item("resin", lead_days=5),
    ]
    lines = [
        line("glider", "lamp", with_option="lights"),
        line("kit", "lamp", with_option="lights", position="10"),
        line("kit", "cap", 2, without_option="lights", position="20"),
        line("kit", "screws", position="30"),
        line("screws", "screw", 4),
        line("kit", "resin", 50, unit="g", per="order", position="40", waste=0.5),
    ]
    return items, {"structure": lines, "fleet": FLEET}


STOCK = [lot(name, 40) for name in ("lamp", "cap", "screw", "resin")]


@pytest.mark.parametrize(
    ("serial", "content"),
    [
        ("KL-7", {"lamp": 2, "screw": 8, "resin": 0.1}),
        ("KL-8", {"cap": 4, "screw": 8, "resin": 0.1}),
    ],
)
def test_a_kit_holds_what_fits_the_aircraft(serial: str, content: dict[str, float]) -> None:
    items, tables = kit_tables()
    plan = plan_of(items, **tables, stock=STOCK, spares_orders=[order("kit", 2, 6, serial=serial)])
    assert {part: quantity for part, _, quantity, _ in taken(plan)} == pytest.approx(content)
    # packing takes three days
    assert promise(plan) == (day(3), 0)


def test_a_kit_that_lies_packed_is_taken_as_it_is() -> None:
    items, tables = kit_tables()
    stock = [*STOCK, lot("kit", 1, lot="K1", serial="KL-7")]
    plan = plan_of(items, **tables, stock=stock, spares_orders=[order("kit", 1, 6, serial="KL-7")])
    assert taken(plan) == [("kit", "take", 1, "K1")]
    assert promise(plan) == (day(0), 0)


def test_a_kit_leaves_when_its_last_line_can_be_taken_and_it_is_packed() -> None:
    items, tables = kit_tables()
    stock = [row for row in STOCK if row["item"] != "screw"]
    plan = plan_of(items, **tables, stock=stock, spares_orders=[order("kit", 1, 1, serial="KL-7")])
    assert promise(plan) == (day(5 + 3), 7)
    assert plan.promises.select("lines", "lines_waiting").row(0) == (3, 1)


def test_the_new_part_is_packed_where_the_old_one_is_used_up() -> None:
    items, tables = kit_tables()
    more = [*items, piece("lamp 2", lead=5)]
    stock = [*STOCK[1:], lot("lamp", 1), lot("lamp 2", 9)]
    plan = plan_of(
        more,
        **tables,
        stock=stock,
        replacements=[{"old": "lamp", "new": "lamp 2"}],
        spares_orders=[order("kit", 3, 6, serial="KL-7")],
    )
    lamps = [row for row in taken(plan) if row[0].startswith("lamp")]
    assert lamps == [("lamp", "take", 1, ""), ("lamp 2", "take", 2, "")]


def test_stock_kept_for_another_aircraft_is_left_alone() -> None:
    plan = plan_of(
        [piece("glider", "make", 2), piece("bolt", lead=4)],
        fleet=FLEET,
        stock=[lot("bolt", 3, lot="A", serial="KL-8"), lot("bolt", 2, lot="B", serial="KL-7")],
        spares_orders=[order("bolt", 2, 6, serial="KL-7")],
    )
    assert taken(plan) == [("bolt", "take", 2, "B")]


def test_an_expiring_lot_that_only_the_spare_would_use_does_not_free_a_lasting_one() -> None:
    # without the spare, five of the lots are lost on day 4 and KL-1 needs the other five
    plan = plan_of(
        [piece("glider", "make", 2), piece("bolt", lead=40)],
        structure=[line("glider", "bolt", 5)],
        build_plan=[airframe("KL-1", "glider", 14)],
        stock=[lot("bolt", 5, 4, lot="soon"), lot("bolt", 5, lot="ever")],
        spares_orders=[order("bolt", 5, 3)],
    )
    assert [row[1] for row in taken(plan)] == ["wait"]


def test_several_orders_are_not_promised_the_same_open_order() -> None:
    plan = plan_of(
        [piece("bolt", lead=10)],
        open_orders=[receipt("bolt", 3, 5, order="B-9")],
        spares_orders=[order("bolt", 3, 1), order("bolt", 3, 1, order="S-2")],
    )
    assert [promise(plan, name)[0] for name in ("S-1", "S-2")] == [day(5), day(10)]


def test_a_grounded_order_that_has_its_parts_does_not_count_against_others_any_more() -> None:
    plan = plan_of(
        [piece("bolt", lead=30)],
        stock=[lot("bolt", 4)],
        spares_orders=[order("bolt", 2, 3, "grounded"), order("bolt", 2, 5, order="R")],
    )
    assert plan.packing.select("order", "state").rows() == [("S-1", "take"), ("R", "take")]


@pytest.mark.parametrize("urgency", ["routine", "grounded"])
def test_stock_that_the_order_may_not_have_is_not_promised(urgency: str) -> None:
    plan = plan_of(
        [piece("glue", lead=10)],
        stock=[lot("glue", 1, MONDAY + timedelta(days=28))],
        spares_orders=[order("glue", 1, 1, urgency)],
    )
    assert taken(plan) == [("glue", "wait", 1, "")]
    assert promise(plan)[0] == day(10)


def test_what_is_packed_lasts_from_the_day_on_which_the_kit_leaves() -> None:
    plan = plan_of(
        [piece("kit", "kit", 1), piece("glue", lead=3), piece("slow", lead=15)],
        structure=[line("kit", "glue"), line("kit", "slow")],
        stock=[lot("glue", 1, MONDAY + timedelta(days=95), lot="short")],
        spares_orders=[order("kit", 1, 1)],
    )
    assert [(part, state) for part, state, _, _ in taken(plan)] == [
        ("glue", "wait"),
        ("slow", "wait"),
    ]


def test_a_replaced_kit_and_a_part_replaced_by_a_set_are_packed_as_what_they_are_now() -> None:
    items = [
        piece("kit", "kit", 1),
        piece("kit 2", "kit", 1),
        piece("set", "phantom"),
        *(piece(name, lead=4) for name in "abc"),
    ]
    lines = [line("kit", "a"), line("kit 2", "a"), line("set", "b"), line("set", "c")]
    plan = plan_of(
        items,
        structure=lines,
        replacements=[{"old": "kit", "new": "kit 2"}, {"old": "a", "new": "set"}],
        stock=[lot(name, 5) for name in "bc"],
        spares_orders=[order("kit", 1, 6)],
    )
    told = plan.packing.select("part", "state", "replaces").rows()
    assert told == [("b", "take", "a"), ("c", "take", "a")]


def test_days_late_count_from_the_day_it_was_wanted() -> None:
    plan = plan_of([piece("bolt", lead=4)], spares_orders=[order("bolt", 1, -5)])
    assert promise(plan) == (day(4), 9)


def crowded(seed: int) -> Tables:
    """Few items in lots, shared and per order, with lots that expire and spares of all of them."""
    chance = Random(seed)
    items = [piece("glider", "make", 2)]
    lines = []
    for number in range(4):
        source = "buy" if number == 3 else chance.choice(["make", "buy", "buy"])
        rules = {"minimum": float(chance.choice([0, 0, 6])), "cover_days": chance.choice([1, 5])}
        items.append(piece(f"i{number}", source, chance.choice([1, 5, 20]), **rules))
        lines.append(line("glider", f"i{number}", chance.randint(1, 3)))
        if source == "make":
            per = chance.choice(["each", "order"])
            lines.append(line(f"i{number}", "i3", chance.randint(1, 2), per=per))
    stock = [
        lot(
            f"i{n}", chance.randint(1, 9), chance.choice([None, chance.randint(1, 15)]), lot=f"L{k}"
        )
        for n in range(4)
        for k in range(2)
    ]
    spares = [
        order(f"i{chance.randint(0, 3)}", chance.randint(1, 3), chance.randint(0, 15),
              order=f"S{n}", min_shelf_days=chance.choice([0, 90]))
        for n in range(4)
    ]  # fmt: skip
    return {
        "plan": [{"start": MONDAY, "horizon_weeks": 5}],
        "items": items,
        "structure": lines,
        "build_plan": [airframe(f"K{n}", "glider", chance.randint(3, 22)) for n in range(3)],
        "stock": stock,
        "spares_orders": spares,
    }


@settings(max_examples=10, deadline=None)
@given(seed=seeds)
def test_what_waits_is_not_called_takeable_today_unless_it_arrives_today(seed: int) -> None:
    plan = Plan(crowded(seed))
    waiting = plan.packing.filter(pl.col("state") == "wait")
    assert waiting.filter(pl.col("can_take") <= MONDAY).rows() == []


def test_of_pieces_with_waste_whole_ones_are_packed() -> None:
    plan = plan_of(
        [piece("kit", "kit"), piece("screw", lead=5)],
        structure=[line("kit", "screw", 1, waste=0.1)],
        stock=[lot("screw", 9, lot="L1")],
        spares_orders=[order("kit", 1, 6)],
    )
    assert taken(plan) == [("screw", "take", 2, "L1")]


def test_an_order_that_makes_nobody_later_names_nobody() -> None:
    plan = plan_of(
        [piece("bolt", lead=4)], stock=[lot("bolt", 5)], spares_orders=[order("bolt", 2, 6)]
    )
    assert plan.promises.select("later", "later_kind", "later_days").row(0) == ("", "", 0)
