"""What the shop wrote down, handed in."""

from __future__ import annotations

from pathlib import Path

import polars as pl

from bomkit.runs.run_files import whole_run
from bomkit.runs.take_back import TakenBack, book_into
from bomkit.tables.entries import ENTRIES
from scripts.year_parts.shop import Week


def hand_in(run_folder: Path, week: Week, into: Path) -> TakenBack:
    """Takes a week back into a folder."""
    return book_into(whole_run(run_folder), entry_frames(week), into, False)


def entry_frames(week: Week) -> dict[str, pl.DataFrame]:
    """What was written down, as the tables of entries."""
    frames = {}
    for name, rows in week.rows.items():
        table = ENTRIES[name]
        full = [
            {**table.when_empty, **row} | {"where": f"{name} › row {number}"}
            for number, row in enumerate(rows, 2)
        ]
        frames[name] = pl.DataFrame(full, schema={**table.schema, "where": pl.String}, strict=False)
    return frames
