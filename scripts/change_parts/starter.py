"""Starts test runs quickly: libraries are imported once, and each run is a fork of this process.

Reads a line for each run from standard input, as JSON: arguments (of pytest), environment, changed
(whether what is compiled must not be kept), longest (seconds). Writes a line for each: its exit
code, or "long" where it took longer. To be run in the folder of the tree; what belongs to the tree
itself is imported anew by each run.
"""

from __future__ import annotations

import importlib
import json
import os
import signal
import sys
import time
from typing import Any

LIBRARIES = ("pytest", "numpy", "polars", "scipy.stats", "scipy.optimize", "networkx", "openpyxl")


def main() -> None:
    """Answers until there is nothing more to read."""
    os.environ.setdefault("POLARS_MAX_THREADS", "1")
    for library in LIBRARIES:
        importlib.import_module(library)
    for asked in sys.stdin:
        print(_answer(json.loads(asked)), flush=True)


def _answer(asked: dict[str, Any]) -> str:
    """How a run ended."""
    run = os.fork()
    if not run:
        os._exit(_run(asked))
    until = time.monotonic() + asked["longest"]
    while time.monotonic() < until:
        ended, status = os.waitpid(run, os.WNOHANG)
        if ended:
            return str(os.waitstatus_to_exitcode(status))
        time.sleep(0.02)
    os.killpg(run, signal.SIGKILL)
    os.waitpid(run, 0)
    return "long"


def _run(asked: dict[str, Any]) -> int:
    """The exit code of pytest in a process of its own, silent."""
    os.setpgid(0, 0)
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)
    os.environ.update(asked["environment"])
    sys.dont_write_bytecode = asked["changed"]
    import pytest

    return int(pytest.main(asked["arguments"]))


if __name__ == "__main__":
    main()
