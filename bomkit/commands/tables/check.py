"""Look for every problem in the data."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import say, tell_problems
from bomkit.commands.shared_arguments import DATA

if TYPE_CHECKING:
    from pathlib import Path


@click.command()
@DATA
def check(data: Path) -> None:
    """Look for every problem in the tables of DATA."""
    from bomkit.problems import refuse_errors
    from bomkit.runs.checked_tables import all_problems

    problems = all_problems(data)
    with problems_told(to_stderr=False):
        refuse_errors(problems)
    tell_problems(problems, to_stderr=False)
    if not problems:
        say(f"{data}: no problems found")
