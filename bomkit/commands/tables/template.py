"""Empty tables to start from."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import say
from bomkit.commands.shared_arguments import PathName, folder_or_workbook

if TYPE_CHECKING:
    from pathlib import Path


@click.command()
@click.argument("target", metavar="NEW", type=PathName(), callback=folder_or_workbook)
def template(target: Path) -> None:
    """Write empty tables to fill in: a workbook, or a folder of CSV files.

    A name that ends in .xlsx becomes a workbook with a sheet for each table, notes on the
    headings and lists to choose from; any other a folder, with a guide to every column.
    """
    if target.suffix.lower() == ".xlsx":
        from bomkit.runs.tables.convert import write_template_workbook

        with problems_told():
            write_template_workbook(target)
        say(f"written to {target}; its first sheet says what to fill in first")
        return
    from bomkit.inputs.template import write_template

    with problems_told():
        written = write_template(target)
    say(f"{len(written)} files written to {target}; start with GUIDE.md")
