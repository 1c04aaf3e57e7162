"""What is in an item, or where it goes, from the user's tables to a tree; prints nothing."""

from pathlib import Path

import polars as pl
from anytree import Node

from bomkit.checks.everything import Inputs
from bomkit.planning.netting.too_much import TooMuch
from bomkit.planning.shop_plan import last_turn
from bomkit.planning.structure.mass_cost_hours import NO_LOTS, Lots, Roll, mean_lots, roll_up
from bomkit.planning.structure.options_and_serials import serial_specific_items
from bomkit.planning.structure.outline import RolledTree, add_amounts, outline
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.problems import refusal
from bomkit.runs.checked_tables import sound_inputs
from bomkit.runs.questions.refuse_unknown import refuse_unknown
from bomkit.runs.to_know_first import unsettled_asides
from bomkit.tables.schema import Tables
from bomkit.words.progress import silent


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
        raise refusal(location, message, item)
    top = outline(tables, item, serial, False, depth)
    planned = lots == "planned" and kind != "mass"
    mean, unsettled = _planned_lots(location, tables) if planned else (NO_LOTS, ())
    rolled = roll_up(tables, kind, [serial], mean)
    add_amounts(top, rolled, serial)
    airframes = pl.concat([tables[name]["item"] for name in ("build_plan", "fleet")])
    limited = kind == "mass" and item in airframes
    limit = tables["plan"]["mass_limit_kg"][0] if limited else None
    return RolledTree(top, rolled.lacking(item, serial), limit, lots, unsettled)


def _planned_lots(location: Path, tables: Tables) -> tuple[pl.DataFrame, tuple[str, ...]]:
    """The mean lot of every item over the horizon, as `bomkit plan` plans it before it looks for
    whom; and where that came to no rest."""
    network = build_network(tables)
    weeks = tables["plan"]["pull_ahead_weeks"][0]
    try:
        plan = last_turn(network, tables, weeks, silent)
        return mean_lots(plan.orders), tuple(unsettled_asides(plan))
    except TooMuch as beyond:
        message = f"asks for more of {beyond} than can be planned; use --lots smallest"
        raise refusal(location, message) from beyond


def _inputs_with(location: Path, item: str, serial: str) -> Inputs:
    """The inputs, free of errors and with this item and serial in them, else ProblemsFound."""
    inputs, _ = sound_inputs(location)
    asked = [("item", item, inputs.tables["items"]["item"].to_list())]
    if serial:
        known = [*inputs.tables["build_plan"]["serial"], *inputs.tables["fleet"]["serial"]]
        asked.append(("serial", serial, known))
    refuse_unknown(location, "these tables", asked)
    return inputs
