"""The tables from a folder to a workbook, or back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import NOTHING_WRITTEN, say, tell_problems
from bomkit.commands.shared_arguments import PathName, folder_or_workbook

if TYPE_CHECKING:
    from pathlib import Path


@click.command()
@click.argument("source", metavar="FROM", type=PathName(exists=True))
@click.argument("target", metavar="TO", type=PathName(), callback=folder_or_workbook)
def convert(source: Path, target: Path) -> None:
    """Turn a folder of tables into a workbook, or a workbook into a folder.

    TO is new; a name that ends in .xlsx becomes a workbook. The plan is the same from both.
    """
    from bomkit.runs.tables.convert import convert as turned

    with problems_told(NOTHING_WRITTEN):
        count, warnings = turned(source, target)
    tell_problems(warnings)
    say(f"{count} tables written to {target}")
