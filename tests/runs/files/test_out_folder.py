"""Where a run goes: whole or not at all, whatever breaks it off, and nothing of anybody's lost."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from bomkit.problems import ProblemsFound
from bomkit.runs.files import out_folder
from bomkit.runs.files.exchange_names import exchanged
from bomkit.runs.files.out_folder import file_finished_whole, finished_whole, put_back


def gone() -> int:
    """The number of a process that is no more."""
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    return ended.pid


def write_run(out: Path, words: str, replace: bool = False) -> None:
    """A run of a single file."""
    with finished_whole(out, replace) as folder:
        (folder / "run.json").write_text(words)


def beside(out: Path) -> list[str]:
    return sorted(path.name for path in out.parent.iterdir() if path != out)


def test_a_run_takes_the_place_of_an_earlier_one(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_run(out, "old")
    write_run(out, "new", replace=True)
    assert (out / "run.json").read_text() == "new" and beside(out) == []


def test_it_does_so_where_names_can_not_be_exchanged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(out_folder, "exchanged", lambda one, other: False)
    out = tmp_path / "out"
    write_run(out, "old")
    write_run(out, "new", replace=True)
    assert (out / "run.json").read_text() == "new" and beside(out) == []


def test_two_names_are_exchanged_in_one_step(tmp_path: Path) -> None:
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "said").write_text(name)
    if exchanged(tmp_path / "one", tmp_path / "other"):  # not every system can
        assert (tmp_path / "one" / "said").read_text() == "other"
        assert (tmp_path / "other" / "said").read_text() == "one"
    assert not exchanged(tmp_path / "one", tmp_path / "nowhere")


def test_the_second_of_two_runs_into_one_new_folder_is_refused(tmp_path: Path) -> None:
    out = tmp_path / "out"
    with pytest.raises(ProblemsFound) as found, finished_whole(out, replace=False) as folder:
        (folder / "run.json").write_text("slow")
        write_run(out, "quick")
    assert "holds an earlier run" in found.value.problems[0].message
    assert (out / "run.json").read_text() == "quick" and beside(out) == []


def test_a_file_that_came_meanwhile_is_not_overwritten(tmp_path: Path) -> None:
    out = tmp_path / "kit.xlsx"
    out.write_bytes(b"theirs")
    with pytest.raises(ProblemsFound):
        file_finished_whole(out, b"ours", replace=False)
    assert out.read_bytes() == b"theirs" and beside(out) == []
    file_finished_whole(out, b"ours", replace=True)
    assert out.read_bytes() == b"ours"


def test_the_earlier_run_is_put_back_after_a_run_that_died_between_two_names(
    tmp_path: Path,
) -> None:
    out = tmp_path / "out"
    earlier = tmp_path / f".out.earlier-{gone()}"
    earlier.mkdir()
    (earlier / "run.json").write_text("old")
    said = put_back(out)
    assert said is not None and "put back" in said.message
    assert (out / "run.json").read_text() == "old" and beside(out) == []


def test_what_dead_runs_have_left_is_removed_and_what_runs_stays(tmp_path: Path) -> None:
    dead, alive = f".out.unfinished-{gone()}-x", f".out.unfinished-{os.getppid()}-x"
    others = [".out.unfinished-mine", ".out2.unfinished-1-x", "out.earlier-1"]
    for name in (dead, alive, *others):
        (tmp_path / name).mkdir()
    assert put_back(tmp_path / "out") is None
    assert beside(tmp_path / "out") == sorted([alive, *others])


def test_a_dead_run_that_bore_the_number_of_this_one_is_no_more(tmp_path: Path) -> None:
    out = tmp_path / "out"
    (tmp_path / f".out.unfinished-{os.getpid()}-x").mkdir()
    with finished_whole(out, replace=False) as folder:
        (folder / "run.json").write_text("new")
        put_back(out)
        assert beside(out) == [folder.name]
    assert (out / "run.json").read_text() == "new" and beside(out) == []


def test_what_a_dead_run_has_left_beside_a_file_goes_with_the_next_one(tmp_path: Path) -> None:
    out = tmp_path / "kit.xlsx"
    (tmp_path / f".kit.xlsx.unfinished-{gone()}-x").write_bytes(b"half")
    file_finished_whole(out, b"whole", replace=False)
    assert out.read_bytes() == b"whole" and beside(out) == []


def test_a_run_that_comes_between_the_last_look_and_the_move_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out, file = tmp_path / "out", tmp_path / "kit.xlsx"
    look, look_at_file = out_folder.refuse_to_overwrite, out_folder.refuse_to_overwrite_file

    def somebody_is_quicker(place: Path, replace: bool, mark: str) -> None:
        look(place, replace, mark)
        place.mkdir()
        (place / "run.json").write_text("theirs")

    def so_with_files(place: Path, replace: bool) -> None:
        look_at_file(place, replace)
        place.write_bytes(b"theirs")

    monkeypatch.setattr(out_folder, "refuse_to_overwrite", somebody_is_quicker)
    monkeypatch.setattr(out_folder, "refuse_to_overwrite_file", so_with_files)
    with pytest.raises(ProblemsFound) as found:
        write_run(out, "ours")
    assert "holds an earlier run" in found.value.problems[0].message
    with pytest.raises(ProblemsFound) as found:
        file_finished_whole(file, b"ours", replace=False)
    assert "is there already" in found.value.problems[0].message
    assert (out / "run.json").read_text() == "theirs" and file.read_bytes() == b"theirs"
    assert beside(out) == ["kit.xlsx"]


@pytest.mark.parametrize("broken_by", [KeyboardInterrupt, OSError])
def test_interrupted_between_two_names_the_earlier_run_is_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken_by: type[BaseException]
) -> None:
    monkeypatch.setattr(out_folder, "exchanged", lambda one, other: False)
    out = tmp_path / "out"
    write_run(out, "old")
    rename = Path.rename

    def broken(path: Path, target: Path) -> Path:
        if ".unfinished-" in path.name:
            raise broken_by
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", broken)
    with pytest.raises((broken_by, ProblemsFound)):
        write_run(out, "new", replace=True)
    assert (out / "run.json").read_text() == "old" and beside(out) == []


def test_an_earlier_run_beside_a_finished_one_goes(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_run(out, "new")
    (tmp_path / f".out.earlier-{gone()}").mkdir()
    assert put_back(out) is None and beside(out) == []


_KILLED = """
import os, sys
from pathlib import Path
from bomkit.runs.files import out_folder
from bomkit.runs.files.out_folder import finished_whole
step, can_exchange, out = int(sys.argv[1]), sys.argv[2] == "yes", Path(sys.argv[3])
taken = 0
def counted(event, arguments):
    global taken
    if event in ("os.rename", "shutil.rmtree", "os.rmdir", "os.remove", "os.mkdir", "ctypes.dlsym"):
        taken += 1
        if taken == step:
            os._exit(9)
if not can_exchange:
    out_folder.exchanged = lambda one, other: False
sys.addaudithook(counted)
with finished_whole(out, True) as folder:
    (folder / "run.json").write_text("new")
"""


@pytest.mark.parametrize("can_exchange", ["yes", "no"])
def test_killed_at_any_step_the_folder_is_the_old_run_or_the_new_one(
    tmp_path: Path, can_exchange: str
) -> None:
    for step in range(1, 12):
        out = tmp_path / str(step) / "out"
        write_run(out, "old")
        words = [sys.executable, "-c", _KILLED, str(step), can_exchange, str(out)]
        code = subprocess.run(words, check=False).returncode
        assert code in (0, 9)
        put_back(out)
        assert (out / "run.json").read_text() in ("old", "new")
        assert beside(out) == []
        if code == 0:
            assert (out / "run.json").read_text() == "new" and step > 3
            return
    raise AssertionError("the run was never finished")


@pytest.mark.parametrize("table", ["plan.toml", "stock.csv"])
def test_no_file_is_written_among_tables_where_it_would_be_taken_for_one(
    table: str, tmp_path: Path
) -> None:
    (tmp_path / table).write_text("")
    with pytest.raises(ProblemsFound) as found:
        file_finished_whole(tmp_path / "rates.xlsx", b"rates", False)
    assert f"among the tables of {tmp_path.name}" in found.value.problems[0].message
    assert [path.name for path in tmp_path.iterdir()] == [table]
    file_finished_whole(tmp_path / "studies" / "rates.xlsx", b"rates", False)
