"""What other rates ask of the shops."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import Progress, say
from bomkit.commands.shared_arguments import DATA, PathName, from_here, workbook_name

if TYPE_CHECKING:
    from pathlib import Path


@click.command()
@DATA
@click.option(
    "--per-month",
    "rates",
    required=True,
    multiple=True,
    type=click.FloatRange(0, 64, min_open=True),
    help="Airframes a month; may be given several times.",
)
@click.option(
    "--out",
    default="rates.xlsx",
    show_default=True,
    type=PathName(dir_okay=False),
    callback=workbook_name,
    help="Workbook to write.",
)
@click.option("--replace", is_flag=True, help="Put this workbook in the place of an earlier one.")
def rate(data: Path, rates: tuple[float, ...], out: Path, replace: bool) -> None:
    """Show what other rates ask of the shops, and what gives way first."""
    from bomkit.runs.questions.rate import rate_study
    from bomkit.screens.rate import rate_lines

    with problems_told():
        study = rate_study(data, rates, out, replace, Progress())
    for line in rate_lines(study.rates, study.verdict):
        say(line)
    say(f"written to {from_here(study.out)}")
