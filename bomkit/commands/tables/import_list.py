"""Parts lists from outside into the tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import NOTHING_WRITTEN, say
from bomkit.commands.shared_arguments import PathName

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from bomkit.parts_lists.columns import Columns
    from bomkit.parts_lists.list_as_found import Line
    from bomkit.parts_lists.what_goes_into_what import Right


@click.command("import")
@click.argument(
    "lists",
    metavar="LIST...",
    nargs=-1,
    required=True,
    type=PathName(exists=True),
)
@click.option(
    "--into",
    "data",
    required=True,
    type=PathName(),
    help="Folder of tables; made if it is not there.",
)
@click.option(
    "--columns",
    type=PathName(exists=True, dir_okay=False),
    help="What the columns mean, as an earlier import wrote it.",
)
@click.option(
    "--right",
    type=click.Choice(["first", "last"]),
    help="Which counts where an assembly has two contents.",
)
@click.option("--drop-gone", is_flag=True, help="Take out lines that the list has no more.")
@click.option("--show", is_flag=True, help="Only show what would change.")
def import_list(
    lists: tuple[Path, ...],
    data: Path,
    columns: Path | None,
    right: Right | None,
    drop_gone: bool,
    show: bool,
) -> None:
    """Read parts lists of any shape into items and structure.

    LIST is a CSV file or a workbook, or a folder of them. What its columns mean is guessed, shown
    and written beside it; mend that file and give it again with --columns. What the tables know
    and the list does not is kept; while anything is in doubt nothing is written.
    """
    from bomkit.runs.tables.import_list import import_lists
    from bomkit.screens.import_list import guess_lines, report_lines

    def tell_guess(guessed: Columns, samples: Sequence[Line]) -> None:
        for line in guess_lines(guessed, samples, lists[0]):
            say(line)

    with problems_told(NOTHING_WRITTEN):
        imported = import_lists(list(lists), data, columns, right, drop_gone, show, tell_guess)
    for line in report_lines(imported.merged, imported.skipped, drop_gone):
        say(line)
    say(NOTHING_WRITTEN if show else f"written to {data}")
