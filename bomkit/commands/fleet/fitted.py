"""Which aircraft carry a lot, an item or a part."""

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
@click.option("--lot", default="", help="A lot or batch.")
@click.option("--item", default="", help="An item; alone, every record of it.")
@click.option("--part-serial", default="", help="The serial number of one part.")
def fitted(data: Path, lot: str, item: str, part_serial: str) -> None:
    """Show which aircraft carry a lot, an item or a part, and which have no record of it."""
    from bomkit.runs.fleet.fitted import fitted_run
    from bomkit.screens.fitted import carrier_lines

    if not (lot or item or part_serial):
        raise click.UsageError("give --lot, --item or --part-serial")
    with problems_told():
        carriers, warnings = fitted_run(data, lot, item, part_serial)
    tell_problems(warnings)
    for line in carrier_lines(carriers):
        say(line)
