"""What a packing list says beside a part: where it stands, its note, and what it replaces."""

from bomkit.planning.promises.notes_on_parts import Labels
from tests.builders import typed_tables
from tests.planning.driver import day, line, piece
from tests.random_tables import Row

ITEMS = [
    piece("kit", "kit"),
    piece("bag", "kit"),
    piece("set", "phantom"),
    *(piece(name) for name in ("lamp", "lamp 2", "screw", "nut")),
]
LINES = [
    line("kit", "nut", position="5"),
    line("kit", "bag", position="10"),
    line("bag", "lamp", position="20", note="check the bulb"),
    line("bag", "set", position="30"),
    line("set", "screw", position="40"),
    line("set", "nut", position="50"),
]


def labels(item: str = "kit", /, **tables: list[Row]) -> dict[str, tuple[str, str, str]]:
    """By part its position, note and what it replaces."""
    found = Labels(typed_tables({"items": ITEMS, "structure": LINES} | tables)).of(
        {"item": item, "serial": "", "need_date": day(3)}
    )
    return {
        part: (each["position"], each["note"], each["replaces"]) for part, each in found.items()
    }


def test_parts_of_what_is_in_a_kit_have_their_positions_too_all_of_them() -> None:
    found = labels()
    assert found["lamp"] == ("20", "check the bulb", "")
    assert found["screw"][0].endswith("40")
    assert found["nut"][0].split("; ")[0] == "5" and "50" in found["nut"][0]


def test_a_new_part_stands_where_the_old_one_stood_and_says_which_it_was() -> None:
    found = labels(replacements=[{"old": "lamp", "new": "lamp 2"}])
    assert found["lamp 2"] == ("20", "check the bulb", "lamp")
    assert found["lamp"] == ("20", "check the bulb", "")


def test_a_part_that_is_ordered_by_itself_replaces_nothing_on_its_own_list() -> None:
    found = labels("lamp", replacements=[{"old": "lamp", "new": "lamp 2"}])
    assert found["lamp 2"] == ("", "", "")


def test_a_set_in_the_place_of_an_old_part_names_it_on_each_of_its_parts() -> None:
    found = labels(replacements=[{"old": "lamp", "new": "set"}])
    assert found["screw"][2] == "lamp"


def test_what_a_replaced_kit_held_is_not_on_the_list_of_a_larger_one() -> None:
    found = labels(replacements=[{"old": "bag", "new": "nut"}])
    assert "lamp" not in found and found["nut"][2] == "bag"


def test_what_a_set_says_of_its_parts_goes_before_what_the_old_part_said() -> None:
    lines = [
        line("kit", "lamp", position="20", note="check the bulb"),
        line("set", "screw", position="40", note="new ones"),
        line("set", "nut"),
    ]
    found = labels(structure=lines, replacements=[{"old": "lamp", "new": "set"}])
    assert found["screw"] == ("40", "new ones", "lamp")
    assert found["nut"] == ("20", "check the bulb", "lamp")
