"""What all commands share: lines and problems told, progress, exit codes."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from bomkit.problems import Problem

DATA = click.argument("data", type=click.Path(exists=True, path_type=Path))
NOTHING_WRITTEN = "nothing was written"


def say(line: str, err: bool = False) -> None:
    """Prints a line, with control characters spelt out."""
    from bomkit.problems import visible

    click.echo(visible(line), err=err)


def tell_problems(problems: Iterable[Problem], to_stderr: bool = True) -> None:
    """Every problem on a line of its own, then how many there are."""
    problems = list(problems)
    for problem in problems:
        say(problem.sentence(), err=to_stderr)
    errors = sum(problem.severity == "error" for problem in problems)
    if problems:
        counts = (_counted(errors, "error"), _counted(len(problems) - errors, "warning"))
        say(", ".join(counts), err=to_stderr)


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
        sys.exit(1)


FileName = Callable[[click.Context, click.Parameter, Path | None], Path | None]


def _file_name(kind: str, ending: str) -> FileName:
    """What sees to it that a path, if there is one, names a file of a kind."""

    def named(context: click.Context, parameter: click.Parameter, path: Path | None) -> Path | None:
        if path is not None and path.suffix.lower() != ending:
            message = f"{parameter.opts[0]} names {kind}; let its name end in {ending}"
            raise click.UsageError(message)
        return path

    return named


workbook_name = _file_name("a workbook", ".xlsx")
table_name = _file_name("a table", ".csv")


def from_here(path: Path) -> Path:
    """The path as seen from the current folder, if it lies in it."""
    return path.relative_to(Path.cwd()) if path.is_relative_to(Path.cwd()) else path


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
