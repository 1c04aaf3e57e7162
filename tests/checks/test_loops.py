"""A loop of the structure is told at the line that closes it first, by its names."""

from bomkit.checks.soundness import structure_findings
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, line
from tests.random_tables import Row


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
    lines = [line("b", "a"), line("a", "b"), line("y", "x"), line("x", "y"), line("z", "z")]
    assert loops_of(lines) == [
        ("structure", 3, "child", "b", "a -> b -> a"),
        ("structure", 5, "child", "y", "x -> y -> x"),
        ("structure", 6, "child", "z", "z -> z"),
    ]


def test_a_loop_that_a_replacement_closes_stands_at_the_replacement() -> None:
    found = loops_of([line("b", "a")], replacements=[{"old": "a", "new": "b"}])
    assert found == [("replacements", 2, "new", "b", "a -> b -> a")]
