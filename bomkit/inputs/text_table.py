"""A table as it was read: every cell still text, every row with its true line number."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

import polars as pl

from bomkit.problems import Finding, Source
from bomkit.tables.schema import Column, Table
from bomkit.words.did_you_mean import nearest

WHOLE_ROW = ""  # stands for the column where a problem spoils the whole row
BLANKS = " \t\r\n\u00a0"  # what is taken off both ends of every cell
NAME_KINDS = ("name", "names")
DAMAGED = "is damaged or no workbook; open it in the spreadsheet program, save as .xlsx"


class Unreadable(Exception):  # noqa: N818 - reads as what happened
    """Raised where a file can't be read on; says why and in which line (0: the whole file)."""

    def __init__(self, message: str, line: int = 0) -> None:
        super().__init__(message)
        self.message = message
        self.line = line


@dataclass(frozen=True)
class TextTable:
    """The cells of one table as text, with what was wrong with them already while reading.

    `frame` has the known columns that were found, and "row". No more is said about the cells in
    `spoiled`, as a problem was reported for each of them.
    """

    table: Table
    source: Source
    frame: pl.DataFrame
    findings: tuple[Finding, ...] = ()
    spoiled: frozenset[tuple[int, str]] = frozenset()
    given: bool = True  # False: nobody sent this table
    complete: bool = True  # False: rows or required columns could not be read
    separator: str = ""  # what separates the columns of a text file; "" elsewhere
    lines: Mapping[str, int] = field(default_factory=dict)  # setting -> its line in plan.toml
    has_example: bool = False  # whether the example row of the template was left out

    def column(self, name: str) -> pl.Series:
        """The text of a column; all empty where the column was not found."""
        if name in self.frame.columns:
            return self.frame[name]
        return pl.repeat("", self.frame.height, dtype=pl.String, eager=True).alias(name)

    def with_row(self, cells: Mapping[str, str]) -> "TextTable":
        """The table with one more row, as if it had been sent: by column its text."""
        columns = self.table.column_names
        frame = pl.DataFrame({name: self.column(name) for name in columns}).with_columns(
            self.frame["row"]
        )
        more = pl.DataFrame([{name: cells.get(name, "") for name in columns} | {"row": 0}])
        return replace(self, frame=pl.concat([frame, more]), given=True)


@dataclass(frozen=True)
class Headings:
    """Where each known column stands, and what was wrong with the line of headings."""

    positions: Mapping[str, int]
    findings: tuple[Finding, ...]
    complete: bool  # whether every required column was found


def absent_table(table: Table, source: Source, finding: Finding | None = None) -> TextTable:
    """A table without rows: one that nobody sent, or, with a finding, one that can't be read."""
    frame = _no_rows(table.column_names)
    if finding is None:
        return TextTable(table, source, frame, given=False)
    return TextTable(table, source, frame, (finding,), complete=False)


@cache
def _no_rows(columns: tuple[str, ...]) -> pl.DataFrame:
    return pl.DataFrame(schema={**dict.fromkeys(columns, pl.String()), "row": pl.Int64()})


def match_headings(
    table: Table, row: int, headings: Sequence[str], filled: Sequence[bool]
) -> Headings:
    """The places of the table's columns in its line of headings.

    `filled` says for each place whether anything stands below it: a heading may be missing only
    over an empty column.
    """
    if not count_known(table, headings):
        expected = ", ".join(table.column_names)
        message = f"must hold the names of the columns; none of these was found: {expected}"
        first = next((heading for heading in headings if heading.strip(BLANKS)), "")
        return Headings({}, (Finding(table.name, row, "", first, message),), False)
    known = {name.casefold(): name for name in table.column_names}
    positions: dict[str, int] = {}
    findings: list[Finding] = []
    for position, heading in enumerate(headings):
        name = known.get(heading.strip(BLANKS).casefold())
        if name is None:
            findings += _unknown_heading(table, row, position, heading, filled[position])
        elif name in positions:
            message = "stands twice in the headings; keep one of the two columns"
            findings.append(Finding(table.name, row, name, "", message))
        else:
            positions[name] = position
    missing = [
        column for column in table.columns if column.required and column.name not in positions
    ]
    findings += _missing_columns(table, row, missing, headings)
    return Headings(positions, tuple(findings), not missing)


def count_known(table: Table, headings: Sequence[str]) -> int:
    """How many of the table's columns are named in these headings."""
    folded = {heading.strip(BLANKS).casefold() for heading in headings}
    return sum(name.casefold() in folded for name in table.column_names)


def text_frame(
    table: Table, positions: Mapping[str, int], records: Sequence[Sequence[str]], rows: list[int]
) -> pl.DataFrame:
    """The cells below the known headings, blanks taken off both ends, blank rows left out."""
    by_position = list(zip(*records, strict=True)) or [()] * (
        max(positions.values(), default=0) + 1
    )
    texts = {
        name: [cell.strip(BLANKS) for cell in by_position[positions[name]]]
        for name in table.column_names
        if name in positions
    }
    series = [pl.Series(name, cells, dtype=pl.String) for name, cells in texts.items()]
    frame = pl.DataFrame([*series, pl.Series("row", rows, dtype=pl.Int64)])
    filled = [any(cells) for cells in zip(*texts.values(), strict=True)]
    return frame if all(filled) else frame.filter(pl.Series(filled, dtype=pl.Boolean))


def _unknown_heading(
    table: Table, row: int, position: int, heading: str, filled: bool
) -> list[Finding]:
    if heading.strip(BLANKS):
        hint = table.hint(heading)
        message = f"is not a column of {table.name}; {hint or 'remove it or rename it'}"
        return [Finding(table.name, row, "", heading, message)]
    if filled:
        message = f"column {position + 1} has values but no heading; name it or empty it"
        return [Finding(table.name, row, "", "", message)]
    return []


def _missing_columns(
    table: Table, row: int, missing: Sequence[Column], headings: Sequence[str]
) -> list[Finding]:
    """A finding for each missing column, but for those that a misspelt heading stands for."""
    if not missing:
        return []
    meant = {nearest(heading, table.column_names) for heading in headings}
    return [
        Finding(table.name, row, column.name, "", "is missing; this column must be there")
        for column in missing
        if nearest(column.name, [column.name]) not in meant
    ]
