"""The tables from a folder to a workbook, or back."""

from __future__ import annotations

from pathlib import Path

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.telling import NOTHING_WRITTEN, say, tell_problems


@click.command()
@click.argument("source", metavar="FROM", type=click.Path(exists=True, path_type=Path))
@click.argument("target", metavar="TO", type=click.Path(path_type=Path))
def convert(source: Path, target: Path) -> None:
    """Turn a folder of tables into a workbook, or a workbook into a folder.

    TO is new; a name that ends in .xlsx becomes a workbook. The plan is the same from both.
    """
    from bomkit.runs.tables.convert import convert as turned

    with problems_told(NOTHING_WRITTEN):
        count, warnings = turned(source, target)
    tell_problems(warnings)
    say(f"{count} tables written to {target}")
