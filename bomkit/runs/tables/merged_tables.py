"""The items and structure of a folder: read for an import, and replaced together or not at all."""

import csv
import io
import shutil
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from bomkit.checks.everything import Inputs, load_inputs
from bomkit.inputs.text_table import TextTable
from bomkit.inputs.written_together import NEW_TABLES, put_in_place
from bomkit.parts_lists.merge import Merged, Row
from bomkit.problems import Problem, ProblemsFound, refusal
from bomkit.runs.files.out_folder import finished_whole, put_back
from bomkit.tables.columns_and_rules.by_name import INPUTS

_TABLES = ("items", "structure")


@dataclass(frozen=True)
class Present:
    """What a folder holds of a table: its rows as they are written, headings and file name."""

    rows: list[Row]
    headings: Sequence[str]
    file: str


def present_tables(data: Path) -> dict[str, Present]:
    """Items and structure in DATA; without rows where DATA is new. Raises ProblemsFound."""
    if data.is_dir():
        put_back(data / NEW_TABLES)
    if not data.exists() or (data.is_dir() and not any(data.iterdir())):
        return {name: Present([], [], f"{name}.csv") for name in _TABLES}
    if data.is_file() and data.suffix.lower() != ".xlsx":
        raise refusal(data, "is a file; name the folder of your tables, or a new one")
    if not data.is_dir() or any(path.suffix.lower() == ".xlsx" for path in data.iterdir()):
        message = "is a workbook; turn it into a folder with bomkit convert, import, and turn back"
        raise refusal(data, message)
    inputs = load_inputs(data)
    bad = _errors(inputs)
    if bad:
        raise ProblemsFound(bad)
    return {name: _present(inputs.texts[name]) for name in _TABLES}


def _errors(inputs: Inputs) -> list[Problem]:
    """What is wrong with items and structure, and with the folder as a whole."""
    files = {inputs.sources[name].file for name in _TABLES}
    return [
        problem
        for problem in inputs.problems
        if problem.severity == "error" and problem.file in files and problem.place
    ]


def _present(text: TextTable) -> Present:
    """The cells as they are written, but for decimal commas, which become points."""
    numbers = [each.name for each in text.table.columns if each.kind in ("number", "rate")]
    headings = [name for name in text.frame.columns if name != "row"]
    rows = [
        {column: str(value) for column, value in row.items() if column != "row"}
        for row in text.frame.iter_rows(named=True)
    ]
    if text.separator != ",":
        for row in rows:
            row.update({name: row[name].replace(",", ".") for name in numbers if name in row})
    return Present(rows, headings, text.source.file)


def write_merged(
    data: Path, merged: Merged, before: Mapping[str, Present], only_show: bool
) -> None:
    """Tries the merged tables in a copy of DATA, and then puts both in their place.

    A kill at any moment leaves both as before, or both on their way, and the next command that
    reads DATA puts them there. Raises ProblemsFound, with both as before.
    """
    contents = {
        before[name].file: _text(name, rows, before[name].headings).encode("utf-8")
        for name, rows in (("items", merged.items), ("structure", merged.structure))
    }
    try:
        _try(data, contents)
        if not only_show:
            with finished_whole(data / NEW_TABLES, replace=False) as working:
                for file, content in contents.items():
                    (working / file).write_bytes(content)
            _replace(data, contents)
    except OSError as error:
        message = (
            f"can't be written: {error.strerror or error}; name a folder you may write to, and "
            "close its tables where they are open in another program"
        )
        raise refusal(data, message) from error


def _try(data: Path, contents: Mapping[str, bytes]) -> None:
    """Raises ProblemsFound where DATA with the new tables holds an error in them."""
    with tempfile.TemporaryDirectory() as scratch:
        trial = Path(scratch)
        for path in data.iterdir() if data.is_dir() else ():
            if path.is_file() and path.suffix.lower() in (".csv", ".toml"):
                shutil.copy(path, trial / path.name)
        for file, content in contents.items():
            (trial / file).write_bytes(content)
        bad = _errors(load_inputs(trial))
    if bad:
        raise ProblemsFound(bad)


def _replace(data: Path, contents: Mapping[str, bytes]) -> None:
    """Puts the new tables in their place; where one can't be, both stay as they were."""
    kept = {file: (data / file).read_bytes() for file in contents if (data / file).exists()}
    try:
        put_in_place(data)
    except OSError:
        for file in contents:
            if not (data / NEW_TABLES / file).exists():  # it was put there
                if file in kept:
                    (data / file).write_bytes(kept[file])
                else:
                    (data / file).unlink()
        shutil.rmtree(data / NEW_TABLES)
        raise


def _text(name: str, rows: Iterable[Row], headings: Sequence[str]) -> str:
    """The CSV text, with the headings that were there and those that the rows need."""
    rows = list(rows)
    needed = {column for row in rows for column in row} | set(headings)
    used = [column for column in INPUTS[name].column_names if column in needed]
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(used or INPUTS[name].column_names)
    writer.writerows([row.get(column, "") for column in used] for row in rows)
    return written.getvalue()
