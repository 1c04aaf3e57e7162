"""Lists whose lines say by their position, such as 1.2.10, what they go into."""

from pathlib import Path

import pytest

from tests.parts_lists.test_doubts import tried
from tests.parts_lists.test_sample_lists import structure

HEAD = "pos,item,qty each\n"
BIKE = (
    ("1", "bike"),
    ("1.1", "wheel"),
    ("1.1.1", "spoke"),
    ("1.1.2", "rim"),
    ("1.10", "saddle"),
    ("1.10.1", "rail"),
    ("1.2", "fork"),
)
INTO = [
    ("bike", "fork", 1.0, "pc"),
    ("bike", "saddle", 1.0, "pc"),
    ("bike", "wheel", 1.0, "pc"),
    ("saddle", "rail", 1.0, "pc"),
    ("wheel", "rim", 1.0, "pc"),
    ("wheel", "spoke", 1.0, "pc"),
]


def rows(order: tuple[int, ...], end: str = "") -> str:
    """The lines of the bike in this order."""
    return "".join(f"{BIKE[place][0]}{end},{BIKE[place][1]},1\n" for place in order)


@pytest.mark.parametrize("end", ["", "."])
@pytest.mark.parametrize(
    "order",
    [
        (0, 1, 2, 3, 4, 5, 6),  # as text is sorted
        (0, 1, 2, 3, 6, 4, 5),  # as numbers are
        (0, 1, 4, 6, 2, 3, 5),  # level by level
        (2, 5, 1, 4, 3, 6, 0),  # anyhow
    ],
)
def test_a_line_goes_into_the_one_that_its_position_says(
    order: tuple[int, ...], end: str, tmp_path: Path
) -> None:
    code, said, data = tried(tmp_path, HEAD + rows(order, end))
    assert code == 0, said
    assert structure(data) == INTO


def test_a_position_under_the_heading_level_is_one_too(tmp_path: Path) -> None:
    code, said, data = tried(tmp_path, "level,item,qty each\n" + rows((0, 1, 2, 3, 4, 5, 6)))
    assert code == 0, said
    assert structure(data) == INTO


def test_levels_that_a_spreadsheet_keeps_with_a_point_are_levels(tmp_path: Path) -> None:
    text = "level,item,qty each\n0.0,bike,1\n1.0,wheel,2\n2.0,rim,1\n1.0,fork,1\n"
    code, said, data = tried(tmp_path, text)
    assert code == 0, said
    assert structure(data) == [
        ("bike", "fork", 1.0, "pc"),
        ("bike", "wheel", 2.0, "pc"),
        ("wheel", "rim", 1.0, "pc"),
    ]


def test_a_line_whose_assembly_is_nowhere_is_told(tmp_path: Path) -> None:
    code, said, _ = tried(tmp_path, HEAD + "1,bike,1\n1.2,fork,1\n1.1.1,spoke,1\n")
    assert code == 1
    assert "row 4: '1.1.1' jumps: there is no line 1.1 that it goes into" in said


def test_a_part_of_a_list_may_begin_below_the_top(tmp_path: Path) -> None:
    text = HEAD + "3.1,wheel,1\n3.1.1,spoke,4\n3.1.2,rim,1\n"
    code, said, data = tried(tmp_path, text)
    assert code == 0, said
    assert structure(data) == [("wheel", "rim", 1.0, "pc"), ("wheel", "spoke", 4.0, "pc")]


def test_an_assembly_that_stands_twice_has_the_lines_right_below_it(tmp_path: Path) -> None:
    twice = "1.1,wheel,1\n1.1.1,spoke,4\n1.1.2,rim,1\n"
    code, said, data = tried(tmp_path, HEAD + "1,bike,1\n" + twice + twice)
    assert code == 0, said
    assert structure(data) == [
        ("bike", "wheel", 2.0, "pc"),
        ("wheel", "rim", 1.0, "pc"),
        ("wheel", "spoke", 4.0, "pc"),
    ]


@pytest.mark.parametrize("first", ["1.1.1,spoke,4\n", "", "1.1,wheel,1\n1.1,reel,1\n1.2,fork,1\n"])
def test_a_position_that_stands_twice_is_told_where_it_is_not_clear_which_is_meant(
    first: str, tmp_path: Path
) -> None:
    last = "" if first.startswith("1.1.1") else "1.1.1,spoke,4\n"
    text = f"{HEAD}1,bike,1\n{first}1.1,wheel,1\n1.2,fork,1\n1.1,reel,1\n1.3,pump,1\n{last}"
    code, said, _ = tried(tmp_path, text)
    assert code == 1
    assert "'1.1.1' goes into 1.1, which stands in rows " in said


def test_positions_may_be_as_deep_as_anybody_writes_them(tmp_path: Path) -> None:
    deep = [(".".join("1" * level), f"P{level}") for level in range(1, 1500)]
    text = HEAD + "".join(f"{position},{name},1\n" for position, name in reversed(deep))
    code, said, data = tried(tmp_path, text)
    assert code == 0, said
    assert len(structure(data)) == len(deep) - 1
