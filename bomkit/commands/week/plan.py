"""Plan the data and write the run."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import NOTHING_WRITTEN, Progress, say, tell_problems
from bomkit.commands.shared_arguments import DATA, PathName, from_here

if TYPE_CHECKING:
    from pathlib import Path

    from bomkit.runs.week.plan import Run


def _renamed(context: click.Context, parameter: click.Parameter, given: bool) -> None:
    """Refuses an option that has another name now."""
    if given:
        raise click.UsageError("--with-upkeep is called --with-inspections now.")


@click.command()
@DATA
@click.option("--out", required=True, type=PathName(), help="Folder to write the run to.")
@click.option("--replace", is_flag=True, help="Put this run in the place of an earlier one.")
@click.option("--no-level", is_flag=True, help="Leave orders where netting puts them.")
@click.option("--no-stores", is_flag=True, help="Leave out forecast, shortages and pick lists.")
@click.option("--pick-sheets", is_flag=True, help="Write a pick sheet for each order as well.")
@click.option(
    "--with-inspections",
    is_flag=True,
    help="Plan what coming inspections take, as foreseen demand.",
)
@click.option("--as-moved", is_flag=True, help="Plan as if every proposed move were agreed.")
@click.option(
    "--since",
    type=PathName(exists=True, file_okay=False),
    metavar="RUN",
    help="An earlier run: the overview tells what changed since.",
)
@click.option("--with-upkeep", is_flag=True, hidden=True, expose_value=False, callback=_renamed)
def plan(
    data: Path,
    out: Path,
    replace: bool,
    no_level: bool,
    no_stores: bool,
    pick_sheets: bool,
    with_inspections: bool,
    as_moved: bool,
    since: Path | None,
) -> None:
    """Plan DATA and write the workbooks and result tables to OUT."""
    if since and no_stores:
        raise click.UsageError("--since compares forecasts: leave out --no-stores")
    from bomkit.runs.week.plan import weekly_run
    from bomkit.tables.results.finished_plan import Choices

    with problems_told(NOTHING_WRITTEN):
        choices = Choices(not no_stores, with_inspections, not no_level, pick_sheets, as_moved)
        run = weekly_run(data, out, replace, Progress(), choices, since)
    tell_problems(run.warnings)
    _tell_summary(run)


def _tell_summary(run: Run) -> None:
    """Orders by week and kind, the late ones, and where everything is."""
    from bomkit.screens.plan import summary_lines

    for line in summary_lines(run.report):
        say(line)
    say(f"written to {from_here(run.out)}: open overview.xlsx first")
