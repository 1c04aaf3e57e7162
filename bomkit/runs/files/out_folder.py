"""The folder of a run: written beside its place and moved there whole, or not at all."""

import contextlib
import glob
import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

from bomkit.inputs.read import SETTINGS_FILE
from bomkit.problems import Problem, refusal
from bomkit.runs.files.changed_since_written import RUN_FILE, changed_since_written, run_around
from bomkit.runs.files.exchange_names import exchanged
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.words import common
from bomkit.words.problems import places as said

_UNFINISHED, _EARLIER = "unfinished", "earlier"  # in the names of folders beside OUT
TAKEN_BACK_FILE = "taken_back/taken_back.json"  # what tables taken back are known by
_KINDS = {RUN_FILE: "an earlier run", TAKEN_BACK_FILE: "tables that were taken back before"}
_MOST_NAMED = 4
_OURS: set[Path] = set()  # what this process is writing


def refuse_to_overwrite(out: Path, replace: bool, mark: str = RUN_FILE) -> None:
    """Raises ProblemsFound where OUT holds something that must stay, or is no place for a folder.

    mark: the file by which an earlier folder of the same kind is known, within it.
    """
    _refuse_place(out)
    if not out.exists() or (out.is_dir() and not any(out.iterdir())):
        return
    if not out.is_dir():
        message = "is a file; name a folder that does not exist yet"
    elif not (out / mark).exists():
        message = (
            f"holds something other than {_KINDS[mark]} and is left alone; name another folder"
        )
    elif not replace:
        message = (
            f"holds {_KINDS[mark]}; name another folder, or add --replace to put this one there"
        )
    elif changed := changed_since_written(out):
        message = said.FILES_CHANGED.format(files=common.first_few(changed, _MOST_NAMED))
    else:
        return
    raise refusal(out, message)


def _refuse_place(out: Path) -> None:
    """Raises ProblemsFound where a folder there would pull away what somebody stands on."""
    with contextlib.suppress(FileNotFoundError):  # of a current folder that is no more
        if Path.cwd().is_relative_to(out.resolve()):
            raise refusal(out, said.WHERE_YOU_ARE)
    if run := run_around(out):
        raise refusal(out, said.WITHIN_RUN.format(run=run))


def put_back(out: Path) -> Problem | None:
    """Puts the earlier run back where a run that was broken off had moved it away; says so.

    Removes what runs that are no more have left beside OUT.
    """
    put = None
    for path, kind in _left_beside(out):
        if kind == _EARLIER and not out.exists():
            with contextlib.suppress(OSError):
                path.rename(out)
                message = (
                    "is the earlier run, put back: a run that was to replace it was broken off"
                )
                put = Problem(str(out), "", "", "", message, "warning")
        elif path.is_dir():
            shutil.rmtree(path, ignore_errors=True)
        else:
            path.unlink(missing_ok=True)
    return put


def _left_beside(out: Path) -> list[tuple[Path, str]]:
    """What runs that are no more have left beside OUT, and of which kind it is."""
    left = []
    for path in sorted(out.parent.glob(f".{glob.escape(out.name)}.*-*")) if out.name else []:
        kind, _, number = path.name.removeprefix(f".{out.name}.").partition("-")
        # In a container many runs bear the same number, one after the other.
        ended = path not in _OURS and _has_ended(number.partition("-")[0])
        if kind in (_UNFINISHED, _EARLIER) and ended:
            left.append((path, kind))
    return left


def _has_ended(number: str) -> bool:
    """Whether the process of that number is no more, or is this one; False where none can tell."""
    if os.name == "nt":
        return False  # to ask would send it a signal
    try:
        if int(number) != os.getpid():
            os.kill(int(number), 0)
            return False
    except ProcessLookupError:
        return True
    except (ValueError, OverflowError, OSError):
        return False
    return True


@contextlib.contextmanager
def finished_whole(out: Path, replace: bool, mark: str = RUN_FILE) -> Iterator[Path]:
    """A folder beside OUT that takes its place once everything in it is written.

    replace: whether an earlier run may go; else OUT must still be free then. mark: the file by
    which an earlier folder of the same kind is known.
    """
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        prefix = f".{out.name}.{_UNFINISHED}-{os.getpid()}-"
        working = Path(tempfile.mkdtemp(prefix=prefix, dir=out.parent))
    except OSError as refused:
        message = f"can't be written here: {refused.strerror}; name a folder you may write to"
        raise refusal(out, message) from refused
    _OURS.add(working)
    try:
        working.chmod(0o755)
        with _disk_holds(out):
            yield working
        _put_in_place(working, out, replace, mark)
    finally:
        shutil.rmtree(working, ignore_errors=True)
        _OURS.discard(working)


@contextlib.contextmanager
def _disk_holds(out: Path) -> Iterator[None]:
    """Raises ProblemsFound where OUT can't be written to its end, such as on a full disk."""
    try:
        yield
    except OSError as refused:
        reason = refused.strerror or refused
        raise refusal(out, said.NOT_WRITTEN.format(reason=reason)) from refused


def _put_in_place(working: Path, out: Path, replace: bool, mark: str) -> None:
    """Gives the finished folder the name OUT; an earlier run goes once the new one is there.

    In one step where the system can. Else the earlier run lies under a name that put_back knows
    for a moment.
    """
    refuse_to_overwrite(out, replace, mark)  # somebody may have been quicker
    earlier = out.with_name(f".{out.name}.{_EARLIER}-{os.getpid()}")
    try:
        if replace and (out / mark).exists():
            if exchanged(working, out):
                return  # what is called working now is the earlier run, and goes
            out.rename(earlier)
        try:
            working.rename(out)  # fails where somebody has put a run there
        except BaseException:
            if earlier.exists():
                earlier.rename(out)
            raise
    except OSError as refused:
        refuse_to_overwrite(out, replace, mark)
        message = (
            f"can't be replaced: {refused.strerror}; close every file of it that is open in "
            "another program and run again"
        )
        raise refusal(out, message) from refused
    shutil.rmtree(earlier, ignore_errors=True)


def refuse_to_overwrite_file(out: Path, replace: bool) -> None:
    """Raises ProblemsFound where a file to be written would take the place of another thing."""
    if out.is_dir():
        message = "is a folder; name a file, such as spares.xlsx"
    elif out.exists() and not replace:
        message = "is there already; name another file, or add --replace to put this one there"
    elif _holds_tables(folder := out.resolve().parent):
        message = said.AMONG_TABLES.format(folder=folder.name)
    else:
        return
    raise refusal(out, message)


def _holds_tables(folder: Path) -> bool:
    """Whether input tables lie in a folder, among which another file would be taken for one."""
    return any((folder / name).exists() for name in (SETTINGS_FILE, *(f"{n}.csv" for n in INPUTS)))


def file_finished_whole(out: Path, content: bytes, replace: bool) -> None:
    """Writes a file beside its place and moves it there once it is whole.

    replace: whether an earlier one may go; else its place must still be free then.
    """
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        put_back(out)
        prefix = f".{out.name}.{_UNFINISHED}-{os.getpid()}-"
        number, name = tempfile.mkstemp(prefix=prefix, dir=out.parent)
        working = Path(name)
        try:
            with os.fdopen(number, "wb") as file:
                file.write(content)
            working.chmod(0o644)
            _put_file_in_place(working, out, replace)
        finally:
            working.unlink(missing_ok=True)
    except OSError as refused:
        message = (
            f"can't be written: {refused.strerror}; name a place you may write to, and close the "
            "file if it is open in another program"
        )
        raise refusal(out, message) from refused


def _put_file_in_place(working: Path, out: Path, replace: bool) -> None:
    """Gives the finished file the name OUT; without replace only where nothing bears it."""
    refuse_to_overwrite_file(out, replace)  # somebody may have been quicker
    if not replace:
        try:
            out.hardlink_to(working)  # unlike a rename it fails where something is there
        except FileExistsError:
            refuse_to_overwrite_file(out, replace)
        except OSError:  # a disk without links
            pass
        else:
            return
    working.replace(out)
