"""The packing list of one spares order, or of one that is only tried."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import NOTHING_WRITTEN, Progress, say, tell_problems
from bomkit.commands.shared_arguments import DATA, PathName, workbook_name

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path


@click.command()
@DATA
@click.argument("order", required=False)
@click.option(
    "--out",
    type=PathName(),
    callback=workbook_name,
    help="Workbook to write for ORDER, such as k.xlsx.",
)
@click.option("--replace", is_flag=True, help="Put it in the place of an earlier one.")
@click.option(
    "--try", "item", help="Instead of ORDER: a kit or part that nobody has ordered; writes nothing."
)
@click.option("--serial", default="", help="With --try: the aircraft it goes to.")
@click.option("--quantity", type=float, help="With --try: how much; 1 if not given.")
@click.option(
    "--wanted", type=click.DateTime(["%Y-%m-%d"]), help="With --try: day on which it must leave."
)
def kit(
    data: Path,
    order: str | None,
    out: Path | None,
    replace: bool,
    item: str | None,
    serial: str,
    quantity: float | None,
    wanted: datetime | None,
) -> None:
    """Write the packing list of a spares ORDER: what to take, from where, and what to wait for.

    With --try, say what an order would get and when, and whom it would hold up if it were grounded.
    """
    if item is not None:
        if order or out or replace:
            raise click.UsageError("--try takes no ORDER, --out or --replace")
        if wanted is None:
            raise click.UsageError("--try needs --wanted, the day on which it must leave")
        more = 1.0 if quantity is None else quantity
        _try(data, item, serial, f"{more:g}", wanted.date().isoformat())
        return
    if serial or quantity is not None or wanted:
        raise click.UsageError("--serial, --quantity and --wanted go with --try")
    if order is None or out is None:
        raise click.UsageError("give ORDER and --out, or --try with what to try")
    _write(data, order, out, replace)


def _write(data: Path, order: str, out: Path, replace: bool) -> None:
    """Writes the packing list of an order that the tables have."""
    from bomkit.runs.fleet.kit import kit_run
    from bomkit.screens.kit import kit_lines

    with problems_told(NOTHING_WRITTEN):
        report, warnings = kit_run(data, order, out, replace, Progress())
    tell_problems(warnings)
    for line in kit_lines(report, order):
        say(line)
    say(f"written to {out}")


def _try(data: Path, item: str, serial: str, quantity: str, wanted: str) -> None:
    """Says what an order would get that the tables do not have."""
    from bomkit.runs.fleet.kit import TRIED, kit_tried
    from bomkit.screens.kit import tried_lines

    wish = {"item": item, "serial": serial, "quantity": quantity, "need_date": wanted}
    with problems_told(NOTHING_WRITTEN):
        report, grounded, warnings = kit_tried(data, wish, Progress())
    tell_problems(warnings)
    for line in tried_lines(report, grounded, TRIED):
        say(line)
