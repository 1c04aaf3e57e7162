"""Two names exchanged in one step, where the system can."""

import ctypes
import os
import sys
from pathlib import Path

_EXCHANGE = 2  # RENAME_EXCHANGE of Linux, RENAME_SWAP of macOS
_HERE = -100  # AT_FDCWD: paths are taken as they are


def exchanged(one: Path, other: Path) -> bool:
    """Exchanges two names, both of which are there; False where the system or disk can't."""
    first, second = os.fsencode(one), os.fsencode(other)
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            return bool(library.renamex_np(first, second, _EXCHANGE) == 0)
        return bool(library.renameat2(_HERE, first, _HERE, second, _EXCHANGE) == 0)
    except (OSError, TypeError, AttributeError):  # no such library, or no such call in it
        return False
