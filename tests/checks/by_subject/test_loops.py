"""A loop of the structure is told at the line that closes it first, by its names."""

import shutil
from pathlib import Path

from bomkit.checks.tables_as_a_whole import structure_findings
from bomkit.runs.checked_tables import checked_inputs
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, line
from tests.random_tables import Row
from tests.samples import TINY


def loops_of(
    pairs: list[Row], replacements: list[Row] | None = None
) -> list[tuple[str, int, str, str, str]]:
    """Table, row, column, value and the way of each loop."""
    names = sorted({str(row[name]) for row in pairs for name in ("parent", "child")})
    names += sorted(
        {str(row[name]) for row in replacements or [] for name in ("old", "new")} - {*names}
    )
    found = structure_findings(
        typed_tables(
            {
                "plan": [{"start": MONDAY, "horizon_weeks": 4}],
                "items": [item(name) for name in names],
                "structure": pairs,
                "replacements": replacements or [],
            }
        )
    )
    return [
        (each.table, each.row, each.column, each.value, each.message.split("the loop is ")[1])
        for each in found
        if "the loop is" in each.message
    ]


def test_a_loop_stands_at_the_line_from_its_first_item_to_the_next() -> None:
    lines = [line("wing", "rib"), line("rib", "spar"), line("spar", "rib"), line("rib", "spar")]
    assert loops_of(lines) == [("structure", 3, "child", "spar", "rib -> spar -> rib")]


def test_each_loop_is_told_once() -> None:
    lines = [line("b", "a"), line("a", "b"), line("y", "x"), line("x", "y")]
    assert loops_of(lines) == [
        ("structure", 3, "child", "b", "a -> b -> a"),
        ("structure", 5, "child", "y", "x -> y -> x"),
    ]


def test_an_item_in_itself_is_told_by_the_rule_alone_and_hides_no_other_loop() -> None:
    lines = [line("rib", "rib"), line("spar", "rib"), line("rib", "spar")]
    assert loops_of(lines) == [("structure", 4, "child", "spar", "rib -> spar -> rib")]


def test_round_a_loop_nobody_is_asked_for_serial_numbers(tmp_path: Path) -> None:
    data = Path(shutil.copytree(TINY, tmp_path / "data"))
    with (data / "structure.csv").open("a") as file:
        file.write("rudder-skin,tail-unit,1,pc,each,,,,,,\nrudder,rudder,1,pc,each,,,,,,\n")
    said = [(each.place, each.message.split(";")[0]) for each in checked_inputs(data)[1]]
    assert said == [
        ("line 14", "an item can't go into itself"),
        ("line 4", "an item can't contain itself"),
    ]


def test_a_loop_that_a_replacement_closes_stands_at_the_replacement() -> None:
    found = loops_of([line("b", "a")], replacements=[{"old": "a", "new": "b"}])
    assert found == [("replacements", 2, "new", "b", "a -> b -> a")]
