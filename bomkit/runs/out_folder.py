"""The folder of a run: written beside its place and moved there whole, or not at all."""

import contextlib
import glob
import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

from bomkit.problems import Problem, ProblemsFound
from bomkit.runs.swap import exchanged

_UNFINISHED, _EARLIER = "unfinished", "earlier"  # in the names of folders beside OUT
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


def put_back(out: Path) -> Problem | None:
    """Puts the earlier run back where a run that was broken off had moved it away; says so.

    Removes what runs that are no more have left beside OUT.
    """
    said = None
    for path in sorted(out.parent.glob(f".{glob.escape(out.name)}.*-*")) if out.name else []:
        kind, _, number = path.name.removeprefix(f".{out.name}.").partition("-")
        if kind not in (_UNFINISHED, _EARLIER) or _is_running(number.partition("-")[0]):
            continue
        if kind == _EARLIER and not out.exists():
            with contextlib.suppress(OSError):
                path.rename(out)
                message = (
                    "is the earlier run, put back: a run that was to replace it was broken off"
                )
                said = Problem(str(out), "", "", "", message, "warning")
        else:
            shutil.rmtree(path, ignore_errors=True)
    return said


def _is_running(number: str) -> bool:
    """Whether a process of that number is there; True where nobody can tell."""
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return False
    except (ValueError, OSError):
        return True
    return True


@contextlib.contextmanager
def finished_whole(out: Path, replace: bool) -> Iterator[Path]:
    """A folder beside OUT that takes its place once everything in it is written.

    replace: whether an earlier run may go; else OUT must still be free then.
    """
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        prefix = f".{out.name}.{_UNFINISHED}-{os.getpid()}-"
        working = Path(tempfile.mkdtemp(prefix=prefix, dir=out.parent))
    except OSError as refused:
        message = f"can't be written here: {refused.strerror}; name a folder you may write to"
        raise ProblemsFound([Problem(str(out), "", "", "", message)]) from refused
    try:
        working.chmod(0o755)
        yield working
        refuse_to_overwrite(out, replace)  # somebody may have been quicker
        _put_in_place(working, out)
    finally:
        shutil.rmtree(working, ignore_errors=True)


def _put_in_place(working: Path, out: Path) -> None:
    """Gives the finished folder the name OUT; an earlier run goes once the new one is there.

    In one step where the system can. Else the earlier run lies under a name that put_back knows
    for a moment.
    """
    if (out / RUN_FILE).exists() and exchanged(working, out):
        return  # what is called working now is the earlier run, and goes
    earlier = out.with_name(f".{out.name}.{_EARLIER}-{os.getpid()}")
    try:
        if (out / RUN_FILE).exists():
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


def file_finished_whole(out: Path, content: bytes, replace: bool) -> None:
    """Writes a file beside its place and moves it there once it is whole.

    replace: whether an earlier one may go; else its place must still be free then.
    """
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        number, name = tempfile.mkstemp(prefix=f".{out.name}.unfinished-", dir=out.parent)
        working = Path(name)
        try:
            with os.fdopen(number, "wb") as file:
                file.write(content)
            working.chmod(0o644)
            refuse_to_overwrite_file(out, replace)  # somebody may have been quicker
            working.replace(out)
        finally:
            working.unlink(missing_ok=True)
    except OSError as refused:
        message = (
            f"can't be written: {refused.strerror}; name a place you may write to, and close the "
            "file if it is open in another program"
        )
        raise ProblemsFound([Problem(str(out), "", "", "", message)]) from refused
