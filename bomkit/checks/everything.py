"""Everything in a folder or workbook, read and checked table by table."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import polars as pl

from bomkit.checks.table_by_table import check_tables
from bomkit.inputs.read import read_location
from bomkit.inputs.text_table import TextTable
from bomkit.problems import Finding, Problem, Source
from bomkit.tables.columns_and_rules.by_name import INPUTS

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
    placed = [_with_line_of_setting(reading.texts[finding.table], finding) for finding in findings]
    placed.sort(key=lambda finding: _rank(finding, order))
    problems += [reading.texts[finding.table].source.problem(finding) for finding in placed]
    sources = {name: text.source for name, text in reading.texts.items()}
    return Inputs(frames, sources, reading.digests, problems, reading.texts)


def _with_line_of_setting(text: TextTable, finding: Finding) -> Finding:
    """The finding with the line of its setting, if the table was read from plan.toml."""
    line = text.lines.get(finding.column, 0)
    if finding.row or not line:
        return finding
    return Finding(
        finding.table, line, finding.column, finding.value, finding.message, finding.severity
    )


def _rank(
    finding: Finding, order: dict[tuple[str, str], tuple[int, int]]
) -> tuple[int, int, int, str, str]:
    place, column_place = order[finding.table, finding.column]
    return place, finding.row, column_place, finding.value, finding.message
