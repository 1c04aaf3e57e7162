"""Writes the tables as CSV files and the settings as plan.toml."""

import csv
from collections.abc import Iterable, Sequence
from dataclasses import fields
from datetime import date
from pathlib import Path
from typing import Any

from sample_parts import model
from sample_parts.model import Cell, Sample
from sample_parts.plan import HORIZON_WEEKS, RELEASE_WEEKS, START, TITLE
from sample_parts.shops import PULL_AHEAD_WEEKS

TABLES = {
    "items": model.Item,
    "structure": model.Line,
    "build_plan": model.Airframe,
    "processes": model.Process,
    "stock": model.Stock,
    "open_orders": model.OpenOrder,
    "allocations": model.Allocation,
    "spares_orders": model.SparesOrder,
    "fleet": model.Delivered,
    "replacements": model.Replacement,
    "alternates": model.Alternate,
    "calendar": model.ClosedDay,
    "suppliers": model.Supplier,
    "usage": model.Usage,
    "issues": model.Issue,
    "inspection_rules": model.InspectionRule,
    "materials": model.Material,
    "prints": model.PrintProfile,
    "printers": model.Printer,
    "moulds": model.Mould,
}


def write_folder(sample: Sample, readme: str, folder: Path) -> None:
    """Write plan.toml, README.md and one CSV file a table into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, row_class in TABLES.items():
        held = getattr(sample, name)
        rows = held.values() if isinstance(held, dict) else held
        columns = [column.name for column in fields(row_class)]
        _write_csv(folder / f"{name}.csv", columns, rows)
    settings = (
        f"start = {START.isoformat()}\nhorizon_weeks = {HORIZON_WEEKS}\n"
        f'list_weeks = {RELEASE_WEEKS}\ntitle = "{TITLE}"\n'
        f"pull_ahead_weeks = {PULL_AHEAD_WEEKS}\n"
    )
    (folder / "plan.toml").write_text(settings, encoding="utf-8", newline="\n")
    (folder / "README.md").write_text(readme, encoding="utf-8", newline="\n")


def _write_csv(path: Path, columns: Sequence[str], rows: Iterable[Any]) -> None:
    """Write one table with its heading."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        for row in rows:
            writer.writerow([_text(getattr(row, column)) for column in columns])


def _text(cell: Cell) -> str:
    """A cell as text: ISO dates, and numbers without needless decimals."""
    if cell is None:
        return ""
    if isinstance(cell, date):
        return cell.isoformat()
    if isinstance(cell, float):
        return f"{cell:.6f}".rstrip("0").rstrip(".")
    return str(cell)
