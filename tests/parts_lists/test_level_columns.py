"""Lists in which the item number stands in the column of its level."""

from pathlib import Path

import pytest

from bomkit.parts_lists.level_columns import step_columns
from tests.parts_lists.test_doubts import tried
from tests.parts_lists.test_sample_lists import structure

HEAD = "L1,L2,L3,name,qty each\n"
ROWS = "A,,,Cart,1\n,B,,Frame,2\n,,C,Tube,3\n,D,,Wheel,4\n"
EDGES = [("A", "B", 2.0, "pc"), ("A", "D", 4.0, "pc"), ("B", "C", 3.0, "pc")]


def mended(folder: Path, *changes: tuple[str, str]) -> str:
    """The columns file as an import wrote it, with some words changed."""
    told = (folder / "list.columns.toml").read_text()
    for before, after in changes:
        assert before in told
        told = told.replace(before, after)
    (folder / "mended.toml").write_text(told)
    return str(folder / "mended.toml")


def new_folder(parent: Path) -> Path:
    """A folder that nothing was imported into."""
    folder = parent / f"{len(list(parent.iterdir()))}"
    folder.mkdir()
    return folder


@pytest.mark.parametrize(
    "head",
    [
        HEAD,
        "Level,,,name,qty each\n",  # one heading over all of them
        "Level 1,Level 2,Level 3,name,qty each\n",
        "Assembly,Group,Part,name,qty each\n",
        "Part no.,,,name,qty each\n",
        "Ebene 1,Ebene 2,Ebene 3,Benennung,Menge je\n",
    ],
)
def test_the_values_tell_whatever_the_headings_are(head: str, tmp_path: Path) -> None:
    code, said, data = tried(tmp_path, head + ROWS)
    assert code == 0, said
    assert "read as stepped" in said and structure(data) == EDGES


def test_item_numbers_that_are_mere_digits_are_no_quantities(tmp_path: Path) -> None:
    rows = "100,,,Cart,1\n,007,,Frame,2\n,,12,Tube,3\n,30,,Wheel,4\n"
    code, said, data = tried(tmp_path, HEAD + rows)
    assert code == 0, said
    assert ("100", "007", 2.0, "pc") in structure(data)


def test_the_columns_of_levels_are_shown_and_written(tmp_path: Path) -> None:
    _, said, _ = tried(tmp_path, HEAD + ROWS)
    assert "  levels       L1 | L2 | L3\n" in said and "    3  1  B  2 pc  Frame" in said
    told = (tmp_path / "list.columns.toml").read_text()
    assert 'shape = "stepped"' in told and 'level_columns = ["L1", "L2", "L3"]' in told


def test_the_columns_of_levels_can_be_told_by_heading_or_number(tmp_path: Path) -> None:
    text = "L1,L2,L3,L4,name,qty each\nA,,,,Cart,1\n,B,,,Frame,2\n,,C,,Tube,3\n,,,E,Plug,1\n"
    tried(tmp_path, text)
    fewer = mended(tmp_path, (', "L4"', ""))
    code, said, _ = tried(new_folder(tmp_path), text, "--columns", fewer)
    assert code == 1 and "row 5: has no item" in said
    told = mended(tmp_path, ('["L1", "L2", "L3", "L4"]', '["L1", "#2", "L3", "L4"]'))
    code, said, data = tried(new_folder(tmp_path), text, "--columns", told)
    assert code == 0, said
    assert ("C", "E", 1.0, "pc") in structure(data)


def test_marks_in_the_columns_of_levels_are_read_where_the_item_has_its_own(tmp_path: Path) -> None:
    text = "item,1,2,3,qty each\nA,x,,,1\nB,,x,,2\nC,,,x,3\nD,,x,,4\n"
    tried(tmp_path, text)
    shape = (tmp_path / "list.columns.toml").read_text().splitlines()
    guessed = next(line for line in shape if line.startswith("shape"))
    told = mended(
        tmp_path,
        (guessed, 'shape = "stepped"'),
        ("level_columns = []", 'level_columns = ["1", "2", "3"]'),
    )
    code, said, data = tried(tmp_path, text, "--columns", told)
    assert code == 0, said
    assert structure(data) == EDGES


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (ROWS + ",E,F,Bolt,1\n", "row 6: must stand in one of the level columns"),
        ("A,,,Cart,1\n,,C,Tube,3\n,D,,Wheel,4\n", "row 3: 'C' jumps"),
        (ROWS + ",,,Bolt,1\n", "row 6: has no item"),
        (ROWS + "E,,,Other,1\n,F,,Bolt,1\n", "several lines on its highest level"),
        (ROWS + ",E,,Bolt,\n", "row 6: 'E' has no quantity"),
    ],
)
def test_a_row_in_doubt_is_told_and_nothing_is_written(
    rows: str, said: str, tmp_path: Path
) -> None:
    whole = "".join(f",X{number},,Screw,1\n" for number in range(40))
    columns = tmp_path / "c.toml"
    columns.write_text(
        'shape = "stepped"\nheading_row = 1\nlevel_columns = ["L1", "L2", "L3"]\n'
        '[columns]\ndescription = "name"\nquantity = "qty each"\n'
    )
    code, told, _ = tried(tmp_path, HEAD + rows, "--columns", str(columns))
    assert code == 1 and said in told, told
    if "jumps" not in said:  # with many rows in order the guess holds for the one that is not
        code, told, _ = tried(tmp_path, HEAD + ROWS + whole + rows.replace(ROWS, ""))
        assert code == 1 and "read as stepped" in told, told


def test_a_sum_and_a_title_between_the_rows_are_passed_over(tmp_path: Path) -> None:
    code, said, data = tried(tmp_path, HEAD + ROWS + ",,,Loose parts,\nSum,,,,10\n")
    assert code == 0, said
    assert "rows passed over (2): 6, 7" in said and structure(data) == EDGES


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ('level_columns = "L1"', "level_columns must hold headings"),
        ('level_columns = ["L1", "L9"]', "'L9' is the heading of no column in row 1"),
        ('level_columns = ["L1", "#0"]', "'#0' is the heading of no column in row 1"),
        ("level_columns = []", "'level_columns' must name the columns of the levels"),
    ],
)
def test_columns_of_levels_that_make_no_sense_are_told(
    told: str, said: str, tmp_path: Path
) -> None:
    columns = tmp_path / "c.toml"
    columns.write_text(
        f'shape = "stepped"\nheading_row = 1\n{told}\n[columns]\nquantity = "qty each"\n'
    )
    code, output, _ = tried(tmp_path, HEAD + ROWS, "--columns", str(columns))
    assert code == 1 and said in output, output


@pytest.mark.parametrize(
    "text",
    [
        "item,make,buy,qty\nA,x,,1\nB,,x,2\nC,x,,3\nD,,x,4\n",  # marks
        "item,name,P-1,P-2\nA,Cart,1,\nB,Bed,,2\nC,Cab,3,\nD,Door,,4\n",  # one parent
        "parent,child,qty\nA,B,1\nA,C,2\nB,D,3\nB,E,4\n",
        "name,item,qty\nCart,A,1\n,B,2\n,C,3\nWheel,D,4\n",  # a name that is not always said
    ],
)
def test_other_lists_are_not_taken_for_it(text: str, tmp_path: Path) -> None:
    _, said, _ = tried(tmp_path, text)
    assert "read as" in said and "stepped" not in said


def test_a_column_that_fills_rows_again_is_no_level() -> None:
    rows = [["A", "", "r"], ["", "B", ""], ["", "C", "r"], ["D", "", "r"]]
    assert step_columns(["", "", "remark"], rows) == [0, 1]
