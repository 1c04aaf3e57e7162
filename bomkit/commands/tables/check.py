"""Look for every problem in the data."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from bomkit.commands.telling import DATA, say, tell_problems


@click.command()
@DATA
def check(data: Path) -> None:
    """Look for every problem in the tables of DATA."""
    from bomkit.problems import has_errors
    from bomkit.runs.checked import all_problems

    problems = all_problems(data)
    tell_problems(problems, to_stderr=False)
    if has_errors(problems):
        sys.exit(1)
    if not problems:
        say(f"{data}: no problems found")
