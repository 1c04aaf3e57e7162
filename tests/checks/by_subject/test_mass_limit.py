"""The airframes' masses against the limit: who is warned, and of what."""

from bomkit.checks.by_subject.mass_limit import mass_findings
from bomkit.problems import Finding
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, airframe, item, line
from tests.random_tables import Row

ITEMS = [
    item("kelto", source="make", unit="pc"),
    item("wing", unit="pc", mass_g=60_000),
    item("bolt", unit="pc"),
]
LINES = [line("kelto", "wing", 2), line("kelto", "wing", 1, with_option="biplane")]
PLAN = [airframe("KL-1", "kelto", 9), airframe("KL-2", "kelto", 19, "biplane")]


def findings(
    limit: float | None, lines: list[Row] = LINES, items: list[Row] = ITEMS
) -> list[Finding]:
    plan: list[Row] = [{"start": MONDAY, "horizon_weeks": 4, "mass_limit_kg": limit}]
    tables = {"plan": plan, "items": items, "structure": lines, "build_plan": PLAN}
    return mass_findings(typed_tables(tables))


def test_nothing_is_said_without_a_limit() -> None:
    assert findings(None) == []


def test_an_airframe_over_the_limit_is_named_with_both_figures() -> None:
    (found,) = findings(130)
    assert (found.table, found.row, found.value, found.severity) == (
        *("build_plan", 3, "KL-2", "warning"),
    )
    assert "180.0 kg" in found.message and "130 kg" in found.message


def test_a_mass_that_just_meets_the_limit_is_within_it() -> None:
    assert findings(180) == []


def test_parts_without_a_mass_are_named() -> None:
    (found,) = findings(500, [*LINES, line("kelto", "bolt", 4)])
    assert (found.table, found.row) == ("plan", 0) and "bolt" in found.message


def test_a_part_that_is_empty_for_this_serial_alone_is_named() -> None:
    items = [*ITEMS, item("tank", unit="pc", source="make"), item("cap", unit="pc", mass_g=9)]
    lines = [*LINES, line("kelto", "tank"), line("tank", "cap", with_option="diesel")]
    (found,) = findings(500, lines, items)
    assert "tank" in found.message
    assert findings(500, [*lines, line("tank", "cap")], items) == []
