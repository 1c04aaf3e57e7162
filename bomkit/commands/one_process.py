"""How the process of one command works: on one core, seldom looking for garbage, never mute."""

import atexit
import gc
import io
import os
import sys

_MANY = 1_000_000  # new objects between two looks for garbage; usually 700
# Each is read once, when polars or numpy is first imported. The steps of a run are many and small:
# a second thread spends more on waiting for its next step than it takes from the first.
_THREADS = ("POLARS_MAX_THREADS", "OPENBLAS_NUM_THREADS")

atexit.register(gc.freeze)  # what is thrown away as a whole need not be gone through once more


def settle_in() -> None:
    """From now on one thread works, unless the environment says otherwise; garbage waits.

    Modules and a run make millions of small objects that last and hardly any cycles: each look for
    garbage goes through them in vain, a fifth of the time that the workbooks take.
    """
    _say_what_can_be_said()
    for name in _THREADS:
        os.environ.setdefault(name, "1")
    gc.set_threshold(_MANY, *gc.get_threshold()[1:])


def _say_what_can_be_said() -> None:
    """Prints ? for a character that the screen or file lacks, where a command would break off."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
