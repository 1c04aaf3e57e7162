"""What is in a kit for an aircraft on a day: how much of what, and where it stands."""

import pytest

from bomkit.planning.structure.kit_contents import Contents
from tests.builders import typed_tables
from tests.planning.driver import day, item, line, piece
from tests.random_tables import Row

ITEMS = [
    piece("kit", "kit"),
    piece("set", "phantom"),
    *(piece(name) for name in ("lamp", "screw", "cap")),
    item("resin"),
]
FLEET: list[Row] = [{"serial": "K-1", "item": "lamp", "options": "LIGHTS"}]


def parts(*lines: Row, pieces: float = 2, serial: str = "K-1", when: int = 5) -> dict[str, float]:
    """By part how much of it is in some kits."""
    tables = typed_tables({"items": ITEMS, "structure": list(lines), "fleet": FLEET})
    found = Contents(tables).parts("kit", pieces, serial, day(when))
    return {part.item: round(part.quantity, 9) for part in found}


def test_each_kit_has_its_quantity_and_what_is_wasted_of_it_in_the_unit_of_the_part() -> None:
    assert parts(line("kit", "resin", 90, unit="g", waste=0.1)) == {"resin": 0.2}


def test_what_is_taken_once_for_an_order_is_not_multiplied() -> None:
    assert parts(line("kit", "resin", 3, per="order")) == {"resin": 3}


def test_the_quantities_of_inner_sets_are_multiplied() -> None:
    assert parts(line("kit", "set", 3), line("set", "screw", 4)) == {"screw": 24}


@pytest.mark.parametrize(
    ("when", "counts"), [(4, False), (5, True), (7, True), (8, False)], ids=str
)
def test_a_line_counts_from_its_first_day_to_its_last(when: int, counts: bool) -> None:
    dated = line("kit", "lamp", from_date=day(5), to_date=day(7))
    assert (parts(dated, when=when) == {"lamp": 2}) is counts


@pytest.mark.parametrize(("serial", "content"), [("K-1", {"lamp": 2}), ("K-2", {"cap": 2})])
def test_an_aircraft_has_what_goes_with_its_options(serial: str, content: dict[str, float]) -> None:
    lines = [line("kit", "lamp", with_option="LIGHTS"), line("kit", "cap", without_option="LIGHTS")]
    assert parts(*lines, serial=serial) == content


def test_dangerous_goods_of_a_kit_are_those_of_all_that_may_be_in_it() -> None:
    goods = [*ITEMS[:-1], item("resin", hazard="UN 3082")]
    tables = typed_tables({"items": goods, "structure": [line("kit", "set"), line("set", "resin")]})
    contents = Contents(tables)
    assert (contents.hazards("kit"), contents.hazards("lamp")) == ("UN 3082", "")
