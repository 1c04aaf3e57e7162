"""The folder of a run: written beside its place and moved there whole, or not at all."""

import contextlib
import os
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


def refuse_to_overwrite_file(out: Path, replace: bool) -> None:
    """Raises ProblemsFound where a file to be written would take the place of another thing."""
    if out.is_dir():
        message = "is a folder; name a file, such as spares.xlsx"
    elif out.exists() and not replace:
        message = "is there already; name another file, or add --replace to put this one there"
    else:
        return
    raise ProblemsFound([Problem(str(out), "", "", "", message)])


def file_finished_whole(out: Path, content: bytes) -> None:
    """Writes a file beside its place and moves it there once it is whole."""
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        number, name = tempfile.mkstemp(prefix=f".{out.name}.unfinished-", dir=out.parent)
        working = Path(name)
        try:
            with os.fdopen(number, "wb") as file:
                file.write(content)
            working.chmod(0o644)
            working.replace(out)
        finally:
            working.unlink(missing_ok=True)
    except OSError as refused:
        message = (
            f"can't be written: {refused.strerror}; name a place you may write to, and close the "
            "file if it is open in another program"
        )
        raise ProblemsFound([Problem(str(out), "", "", "", message)]) from refused
