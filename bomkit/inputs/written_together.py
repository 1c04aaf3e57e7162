"""Tables on their way into a folder: together, whatever breaks off in between.

They lie complete in a folder within it before the first takes its place, so that whoever comes next
can go on where somebody was broken off.
"""

import contextlib
from pathlib import Path

NEW_TABLES = ".new_tables"


class EditedSince(Exception):  # noqa: N818 - reads as what happened
    """A table that a new one was to replace was edited since."""


def put_in_place(folder: Path, broken_off: bool = False) -> list[str]:
    """Moves the tables on their way to their places; says which.

    broken_off: whether somebody else had begun it; then one edited since raises EditedSince.
    Raises OSError where a table can't be replaced.
    """
    waiting = folder / NEW_TABLES
    names = sorted(path.name for path in waiting.iterdir()) if waiting.is_dir() else []
    for name in names if broken_off else ():
        if _edited_since(folder / name, waiting / name):
            raise EditedSince(name)
    put = []
    for name in names:
        with contextlib.suppress(FileNotFoundError):  # another command was quicker
            (waiting / name).replace(folder / name)
            put.append(name)
    with contextlib.suppress(FileNotFoundError):
        waiting.rmdir()
    return put


def _edited_since(table: Path, new: Path) -> bool:
    with contextlib.suppress(FileNotFoundError):
        return table.stat().st_mtime_ns > new.stat().st_mtime_ns
    return False
