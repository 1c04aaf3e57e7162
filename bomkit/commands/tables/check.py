"""Look for every problem in the data."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import end_if_errors
from bomkit.commands.shared_arguments import DATA
from bomkit.commands.telling import say, tell_problems

if TYPE_CHECKING:
    from pathlib import Path


@click.command()
@DATA
def check(data: Path) -> None:
    """Look for every problem in the tables of DATA."""
    from bomkit.runs.checked import all_problems

    problems = all_problems(data)
    tell_problems(problems, to_stderr=False)
    end_if_errors(problems)
    if not problems:
        say(f"{data}: no problems found")
