"""Numbers and names that people gave, as names of files."""

import hashlib
import re
from collections.abc import Iterable

_UNSAFE = re.compile(r"[^\w.+-]+")  # in the name of a file
_LONGEST_NAME = 80  # bytes; file systems take 255, and some programs less
_RESERVED = {"con", "prn", "aux", "nul"}  # names that Windows keeps for itself


def free_name(wanted: str, taken: Iterable[str], behind: str = "") -> str:
    """The name of a file for what is wanted and a word behind it; with a number if it is taken."""
    known = {name.casefold() for name in taken}
    safe = _file_name(wanted) + behind
    name, number = safe, 2
    while name.casefold() in known:
        name, number = f"{safe}_{number}", number + 1
    return name


def _file_name(wanted: str) -> str:
    """A number or name as part of a path: no odd signs, no leading dots, not too long."""
    safe = _UNSAFE.sub("_", wanted).lstrip(".") or "_"
    if len(safe.encode()) > _LONGEST_NAME:
        digest = hashlib.sha256(wanted.encode()).hexdigest()[:8]
        safe = f"{safe.encode()[: _LONGEST_NAME - 9].decode(errors='ignore')}_{digest}"
    return f"{safe}_" if safe.casefold() in _RESERVED else safe
