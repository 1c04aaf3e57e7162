"""The packing list of one spares order."""

from __future__ import annotations

from pathlib import Path

import click

from bomkit.commands.telling import (
    DATA,
    NOTHING_WRITTEN,
    Progress,
    problems_told,
    say,
    tell_problems,
    workbook_name,
)


@click.command()
@DATA
@click.argument("order")
@click.option(
    "--out",
    required=True,
    type=click.Path(path_type=Path),
    callback=workbook_name,
    help="Workbook to write, such as k.xlsx.",
)
@click.option("--replace", is_flag=True, help="Put it in the place of an earlier one.")
def kit(data: Path, order: str, out: Path, replace: bool) -> None:
    """Write the packing list of a spares ORDER: what to take, from where, and what to wait for."""
    from bomkit.runs.kit import kit_run
    from bomkit.screens.kit import kit_lines

    with problems_told(NOTHING_WRITTEN):
        report, warnings = kit_run(data, order, out, replace, Progress())
    tell_problems(warnings)
    for line in kit_lines(report, order):
        say(line)
    say(f"written to {out}")
