"""The input tables from a folder to a workbook or back, and the workbook to fill in."""

import csv
import datetime as dt
import io
import json
import tempfile
from collections.abc import Mapping
from pathlib import Path

import polars as pl

from bomkit.checks.everything import load_inputs
from bomkit.inputs.read import SETTINGS_FILE
from bomkit.problems import Problem, refusal, refuse_errors
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.columns_and_rules.plan_settings import PLAN
from bomkit.workbooks.input_tables.book import Values, entry_workbook


def write_template_workbook(path: Path) -> None:
    """Writes the workbook to fill in; raises ProblemsFound if something is there already."""
    _refuse_taken(path)
    _write_new(path, {path.name: entry_workbook()}, path.parent)


def convert(source: Path, target: Path) -> tuple[int, list[Problem]]:
    """Writes the tables of a folder to a new workbook, or of a workbook to a new folder.

    Returns how many tables were written, and the warnings. Raises ProblemsFound, with nothing
    written, where the tables can't be read without an error or the target is taken.
    """
    _refuse_taken(target)
    inputs = load_inputs(source)
    refuse_errors(inputs.problems)
    texts = inputs.texts
    tables = {
        name: _filled_cells(text.frame, inputs.tables[name])
        for name, text in texts.items()
        if text.given
    }
    if target.suffix.lower() == ".xlsx":
        _write_new(target, {target.name: entry_workbook(tables)}, target.parent)
    else:
        headings = {name: tuple(texts[name].frame.drop("row").columns) for name in tables}
        _write_new(target, _folder_files(tables, headings), target)
    return len(tables), inputs.problems


def _filled_cells(text: pl.DataFrame, typed: pl.DataFrame) -> Values:
    """The values of the cells that somebody filled in; what an empty one means is not written."""
    both = zip(text.iter_rows(named=True), typed.iter_rows(named=True), strict=True)
    return [
        {name: values[name] for name, cell in cells.items() if name != "row" and cell != ""}
        for cells, values in both
    ]


def _folder_files(
    tables: Mapping[str, Values], headings: Mapping[str, tuple[str, ...]]
) -> dict[str, bytes]:
    files = {}
    for name, rows in tables.items():
        if name == PLAN.name:
            files[SETTINGS_FILE] = _settings(rows).encode()
            continue
        written = io.StringIO()
        columns = headings[name] or INPUTS[name].column_names
        writer = csv.writer(written, lineterminator="\n")
        writer.writerow(columns)
        writer.writerows([_cell(row.get(column)) for column in columns] for row in rows)
        files[f"{name}.csv"] = written.getvalue().encode()
    return files


def _settings(rows: Values) -> str:
    lines = []
    for name, value in (rows[0] if rows else {}).items():
        said = json.dumps(value, ensure_ascii=False) if isinstance(value, str) else _cell(value)
        lines.append(f"{name} = {said}\n")
    return "".join(lines)


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    return value.isoformat() if isinstance(value, dt.date) else str(value)


def _refuse_taken(target: Path) -> None:
    """Raises ProblemsFound unless the target is free: nothing there, or an empty folder."""
    if not target.exists():
        return
    if target.is_dir() and target.suffix.lower() != ".xlsx" and not any(target.iterdir()):
        return
    message = "is there already; nothing was written, choose another name"
    raise refusal(target, message)


def _write_new(target: Path, files: Mapping[str, bytes], folder: Path) -> None:
    """Writes all files or none: first beside their place, then moved there."""
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=target.parent, prefix=f".{target.name}.") as scratch:
            for name, content in files.items():
                (Path(scratch) / name).write_bytes(content)
            folder.mkdir(exist_ok=True)
            for name in files:
                (Path(scratch) / name).replace(folder / name)
    except OSError as error:
        message = f"can't be written: {error.strerror or error}"
        raise refusal(target, message) from error
