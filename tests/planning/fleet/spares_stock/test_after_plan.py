"""Spares held against what the plan leaves, and what lacks as orders for the own shelf."""

import shutil
from pathlib import Path

import polars as pl
import pytest

from bomkit.planning.fleet.spares_stock.after_plan import left_by_plan, orders_for_stock
from tests.builders import typed_tables
from tests.commands import bomkit, written
from tests.planning.driver import (
    MONDAY,
    Plan,
    airframe,
    day,
    line,
    lot,
    need,
    piece,
    plan_over,
    receipt,
)

ITEMS = [piece("glider", "make", 5), piece("bolt", lead=30)]
BUILT = {"structure": [line("glider", "bolt", 2)], "build_plan": [airframe("K-1", "glider", 20)]}


def left(plan: Plan) -> dict[str, float]:
    return dict(left_by_plan(plan.network, plan.pegged).rows())


def test_what_the_line_has_is_not_left() -> None:
    plan = plan_over(8, ITEMS, **BUILT, stock=[lot("bolt", 5)])
    assert left(plan) == {"bolt": 3}


def test_what_nobody_asks_for_is_left_whole() -> None:
    assert left(plan_over(8, ITEMS, stock=[lot("bolt", 5)])) == {"bolt": 5}


def test_open_orders_count_as_well_as_stock() -> None:
    plan = plan_over(
        8, ITEMS, **BUILT, stock=[lot("bolt", 1)], open_orders=[receipt("bolt", 4, 10)]
    )
    assert left(plan) == {"bolt": 3}


def test_what_spares_orders_have_is_not_left_but_what_is_for_the_own_shelf_is() -> None:
    for kind, there in (("customer", 0), ("stock", 1)):
        spare = need("bolt", 1, 12, kind=kind)
        plan = plan_over(8, ITEMS, **BUILT, stock=[lot("bolt", 3)], spares_orders=[spare])
        assert left(plan) == {"bolt": there}


def test_what_is_kept_for_an_aircraft_is_not_left() -> None:
    plan = plan_over(8, ITEMS, **BUILT, stock=[lot("bolt", 9, serial="K-1")])
    assert left(plan) == {}


def test_an_order_for_the_own_shelf_is_planned_and_never_packed_and_comes_last() -> None:
    shelf = need("bolt", 1, 2, order="shelf", kind="stock")
    spare = need("bolt", 1, 3, order="S-1")
    plan = plan_over(8, ITEMS, stock=[lot("bolt", 1)], spares_orders=[shelf, spare])
    assert plan.orders["quantity"].to_list() == [1]
    assert plan.promises["order"].to_list() == ["S-1"]
    assert plan.packing.select("order", "state").rows() == [("S-1", "take")]


def test_what_lacks_is_wanted_when_it_can_be_there_and_at_the_latest_on_the_last_day() -> None:
    tables = typed_tables({"plan": [{"start": MONDAY, "horizon_weeks": 2}]})
    parts = pl.DataFrame(
        {
            "item": ["belt", "bolt", "lamp", "seat", "tyre"],
            "gap": [1, 0, 2, 3, 4],
            "resupply_days": [7, 7, None, 9, 10],
        }
    )
    rows = orders_for_stock(tables, parts)
    assert rows.select("order", "item", "quantity", "need_date", "kind").rows() == [
        ("stock-belt", "belt", 1, day(7), "stock"),
        ("stock-lamp", "lamp", 2, day(0), "stock"),
        ("stock-seat", "seat", 3, day(9), "stock"),
        ("stock-tyre", "tyre", 4, day(9), "stock"),
    ]


TABLES = {
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 12\n",
    "items.csv": "item,source,unit,lead_days,cost\nkelto,make,pc,5,\nbolt,buy,pc,30,2\n",
    "structure.csv": "parent,child,quantity\nkelto,bolt,2\n",
    "build_plan.csv": "serial,item,ready_date\nK-9,kelto,2026-12-23\n",
    "fleet.csv": "serial,item,hours_per_year\nK-1,kelto,100\n",
    "usage.csv": "item,per_year\nbolt,3\n",
    "stock.csv": "item,quantity\nbolt,2\n",
}


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return written(tmp_path / "data", TABLES)


def test_what_lacks_is_a_table_of_spares_orders_that_can_be_planned(
    data: Path, tmp_path: Path
) -> None:
    orders, out = tmp_path / "more.csv", tmp_path / "s.xlsx"
    result = bomkit("spares", data, "--out", out, "--after-plan", "--orders", orders)
    assert result.exit_code == 0, result.output
    # 3 a year over 30 working days: one reaches 95 %; two lie there, and K-9 has both
    assert orders.read_text().splitlines() == [
        "order,item,quantity,need_date,kind",
        "stock-bolt,bolt,1,2027-01-11,stock",
    ]
    (data / "spares_orders.csv").write_text(orders.read_text())
    assert bomkit("check", data).exit_code == 0
    again = bomkit("spares", data, "--out", out, "--after-plan", "--orders", orders)
    assert again.exit_code == 1  # nothing is overwritten unasked


def test_it_stands_below_the_spares_orders_there_are_whatever_their_columns(
    data: Path, tmp_path: Path
) -> None:
    asked = "customer,quantity,item,order,need_date\nNorth,1,bolt,S-1,2026-12-02\n"
    (data / "spares_orders.csv").write_text(asked)
    orders = tmp_path / "more.csv"
    words = ["--out", tmp_path / "s.xlsx", "--after-plan", "--orders", orders]
    assert bomkit("spares", data, *words).exit_code == 0
    assert orders.read_text().splitlines() == [
        "order,item,quantity,need_date,customer,kind",
        "S-1,bolt,1,2026-12-02,North,customer",
        "stock-bolt,bolt,1,2027-01-11,,stock",
    ]
    shutil.copy(orders, data / "spares_orders.csv")
    assert bomkit("check", data).exit_code == 0


def test_without_the_plan_all_stock_counts(data: Path, tmp_path: Path) -> None:
    first, second = tmp_path / "a.xlsx", tmp_path / "b.xlsx"
    everything = bomkit("spares", data, "--out", first).output
    after = bomkit("spares", data, "--out", second, "--after-plan").output
    assert everything.splitlines()[:-1] != after.splitlines()[:-1]


@pytest.mark.parametrize(
    "words",
    [["--orders", "x.csv"], ["--after-plan", "--orders", "x.xlsx"]],
)
def test_orders_go_with_the_plan_and_into_a_table(
    data: Path, tmp_path: Path, words: list[str]
) -> None:
    assert bomkit("spares", data, "--out", tmp_path / "s.xlsx", *words).exit_code == 2
