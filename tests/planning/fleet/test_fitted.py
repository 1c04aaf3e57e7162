"""Which aircraft carry a lot by their records, and which contain an item by their configuration."""

from datetime import date

import polars as pl

from bomkit.planning.fleet.fitted import Carriers, Wanted, carriers, configured_with
from tests.builders import typed_tables
from tests.planning.driver import airframe, line, lot, need, piece
from tests.random_tables import Row

FITTED: list[Row] = [
    {"serial": "K-1", "item": "hook", "lot": "B7", "date": date(2026, 3, 2)},
    {"serial": "K-2", "item": "hook", "lot": "B8", "part_serial": "H-20"},
    {"serial": "K-3", "item": "hook", "part_serial": "H-30"},
]
FLEET: list[Row] = [
    {"serial": f"K-{number}", "item": "kelto", "base": f"field {number}"} for number in range(1, 5)
]


def tables_of(**more: list[Row]) -> dict[str, pl.DataFrame]:
    items = [piece("kelto", "make"), piece("hook"), piece("hook 2"), piece("ski")]
    structure = [line("kelto", "hook"), line("kelto", "ski", with_option="SKIS")]
    own = {"items": items, "structure": structure, "fleet": FLEET, "fitted": FITTED}
    return typed_tables({**own, **more})


def found(wanted: Wanted, **more: list[Row]) -> Carriers:
    return carriers(tables_of(**more), wanted)


def recorded(told: Carriers) -> list[str]:
    return told.recorded["serial"].to_list()


def unrecorded(told: Carriers) -> list[str]:
    return told.unrecorded["serial"].to_list()


def test_who_carries_a_lot_is_in_the_records_and_who_may_carry_it_has_none_that_tells() -> None:
    told = found(Wanted(lot="B7"))
    assert told.items == ["hook"]
    assert recorded(told) == ["K-1"]
    assert unrecorded(told) == ["K-3", "K-4"]  # of K-2 another lot is known, of K-3 none


def test_who_carries_a_part_by_its_own_number() -> None:
    told = found(Wanted(item="hook", part_serial="H-30"))
    assert recorded(told) == ["K-3"]
    assert unrecorded(told) == ["K-1", "K-4"]  # of K-1 only the lot is known


def test_any_record_of_an_item_tells_that_it_is_there() -> None:
    told = found(Wanted(item="hook"))
    assert recorded(told) == ["K-1", "K-2", "K-3"]
    assert unrecorded(told) == ["K-4"]


def test_a_lot_of_which_only_stock_is_left_may_be_in_any_aircraft_without_records() -> None:
    told = found(Wanted(lot="B9"), stock=[lot("hook", 1, lot="B9"), lot("ski", 1, lot="A1")])
    assert (told.items, recorded(told)) == (["hook"], [])
    assert unrecorded(told) == ["K-3", "K-4"]


def test_a_part_number_names_no_other_items_of_its_lot() -> None:
    stock = [lot("ski", 1, lot="B8")]
    assert found(Wanted(lot="B8"), stock=stock).items == ["hook", "ski"]
    assert found(Wanted(lot="B8", part_serial="H-20"), stock=stock).items == ["hook"]


def test_an_item_that_is_named_is_the_only_one_that_is_meant() -> None:
    assert found(Wanted(lot="B8", item="hook"), stock=[lot("ski", 1, lot="B8")]).items == ["hook"]


def test_aircraft_on_the_line_have_no_records_yet_and_are_shown_before_the_fleet() -> None:
    line_up = [airframe("A-1", "kelto", 9), airframe("K-5", "kelto", 15)]
    assert unrecorded(found(Wanted(item="hook"), build_plan=line_up)) == ["K-4"]
    told = configured_with(tables_of(build_plan=line_up), ["hook"])
    places = [(f"K-{number}", "fleet") for number in range(1, 5)]
    assert told.select("serial", "place").rows() == [("A-1", "line"), ("K-5", "line"), *places]


def test_an_aircraft_without_the_option_does_not_contain_what_goes_with_it() -> None:
    fleet = [FLEET[0] | {"options": "SKIS"}, FLEET[1]]
    told = configured_with(tables_of(fleet=fleet), ["ski"])
    assert told["serial"].to_list() == ["K-1"]


def test_an_aircraft_in_the_fleet_and_in_the_build_plan_counts_once_as_delivered() -> None:
    told = configured_with(tables_of(build_plan=[airframe("K-1", "kelto", 9)]), ["hook"])
    assert told.filter(serial="K-1").select("place", "base").rows() == [("fleet", "field 1")]


def test_the_customer_is_the_one_of_the_fleet_or_else_who_last_ordered_for_the_aircraft() -> None:
    orders = [
        need("ski", 1, 9, order="S-2", serial="K-2", customer="later"),
        need("ski", 1, 5, order="S-1", serial="K-2", customer="earlier"),
        need("ski", 1, 12, order="S-4", serial="K-2"),
        need("ski", 1, 9, order="S-3", serial="K-1", customer="another"),
        need("ski", 1, 9, order="S-5", customer="nobody in particular"),
    ]
    fleet = [FLEET[0] | {"customer": "its owner"}, *FLEET[1:]]
    told = configured_with(tables_of(fleet=fleet, spares_orders=orders), ["hook"])
    assert told["customer"].to_list() == ["its owner", "later", "", ""]


def test_records_are_told_by_aircraft_and_day_those_without_a_day_last() -> None:
    fitted = [
        {"serial": "K-2", "item": "hook", "lot": "B7"},
        {"serial": "K-2", "item": "hook", "lot": "B7", "date": date(2026, 5, 1)},
        {"serial": "K-1", "item": "hook", "lot": "B7", "date": date(2026, 6, 1)},
    ]
    told = found(Wanted(lot="B7"), fitted=fitted).recorded
    days = [("K-1", date(2026, 6, 1)), ("K-2", date(2026, 5, 1)), ("K-2", None)]
    assert told.select("serial", "date").rows() == days
    assert told["base"].to_list() == ["field 1", "field 2", "field 2"]
