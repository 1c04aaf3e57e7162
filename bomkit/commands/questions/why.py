"""Why an item is ordered."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import say, tell_problems
from bomkit.commands.shared_arguments import PathName

if TYPE_CHECKING:
    from pathlib import Path


def _run_folder(context: click.Context, parameter: click.Parameter, run: Path) -> Path:
    """The folder of a run, put back where a run that was broken off had moved it away."""
    from bomkit.runs.files.out_folder import put_back

    restored = put_back(run.absolute())
    if restored:
        tell_problems([restored])
    if not run.exists():
        raise click.BadParameter(f"Path '{run}' does not exist.")
    return run


@click.command()
@click.argument("run", metavar="RUN", type=PathName(), callback=_run_folder)
@click.argument("item")
@click.option("--serial", default="", help="Only what is for this aircraft.")
@click.option("--all", "everything", is_flag=True, help="Show every week and every branch.")
def why(run: Path, item: str, serial: str, everything: bool) -> None:
    """Show from a finished RUN why ITEM is ordered and what it waits for.

    RUN is a folder that bomkit plan has written: the planning record by week, where each quantity
    goes, up to airframes and spares orders, and what comes too late for it.
    """
    from bomkit.runs.questions.why import item_reason
    from bomkit.screens.why import ALL_BRANCHES, FEW_BRANCHES, reason_lines

    with problems_told():
        name, reason = item_reason(run, item, serial, ALL_BRANCHES if everything else FEW_BRANCHES)
    for line in reason_lines(name, reason, everything):
        say(line)
