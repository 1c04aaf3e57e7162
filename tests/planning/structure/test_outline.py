"""The structure as a tree: what an item contains, where it is used, and where the tree ends."""

import pytest
from anytree import PreOrderIter

from bomkit.planning.structure import outline as tree
from bomkit.planning.structure.outline import outline
from tests.builders import typed_tables
from tests.planning.driver import airframe, line, piece
from tests.random_tables import Row

ITEMS = [piece(name) for name in ("kelto", "wing", "rib", "nail", "ski", "old wing")]
LINES = [
    line("kelto", "wing", 2, position="20"),
    line("kelto", "ski", position="10", with_option="SKIS"),
    line("wing", "rib", 9),
    line("wing", "nail"),
    line("rib", "nail", 4),
]
AIRCRAFT: list[Row] = [{"serial": "K-1", "item": "kelto", "options": "SKIS"}]

Shown = list[tuple[int, str, int]]  # depth, name, lines that are not shown


def shown(
    item: str, serial: str = "", up: bool = False, depth: int = 9, **more: list[Row]
) -> Shown:
    """The tree, node by node."""
    tables = typed_tables({"items": ITEMS, "structure": LINES, "fleet": AIRCRAFT, **more})
    top = outline(tables, item, serial, up, depth)
    return [(node.depth, node.name, node.more) for node in PreOrderIter(top)]


def test_an_item_contains_its_lines_by_position_and_so_on_down() -> None:
    assert shown("kelto") == [
        *((0, "kelto", 0), (1, "ski", 0), (1, "wing", 0)),
        *((2, "nail", 0), (2, "rib", 0), (3, "nail", 0)),
    ]


def test_upwards_it_is_all_that_contain_the_item() -> None:
    found = shown("nail", up=True)
    assert found == [
        *((0, "nail", 0), (1, "rib", 0), (2, "wing", 0), (3, "kelto", 0)),
        *((1, "wing", 0), (2, "kelto", 0)),
    ]


def test_lines_deeper_than_asked_for_are_counted() -> None:
    assert shown("kelto", depth=1) == [(0, "kelto", 0), (1, "ski", 0), (1, "wing", 2)]
    assert shown("kelto", depth=0) == [(0, "kelto", 2)]


def test_with_a_serial_only_its_own_lines_are_shown() -> None:
    line_up = [airframe("K-2", "kelto", 9), airframe("K-3", "kelto", 9, "SKIS")]
    for serial, skis in (("K-1", True), ("K-2", False), ("K-3", True), ("K-9", False)):
        names = [name for _, name, _ in shown("kelto", serial, build_plan=line_up)]
        assert ("ski" in names) is skis, serial


def test_what_takes_the_place_of_an_item_stands_below_it_for_every_serial() -> None:
    replaced: list[Row] = [{"old": "old wing", "new": "wing"}]
    found = shown("old wing", "K-1", depth=1, replacements=replaced)
    assert found == [(0, "old wing", 0), (1, "wing", 2)]


@pytest.mark.parametrize(("most", "more"), [(6, [0, 0, 0]), (5, [0, 0, 1]), (4, [0, 0, 1])])
def test_beyond_the_most_that_is_shown_lines_are_counted(
    monkeypatch: pytest.MonkeyPatch, most: int, more: list[int]
) -> None:
    monkeypatch.setattr(tree, "MOST_NODES", most)
    found = shown("kelto")
    assert len(found) <= most
    last = [hidden for _, name, hidden in found if name in ("kelto", "ski", "rib")]
    assert last == more if most > 4 else sum(hidden for *_, hidden in found) == 2
