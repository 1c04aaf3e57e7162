"""Questions about one item: what is in it, and why a finished run orders it."""

from collections.abc import Mapping
from pathlib import Path

import polars as pl
from anytree import Node

from bomkit.batch import checked_inputs
from bomkit.planning.outline import outline
from bomkit.planning.why import Reason, reason
from bomkit.problems import Problem, ProblemsFound, has_errors, nearest
from bomkit.run_files import finished_run


def item_outline(location: Path, item: str, serial: str, up: bool, depth: int) -> Node:
    """The tree of an item; raises ProblemsFound for an unknown item or serial, or a loop."""
    inputs, problems = checked_inputs(location)
    if has_errors(problems):
        raise ProblemsFound(problems)
    asked = [("item", item, inputs.tables["items"]["item"].to_list())]
    if serial:
        known = [*inputs.tables["build_plan"]["serial"], *inputs.tables["fleet"]["serial"]]
        asked.append(("serial", serial, known))
    unknown = [
        Problem(
            str(location), "", "", value, f"is no {what} of these tables; {nearest(value, known)}"
        )
        for what, value, known in asked
        if value not in known
    ]
    if unknown:
        raise ProblemsFound(unknown)
    return outline(inputs.tables, item, serial, up, depth)


def item_reason(run: Path, item: str, serial: str, most: int) -> tuple[str, Reason]:
    """Name of a finished run, and why it orders an item; raises ProblemsFound for unknown names."""
    name, tables = finished_run(run)
    known = {
        "item": (item, tables["planned_items"]["item"].to_list()),
        "serial": (serial, _serials_in(tables)),
    }
    unknown = [
        Problem(str(run), "", "", value, f"is no {what} of this run; {nearest(value, names)}")
        for what, (value, names) in known.items()
        if value and value not in names
    ]
    if unknown:
        raise ProblemsFound(unknown)
    return name, reason(tables, item, serial, most)


def _serials_in(tables: Mapping[str, pl.DataFrame]) -> list[str]:
    """The serials that a run knows, in order."""
    named = pl.concat([tables["pegs"]["serial"], tables["pegs"]["demand_serial"]]).unique().sort()
    return [serial for serial in named if serial]
