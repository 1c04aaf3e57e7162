"""What all commands tell: lines, problems, how far they are."""

from __future__ import annotations

import time
from collections.abc import Iterable
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from bomkit.problems import Problem

NOTHING_WRITTEN = "nothing was written"


def say(line: str, err: bool = False) -> None:
    """Prints a line, with control characters spelt out."""
    from bomkit.problems import visible

    try:
        click.echo(visible(line), err=err)
    except BrokenPipeError:
        raise  # whoever listened has heard enough
    except OSError as refused:
        raise click.ClickException(f"can't print here: {refused.strerror}") from refused


def tell_problems(problems: Iterable[Problem], to_stderr: bool = True) -> None:
    """Every problem on a line of its own, then how many there are."""
    problems = list(problems)
    for problem in problems:
        say(problem.sentence(), err=to_stderr)
    errors = sum(problem.severity == "error" for problem in problems)
    if problems:
        counts = (_counted(errors, "error"), _counted(len(problems) - errors, "warning"))
        say(", ".join(counts), err=to_stderr)


class Progress:
    """Tells on stderr what is being done, once a run takes more than a second, twice a second."""

    def __init__(self) -> None:
        self.next = time.monotonic() + 1

    def __call__(self, words: str) -> None:
        now = time.monotonic()
        if now > self.next:
            self.next = now + 0.5
            say(f"{words} ...", err=True)


def _counted(number: int, word: str) -> str:
    """A number and its word, such as 1 error or 2 errors."""
    return f"{number} {word}{'' if number == 1 else 's'}"
