"""plan.toml to a table of text with one row."""

import datetime
import re
import tomllib
from collections.abc import Iterable

import polars as pl

from bomkit.inputs.text.text_files import decode
from bomkit.inputs.text_table import TextTable, Unreadable, absent_table
from bomkit.problems import Finding, Source
from bomkit.tables.schema import Column, Kind, Table
from bomkit.words.did_you_mean import nearest
from bomkit.words.problems.findings import NOT_A_DATE

_LARGEST_SHOWN = 10**18  # longer ones take too long to write out in decimal digits
_EXPECTED: dict[Kind, str] = {
    "date": NOT_A_DATE,
    "whole": "must be a whole number without quotation marks",
    "number": "must be a number without quotation marks",
    "rate": "must be a number without quotation marks, such as 0.08",
}


def read_settings(table: Table, source: Source, content: bytes) -> TextTable:
    """The settings in the bytes of plan.toml; whatever is wrong with them becomes a finding."""
    try:
        text = _decode_settings(content)
        settings = tomllib.loads(text)
    except Unreadable as reason:
        return absent_table(table, source, Finding(table.name, reason.line, "", "", reason.message))
    except (ValueError, RecursionError) as error:
        return absent_table(table, source, _syntax_finding(table, error))
    lines = {key: _line_of(key, text) for key in settings}
    findings = [
        finding
        for key, value in settings.items()
        if (finding := _setting_finding(table, key, value, lines[key]))
    ]
    cells = {
        name: [_as_text(settings[name])] if name in settings else [""]
        for name in table.column_names
    }
    frame = pl.DataFrame({**cells, "row": [0]}, schema_overrides={"row": pl.Int64})
    spoiled = {(0, finding.column) for finding in findings if finding.column}
    absent = [name for name in table.column_names if name not in settings]
    spoiled |= {(0, name) for name in absent if _meant(table, name, settings)}
    return TextTable(table, source, frame, tuple(findings), frozenset(spoiled), lines=lines)


def _decode_settings(content: bytes) -> str:
    """The text of the file, which may start with a byte order mark and end its lines any way."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if content.startswith((b"\xff\xfe", b"\xfe\xff")):
            text = decode(content).removeprefix("\ufeff")
        else:
            line = content.count(b"\n", 0, error.start) + 1
            raise Unreadable("is not in UTF-8; save the file as UTF-8 text", line) from error
    return text.replace("\r\n", "\n")


def _syntax_finding(table: Table, error: Exception) -> Finding:
    place = re.search(r"\(?at line (\d+), column \d+\)?", str(error))
    message = (
        "is not written as 'name = value'; text stands in quotes, as in title = \"Kelto works\""
    )
    return Finding(table.name, int(place[1]) if place else 0, "", "", message)


def _line_of(key: str, text: str) -> int:
    """The line that sets the key; 0 where it isn't found."""
    setting = re.search(
        rf"^[ \t]*\[*[ \t]*[\"']?{re.escape(key)}[\"']?[ \t]*[=.\]]", text, re.MULTILINE
    )
    return text.count("\n", 0, setting.start()) + 1 if setting else 0


def _setting_finding(table: Table, key: str, value: object, line: int) -> Finding | None:
    """What is wrong with the name of the setting or with the type of its value."""
    if key not in table.column_names:
        hint = table.hint(key)
        known = ", ".join(table.column_names)
        message = f"is not a setting; {hint or f'these are: {known}'}"
        return Finding(table.name, line, "", key, message)
    column = table.column(key)
    if _type_fits(column, value):
        return None
    message = _EXPECTED.get(column.kind, "must be text in quotation marks")
    return Finding(table.name, line, key, _as_text(value), message)


def _meant(table: Table, name: str, settings: Iterable[str]) -> bool:
    """Whether a misspelt setting stands for this one, which then is not missing as well."""
    unknown = [key for key in settings if key not in table.column_names]
    hints = {nearest(key, table.column_names) for key in unknown}
    return nearest(name, [name]) in hints


def _type_fits(column: Column, value: object) -> bool:
    if column.kind == "date":
        return isinstance(value, str | datetime.date)
    if column.kind in ("whole", "number", "rate"):
        return isinstance(value, int | float) and not isinstance(value, bool)
    return isinstance(value, str)


def _as_text(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, datetime.datetime):
        return value.isoformat(" ")
    if isinstance(value, int) and abs(value) > _LARGEST_SHOWN:
        return hex(value)
    if isinstance(value, dict | list):
        return "{...}" if isinstance(value, dict) else "[...]"
    return str(value).strip()
