"""The week closes: what was filled into a run's workbooks, to the tables of the week after."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import NOTHING_WRITTEN, say, tell_problems
from bomkit.commands.shared_arguments import PathName, from_here

if TYPE_CHECKING:
    from pathlib import Path


@click.command("take-back")
@click.argument("run", metavar="RUN", type=PathName(exists=True, file_okay=False))
@click.argument(
    "files",
    metavar="[FILE]...",
    nargs=-1,
    type=PathName(exists=True, dir_okay=False),
)
@click.option(
    "--into",
    required=True,
    type=PathName(),
    help="Folder to write the tables of the week after to.",
)
@click.option("--replace", is_flag=True, help="Put them in the place of those taken back before.")
def take_back(run: Path, files: tuple[Path, ...], into: Path, replace: bool) -> None:
    """Take back what was filled into the workbooks of RUN, and write the tables of the week after.

    RUN is a folder that bomkit plan has written. Without FILEs, all workbooks in it are read where
    they lie. RUN and its tables stay as they are.
    """
    from bomkit.runs.week.take_back import take_back as taken_back
    from bomkit.screens.take_back import taken_back_lines

    with problems_told(NOTHING_WRITTEN):
        taken = taken_back(run, files, into, replace)
    tell_problems(taken.notes)
    for line in taken_back_lines(taken.week, taken.start, taken.account, taken.counts):
        say(line)
    say(f"written to {from_here(into.resolve())}")
