"""Why a finished run orders an item, and what it waits for; prints nothing."""

from pathlib import Path

import polars as pl

from bomkit.planning.forecast.why import Reason, reason
from bomkit.runs.files.run_files import finished_run
from bomkit.runs.questions.refuse_unknown import refuse_unknown
from bomkit.tables.schema import Tables


def item_reason(run: Path, item: str, serial: str, most: int) -> tuple[str, Reason]:
    """Name of a finished run, and why it orders an item; raises ProblemsFound for unknown names."""
    name, tables = finished_run(run)
    asked = [
        ("item", item, tables["planned_items"]["item"].to_list()),
        ("serial", serial, _serials_in(tables)),
    ]
    refuse_unknown(run, "this run", [row for row in asked if row[1]])
    return name, reason(tables, item, serial, most)


def _serials_in(tables: Tables) -> list[str]:
    """The serials that a run knows, in order."""
    named = pl.concat([tables["pegs"]["serial"], tables["pegs"]["demand_serial"]]).unique().sort()
    return [serial for serial in named if serial]
