"""What an order takes of a material is one need, and is told apart by demand in the end."""

import numpy as np
import polars as pl
import pytest

from bomkit.planning.pegging.peg import Pegged
from tests.planning.driver import (
    Plan,
    Row,
    item,
    line,
    lot,
    need,
    piece,
    plan_over,
    receipt,
)

# one order of ribs serves all whom it is asked for within its cover; each rib takes 2 kg of resin
RIBS = [piece("rib", "make", 2, cover_days=10), item("resin")]
RESIN = [line("rib", "resin", 2)]


def ribs(*asked: tuple[str, float, int], **tables: list[Row]) -> Plan:
    """A plan of ribs for orders: name, how many, by which day."""
    orders = [need("rib", many, day, order=name) for name, many, day in asked]
    return plan_over(4, RIBS, structure=RESIN, spares_orders=orders, **tables)


def by_order(plan: Plan, name: str) -> list[tuple[float, str]]:
    """Quantities and supplies of the pegs of an item as orders have them."""
    told = plan.network.named(plan.pegged.told(plan.pegged.by_order, "supply"))
    own = told.filter(pl.col("item") == name)
    return own.select(pl.col("quantity").round(9), "supply").rows()


def test_an_order_for_several_has_one_need_of_its_material_and_each_its_part_of_the_peg() -> None:
    plan = ribs(("A", 3, 5), ("B", 1, 6), stock=[lot("resin", 20, lot="R1")])
    assert by_order(plan, "resin") == [(8, "R1")]
    assert plan.pegs_of("resin") == [("A", 3, 6, "stock", "R1"), ("B", 3, 2, "stock", "R1")]
    assert plan.needs_of("resin") == [
        ("A", 3, 6, "make-0001"),
        ("B", 3, 2, "make-0001"),
    ]


def test_of_two_supplies_of_one_need_the_first_are_for_whom_is_served_first() -> None:
    plan = ribs(
        ("A", 3, 5),
        ("B", 1, 6),
        stock=[lot("resin", 3, lot="R1"), lot("resin", 4, lot="R2")],
        open_orders=[receipt("resin", 50, 3, order="PO-1")],
    )
    assert by_order(plan, "resin") == [(3, "R1"), (4, "R2"), (1, "PO-1")]
    assert plan.pegs_of("resin") == [
        ("A", 3, 3, "stock", "R1"),
        ("A", 3, 3, "stock", "R2"),
        ("B", 3, 1, "stock", "R2"),
        ("B", 3, 1, "open order", "PO-1"),
    ]


def test_what_comes_to_an_order_straight_and_through_a_phantom_is_told_apart_together() -> None:
    # 2 kg straight and 1 kg in the kit of each rib: 9 and 3 kg for three ribs and one
    plan = plan_over(
        4,
        [*RIBS, piece("glue set", "phantom")],
        structure=[*RESIN, line("rib", "glue set"), line("glue set", "resin", 1)],
        spares_orders=[need("rib", 3, 5, order="A"), need("rib", 1, 6, order="B")],
        stock=[lot("resin", 10, lot="R1"), lot("resin", 9, lot="R2")],
    )
    assert sum(quantity for quantity, _ in by_order(plan, "resin")) == 12
    assert plan.pegs_of("resin") == [
        ("A", 3, 9, "stock", "R1"),
        ("B", 3, 1, "stock", "R1"),
        ("B", 3, 2, "stock", "R2"),
    ]


def test_what_an_order_takes_beyond_all_demands_is_for_stock() -> None:
    plan = plan_over(
        4,
        [piece("rib", "make", 2, minimum=5), item("resin")],
        structure=RESIN,
        spares_orders=[need("rib", 3, 5, order="A")],
        stock=[lot("resin", 20, lot="R1")],
    )
    assert plan.pegs_of("resin") == [("A", 3, 6, "stock", "R1"), ("", 3, 4, "stock", "R1")]


def test_of_what_is_kept_for_a_serial_each_demand_has_a_need_of_its_own() -> None:
    items = [piece("glider", "make", 1), piece("rib", "make", 2, cover_days=10), item("resin")]
    plan = plan_over(
        4,
        items,
        structure=[line("glider", "rib"), *RESIN],
        build_plan=[
            {"serial": serial, "item": "glider", "ready_date": need("rib", 1, day)["need_date"]}
            for serial, day in (("K-1", 8), ("K-2", 9))
        ],
        stock=[lot("resin", 2, lot="KEPT", serial="K-2"), lot("resin", 8, lot="R1")],
    )
    # the order is for both, so it takes nothing that is kept for one of them
    assert by_order(plan, "resin") == [(2, "R1"), (2, "R1")]


@pytest.fixture(scope="module")
def two_kinds() -> Pegged:
    return ribs(("A", 3, 5), ("B", 1, 6), stock=[lot("resin", 20, lot="R1")]).pegged


def test_the_pegs_of_some_items_are_those_of_all_that_are_of_them(two_kinds: Pegged) -> None:
    for chosen in ([True, False], [False, True], [False, False]):
        items = np.array(chosen)
        own = two_kinds.pegs.filter(
            pl.Series(items[two_kinds.ground.keys.item(two_kinds.pegs["key"].to_numpy())])
        )
        assert two_kinds.of_items(items).equals(own)


def test_the_pegs_of_a_kind_of_demand_are_those_of_all_that_are_for_it() -> None:
    tables: dict[str, list[Row]] = {
        "stock": [lot("resin", 20, lot="R1")],
        "build_plan": [
            {"serial": "K-1", "item": "rib", "ready_date": need("rib", 1, 6)["need_date"]}
        ],
    }
    plan = ribs(("A", 3, 5), **tables)
    pegged = plan.pegged
    for kind in ("airframe", "routine", "grounded"):
        numbers = pegged.demands.filter(pl.col("kind") == kind)["demand_id"]
        own = pegged.pegs.filter(pl.col("demand_id").is_in(numbers.implode()))
        assert pegged.of(kind).equals(own)
        assert own.is_empty() == (kind == "grounded")
