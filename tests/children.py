"""Processes that are killed one after the other, forked from one that has imported what they need.

Imports take longer than what is broken off, and a process that has worked with tables has threads
that do not survive a fork; so the one that forks does nothing else.
"""

import os
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from types import TracebackType

_ROOT = Path(__file__).parents[1]
_FORKING = """
import os, sys, traceback
for words in sys.stdin:
    if not (child := os.fork()):
        print(os.getpid(), flush=True)
        try:
            work(*words.rstrip("\\n").split("\\t"))
        except BaseException:
            traceback.print_exc()
            os._exit(1)
        os._exit(0)
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
"""


class Children:
    """Children that each call the function `work` of a script with words of their own."""

    def __init__(self, script: str) -> None:
        """Start the process that they are forked from."""
        words = [sys.executable, "-c", script + _FORKING]
        self._parent = subprocess.Popen(
            words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=_ROOT
        )

    def __enter__(self) -> "Children":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._parent.kill()
        self._parent.communicate()

    def begin(self, *words: object) -> None:
        """Start one; the one before must have ended."""
        assert self._parent.stdin is not None
        self._parent.stdin.write("\t".join(map(str, words)) + "\n")
        self._parent.stdin.flush()
        self._child = int(self.line())

    def line(self) -> str:
        """The next line that the child prints."""
        assert self._parent.stdout is not None
        return self._parent.stdout.readline().strip()

    def kill(self) -> None:
        """Kill the one that was begun, if it has not ended by itself."""
        with suppress(ProcessLookupError):
            os.kill(self._child, signal.SIGKILL)

    def code(self) -> int:
        """How the one that was begun ended, once it has."""
        return int(self.line())
