"""The one way in: everything in a folder or workbook, read and checked."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import polars as pl

from bomkit.checks.tables import check_tables
from bomkit.inputs.read import read_location
from bomkit.inputs.text_table import TextTable
from bomkit.problems import Finding, Problem, Source
from bomkit.tables.inputs.by_name import INPUTS

NOTHING_MORE: Mapping[str, Mapping[str, str]] = {}


@dataclass(frozen=True)
class Inputs:
    """All input tables with their values, and everything that is wrong with them.

    Every table is there, with its declared columns and "row", the true line or sheet row (0 for
    plan.toml); one that was not sent is empty. Plan with them only if no problem is an error.
    texts: the cells as they are written; empty where the tables are those of a run.
    """

    tables: dict[str, pl.DataFrame]
    sources: dict[str, Source]
    digests: dict[str, str]  # file name -> SHA-256 of its bytes
    problems: list[Problem]
    texts: dict[str, TextTable] = field(default_factory=dict)


def load_inputs(location: Path, more: Mapping[str, Mapping[str, str]] = NOTHING_MORE) -> Inputs:
    """The tables in a folder of CSV files or in a workbook; bad data become problems.

    more: by table the cells of a row that counts as if it stood there too.
    """
    reading = read_location(location)
    for name, cells in more.items():
        reading.texts[name] = reading.texts[name].with_row(cells)
    frames, findings = check_tables(reading.texts)
    problems = list(reading.problems)
    order = {
        (name, column): (place, column_place)
        for place, (name, table) in enumerate(INPUTS.items())
        for column_place, column in enumerate(("", *table.column_names))
    }
    placed = [_with_line_of_setting(reading.texts[found.table], found) for found in findings]
    placed.sort(key=lambda found: _rank(found, order))
    problems += [reading.texts[found.table].source.problem(found) for found in placed]
    sources = {name: text.source for name, text in reading.texts.items()}
    return Inputs(frames, sources, reading.digests, problems, reading.texts)


def _with_line_of_setting(text: TextTable, found: Finding) -> Finding:
    """The finding with the line of its setting, if the table was read from plan.toml."""
    line = text.lines.get(found.column, 0)
    if found.row or not line:
        return found
    return Finding(found.table, line, found.column, found.value, found.message, found.severity)


def _rank(
    found: Finding, order: dict[tuple[str, str], tuple[int, int]]
) -> tuple[int, int, int, str, str]:
    place, column_place = order[found.table, found.column]
    return place, found.row, column_place, found.value, found.message
