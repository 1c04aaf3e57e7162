"""With which code a command ends: 0 done, 1 problems in the data; click itself ends with 2."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from bomkit.commands.telling import say, tell_problems

if TYPE_CHECKING:
    from bomkit.problems import Problem

PROBLEMS_IN_THE_DATA = 1


@contextmanager
def problems_told(last_line: str = "") -> Iterator[None]:
    """Whatever is found wrong inside is told on stderr, with a last line; the exit code is 1."""
    from bomkit.problems import ProblemsFound

    try:
        yield
    except ProblemsFound as found:
        tell_problems(found.problems)
        if last_line:
            say(last_line, err=True)
        sys.exit(PROBLEMS_IN_THE_DATA)


def end_if_errors(problems: Sequence[Problem]) -> None:
    """Ends the command with exit code 1 if one of the problems is an error."""
    from bomkit.problems import has_errors

    if has_errors(problems):
        sys.exit(PROBLEMS_IN_THE_DATA)
