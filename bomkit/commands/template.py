"""Empty tables to start from."""

from __future__ import annotations

from pathlib import Path

import click

from bomkit.commands.telling import problems_told, say


@click.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def template(folder: Path) -> None:
    """Write empty tables with headings, and a guide to every column, to DIR."""
    from bomkit.inputs.template import write_template

    with problems_told():
        written = write_template(folder)
    say(f"{len(written)} files written to {folder}; start with GUIDE.md")
