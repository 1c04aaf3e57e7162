"""An import replaces items and structure together, or neither, whatever breaks it off."""

import os
from pathlib import Path

import pytest
from click.testing import CliRunner

from bomkit.cli import main
from bomkit.inputs.read import read_location
from bomkit.inputs.written_together import NEW_TABLES
from tests.children import Children

TABLES = ("items.csv", "structure.csv")
OLD = "level,item,qty each\n0,A,1\n1,B,2\n"
NEW = "level,item,qty each\n0,A,1\n1,B,3\n1,C,4\n"


def imported(folder: Path, text: str) -> str:
    """What an import into the folder data says, with the columns as they are guessed."""
    path = folder / "list.csv"
    path.write_text(text)
    result = CliRunner().invoke(main, ["import", str(path), "--into", str(folder / "data")])
    return str(result.output)


def tables_after(folder: Path, *texts: str) -> list[str]:
    """Both tables after some imports."""
    folder.mkdir()
    for text in texts:
        assert "written to" in imported(folder, text)
    return tables(folder)


def tables(folder: Path) -> list[str]:
    return [(folder / "data" / name).read_text() for name in TABLES]


_KILLED = """
import os, sys
from pathlib import Path
from bomkit.runs.tables.import_list import import_lists
def work(step, name):
    folder, left = Path(name), int(step)
    def counted(event, arguments):
        nonlocal left
        beside = any("data" in str(word) for word in arguments)
        if beside and event in ("os.rename", "os.rmdir", "os.remove", "os.mkdir", "open"):
            left -= 1
            if not left:
                os._exit(9)
    sys.addaudithook(counted)
    import_lists([folder / "list.csv"], folder / "data", None, None, False, False, lambda *_: None)
"""


def test_killed_at_any_step_the_next_command_finds_both_as_before_or_both_new(
    tmp_path: Path,
) -> None:
    old = tables_after(tmp_path / "old", OLD)
    new = tables_after(tmp_path / "new", OLD, NEW)
    seen = set()
    with Children(_KILLED) as children:
        for step in range(1, 60):
            folder = tmp_path / str(step)
            tables_after(folder, OLD)
            (folder / "list.csv").write_text(NEW)
            children.begin(step, folder)
            code = children.code()
            assert code in (0, 9)
            assert not [p for p in read_location(folder / "data").problems if p.severity == "error"]
            assert tables(folder) in (old, new)
            seen.add(tables(folder) == new)
            imported(folder, NEW)
            assert tables(folder) == new
            assert sorted(path.name for path in (folder / "data").iterdir()) == list(TABLES)
            if code == 0:
                assert seen == {False, True} and step > 8
                return
    raise AssertionError("the import was never finished")


def broken_off(folder: Path) -> Path:
    """A folder in which an import was broken off once items was put in its place."""
    tables_after(folder, OLD, NEW)
    data = folder / "data"
    (data / NEW_TABLES).mkdir()
    (data / "structure.csv").rename(data / NEW_TABLES / "structure.csv")
    (data / "structure.csv").write_text("parent,child,quantity\nA,B,2\n")
    before = (data / NEW_TABLES / "structure.csv").stat().st_mtime - 60
    os.utime(data / "structure.csv", (before, before))
    return data


def test_the_next_command_says_what_it_put_there(tmp_path: Path) -> None:
    new = tables_after(tmp_path / "new", OLD, NEW)
    data = broken_off(tmp_path / "broken")
    said = CliRunner().invoke(main, ["check", str(data)]).output
    assert "warning: structure.csv: is put here for an import that was broken off" in said
    assert tables(tmp_path / "broken") == new and not (data / NEW_TABLES).exists()
    assert "broken off" not in CliRunner().invoke(main, ["check", str(data)]).output


def test_a_table_edited_after_the_import_was_broken_off_is_left_alone(tmp_path: Path) -> None:
    data = broken_off(tmp_path / "broken")
    (data / "structure.csv").write_text("parent,child,quantity\nA,B,7\n")
    later = (data / NEW_TABLES / "structure.csv").stat().st_mtime + 60
    os.utime(data / "structure.csv", (later, later))
    said = CliRunner().invoke(main, ["check", str(data)]).output
    assert "error: structure.csv: was edited after an import was broken off" in said
    assert "A,B,7" in (data / "structure.csv").read_text()
    assert (data / NEW_TABLES / "structure.csv").exists()


@pytest.mark.parametrize("there_before", [True, False])
def test_where_one_table_can_not_be_replaced_neither_is(
    there_before: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "folder"
    old = tables_after(folder, OLD)
    if not there_before:
        for name in TABLES:
            (folder / "data" / name).unlink()
    replace = Path.replace

    def locked(path: Path, target: Path) -> Path:
        if target.name == "structure.csv":
            raise PermissionError(13, "is open in another program")
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", locked)
    said = imported(folder, NEW)
    assert "can't be written: is open in another program" in said and "nothing was written" in said
    left = sorted(path.name for path in (folder / "data").iterdir())
    assert left == (list(TABLES) if there_before else [])
    assert not there_before or tables(folder) == old


def test_a_folder_that_can_not_be_put_in_order_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = broken_off(tmp_path / "broken")

    def refused(path: Path, target: Path) -> Path:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "replace", refused)
    said = CliRunner().invoke(main, ["check", str(data)]).output
    assert "holds what an import was putting there, and can't be written" in said


def test_a_table_keeps_the_name_of_its_file(tmp_path: Path) -> None:
    folder = tmp_path / "folder"
    tables_after(folder, OLD)
    (folder / "data" / "items.csv").rename(folder / "data" / "Items.CSV")
    assert "written to" in imported(folder, NEW)
    names = sorted(path.name for path in (folder / "data").iterdir())
    assert names == ["Items.CSV", "structure.csv"]


def test_a_list_among_the_tables_is_not_imported_as_it_would_be_taken_for_one(
    tmp_path: Path,
) -> None:
    path = tmp_path / "list.csv"
    path.write_text(OLD)
    result = CliRunner().invoke(main, ["import", str(path), "--into", str(tmp_path)])
    assert result.exit_code == 1 and "would be taken for one; move it first" in result.output
    assert [each.name for each in tmp_path.iterdir()] == ["list.csv"]


def test_a_text_file_is_not_called_a_workbook(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("dear")
    assert "is a file; name the folder of your tables" in imported(tmp_path, OLD)
