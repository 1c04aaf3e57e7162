"""A week as it was planned, filled into the workbooks of its run."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import polars as pl

from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.words.weekly.picks import NOT_IN_STORES
from scripts.year_parts.filling import fill_in


def week_filled_in(run_folder: Path, frames: Mapping[str, pl.DataFrame], week: str) -> None:
    """Fills the workbooks of a run's first week in as the entries say that somebody typed.

    frames: ordered, arrived, worked; every lot in stock on the rounds is picked as listed.
    """
    rows = {
        (kind, *(row[name] for name in ENTRIES[kind].key)): row
        for kind, frame in frames.items()
        for row in frame.iter_rows(named=True)
    }

    def fill(kind: str, key: Mapping[str, Any], shown: Mapping[str, Any]) -> dict[str, Any]:
        if kind == "brought_out":
            there = key["location"] != NOT_IN_STORES
            return {"picked": shown["Bring out"]} if there else {}
        if kind == "printed":
            row = rows.get(("worked", *(key[name] for name in ENTRIES["worked"].key)), {})
            return {name: shown["Parts"] for name in ("begun", "good") if row.get(name) is not None}
        row = rows.get((kind, *key.values()), {})
        typed = {name: value for name, value in row.items() if name not in (*key, "where")}
        return {name: value for name, value in typed.items() if value not in (None, "")}

    for path in sorted((run_folder / week).glob("*.xlsx")):
        fill_in(path, fill)
