"""Nothing that somebody filled in, changed or put into a run goes with --replace."""

import errno
import json
import shutil
from pathlib import Path

import openpyxl
import pytest

from bomkit.problems import ProblemsFound
from bomkit.runs.files.changed_since_written import changed_since_written
from bomkit.runs.files.out_folder import finished_whole
from bomkit.runs.week.plan import Run
from tests.commands import bomkit
from tests.samples import TINY


@pytest.fixture
def out(tiny_run: Run, tmp_path: Path) -> Path:
    """A copy of a run, to be changed."""
    return Path(shutil.copytree(tiny_run.out, tmp_path / "out"))


def kept(out: Path, *named: str) -> bool:
    """Whether a new run there is refused, naming these files, and changes nothing."""
    before = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    refused = bomkit("plan", TINY, "--out", out, "--replace")
    after = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    return refused.exit_code == 1 and before == after and all(n in refused.output for n in named)


def test_a_run_as_it_was_written_is_replaced(out: Path) -> None:
    assert changed_since_written(out) == []
    assert bomkit("plan", TINY, "--out", out, "--replace").exit_code == 0


def test_a_workbook_that_was_filled_in_stays(out: Path) -> None:
    path = out / "2026-W49" / "buy.xlsx"
    book = openpyxl.load_workbook(path)
    book.worksheets[0]["L11"] = "PO-9001"
    book.save(path)
    assert changed_since_written(out) == ["2026-W49/buy.xlsx"]
    assert kept(out, "2026-W49/buy.xlsx", "take the week back first")


def test_what_the_run_did_not_write_stays_whole_runs_too(out: Path) -> None:
    (out / "notes.txt").write_text("call the foundry")
    (out / "kits" / "photo.jpg").write_bytes(b"")
    shutil.copytree(out / "tables", out / "friday" / "tables")
    assert changed_since_written(out)[-1] == "notes.txt"
    assert kept(out, "friday/tables/", "more")


def test_what_file_managers_and_spreadsheet_programs_leave_does_not_count(out: Path) -> None:
    for name in ("Thumbs.db", ".~lock.buy.xlsx#", "~$buy.xlsx"):
        (out / "2026-W49" / name).write_text("x")
    assert changed_since_written(out) == []


def test_of_a_run_that_did_not_write_down_its_files_none_is_said_to_be_changed(out: Path) -> None:
    told = json.loads((out / "run.json").read_text())
    del told["files"]
    (out / "run.json").write_text(json.dumps(told))
    (out / "notes.txt").write_text("call the foundry")
    assert changed_since_written(out) == []


def test_no_run_is_written_into_another_one(out: Path) -> None:
    refused = bomkit("plan", TINY, "--out", out / "friday")
    assert refused.exit_code == 1 and f"lies in the folder of a run, {out}" in refused.output
    assert not (out / "friday").exists()


@pytest.mark.parametrize("here", ["", "kits"])
def test_the_folder_somebody_stands_in_is_not_pulled_away(
    here: str, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(out / here)
    assert kept(out, "is the folder you are in, or one around it")


def test_a_full_disk_is_said_and_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(ProblemsFound) as found, finished_whole(tmp_path / "out", False) as folder:
        (folder / "half.xlsx").write_bytes(b"half")
        raise OSError(errno.ENOSPC, "No space left on device")
    assert "No space left on device; make room there" in found.value.problems[0].message
    assert list(tmp_path.iterdir()) == []
