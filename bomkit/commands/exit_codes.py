"""With which code a command ends: 0 done, 1 problems in the data; click itself ends with 2."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from bomkit.commands.lines_and_problems import say, tell_problems

PROBLEMS_IN_THE_DATA = 1


@contextmanager
def problems_told(last_line: str = "", to_stderr: bool = True) -> Iterator[None]:
    """Whatever is found wrong inside is told, with a last line on stderr; the exit code is 1."""
    from bomkit.problems import ProblemsFound

    try:
        yield
    except ProblemsFound as found:
        tell_problems(found.problems, to_stderr)
        if last_line:
            say(last_line, err=True)
        sys.exit(PROBLEMS_IN_THE_DATA)
