"""What is in a kit that is ordered, held against the aircraft it goes to."""

from datetime import date

from bomkit.checks.by_serial.kit_content import kit_content_findings
from bomkit.checks.everything import load_inputs
from bomkit.problems import Finding
from tests.builders import typed_tables
from tests.planning.driver import item, line, need
from tests.random_tables import Row
from tests.samples import SAMPLES

LATER = date(2027, 1, 15)
FLEET: list[Row] = [
    {"serial": "K-1", "item": "kelto", "options": "SKIS"},
    {"serial": "K-2", "item": "kelto", "options": ""},
]
ITEMS = [
    *(item(name, source="make", unit="pc") for name in ("kelto", "leg")),
    *(item(name, unit="pc") for name in ("ski", "tyre", "tyre 2", "bolt", "manual")),
    *(item(name, source="kit", unit="pc") for name in ("wheel kit", "field kit")),
]
STRUCTURE = [
    line("kelto", "leg"),
    line("leg", "ski", with_option="SKIS"),
    line("leg", "tyre", without_option="SKIS"),
    line("leg", "bolt"),
    line("wheel kit", "tyre", 2, position="10"),
    line("wheel kit", "bolt", 4, position="20"),
    line("wheel kit", "manual", position="30"),
    line("field kit", "wheel kit", position="5"),
]


def findings(kit: str, serial: str, **tables: list[Row]) -> list[Finding]:
    """What is found for one order of a kit."""
    orders = [need(kit, 1, LATER, order="S-1", serial=serial)]
    rows = {"items": ITEMS, "structure": STRUCTURE, "fleet": FLEET, "spares_orders": orders}
    return kit_content_findings(typed_tables({**rows, **tables}))


def test_tyres_that_go_in_nowhere_on_the_aircraft_are_warned_of_by_their_line() -> None:
    [found] = findings("wheel kit", "K-1")
    assert (found.table, found.row, found.column, found.value) == (
        *("spares_orders", 2, "item", "wheel kit"),
    )
    assert found.severity == "warning"
    assert "is for K-1, but holds what goes in nowhere on that aircraft: 10 tyre;" in found.message


def test_a_kit_for_the_aircraft_with_the_undercarriage_it_is_for_is_fine() -> None:
    assert findings("wheel kit", "K-2") == []


def test_what_is_in_an_inner_kit_is_held_against_the_aircraft_too() -> None:
    [found] = findings("field kit", "K-1")
    assert "10 tyre;" in found.message


def test_what_is_in_no_aircraft_at_all_fits_every_one() -> None:
    structure = [line("kelto", "leg"), line("wheel kit", "manual")]
    assert findings("wheel kit", "K-1", structure=structure) == []


def test_a_part_goes_in_where_what_it_takes_the_place_of_does() -> None:
    structure = [*STRUCTURE[:4], line("wheel kit", "tyre 2")]
    replaced: list[Row] = [{"old": "tyre", "new": "tyre 2"}]
    assert findings("wheel kit", "K-2", structure=structure, replacements=replaced) == []
    assert len(findings("wheel kit", "K-1", structure=structure, replacements=replaced)) == 1


def test_lines_that_do_not_count_for_the_aircraft_are_not_held_against_it() -> None:
    structure = [*STRUCTURE[:4], line("wheel kit", "tyre", without_option="SKIS")]
    structure.append(line("wheel kit", "bolt"))
    assert findings("wheel kit", "K-1", structure=structure) == []


def test_a_kit_emptied_by_dates_and_conditions_together_is_refused_by_its_lines() -> None:
    structure = [
        *STRUCTURE[:4],
        line("wheel kit", "bolt", to_date=date(2026, 12, 31)),
        line("wheel kit", "tyre", without_option="SKIS"),
    ]
    [found] = findings("wheel kit", "K-1", structure=structure)
    assert found.severity == "error"
    assert "on 2027-01-15: wheel kit -> bolt until 2026-12-31; " in found.message
    assert "wheel kit -> tyre without SKIS;" in found.message


def test_a_set_within_that_is_empty_names_the_lines_within() -> None:
    structure = [
        *STRUCTURE[:4],
        line("field kit", "wheel kit"),
        line("wheel kit", "bolt", from_date=date(2027, 2, 1)),
    ]
    [found] = findings("field kit", "K-2", structure=structure)
    assert "wheel kit -> bolt from 2027-02-01;" in found.message


def test_the_kits_of_the_sample_go_in() -> None:
    assert kit_content_findings(load_inputs(SAMPLES / "fenlark").tables) == []
