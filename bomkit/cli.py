"""The commands: arguments in, one call, lines out, exit code. Imports only click at the start."""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from bomkit import __version__

if TYPE_CHECKING:
    from bomkit.problems import Problem
    from bomkit.runs.plan import Run

DATA = click.argument("data", type=click.Path(exists=True, path_type=Path))


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="bomkit")
def main() -> None:
    """Plan each week what to make, print and buy for a few aircraft and a fleet.

    DATA is a folder of CSV files with plan.toml, or a workbook with a sheet for each table.
    Exit codes: 0 done, 1 problems in the data, 2 wrong usage.
    """


@main.command()
@DATA
def check(data: Path) -> None:
    """Look for every problem in the tables of DATA."""
    from bomkit.problems import has_errors
    from bomkit.runs.plan import all_problems

    problems = all_problems(data)
    _tell_problems(problems, to_stderr=False)
    if has_errors(problems):
        sys.exit(1)
    if not problems:
        _say(f"{data}: no problems found")


def _renamed(context: click.Context, parameter: click.Parameter, given: bool) -> None:
    """Refuses an option that has another name now."""
    if given:
        raise click.UsageError("--with-upkeep is called --with-inspections now.")


@main.command()
@DATA
@click.option(
    "--out", required=True, type=click.Path(path_type=Path), help="Folder to write the run to."
)
@click.option("--replace", is_flag=True, help="Put this run in the place of an earlier one.")
@click.option("--no-level", is_flag=True, help="Leave orders where netting puts them.")
@click.option("--no-stores", is_flag=True, help="Leave out forecast, shortages and pick lists.")
@click.option(
    "--with-inspections",
    is_flag=True,
    help="Plan what coming inspections take, as forecast demand.",
)
@click.option("--with-upkeep", is_flag=True, hidden=True, expose_value=False, callback=_renamed)
def plan(
    data: Path, out: Path, replace: bool, no_level: bool, no_stores: bool, with_inspections: bool
) -> None:
    """Plan DATA and write the workbooks and result tables to OUT."""
    from bomkit.problems import ProblemsFound
    from bomkit.runs.plan import Choices, weekly_run

    try:
        choices = Choices(stores=not no_stores, inspections=with_inspections, level=not no_level)
        run = weekly_run(data, out, replace, _progress(), choices)
    except ProblemsFound as found:
        _tell_problems(found.problems, to_stderr=True)
        _say("nothing was written", err=True)
        sys.exit(1)
    _tell_problems(run.warnings, to_stderr=True)
    _tell_summary(run)


@main.command()
@DATA
@click.option(
    "--out", required=True, type=click.Path(path_type=Path), help="Workbook to write, .xlsx."
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
def spares(
    data: Path,
    out: Path,
    replace: bool,
    assure: float,
    measure: str,
    budget: float | None,
    mass_kg: float | None,
    serials: str,
    days: int | None,
) -> None:
    """Say how many of each part to hold for the fleet, or for a tour."""
    aircraft = tuple(dict.fromkeys(filter(None, (name.strip() for name in serials.split(",")))))
    if budget is not None and mass_kg is not None:
        raise click.UsageError("give --budget or --mass-kg, not both")
    if not all(math.isfinite(value) for value in (assure, budget or 0.0, mass_kg or 0.0)):
        raise click.UsageError("--assure, --budget and --mass-kg are finite numbers")
    if bool(aircraft) != (days is not None):
        raise click.UsageError("a tour needs both --serials and --days")
    if out.suffix.lower() != ".xlsx":
        raise click.UsageError("--out names a workbook; let its name end in .xlsx")
    from bomkit.problems import ProblemsFound
    from bomkit.runs.spares import spares_run
    from bomkit.screens.spares import spares_lines

    wish = {
        "target": assure,
        "measure": measure,
        "limit": budget if mass_kg is None else mass_kg,
        "limited_by": "cost" if mass_kg is None else "mass",
        "serials": aircraft,
        "days": days,
    }
    try:
        report, warnings = spares_run(data, out, replace, wish)
    except ProblemsFound as found:
        _tell_problems(found.problems, to_stderr=True)
        _say("nothing was written", err=True)
        sys.exit(1)
    _tell_problems(warnings, to_stderr=True)
    for line in spares_lines(report):
        _say(line)
    _say(f"written to {out}")


@main.command()
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
def tree(
    data: Path,
    item: str,
    serial: str,
    up: bool,
    depth: int,
    roll: Literal["mass", "cost", "hours"] | None,
) -> None:
    """Show the indented structure of ITEM with quantities."""
    from bomkit.problems import ProblemsFound
    from bomkit.runs.questions import item_outline, rolled_outline
    from bomkit.screens.plan import rolled_lines, tree_lines

    if roll and up:
        raise click.UsageError("--roll adds up what is in ITEM: leave out --up")
    try:
        if roll:
            found = rolled_outline(data, item, serial, depth, roll)
            lines = rolled_lines(found.top, roll, serial, found.lacking, found.limit_kg)
        else:
            lines = tree_lines(item_outline(data, item, serial, up, depth))
        for line in lines:
            _say(line)
    except ProblemsFound as found:
        _tell_problems(found.problems, to_stderr=True)
        sys.exit(1)


@main.command()
@DATA
@click.argument("order")
@click.option(
    "--out",
    required=True,
    type=click.Path(path_type=Path),
    help="Workbook to write, such as k.xlsx.",
)
@click.option("--replace", is_flag=True, help="Put it in the place of an earlier one.")
def kit(data: Path, order: str, out: Path, replace: bool) -> None:
    """Write the packing list of a spares ORDER: what to take, from where, and what to wait for."""
    if out.suffix.lower() != ".xlsx":
        raise click.UsageError("--out names a workbook; let its name end in .xlsx")
    from bomkit.problems import ProblemsFound
    from bomkit.runs.kit import kit_run
    from bomkit.screens.kit import kit_lines

    try:
        report, warnings = kit_run(data, order, out, replace, _progress())
    except ProblemsFound as found:
        _tell_problems(found.problems, to_stderr=True)
        _say("nothing was written", err=True)
        sys.exit(1)
    _tell_problems(warnings, to_stderr=True)
    for line in kit_lines(report, order):
        _say(line)
    _say(f"written to {out}")


@main.command()
@DATA
@click.option(
    "--per-month",
    "rates",
    required=True,
    multiple=True,
    type=click.FloatRange(0, 64, min_open=True),
    help="Airframes a month; may be given several times.",
)
@click.option(
    "--out",
    default="rates.xlsx",
    show_default=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="Workbook to write.",
)
@click.option("--replace", is_flag=True, help="Put this workbook in the place of an earlier one.")
def rate(data: Path, rates: tuple[float, ...], out: Path, replace: bool) -> None:
    """Show what other rates ask of the shops, and what gives way first."""
    from bomkit.problems import ProblemsFound
    from bomkit.runs.rate import rate_study
    from bomkit.screens.plan import rate_lines

    try:
        study = rate_study(data, rates, out, replace, _progress())
    except ProblemsFound as found:
        _tell_problems(found.problems, to_stderr=True)
        sys.exit(1)
    for line in rate_lines(study.rates, study.verdict):
        _say(line)
    _say(f"written to {_from_here(study.out)}")


def _run_folder(context: click.Context, parameter: click.Parameter, run: Path) -> Path:
    """The folder of a run, put back where a run that was broken off had moved it away."""
    from bomkit.runs.out_folder import put_back

    found = put_back(run.absolute())
    if found:
        _tell_problems([found], to_stderr=True)
    if not run.exists():
        raise click.BadParameter(f"Path '{run}' does not exist.")
    return run


@main.command()
@click.argument("run", metavar="RUN", type=click.Path(path_type=Path), callback=_run_folder)
@click.argument("item")
@click.option("--serial", default="", help="Only what is for this aircraft.")
@click.option("--all", "everything", is_flag=True, help="Show every week and every branch.")
def why(run: Path, item: str, serial: str, everything: bool) -> None:
    """Show from a finished RUN why ITEM is ordered and what it waits for.

    RUN is a folder that bomkit plan has written: the planning record by week, where each quantity
    goes, up to airframes and spares orders, and what comes too late for it.
    """
    from bomkit.problems import ProblemsFound
    from bomkit.runs.questions import item_reason
    from bomkit.screens.why import ALL_BRANCHES, FEW_BRANCHES, reason_lines

    try:
        name, found = item_reason(run, item, serial, ALL_BRANCHES if everything else FEW_BRANCHES)
    except ProblemsFound as problems:
        _tell_problems(problems.problems, to_stderr=True)
        sys.exit(1)
    for line in reason_lines(name, found, everything):
        _say(line)


@main.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def template(folder: Path) -> None:
    """Write empty tables with headings, and a guide to every column, to DIR."""
    from bomkit.inputs.template import write_template
    from bomkit.problems import ProblemsFound

    try:
        written = write_template(folder)
    except ProblemsFound as found:
        _tell_problems(found.problems, to_stderr=True)
        sys.exit(1)
    _say(f"{len(written)} files written to {folder}; start with GUIDE.md")


def _say(line: str, err: bool = False) -> None:
    """Prints a line, with control characters spelt out."""
    from bomkit.problems import visible

    click.echo(visible(line), err=err)


def _tell_problems(problems: Iterable[Problem], to_stderr: bool) -> None:
    """Every problem on a line of its own, then how many there are."""
    problems = list(problems)
    for problem in problems:
        _say(problem.sentence(), err=to_stderr)
    errors = sum(problem.severity == "error" for problem in problems)
    if problems:
        counts = (_counted(errors, "error"), _counted(len(problems) - errors, "warning"))
        _say(", ".join(counts), err=to_stderr)


def _counted(number: int, word: str) -> str:
    """A number and its word, such as 1 error or 2 errors."""
    return f"{number} {word}{'' if number == 1 else 's'}"


class _progress:  # noqa: N801 - used like a function
    """Tells on stderr what is being done, once a run takes more than a second, twice a second."""

    def __init__(self) -> None:
        self.next = time.monotonic() + 1

    def __call__(self, words: str) -> None:
        now = time.monotonic()
        if now > self.next:
            self.next = now + 0.5
            _say(f"{words} ...", err=True)


def _tell_summary(run: Run) -> None:
    """Orders by week and kind, the late ones, and where everything is."""
    from bomkit.screens.plan import summary_lines

    for line in summary_lines(run.report):
        _say(line)
    _say(f"written to {_from_here(run.out)}: open overview.xlsx first")


def _from_here(path: Path) -> Path:
    """The path as seen from the current folder, if it lies in it."""
    return path.relative_to(Path.cwd()) if path.is_relative_to(Path.cwd()) else path
