"""The folder of a run: written beside its place and moved there whole, or not at all."""

import contextlib
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

from bomkit.problems import Problem, ProblemsFound

RUN_FILE = "run.json"  # what a folder of an earlier run is known by


def refuse_to_overwrite(out: Path, replace: bool) -> None:
    """Raises ProblemsFound where OUT holds something that must stay."""
    if not out.exists() or (out.is_dir() and not any(out.iterdir())):
        return
    if not out.is_dir():
        message = "is a file; name a folder that does not exist yet"
    elif not (out / RUN_FILE).exists():
        message = "holds something other than an earlier run and is left alone; name another folder"
    elif not replace:
        message = (
            "holds an earlier run; name another folder, or add --replace to put this one there"
        )
    else:
        return
    raise ProblemsFound([Problem(str(out), "", "", "", message)])


@contextlib.contextmanager
def finished_whole(out: Path) -> Iterator[Path]:
    """A folder beside OUT that takes its place once everything in it is written."""
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        working = Path(tempfile.mkdtemp(prefix=f".{out.name}.unfinished-", dir=out.parent))
    except OSError as refused:
        message = f"can't be written here: {refused.strerror}; name a folder you may write to"
        raise ProblemsFound([Problem(str(out), "", "", "", message)]) from refused
    try:
        working.chmod(0o755)
        yield working
        _put_in_place(working, out)
    finally:
        shutil.rmtree(working, ignore_errors=True)


def _put_in_place(working: Path, out: Path) -> None:
    """Renames the finished folder to OUT; an earlier run goes only when the new one is there."""
    earlier = out.with_name(f"{working.name}-earlier")
    try:
        if out.exists():
            out.rename(earlier)
        try:
            working.rename(out)
        except OSError:
            if earlier.exists():
                earlier.rename(out)
            raise
    except OSError as refused:
        message = (
            f"can't be replaced: {refused.strerror}; close every file of it that is open in "
            "another program and run again"
        )
        raise ProblemsFound([Problem(str(out), "", "", "", message)]) from refused
    shutil.rmtree(earlier, ignore_errors=True)
