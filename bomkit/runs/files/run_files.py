"""The result tables and the run's own file: written with a run, and read again."""

import datetime as dt
import io
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import polars as pl

from bomkit.checks.everything import Inputs
from bomkit.problems import ProblemsFound, of_whole, refusal
from bomkit.runs.files.changed_since_written import RUN_FILE, digest, with_digests
from bomkit.runs.files.versions import versions
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.results.by_name import RESULTS
from bomkit.tables.schema import Table
from bomkit.workbooks.report import Report

_OF_STORES = (
    "forecast",
    "pacing",
    "ready",
    "promises",
    "packing",
)  # tables that a run without stores does not make


def write_results(
    folder: Path, inputs: Inputs, report: Report, chosen: dict[str, bool]
) -> dict[str, object]:
    """Writes the result tables, and gives what run.json says; chosen: what was chosen."""
    tables = folder / "tables"
    tables.mkdir()
    frames = _result_tables(report, chosen["stores"])
    written = {name: _write(tables, name, frame) for name, frame in frames.items()}
    kept = _keep_inputs(folder / "inputs", inputs)
    return {
        "run_id": report.run_id,
        "start": report.start.isoformat(),
        "inputs": inputs.digests,
        "kept_inputs": kept,
        "tables": written,
        "versions": versions(),
        "counts": {
            **{name: len(inputs.tables[name]) for name in INPUTS},
            **{name: len(frame) for name, frame in frames.items()},
            "late_orders": int((report["orders"]["late_days"] > 0).sum()),
        },
        "asides": report.asides,
        "chosen": chosen,
    }


def write_run_file(folder: Path, told: dict[str, object]) -> None:
    """Writes run.json, once all else is written; told: what it says beside the files there are."""
    words = json.dumps(with_digests(told, folder), indent=2, sort_keys=True)
    (folder / RUN_FILE).write_text(words + "\n")


def _result_tables(report: Report, stores: bool) -> dict[str, pl.DataFrame]:
    """The result tables of a plan by name; stores: whether those of the stores were made."""
    frames = {"planned_items": report.tables["items"]}
    for name in RESULTS:
        if name not in frames and (stores or name not in _OF_STORES):
            frames[name] = report[name]
    return {name: frame.select(RESULTS[name].column_names) for name, frame in frames.items()}


def _keep_inputs(folder: Path, inputs: Inputs) -> dict[str, str]:
    """Writes the checked input tables, for later comparisons, and gives the digest of each."""
    folder.mkdir()
    return {
        name: _write(folder, name, frame.select(INPUTS[name].column_names))
        for name, frame in inputs.tables.items()
    }


def _write(folder: Path, name: str, frame: pl.DataFrame) -> str:
    """Writes a table as Parquet and gives the digest of its bytes.

    Packed less tightly than usual: a tenth larger, and a sixth quicker to write.
    """
    packed = io.BytesIO()
    frame.write_parquet(packed, compression_level=1, statistics=False)
    content = packed.getvalue()
    (folder / f"{name}.parquet").write_bytes(content)
    return digest(content)


@dataclass(frozen=True)
class FinishedRun:
    """A run as it lies on the disk: its name, first day, choices, result tables and inputs."""

    run_id: str
    start: dt.date
    chosen: dict[str, bool]
    tables: dict[str, pl.DataFrame]
    inputs: dict[str, pl.DataFrame]


def this_run(inputs: Inputs, report: Report, chosen: dict[str, bool]) -> FinishedRun:
    """A run that is not written yet as one that is finished."""
    kept = {name: frame.select(INPUTS[name].column_names) for name, frame in inputs.tables.items()}
    return FinishedRun(report.run_id, report.start, chosen, _result_tables(report, True), kept)


def finished_run(run: Path) -> tuple[str, dict[str, pl.DataFrame]]:
    """The name of a finished run and its result tables by name.

    Raises ProblemsFound where the folder is none, or a table of it is missing or broken.
    """
    told = _told(run)
    return str(told["run_id"]), _tables(run / "tables", RESULTS, told["tables"])


def whole_run(run: Path) -> FinishedRun:
    """All that a finished run holds.

    Raises ProblemsFound where the folder is none, or a table of it is missing or broken.
    """
    told = _told(run)
    return FinishedRun(
        str(told["run_id"]),
        dt.date.fromisoformat(told["start"]),
        dict(told["chosen"]),
        _tables(run / "tables", RESULTS, told["tables"]),
        _tables(run / "inputs", INPUTS, told.get("kept_inputs", {})),
    )


def _told(run: Path) -> dict[str, Any]:
    """What run.json says. Raises ProblemsFound where it can't be read."""
    try:
        told: dict[str, Any] = json.loads((run / RUN_FILE).read_text())
        dt.date.fromisoformat(told["start"])
        for name, kind in (("run_id", str), ("tables", dict), ("chosen", dict)):
            if not isinstance(told[name], kind):
                raise TypeError(name)
    except (OSError, ValueError, KeyError, TypeError, RecursionError) as refused:
        message = f"is not the folder of a finished run (it has no {RUN_FILE} that can be read)"
        hint = "name a folder that bomkit plan has written"
        raise refusal(run, f"{message}; {hint}") from refused
    return told


def _tables(
    folder: Path, tables: Mapping[str, Table], written: Mapping[str, str]
) -> dict[str, pl.DataFrame]:
    """The tables of a folder of a run by name. Raises ProblemsFound if one is missing or broken."""
    frames, problems = {}, []
    for table in tables.values():
        path = folder / f"{table.name}.parquet"
        try:
            content = path.read_bytes()
            if digest(content) != written.get(table.name):
                message = "is damaged: it is not what bomkit plan wrote; plan again"
                problems.append(of_whole(path, message))
                continue
            frames[table.name] = _as_declared(pl.read_parquet(io.BytesIO(content)), table)
        except (OSError, pl.exceptions.PolarsError):
            message = (
                "can't be read as a table of a run; plan again with this version of bomkit, and "
                "without --no-stores"
            )
            problems.append(of_whole(path, message))
    if problems:
        raise ProblemsFound(problems)
    return frames


def _as_declared(frame: pl.DataFrame, table: Table) -> pl.DataFrame:
    """The columns of the table; one that the run's version did not have yet is as if left empty.

    Raises ColumnNotFoundError where that must not be empty.
    """
    later = (each for each in table.columns if each.name not in frame.columns and not each.required)
    empty = {each.name: pl.lit(each.when_empty, each.dtype) for each in later}
    return frame.with_columns(**empty).select(table.column_names)
