"""What the result tables say of who gets what, read by themselves: every list says the same."""

from collections import defaultdict
from datetime import date, timedelta

import polars as pl
import pytest

from bomkit.planning.forecast.forecast import foreseen
from bomkit.planning.forecast.peg_graph import peg_graph
from bomkit.planning.promises.made_later_by_grounded import without
from tests.planning.driver import Plan
from tests.planning.random_plans import FOLDERS, random_plan
from tests.random_tables import Row, Tables, random_tables

Named = tuple[object, ...]


def little(*quantities: float) -> float:
    """What sums of such quantities may be off by."""
    return 1e-6 * (1 + sum(map(abs, quantities)))


def summed(rows: list[Row], names: tuple[str, ...]) -> dict[Named, float]:
    """The quantities of rows, added up over those that agree in these columns."""
    found: dict[Named, float] = defaultdict(float)
    for row in rows:
        found[tuple(row[name] for name in names)] += float(str(row["quantity"]))
    return found


@pytest.fixture(scope="module")
def folders() -> list[tuple[Tables, Plan]]:
    """Random tables, each with its plan."""
    return [(random_tables(seed), random_plan(seed)) for seed in FOLDERS]


def of_spares(plan: Plan) -> list[Row]:
    """The pegs that spares orders put on what they ask for, not on what goes into it."""
    return [
        row
        for row in plan.pegs.to_dicts()
        if row["demand_kind"] in ("grounded", "routine") and not row["from_order"]
    ]


def test_no_supply_is_given_twice(folders: list[tuple[Tables, Plan]]) -> None:
    for tables, plan in folders:
        pegs = plan.pegs.to_dicts()
        planned = {row["order"]: row["expected_good"] for row in plan.orders.to_dicts()}
        given = summed([row for row in pegs if row["supply_kind"] == "planned order"], ("supply",))
        for (order,), quantity in given.items():
            assert quantity <= planned[order] + little(quantity)
        lots = {row["lot"]: float(str(row["quantity"])) for row in tables["stock"]}
        taken = summed([row for row in pegs if row["supply_kind"] == "stock"], ("supply",))
        for (lot,), quantity in taken.items():
            assert quantity <= lots[lot] + little(quantity)


def test_the_pegs_of_a_need_add_up_to_it(folders: list[tuple[Tables, Plan]]) -> None:
    of_need = ("item", "serial", "need_date", "from_order", "demand")
    for _, plan in folders:
        needs = plan.told_needs
        named = plan.network.named(needs)
        rows = named.with_columns(
            need_date=plan.network.axis.on(named["day"]),
            demand=plan.pegged.demands["demand"].gather(named["demand_id"]),
        ).to_dicts()
        needed, pegged = summed(rows, of_need), summed(plan.pegs.to_dicts(), of_need)
        whole = summed(rows, ("item", "serial"))
        for need, quantity in needed.items():
            assert abs(pegged.get(need, 0.0) - quantity) <= little(whole[need[:2]])


def test_what_leaves_the_house_may_be_used_by_who_gets_it(
    folders: list[tuple[Tables, Plan]],
) -> None:
    checked = 0
    for tables, plan in folders:
        lots = {row["lot"]: row for row in tables["stock"]}
        shelf = {row["order"]: row.get("min_shelf_days", 90) for row in tables["spares_orders"]}
        leaves = {(row["order"], row["item"]): row for row in plan.promises.to_dicts()}
        for row in plan.packing.to_dicts():
            if row["state"] != "take":
                continue
            lot = lots[row["lot"]]
            assert lot.get("serial", "") in ("", row["serial"])
            expires, promise = lot.get("expires"), leaves[row["order"], row["item"]]
            if isinstance(expires, date):
                day = max(promise["earliest_date"] or promise["need_date"], promise["need_date"])
                assert expires >= day + timedelta(days=int(str(shelf[row["order"]])))
            checked += 1
    assert checked > len(FOLDERS) / 3


def test_packing_lists_take_and_wait_for_what_is_pegged(
    folders: list[tuple[Tables, Plan]],
) -> None:
    checked = 0
    for tables, plan in folders:
        kits = {row["item"] for row in tables["items"] if row["source"] == "kit"}
        for order in plan.promises["order"].unique().sort():
            pegs = [row for row in of_spares(plan) if row["demand"] == order]
            if any(row["supply_kind"] in ("passed on", "none") for row in pegs):
                continue  # what is in it is pegged further down
            lines = [row for row in plan.packing.to_dicts() if row["order"] == order]
            packed = any(
                row["item"] in kits and row["supply_kind"] == "planned order" for row in pegs
            )
            if packed or any(row["part"] != row["item"] for row in lines):
                continue  # a kit that is packed for it
            taken = sum(row["quantity"] for row in lines if row["state"] == "take")
            stock = sum(row["quantity"] for row in pegs if row["supply_kind"] == "stock")
            assert -little(stock) <= stock - taken < 1  # whole pieces only are taken
            waits = {row["supply"] for row in lines if row["state"] == "wait"}
            assert waits <= {row["supply"] for row in pegs if row["supply_kind"] != "stock"}
            (promise,) = [row for row in plan.promises.to_dicts() if row["order"] == order]
            if promise["earliest_date"] is None:
                continue
            assert promise["earliest_date"] == max(row["comes"] for row in pegs)
            (forecast,) = [row for row in plan.forecast.to_dicts() if row["demand"] == order]
            assert promise["late_days"] == forecast["late_days"]
            if promise["late_days"]:
                assert promise["earliest_date"] == forecast["earliest_date"]
            checked += 1
    assert checked > len(FOLDERS) / 3


def test_nothing_is_promised_that_nothing_brings(folders: list[tuple[Tables, Plan]]) -> None:
    for _, plan in folders:
        lacking = [row for row in plan.pegs.to_dicts() if row["supply_kind"] == "none"]
        never = {row["demand"] for row in plan.forecast.to_dicts() if not row["earliest_date"]}
        for promise in plan.promises.to_dicts():
            if promise["earliest_date"] is None:
                assert lacking and promise["order"] in never
        for row in plan.packing.to_dicts():
            assert row["can_take"] is None or row["state"] == "take" or row["supply"]


def hurt_by_routine(plan: Plan) -> dict[bool, int]:
    """How many airframes and grounded orders are later (True) or not than without the routine
    orders; nothing where there are none."""
    kinds = dict(plan.pegged.demands.select("demand_id", "kind").rows())
    routine = [number for number, kind in kinds.items() if kind == "routine"]
    alone = without(plan.stores.made, plan.stores.turn, pl.Series(routine, dtype=pl.Int64))
    spared = foreseen(peg_graph(plan.network, plan.orders, alone)).demands
    before = dict(spared.select("demand_id", "late_days").rows())
    found = {True: 0, False: 0}
    for number, days in plan.ahead.demands.select("demand_id", "late_days").rows():
        if routine and kinds[number] in ("airframe", "grounded"):
            found[days > before[number]] += 1
    return found


def test_no_airframe_is_earlier_if_routine_orders_are_given_nothing(
    folders: list[tuple[Tables, Plan]],
) -> None:
    found = [hurt_by_routine(plan) for _, plan in folders]
    assert sum(each[True] for each in found) == 0
    assert sum(each[False] for each in found) > len(FOLDERS)


def test_nor_where_what_is_passed_on_comes_later_than_planned() -> None:
    found = hurt_by_routine(Plan(random_tables(1080)))
    assert found[True] == 0 and found[False]


def test_nobody_is_said_to_wait_for_what_a_routine_order_is_given(
    folders: list[tuple[Tables, Plan]],
) -> None:
    for _, plan in folders:
        urgency = dict(plan.promises.select("order", "urgency").rows())
        for row in plan.packing.to_dicts():
            if row["state"] == "take" and urgency[row["order"]] == "routine":
                assert row["waiting"] == "" and row["waiting_days"] == 0
