"""One CSV file to a table of text: its encoding, its separator, its records and their lines."""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass

from bomkit.inputs.text_table import (
    BLANKS,
    WHOLE_ROW,
    TextTable,
    Unreadable,
    absent_table,
    count_known,
    match_headings,
    text_frame,
)
from bomkit.problems import Finding, Source
from bomkit.tables.schema import Table

MOST_COLUMNS = 1_000
SEPARATORS = (",", ";", "\t")
_BYTE_ORDER_MARKS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
_SEPARATOR_LINE = re.compile(r'"?sep=(.)"?(?=[\r\n]|\Z)', re.IGNORECASE)


@dataclass
class Records:
    """The records of a CSV file below its headings, each with the line that it starts in."""

    heading_line: int
    headings: list[str]
    cells: list[list[str]]
    lines: list[int]
    separator: str
    broken: Unreadable | None = None  # why reading ended before the end of the file


def read_text_file(table: Table, source: Source, content: bytes) -> TextTable:
    """The table in the bytes of a CSV file; whatever is wrong with them becomes a finding."""
    try:
        records = split_records(table, decode(content))
    except Unreadable as reason:
        return absent_table(table, source, Finding(table.name, reason.line, "", "", reason.message))
    findings, spoiled = _even_out(table, records)
    filled = _filled_columns(records)
    headings = match_headings(table, records.heading_line, records.headings, filled)
    findings = [*headings.findings, *findings]
    if records.broken:
        end = records.broken
        findings.append(Finding(table.name, end.line, "", "", end.message))
    if not headings.positions:
        return absent_table(table, source, headings.findings[0])
    return TextTable(
        table,
        source,
        text_frame(table, headings.positions, records.cells, records.lines),
        tuple(findings),
        frozenset(spoiled),
        complete=headings.complete and not records.broken,
        separator=records.separator,
    )


def decode(content: bytes) -> str:
    """The text in the bytes: UTF-8, UTF-16 or else Windows-1252; raises Unreadable."""
    if content.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        raise Unreadable("is a workbook, not a text file; save the sheet as CSV (UTF-8)")
    encoding = _marked_encoding(content) or _encoding_by_zero_bytes(content)
    for attempt in (encoding,) if encoding else ("utf-8", "cp1252"):
        try:
            text = content.decode(attempt)
            break
        except UnicodeDecodeError as error:
            line = content.count(b"\n", 0, error.start) + 1
    else:
        raise Unreadable("holds bytes that are no text; save the file as CSV in UTF-8", line)
    zero = text.find("\0")
    if zero >= 0:
        line = text.count("\n", 0, zero) + 1
        raise Unreadable("holds zero bytes, so it is no text file; save it as CSV again", line)
    return text


def split_records(table: Table, text: str) -> Records:
    """The headings and records of the text; raises Unreadable where there are no headings."""
    separator, text = _take_separator_line(text)
    separator = separator or _likely_separator(table, text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    records = Records(0, [], [], [], separator)
    line = 1
    try:
        for cells in reader:
            if cells and records.headings:
                records.cells.append(cells)
                records.lines.append(line)
            elif any(cell.strip(BLANKS) for cell in cells):
                records.heading_line, records.headings = line, cells
            line = reader.line_num + 1
    except csv.Error as error:
        records.broken = Unreadable(_said_plainly(error), line)
    if len(records.headings) > MOST_COLUMNS:
        raise Unreadable(f"has more than {MOST_COLUMNS} columns; delete those beside the table")
    if not records.headings:
        expected = ", ".join(table.column_names)
        raise records.broken or Unreadable(
            f"is empty; its first line must hold the names of the columns: {expected}"
        )
    return records


def _marked_encoding(content: bytes) -> str:
    return next((name for mark, name in _BYTE_ORDER_MARKS if content.startswith(mark)), "")


def _encoding_by_zero_bytes(content: bytes) -> str:
    """UTF-16 without a mark shows by the zero byte in every other place of its plain letters."""
    start = content[:4000]
    half = len(start) / 2
    even, odd = start[0::2].count(0), start[1::2].count(0)
    if odd > 0.5 * half and even < 0.1 * half:
        return "utf-16-le"
    if even > 0.5 * half and odd < 0.1 * half:
        return "utf-16-be"
    return ""


def _take_separator_line(text: str) -> tuple[str, str]:
    """The separator named in a first line 'sep=;', and the text with that line left blank."""
    named = _SEPARATOR_LINE.match(text)
    if not named:
        return "", text
    if named[1] not in SEPARATORS:
        raise Unreadable("the separator must be a comma, a semicolon or a tab", 1)
    return named[1], text[named.end() :]


def _likely_separator(table: Table, text: str) -> str:
    """The separator by which the first line yields most of the table's columns."""

    def columns_found(separator: str) -> int:
        return count_known(table, next(_first_records(text, separator), []))

    return max(SEPARATORS, key=columns_found)


def _first_records(text: str, separator: str) -> Iterator[list[str]]:
    try:
        for cells in csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True):
            if any(cell.strip(BLANKS) for cell in cells):
                yield cells
    except csv.Error:
        return


def _said_plainly(error: csv.Error) -> str:
    reason = str(error)
    if "field limit" in reason:
        return "a cell is too long; perhaps a quotation mark is not closed in this line"
    if "end of data" in reason:
        return "a quotation mark is opened in this line and never closed"
    return (
        "the quotation marks do not pair up; put quotes around the whole cell "
        "and write a quotation mark inside it twice"
    )


def _even_out(table: Table, records: Records) -> tuple[list[Finding], set[tuple[int, str]]]:
    """Give every record as many cells as there are headings; a finding for each that had not."""
    width = len(records.headings)
    findings: list[Finding] = []
    spoiled: set[tuple[int, str]] = set()
    for place, cells in enumerate(records.cells):
        if len(cells) == width:
            continue
        records.cells[place] = (cells + [""] * width)[:width]
        if any(cell.strip(BLANKS) for cell in cells):
            line = records.lines[place]
            message = _wrong_count(len(cells), width, records.separator)
            findings.append(Finding(table.name, line, WHOLE_ROW, "", message))
            spoiled.add((line, WHOLE_ROW))
        else:
            records.cells[place] = [""] * width
    return findings, spoiled


def _wrong_count(count: int, expected: int, separator: str) -> str:
    message = f"has {count} cells, but there are {expected} headings"
    if count < expected:
        return f"{message}; write a separator for every cell, also for an empty one"
    if separator == ",":
        return (
            f"{message}; if a comma stands inside a number use a decimal point, or separate "
            "columns with semicolons; put quotes around a text that holds a comma"
        )
    return f"{message}; put quotes around a text that holds the separator"


def _filled_columns(records: Records) -> list[bool]:
    """For each heading that is empty whether its column is; true for all others."""
    return [
        bool(heading.strip(BLANKS)) or any(cells[place].strip(BLANKS) for cells in records.cells)
        for place, heading in enumerate(records.headings)
    ]
