"""Structure lines as numbers: how much a parent takes of a child, and when."""

from bomkit.planning.tables_as_numbers.network import build_network
from tests.builders import typed_tables
from tests.planning.driver import MONDAY, item, line, piece
from tests.random_tables import Row

ITEMS = [piece("wing", "make"), piece("set", "phantom"), piece("screw"), item("resin")]


def lines(column: str, *rows: Row, **tables: list[Row]) -> dict[tuple[str, str], object]:
    """One column of the lines by parent and child."""
    settings: list[Row] = [{"start": MONDAY, "horizon_weeks": 4}]
    all_tables = {"plan": settings, "items": ITEMS, "structure": list(rows), **tables}
    network = build_network(typed_tables(all_tables))
    names = dict(network.items.select("item_id", "item").iter_rows())
    told = network.lines.select("parent_id", "child_id", column)
    return {(names[parent], names[child]): value for parent, child, value in told.iter_rows()}


def test_waste_and_units_are_in_the_factor() -> None:
    found = lines("factor", line("wing", "resin", 90, unit="g", waste=0.1), line("wing", "screw"))
    assert found == {("wing", "resin"): 0.1, ("wing", "screw"): 1}


def test_a_part_is_needed_so_many_days_after_the_start_but_of_a_set_at_once() -> None:
    found = lines(
        "offset",
        line("wing", "set", offset_days=2),
        line("set", "screw", offset_days=3),
        line("wing", "resin", offset_days=-1),
    )
    assert found == {("wing", "set"): 2, ("set", "screw"): 0, ("wing", "resin"): -1}


def test_of_a_replaced_item_only_what_takes_its_place_counts() -> None:
    found = lines(
        "factor",
        line("wing", "resin", 3),
        line("set", "screw", 4),
        replacements=[{"old": "wing", "new": "set"}],
    )
    assert found == {("wing", "set"): 1, ("set", "screw"): 4}
