"""Runs that an earlier version wrote, with tables that had fewer columns then."""

import hashlib
import io
import json
import shutil
from pathlib import Path

import polars as pl
import pytest

from bomkit.problems import ProblemsFound
from bomkit.runs.files.run_files import whole_run
from bomkit.runs.week.plan import Run
from tests.commands import bomkit


def without(run: Run, folder: Path, place: str, table: str, column: str) -> Path:
    """A copy of a run as if a column of a table had not been there yet."""
    out = Path(shutil.copytree(run.out, folder / "out"))
    path = out / place / f"{table}.parquet"
    content = io.BytesIO()
    pl.read_parquet(path).drop(column).write_parquet(content)
    path.write_bytes(content.getvalue())
    told = json.loads((out / "run.json").read_text())
    digests = told["tables" if place == "tables" else "kept_inputs"]
    digests[table] = hashlib.sha256(content.getvalue()).hexdigest()
    (out / "run.json").write_text(json.dumps(told))
    return out


@pytest.mark.parametrize(
    ("place", "table", "column", "empty"),
    [
        ("inputs", "items", "mass_g", None),
        ("inputs", "items", "safety_days", 0),
        ("inputs", "suppliers", "name", ""),
        ("tables", "moves", "meant_for", ""),
        ("tables", "pegs", "comes", None),
    ],
)
def test_a_column_that_came_later_is_as_if_nobody_had_filled_it_in(
    place: str, table: str, column: str, empty: object, tiny_run: Run, tmp_path: Path
) -> None:
    out = without(tiny_run, tmp_path, place, table, column)
    run = whole_run(out)
    frame = (run.tables if place == "tables" else run.inputs)[table]
    before = pl.read_parquet(tiny_run.out / place / f"{table}.parquet")
    assert frame.columns == before.columns and frame.schema == before.schema
    assert len(frame) == len(before)
    assert frame[column].to_list() == [empty] * len(before)
    assert bomkit("compare", tiny_run.out, out).exit_code == 0


@pytest.mark.parametrize(
    ("place", "table", "column"), [("inputs", "items", "source"), ("tables", "pegs", "need")]
)
def test_a_column_that_must_be_filled_in_can_not_be_made_up(
    place: str, table: str, column: str, tiny_run: Run, tmp_path: Path
) -> None:
    out = without(tiny_run, tmp_path, place, table, column)
    with pytest.raises(ProblemsFound) as refused:
        whole_run(out)
    (problem,) = refused.value.problems
    assert problem.file.endswith(f"{table}.parquet")
    assert "plan again with this version of bomkit" in problem.message
