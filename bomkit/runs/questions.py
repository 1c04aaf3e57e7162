"""Questions about one item: what is in it, and why a finished run orders it."""

from collections.abc import Mapping, Sequence
from pathlib import Path

import polars as pl
from anytree import Node

from bomkit.checks.everything import Inputs
from bomkit.planning.forecast.why import Reason, reason
from bomkit.planning.netting.flows import TooMuch
from bomkit.planning.network import build_network
from bomkit.planning.shop_plan import last_turn
from bomkit.planning.structure.conditions import serial_specific_items
from bomkit.planning.structure.outline import RolledTree, add_amounts, outline
from bomkit.planning.structure.rollup import NO_LOTS, Lots, Roll, mean_lots, roll_up
from bomkit.problems import Problem, ProblemsFound, has_errors, nearest
from bomkit.runs.checked import checked_inputs
from bomkit.runs.run_files import finished_run


def item_outline(location: Path, item: str, serial: str, up: bool, depth: int) -> Node:
    """The tree of an item; raises ProblemsFound for an unknown item or serial, or a loop."""
    inputs = _inputs_with(location, item, serial)
    return outline(inputs.tables, item, serial, up, depth)


def rolled_outline(
    location: Path, item: str, serial: str, depth: int, kind: Roll, lots: Lots
) -> RolledTree:
    """The tree of an item with mass, cost or hours rolled up for one serial number.

    lots: what an order takes once is spread over the mean lot planned, or over the smallest.
    Raises ProblemsFound as item_outline does, and where an item needs a serial but none is given.
    """
    tables = _inputs_with(location, item, serial).tables
    specific = serial_specific_items(tables["structure"], tables["build_plan"])
    if not serial and item in specific:
        known = ", ".join(tables["build_plan"]["serial"].head(1))
        message = f"is configured for each airframe; name one with --serial, such as {known}"
        raise ProblemsFound([Problem(str(location), "", "", item, message)])
    top = outline(tables, item, serial, False, depth)
    planned = lots == "planned" and kind != "mass"
    rolled = roll_up(tables, kind, [serial], _planned_lots(tables) if planned else NO_LOTS)
    add_amounts(top, rolled, serial)
    airframes = pl.concat([tables[name]["item"] for name in ("build_plan", "fleet")])
    limited = kind == "mass" and item in airframes
    limit = tables["plan"]["mass_limit_kg"][0] if limited else None
    return RolledTree(top, rolled.lacking(item, serial), limit, lots)


def _planned_lots(tables: Mapping[str, pl.DataFrame]) -> pl.DataFrame:
    """The mean lot of every item over the horizon, as `bomkit plan` plans it."""
    network = build_network(tables)
    weeks = tables["plan"]["pull_ahead_weeks"][0]
    try:
        return mean_lots(last_turn(network, tables, weeks, lambda words: None).orders)
    except TooMuch as beyond:
        message = f"asks for more of {beyond} than can be planned; use --lots smallest"
        raise ProblemsFound([Problem("", "", "", "", message)]) from beyond


def _inputs_with(location: Path, item: str, serial: str) -> Inputs:
    """The inputs, free of errors and with this item and serial in them, else ProblemsFound."""
    inputs, problems = checked_inputs(location)
    if has_errors(problems):
        raise ProblemsFound(problems)
    asked = [("item", item, inputs.tables["items"]["item"].to_list())]
    if serial:
        known = [*inputs.tables["build_plan"]["serial"], *inputs.tables["fleet"]["serial"]]
        asked.append(("serial", serial, known))
    unknown = [
        Problem(str(location), "", "", value, f"is no {what} of these tables{_hint(value, known)}")
        for what, value, known in asked
        if value not in known
    ]
    if unknown:
        raise ProblemsFound(unknown)
    return inputs


def item_reason(run: Path, item: str, serial: str, most: int) -> tuple[str, Reason]:
    """Name of a finished run, and why it orders an item; raises ProblemsFound for unknown names."""
    name, tables = finished_run(run)
    known = {
        "item": (item, tables["planned_items"]["item"].to_list()),
        "serial": (serial, _serials_in(tables)),
    }
    unknown = [
        Problem(str(run), "", "", value, f"is no {what} of this run{_hint(value, names)}")
        for what, (value, names) in known.items()
        if value and value not in names
    ]
    if unknown:
        raise ProblemsFound(unknown)
    return name, reason(tables, item, serial, most)


def _hint(value: str, names: Sequence[str]) -> str:
    """The nearest known name after a semicolon, if any comes near; else where to look."""
    return f"; {nearest(value, names) or 'look at how it is written there'}"


def _serials_in(tables: Mapping[str, pl.DataFrame]) -> list[str]:
    """The serials that a run knows, in order."""
    named = pl.concat([tables["pegs"]["serial"], tables["pegs"]["demand_serial"]]).unique().sort()
    return [serial for serial in named if serial]
