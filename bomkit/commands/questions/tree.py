"""The indented structure."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import say
from bomkit.commands.shared_arguments import DATA

if TYPE_CHECKING:
    from pathlib import Path


@click.command()
@DATA
@click.argument("item")
@click.option("--serial", default="", help="Only what this aircraft's configuration contains.")
@click.option("--up", is_flag=True, help="Where ITEM is used, upwards, instead of what is in it.")
@click.option(
    "--depth", default=30, show_default=True, type=click.IntRange(1, 100), help="Levels to show."
)
@click.option(
    "--roll",
    type=click.Choice(["mass", "cost", "hours"]),
    help="Add up what one unit of ITEM weighs, costs or takes in hours.",
)
@click.option(
    "--lots",
    type=click.Choice(["planned", "smallest"]),
    default="planned",
    show_default=True,
    help="With --roll: spread what an order takes once over the mean lot planned, or the smallest.",
)
@click.option("--serials", is_flag=True, help="With --up: name the aircraft that contain ITEM.")
def tree(
    data: Path,
    item: str,
    serial: str,
    up: bool,
    depth: int,
    roll: Literal["mass", "cost", "hours"] | None,
    lots: Literal["planned", "smallest"],
    serials: bool,
) -> None:
    """Show the indented structure of ITEM with quantities."""
    from bomkit.runs.fleet.fitted import aircraft_with
    from bomkit.runs.questions.tree import item_outline, rolled_outline
    from bomkit.screens.fitted import serial_lines
    from bomkit.screens.tree import rolled_lines, tree_lines

    if roll and up:
        raise click.UsageError("--roll adds up what is in ITEM: leave out --up")
    if serials and not (up and not serial):
        raise click.UsageError("--serials goes with --up, and names all aircraft: no --serial")
    with problems_told():
        if roll:
            rolled = rolled_outline(data, item, serial, depth, roll, lots)
            lines = rolled_lines(rolled, roll, serial)
        else:
            lines = tree_lines(item_outline(data, item, serial, up, depth))
        named = serial_lines(item, aircraft_with(data, item)) if serials else ()
        for line in (*lines, *named):
            say(line)
