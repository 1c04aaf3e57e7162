"""Options and serial numbers: which items are planned by serial, and which lines a serial has."""

import polars as pl
import pytest

from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.planning.structure.options_and_serials import (
    fits,
    option_names,
    serial_number,
    serial_specific_items,
)
from bomkit.problems import Finding
from tests.builders import typed_tables
from tests.planning.driver import (
    MONDAY,
    Plan,
    airframe,
    day,
    item,
    line,
    lot,
    need,
    plan_of,
    receipt,
)
from tests.random_tables import Row

BUILT = [airframe("KL-1", "glider", 9, "lamp radio"), airframe("KL-2", "glider", 9)]
FLEET: list[Row] = [{"serial": "KL-0", "item": "glider", "options": "lamp"}]


def pieces(*names: str, **columns: object) -> list[Row]:
    """Items made and counted in pieces."""
    return [item(name, source="make", unit="pc", **columns) for name in names]


# ---------------------------------------------------------------- which items


def specific_items(lines: list[Row], *built: str) -> list[str]:
    tables = typed_tables(
        {
            "structure": lines,
            "build_plan": [airframe(f"KL-{name}", name, 0) for name in built],
        }
    )
    return serial_specific_items(tables["structure"], tables["build_plan"]).to_list()


def test_what_stands_in_the_build_plan_is_planned_by_serial() -> None:
    assert specific_items([line("glider", "wing")], "glider") == ["glider"]


@pytest.mark.parametrize("condition", ["with_option", "without_option", "from_serial", "to_serial"])
def test_the_parent_of_a_conditional_line_is_planned_by_serial(condition: str) -> None:
    assert specific_items([line("wing", "lamp") | {condition: "KL-1"}]) == ["wing"]


def test_all_that_contain_a_serial_specific_item_are_so_too_and_what_it_contains_is_not() -> None:
    lines = [
        line("glider", "wing"),
        line("wing", "tip"),
        line("tip", "lamp", with_option="lamp"),
        line("lamp", "bulb"),
        line("trailer", "ramp"),
    ]
    assert specific_items(lines) == ["glider", "tip", "wing"]


def test_dates_do_not_make_a_line_conditional() -> None:
    assert specific_items([line("wing", "lamp", from_date=day(3), to_date=day(9))]) == []


# ---------------------------------------------------------------- options


def test_options_may_be_separated_by_spaces_commas_or_semicolons() -> None:
    assert option_names(" lamp, radio;skis  floats ") == {"lamp", "radio", "skis", "floats"}
    assert option_names("") == set()


@pytest.mark.parametrize(
    ("with_option", "without_option", "fitted", "holds"),
    [
        ("lamp", "", "lamp radio", True),
        ("lamp", "", "radio", False),
        ("lamp radio", "", "lamp radio skis", True),
        ("lamp radio", "", "lamp", False),
        ("", "lamp", "radio", True),
        ("", "lamp", "lamp radio", False),
        ("", "lamp skis", "skis", False),
        ("", "lamp skis", "", True),
        ("radio", "lamp", "radio", True),
        ("radio", "lamp", "radio lamp", False),
        ("lamp", "", "lamps", False),
        ("lamp", "", "Lamp", False),
    ],
)
def test_all_wanted_options_must_be_fitted_and_no_excluded_one(
    with_option: str, without_option: str, fitted: str, holds: bool
) -> None:
    assert fits((with_option, without_option, "", ""), "KL-1", option_names(fitted)) == holds


# ---------------------------------------------------------------- serial ranges


def test_a_serial_is_read_as_a_prefix_and_the_number_at_its_end() -> None:
    assert serial_number("KL-061") == ("KL-", 61)
    assert serial_number("2K-7") == ("2K-", 7)
    assert serial_number("prototype") == ("prototype", None)


@pytest.mark.parametrize(
    ("from_serial", "to_serial", "serial", "holds"),
    [
        ("KL-10", "", "KL-10", True),
        ("KL-10", "", "KL-9", False),
        ("KL-10", "", "KL-100", True),
        ("", "KL-10", "KL-10", True),
        ("", "KL-10", "KL-11", False),
        ("", "KL-10", "KL-9", True),
        ("KL-9", "KL-11", "KL-10", True),
        ("KL-9", "KL-11", "KL-12", False),
        ("KL-061", "", "KL-61", True),
        ("KL-100", "", "KL-0099", False),
        ("KL-10", "", "KU-50", False),
        ("", "KL-10", "KU-5", False),
        ("KL-10", "KL-20", "prototype", False),
    ],
)
def test_a_serial_range_is_inclusive_and_compares_numbers_behind_one_prefix(
    from_serial: str, to_serial: str, serial: str, holds: bool
) -> None:
    assert fits(("", "", from_serial, to_serial), serial, frozenset()) == holds


def test_options_and_serial_range_must_both_hold() -> None:
    condition = ("lamp", "", "KL-5", "")
    assert fits(condition, "KL-5", frozenset({"lamp"}))
    assert not fits(condition, "KL-4", frozenset({"lamp"}))
    assert not fits(condition, "KL-5", frozenset())


# ---------------------------------------------------------------- planning by serial


def glider_plan(lines: list[Row], items: list[Row], **tables: list[Row]) -> Plan:
    """Two gliders built on day 9 and one in the field."""
    return plan_of(
        [*pieces("glider"), *items], structure=lines, build_plan=BUILT, fleet=FLEET, **tables
    )


def test_each_serial_takes_the_lines_of_its_own_options_and_number() -> None:
    plan = glider_plan(
        [
            line("glider", "lamp", with_option="lamp"),
            line("glider", "cover", without_option="lamp"),
            line("glider", "old hook", to_serial="KL-1"),
            line("glider", "new hook", 2, from_serial="KL-2"),
        ],
        pieces("lamp", "cover", "old hook", "new hook"),
    )
    parts = ("lamp", "cover", "old hook", "new hook")
    # KL-1 has the lamp and the old hook, KL-2 the cover and the new hooks
    assert [plan.gross_of(part) for part in parts] == [{9: 1}, {9: 1}, {9: 1}, {9: 2}]
    plan = glider_plan([line("glider", "lamp", with_option="lamp skis")], pieces("lamp"))
    assert plan.gross_of("lamp") == {}


def rudder_plan(rudder: list[Row] | None = None, **tables: list[Row]) -> Plan:
    """Gliders with a rudder that may carry a lamp, and with two bolts."""
    return glider_plan(
        [
            line("glider", "rudder"),
            line("glider", "bolt", 2),
            line("rudder", "lamp", with_option="lamp"),
            line("rudder", "skin", 2),
        ],
        [*(rudder or pieces("rudder")), *pieces("lamp", "skin"), item("bolt", unit="pc")],
        **tables,
    )


def test_stock_of_one_serial_never_serves_another() -> None:
    plan = rudder_plan(stock=[lot("rudder", 2, serial="KL-2")])
    assert plan.orders_of("rudder", "KL-1") == [(9, 9, 1)]
    assert plan.orders_of("rudder", "KL-2") == []
    assert plan.on_hand_of("rudder", "KL-2")[-1] == 1


def test_an_open_order_of_one_serial_never_serves_another() -> None:
    plan = rudder_plan(open_orders=[receipt("rudder", 2, 3, serial="KL-1")])
    assert plan.orders_of("rudder", "KL-1") == []
    assert plan.orders_of("rudder", "KL-2") == [(9, 9, 1)]


def test_a_lot_of_one_serial_never_serves_another() -> None:
    plan = rudder_plan(pieces("rudder", minimum=2))
    assert plan.orders_of("rudder", "KL-1") == [(9, 9, 2)]
    assert plan.orders_of("rudder", "KL-2") == [(9, 9, 2)]
    # only KL-1 has lamps; both have skins
    assert plan.gross_of("lamp") == {9: 2}
    assert plan.gross_of("skin") == {9: 8}


def test_a_common_part_is_planned_once_for_all_serials() -> None:
    plan = rudder_plan(stock=[lot("bolt", 3)])
    assert plan.gross_of("bolt") == {9: 4}
    assert plan.orders_of("bolt") == [(9, 9, 1)]


def test_a_serial_on_a_row_of_a_common_item_only_says_for_whom_it_is_meant() -> None:
    plan = rudder_plan(
        stock=[lot("bolt", 3, serial="KL-2")],
        open_orders=[receipt("bolt", 1, 4, serial="KL-0")],
        spares_orders=[need("bolt", 1, 9, serial="KL-0")],
    )
    # five are needed and four are there, but KL-2 needs only two of the three kept for it
    assert sum(row[2] for row in plan.orders_of("bolt")) == 2


def test_a_spare_for_an_aircraft_in_the_field_takes_its_options() -> None:
    plan = rudder_plan(spares_orders=[need("rudder", 1, 4, serial="KL-0")])
    assert plan.orders_of("rudder", "KL-0") == [(4, 4, 1)]
    assert plan.gross_of("lamp") == {4: 1, 9: 1}


def test_what_an_open_order_lacks_is_taken_from_its_own_serial() -> None:
    lacking: Row = {"order": "W-1", "item": "rudder", "quantity": 1, "need_date": day(2)}
    plan = rudder_plan(
        stock=[lot("rudder", 1, serial="KL-2")], allocations=[lacking | {"serial": "KL-1"}]
    )
    assert plan.gross_of("rudder", "KL-1") == {2: 1, 9: 1}
    assert plan.orders_of("rudder", "KL-2") == []


def test_a_phantom_with_options_passes_on_for_each_serial() -> None:
    plan = glider_plan(
        [line("glider", "set"), line("set", "lamp", with_option="lamp"), line("set", "clip")],
        [item("set", source="phantom", unit="pc"), *pieces("lamp", "clip")],
        stock=[lot("set", 1, serial="KL-2")],
    )
    # the set of KL-2 is in stock; that of KL-1 passes on
    assert plan.gross_of("lamp") == {9: 1}
    assert plan.gross_of("clip") == {9: 1}


def test_a_replacement_keeps_the_serial_of_what_it_replaces() -> None:
    lamp = line("new rudder", "lamp", with_option="lamp")
    plan = glider_plan(
        [line("glider", "old rudder"), line("old rudder", "lamp", with_option="lamp"), lamp],
        pieces("old rudder", "new rudder", "lamp"),
        replacements=[{"old": "old rudder", "new": "new rudder"}],
        stock=[lot("old rudder", 1, serial="KL-2")],
    )
    assert plan.orders_of("new rudder", "KL-1") == [(9, 9, 1)]
    assert plan.orders_of("new rudder", "KL-2") == []
    assert plan.gross_of("lamp") == {9: 1}


def test_a_common_item_may_replace_a_serial_specific_one() -> None:
    plan = glider_plan(
        [line("glider", "old rudder"), line("old rudder", "lamp", with_option="lamp")],
        pieces("old rudder", "new rudder", "lamp"),
        replacements=[{"old": "old rudder", "new": "new rudder"}],
    )
    assert plan.gross_of("new rudder") == {9: 2}


# ---------------------------------------------------------------- what must be said


def errors_of(**tables: list[Row]) -> list[Finding]:
    """Errors in gliders with a rudder by options."""
    rows: dict[str, list[Row]] = {
        "plan": [{"start": MONDAY, "horizon_weeks": 4}],
        "items": pieces("glider", "rudder", "lamp", "bolt"),
        "structure": [
            line("glider", "rudder"),
            line("glider", "bolt"),
            line("rudder", "lamp", with_option="lamp"),
        ],
        "build_plan": BUILT,
        "fleet": FLEET,
    }
    found = structure_findings(typed_tables({**rows, **tables}))
    return [each for each in found if each.severity == "error"]


def test_gliders_with_all_their_serials_named_are_without_error() -> None:
    assert errors_of(stock=[lot("rudder", 1, serial="KL-1"), lot("bolt", 5)]) == []


@pytest.mark.parametrize(
    ("table", "row"),
    [
        ("stock", lot("rudder", 1)),
        ("open_orders", receipt("rudder", 1, 3)),
        ("spares_orders", need("rudder", 1, 3)),
        ("allocations", need("rudder", 1, 3)),
    ],
)
def test_a_row_of_a_serial_specific_item_must_name_a_serial(table: str, row: Row) -> None:
    errors = errors_of(**{table: [row]})
    assert [(each.table, each.row, each.column) for each in errors] == [(table, 2, "serial")]


def test_a_serial_specific_item_holds_no_safety_stock() -> None:
    items = [*pieces("glider", "lamp", "bolt"), *pieces("rudder", safety_stock=1)]
    errors = errors_of(items=items)
    assert [(each.table, each.row, each.column) for each in errors] == [
        ("items", 5, "safety_stock")
    ]


def test_planning_marks_serial_specific_items_up_the_structure() -> None:
    items = rudder_plan().network.items.filter(pl.col("specific"))["item"].to_list()
    assert items == ["glider", "rudder"]
