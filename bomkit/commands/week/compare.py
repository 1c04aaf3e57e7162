"""What one run does otherwise than another."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import NOTHING_WRITTEN, Progress, say
from bomkit.commands.shared_arguments import PathName, workbook_name

if TYPE_CHECKING:
    from pathlib import Path

RUN = PathName(exists=True, file_okay=False)


@click.command()
@click.argument("old", metavar="OLD", type=RUN)
@click.argument("new", metavar="NEW", type=RUN)
@click.option(
    "--out",
    type=PathName(),
    callback=workbook_name,
    help="Workbook to write it to as well, .xlsx.",
)
@click.option("--replace", is_flag=True, help="Put this workbook in the place of an earlier one.")
def compare(old: Path, new: Path, out: Path | None, replace: bool) -> None:
    """Tell what the run NEW does otherwise than the run OLD, and because of which table.

    OLD and NEW are folders that bomkit plan has written.
    """
    from bomkit.runs.week.compare import compare_runs
    from bomkit.screens.compare import compare_lines

    with problems_told(NOTHING_WRITTEN if out else ""):
        compared = compare_runs(old, new, Progress(), out, replace)
    for line in compare_lines(compared):
        say(line)
    if out:
        say(f"written to {out}")
