"""The result tables and the run's own file: written with a run, and read again."""

import hashlib
import io
import json
from pathlib import Path

import polars as pl

from bomkit import __version__
from bomkit.checks.everything import Inputs
from bomkit.problems import Problem, ProblemsFound
from bomkit.runs.out_folder import RUN_FILE
from bomkit.tables.inputs import INPUTS
from bomkit.tables.results import RESULTS
from bomkit.workbooks.report import Report

_OF_STORES = (
    "forecast",
    "pacing",
    "ready",
    "promises",
    "packing",
)  # tables that a run without stores does not make


def write_results(folder: Path, inputs: Inputs, report: Report, chosen: dict[str, bool]) -> None:
    """Writes run.json and the result tables; chosen: what was chosen for this run."""
    tables = folder / "tables"
    tables.mkdir()
    left_out = () if chosen["stores"] else _OF_STORES
    frames = {
        "planned_items": report.tables["items"],
        **{
            name: getattr(report, name)
            for name in RESULTS
            if name not in ("planned_items", *left_out)
        },
    }
    for name, frame in frames.items():
        frame.select(RESULTS[name].column_names).write_parquet(tables / f"{name}.parquet")
    written = {name: _digest((tables / f"{name}.parquet").read_bytes()) for name in frames}
    told = {
        "run_id": report.run_id,
        "start": report.start.isoformat(),
        "inputs": inputs.digests,
        "tables": written,
        "versions": {"bomkit": __version__, "polars": pl.__version__},
        "counts": {
            **{name: len(inputs.tables[name]) for name in INPUTS},
            **{name: len(frame) for name, frame in frames.items()},
            "late_orders": int((report.orders["late_days"] > 0).sum()),
        },
        "asides": report.asides,
        "chosen": chosen,
    }
    (folder / RUN_FILE).write_text(json.dumps(told, indent=2, sort_keys=True) + "\n")


def _digest(content: bytes) -> str:
    """The SHA-256 of a file's bytes."""
    return hashlib.sha256(content).hexdigest()


def finished_run(run: Path) -> tuple[str, dict[str, pl.DataFrame]]:
    """The name of a finished run and its result tables by name.

    Raises ProblemsFound where the folder is none, or a table of it is missing or broken.
    """
    try:
        told = json.loads((run / RUN_FILE).read_text())
        name, written = str(told["run_id"]), dict(told["tables"])
    except (OSError, ValueError, KeyError, TypeError, RecursionError) as refused:
        message = f"is not the folder of a finished run (it has no {RUN_FILE} that can be read)"
        hint = "name a folder that bomkit plan has written"
        raise ProblemsFound([Problem(str(run), "", "", "", f"{message}; {hint}")]) from refused
    found, problems = {}, []
    for table in RESULTS.values():
        path = run / "tables" / f"{table.name}.parquet"
        try:
            content = path.read_bytes()
            if _digest(content) != written.get(table.name):
                message = "is damaged: it is not what bomkit plan wrote; plan again"
                problems.append(Problem(str(path), "", "", "", message))
                continue
            found[table.name] = pl.read_parquet(io.BytesIO(content)).select(table.column_names)
        except (OSError, pl.exceptions.PolarsError):
            message = (
                "can't be read as the result table of a run; plan again with this version of "
                "bomkit, and without --no-stores"
            )
            problems.append(Problem(str(path), "", "", "", message))
    if problems:
        raise ProblemsFound(problems)
    return name, found
