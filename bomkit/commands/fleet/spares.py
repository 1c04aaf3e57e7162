"""How many of each part to keep."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from bomkit.commands.exit_codes import problems_told
from bomkit.commands.lines_and_problems import NOTHING_WRITTEN, Progress, say, tell_problems
from bomkit.commands.shared_arguments import DATA, PathName, table_name, workbook_name

if TYPE_CHECKING:
    from pathlib import Path


class _Asked(TypedDict):
    """The options that say what is asked."""

    assure: float
    measure: str
    budget: float | None
    mass_kg: float | None
    serials: str
    days: int | None
    with_inspections: bool


@click.command()
@DATA
@click.option(
    "--out",
    required=True,
    type=PathName(),
    callback=workbook_name,
    help="Workbook to write, .xlsx.",
)
@click.option("--replace", is_flag=True, help="Put this workbook in the place of an earlier one.")
@click.option(
    "--assure",
    default=0.95,
    show_default=True,
    type=click.FloatRange(0, 1, min_open=True, max_open=True),
    help="Target of each part, as a share below 1.",
)
@click.option(
    "--measure",
    default="no-backorder",
    show_default=True,
    type=click.Choice(["no-backorder", "fill-rate"]),
    help="Chance that nobody waits, or share of demand served at once.",
)
@click.option(
    "--budget",
    type=click.FloatRange(min=0),
    help="Buy the best set for this much on top of the stock.",
)
@click.option(
    "--mass-kg", type=click.FloatRange(min=0), help="Pack the best set of at most this mass."
)
@click.option("--serials", default="", help="A tour: only these aircraft, with commas between.")
@click.option("--days", type=click.IntRange(1, 3660), help="A tour: its calendar days.")
@click.option(
    "--after-plan",
    is_flag=True,
    help="Count only what the build plan and the orders leave of stock and open orders.",
)
@click.option(
    "--with-inspections",
    is_flag=True,
    help="Count what coming inspections take, beside what fails.",
)
@click.option(
    "--orders",
    type=PathName(),
    callback=table_name,
    help="With --after-plan: spares_orders with what lacks below it, a new .csv file.",
)
def spares(
    data: Path,
    out: Path,
    replace: bool,
    after_plan: bool,
    orders: Path | None,
    **asked: Unpack[_Asked],
) -> None:
    """Say how many of each part to keep for the fleet, or for a tour."""
    wish = _wish(**asked)
    if orders and (not after_plan or asked["days"] is not None):
        raise click.UsageError("--orders goes with --after-plan, and not with a tour")
    from bomkit.runs.fleet.spares import spares_run
    from bomkit.screens.spares import spares_lines

    with problems_told(NOTHING_WRITTEN):
        progress = Progress() if after_plan else None
        report, warnings = spares_run(data, out, replace, wish, progress, orders)
    tell_problems(warnings)
    for line in spares_lines(report):
        say(line)
    say(f"written to {out}{f' and {orders}' if orders else ''}")


def _wish(**asked: Unpack[_Asked]) -> dict[str, object]:
    """What is asked, by the fields of a Question; refuses what contradicts itself."""
    budget, mass_kg = asked["budget"], asked["mass_kg"]
    names = (name.strip() for name in asked["serials"].split(","))
    aircraft = tuple(dict.fromkeys(filter(None, names)))
    if budget is not None and mass_kg is not None:
        raise click.UsageError("give --budget or --mass-kg, not both")
    if not all(math.isfinite(value) for value in (asked["assure"], budget or 0.0, mass_kg or 0.0)):
        raise click.UsageError("--assure, --budget and --mass-kg are finite numbers")
    if bool(aircraft) != (asked["days"] is not None):
        raise click.UsageError("a tour needs both --serials and --days")
    return {
        "target": asked["assure"],
        "measure": asked["measure"],
        "limit": budget if mass_kg is None else mass_kg,
        "limited_by": "cost" if mass_kg is None else "mass",
        "serials": aircraft,
        "days": asked["days"],
        "inspections": asked["with_inspections"],
    }
