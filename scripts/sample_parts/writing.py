"""Writes the tables as CSV files and the settings as plan.toml."""

import csv
from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import Any

from bomkit.tables.columns_and_rules.by_name import INPUTS
from sample_parts.model import Cell, Sample
from sample_parts.plan import HORIZON_WEEKS, RELEASE_WEEKS, START, TITLE
from sample_parts.shops import PULL_AHEAD_WEEKS


def write_tables(sample: Sample, folder: Path) -> None:
    """Write plan.toml and one CSV file a table into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in INPUTS.keys() - {"plan"}:
        held = getattr(sample, name)
        _write_csv(folder / f"{name}.csv", name, held.values() if name == "items" else held)
    settings = (
        f"start = {START.isoformat()}\nhorizon_weeks = {HORIZON_WEEKS}\n"
        f'list_weeks = {RELEASE_WEEKS}\ntitle = "{TITLE}"\n'
        f"pull_ahead_weeks = {PULL_AHEAD_WEEKS}\n"
    )
    (folder / "plan.toml").write_text(settings, encoding="utf-8", newline="\n")


def _write_csv(path: Path, table: str, rows: Iterable[Any]) -> None:
    """Write one table with the columns of which any cell is filled; nothing without rows."""
    texts = [
        {each.name: _text(getattr(row, each.name)) for each in INPUTS[table].columns}
        for row in rows
    ]
    columns = [each.name for each in INPUTS[table].columns if any(row[each.name] for row in texts)]
    if not columns:
        return
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, columns, extrasaction="ignore", lineterminator="\n")
        writer.writeheader()
        writer.writerows(texts)


def _text(cell: Cell) -> str:
    """A cell as text: ISO dates, and numbers without needless decimals."""
    if cell is None:
        return ""
    if isinstance(cell, date):
        return cell.isoformat()
    if isinstance(cell, float):
        return f"{cell:.6f}".rstrip("0").rstrip(".")
    return str(cell)
