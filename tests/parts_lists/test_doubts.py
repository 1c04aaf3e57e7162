"""What a list contradicts itself in, or does not tell: nothing is written until somebody says."""

from pathlib import Path

import pytest

from tests.parts_lists.test_sample_lists import imported, structure


def tried(folder: Path, text: str, *words: str) -> tuple[int, str, Path]:
    """The list imported into a new folder."""
    path, data = folder / "list.csv", folder / "data"
    path.write_text(text, encoding="utf-8")
    code, said = imported(path, "--into", data, *words)
    assert code == 0 or not data.exists()
    assert (code == 1) == ("nothing was written" in said)
    return code, said, data


HEAD = "level,item,qty each,unit\n"


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("0,A,1,pc\n2,B,1,pc\n", "row 3: 'B' jumps"),
        ("0,A,1,pc\n1,B,two,pc\n", "row 3: 'two' must be a quantity"),
        ("0,A,1,pc\n1,B,-2,pc\n", "row 3: '-2' must be a quantity"),
        ("0,A,1,pc\n1,B,,pc\n", "row 3: 'B' has no quantity"),
        ("0,A,1,pc\n1,B,1,bucket\n", "'bucket' is no unit that is known"),
        ("0,A,1,pc\n1,,1,pc\n", "row 3: has no item"),
        ("0,A,1,pc\nx,B,1,pc\n1,C,1,pc\n1,D,1,pc\n", "'x' must say how deep"),
        ("0,A,1,pc\n1,B,1,pc\n2,A,1,pc\n", "'A' would go into itself"),
        ("0,A,1,pc\n0,B,1,pc\n1,C,1,pc\n", "several lines on its highest level"),
        ("0,A,1,pc\n1,X-L/R,3,pc\n", "3 can't be shared between left and right"),
        ("0,A,1,pc\n1,B,1,pc\n1,C,1,pc\n2,B,1,kg\n", "'B' is measured in kg here"),
    ],
)
def test_a_contradiction_is_told_with_its_row_and_nothing_is_written(
    rows: str, said: str, tmp_path: Path
) -> None:
    code, told, _ = tried(tmp_path, HEAD + rows)
    assert code == 1 and said in told, told


TWO_CONTENTS = HEAD + "0,A,1,pc\n1,B,1,pc\n2,C,2,pc\n1,D,1,pc\n2,B,1,pc\n3,C,5,pc\n"


@pytest.mark.parametrize(("right", "quantity"), [("first", 2.0), ("last", 5.0)])
def test_of_two_contents_of_one_assembly_the_one_said_to_be_right_counts(
    right: str, quantity: float, tmp_path: Path
) -> None:
    code, said, _ = tried(tmp_path, TWO_CONTENTS)
    assert code == 1 and "row 7: 'B' has other contents than from row 4" in said
    code, _, data = tried(tmp_path, TWO_CONTENTS, "--right", right)
    assert code == 0 and ("B", "C", quantity, "pc") in structure(data)


def test_a_quantity_that_could_be_each_or_total_is_asked_for(tmp_path: Path) -> None:
    text = "level,item,qty\n0,A,1\n1,B,2\n2,C,4\n"
    code, said, _ = tried(tmp_path, text)
    assert code == 1 and "could be for one of the parent or for the whole" in said
    columns = tmp_path / "list.columns.toml"
    for means, quantity in (("each", 4.0), ("total", 2.0)):
        told = columns.read_text().replace('quantity_means = "?"', f'quantity_means = "{means}"')
        mended = tmp_path / f"{means}.toml"
        mended.write_text(told)
        folder = tmp_path / means
        folder.mkdir()
        code, said, data = tried(folder, text, "--columns", str(mended))
        assert code == 0, said
        assert ("B", "C", quantity, "pc") in structure(data)


def test_pieces_that_would_not_be_whole_tell_that_quantities_are_each(tmp_path: Path) -> None:
    code, _, data = tried(tmp_path, "level,item,qty\n0,A,1\n1,B,2\n2,C,3\n")
    assert code == 0 and ("B", "C", 3.0, "pc") in structure(data)


def test_an_assembly_that_stands_twice_tells_that_quantities_are_totals(tmp_path: Path) -> None:
    text = "level,item,qty\n0,A,1\n1,B,2\n2,C,4\n1,D,1\n2,B,3\n3,C,6\n"
    code, _, data = tried(tmp_path, text)
    assert code == 0 and ("B", "C", 2.0, "pc") in structure(data)


def test_a_total_that_is_not_its_quantity_times_the_parent_is_told(tmp_path: Path) -> None:
    text = "level,item,qty,total\n0,A,1,1\n1,B,2,2\n2,C,3,7\n"
    code, said, _ = tried(tmp_path, text)
    assert code == 1 and "'7' is not 3 for each of 2" in said


def test_a_pair_within_a_pair_goes_to_its_own_side(tmp_path: Path) -> None:
    text = HEAD + "0,A,1,pc\n1,W-L/R,2,pc\n2,S-L/R,1,pc\n2,N,4,pc\n"
    code, _, data = tried(tmp_path, text)
    assert code == 0
    assert structure(data) == [
        ("A", "W-L", 1.0, "pc"),
        ("A", "W-R", 1.0, "pc"),
        ("W-L", "N", 4.0, "pc"),
        ("W-L", "S-L", 1.0, "pc"),
        ("W-R", "N", 4.0, "pc"),
        ("W-R", "S-R", 1.0, "pc"),
    ]


@pytest.mark.parametrize(
    ("name", "left", "right"),
    [
        ("C-R/L", "C-L", "C-R"),
        ("C gauche/droite", "C gauche", "C droite"),
        ("C-dx / sx", "C-sx", "C-dx"),
        ("C-RH/LH", "C-LH", "C-RH"),
    ],
)
def test_a_pair_has_its_left_side_first_whichever_is_named_first(
    name: str, left: str, right: str, tmp_path: Path
) -> None:
    text = HEAD + f"0,A,1,pc\n1,W-L/R,2,pc\n2,{name},1,pc\n"
    code, said, data = tried(tmp_path, text)
    assert code == 0, said
    assert ("W-L", left, 1.0, "pc") in structure(data)
    assert ("W-R", right, 1.0, "pc") in structure(data)


@pytest.mark.parametrize("name", ["C-L/L", "C-L/RH", "CL/R", "C-L/R/X"])
def test_what_only_looks_like_a_pair_is_one_item(name: str, tmp_path: Path) -> None:
    code, said, data = tried(tmp_path, HEAD + f"0,A,1,pc\n1,{name},2,pc\n")
    assert code == 0, said
    assert structure(data) == [("A", name, 2.0, "pc")]


@pytest.mark.parametrize("text", ["", "hello\n", "a,b\n1,2\n", "level,item\n0,A\n", "\x00\x01"])
def test_what_is_no_list_is_refused_in_words(text: str, tmp_path: Path) -> None:
    code, said, _ = tried(tmp_path, text)
    assert code == 1 and "error: " in said


def test_a_columns_file_that_makes_no_sense_is_told(tmp_path: Path) -> None:
    columns = tmp_path / "c.toml"
    columns.write_text('shape = "round"\n')
    code, said, _ = tried(tmp_path, HEAD + "0,A,1,pc\n1,B,1,pc\n", "--columns", str(columns))
    assert code == 1 and "c.toml: shape must be one of levels" in said


def test_a_row_can_be_skipped_and_a_unit_told_in_the_columns_file(tmp_path: Path) -> None:
    text = HEAD + "0,A,1,pc\n1,B,1,bucket\n1,C,many,pc\n"
    tried(tmp_path, text)
    told = (tmp_path / "list.columns.toml").read_text()
    told = told.replace("skip_rows = []", "skip_rows = [4]") + '"bucket" = "l"\n'
    (tmp_path / "c.toml").write_text(told)
    code, said, data = tried(tmp_path, text, "--columns", str(tmp_path / "c.toml"))
    assert code == 0, said
    assert structure(data) == [("A", "B", 1.0, "l")]


def test_a_flat_list_whose_name_is_no_item_is_asked_what_it_goes_into(tmp_path: Path) -> None:
    text = "Part,Qty\n00123,4\n1E5,2\n"
    code, said, _ = tried(tmp_path, text)
    assert code == 1 and "'list' is no item; say with 'top'" in said
    told = (tmp_path / "list.columns.toml").read_text().replace('top = ""', 'top = "0042"')
    (tmp_path / "c.toml").write_text(told)
    code, said, data = tried(tmp_path, text, "--columns", str(tmp_path / "c.toml"))
    assert code == 0, said
    assert structure(data) == [("0042", "00123", 4.0, "pc"), ("0042", "1E5", 2.0, "pc")]


def test_a_number_that_could_be_two_is_asked_for_once(tmp_path: Path) -> None:
    code, said, _ = tried(tmp_path, 'level,item,qty each,unit\n0,A,1,pc\n1,B,"1,500",m\n')
    assert code == 1 and said.count("list row 3") == 1 and "'1,500' must be a quantity" in said
