"""Finds the input tables in a folder or a workbook and reads each into a table of text."""

import hashlib
import os
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from bomkit.inputs.text.settings_file import read_settings
from bomkit.inputs.text.text_files import read_text_file
from bomkit.inputs.text_table import TextTable, absent_table
from bomkit.inputs.written_together import NEW_TABLES, EditedSince, put_in_place
from bomkit.problems import Finding, Problem, Source, of_whole
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.columns_and_rules.plan_settings import PLAN
from bomkit.tables.schema import renamed
from bomkit.words.did_you_mean import nearest

SETTINGS_FILE = "plan.toml"
TABLE_OF_FILE = {
    SETTINGS_FILE if name == PLAN.name else f"{name}.csv": table for name, table in INPUTS.items()
}
OTHER_WORKBOOKS = (".xls", ".xlsm", ".xlsb", ".ods")
LOOKED_AT = (".csv", ".tsv", ".xlsx", ".toml", *OTHER_WORKBOOKS)
_EDITED = (
    f"was edited after an import was broken off; that of the import is in {NEW_TABLES}: put the "
    "right one here and delete that folder"
)
LARGEST_FILE = 500_000_000  # bytes


@dataclass
class Reading:
    """What was read: tables of text, digests of the files, and problems of whole files."""

    texts: dict[str, TextTable] = field(default_factory=dict)
    digests: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def refuse(self, file: str, message: str) -> None:
        """Say what is wrong with a file or folder as a whole."""
        self.problems.append(of_whole(file, message))


def read_location(location: Path) -> Reading:
    """Every input table in the folder or workbook as text; a table not found is empty."""
    reading = Reading()
    name = _shown(location)
    try:
        if location.is_dir():
            _read_folder(location, reading)
        elif not location.exists():
            reading.refuse(name, "does not exist; give the folder or workbook with the input")
        elif location.suffix.lower() == ".xlsx":
            settings = _settings_beside(location)
            _read_workbook(location, settings, reading)
        else:
            reading.refuse(name, _wrong_file_advice(location))
    except (OSError, ValueError) as error:
        reading.refuse(name, _cannot_be_read(error))
    for table in INPUTS.values():
        if table.name not in reading.texts:
            reading.texts[table.name] = absent_table(table, _file_source(table.name))
    reading.texts = {table: reading.texts[table] for table in INPUTS}
    return reading


def _finish_import(folder: Path, reading: Reading) -> None:
    """Puts there what an import that was broken off was putting into the folder; says so."""
    try:
        for file in put_in_place(folder, broken_off=True):
            message = "is put here for an import that was broken off"
            reading.problems.append(Problem(file, "", "", "", message, "warning"))
    except EditedSince as changed:
        reading.refuse(str(changed), _EDITED)
    except OSError as error:
        message = f"holds what an import was putting there, and can't be written: {error.strerror}"
        reading.refuse(_shown(folder), message)


def _read_folder(folder: Path, reading: Reading) -> None:
    _finish_import(folder, reading)
    _refuse_folders(folder, reading)
    files = _files_looked_at(folder)
    known = [path for path in files if path.name.casefold() in TABLE_OF_FILE]
    workbooks = [path for path in files if path.suffix.lower() == ".xlsx"]
    texts = [path for path in files if path.suffix.lower() in (".csv", ".tsv")]
    unknown = [path for path in files if path not in known and path not in workbooks]
    if workbooks and texts:
        message = "holds CSV files and a workbook; keep one or the other"
        reading.refuse(_shown(folder), f"{message} ({texts[0].name}, {workbooks[0].name})")
    elif len(workbooks) > 1:
        names = ", ".join(_shown(path) for path in workbooks)
        reading.refuse(_shown(folder), f"holds more than one workbook; keep one of {names}")
    elif workbooks:
        _refuse_unknown(unknown, reading)
        _read_workbook(workbooks[0], known[0] if known else None, reading)
    elif known:
        _refuse_unknown(unknown, reading)
        _read_text_files(known, reading)
    else:
        _refuse_unknown([path for path in unknown if _nearest_file(path)], reading)
        expected = ", ".join(file for file, table in TABLE_OF_FILE.items() if table.required)
        message = f"holds no input table; perhaps it is the wrong folder? It needs {expected}"
        reading.refuse(_shown(folder), message)


def _refuse_folders(folder: Path, reading: Reading) -> None:
    """A problem for each folder, and each link to nowhere, that has the name of an input file."""
    for path in sorted(folder.iterdir()):
        if path.name.casefold() in TABLE_OF_FILE and path.is_dir():
            reading.refuse(_shown(path), "is a folder; put the file itself here, or rename it")
        elif path.name.casefold() in TABLE_OF_FILE and not path.exists():
            reading.refuse(_shown(path), "leads to a file that is not there; put the file here")


def _files_looked_at(folder: Path) -> list[Path]:
    """The files that could be meant as input, in the order of their names."""
    return sorted(
        path
        for path in folder.iterdir()
        if path.suffix.lower() in LOOKED_AT
        and not path.name.startswith((".", "~$"))
        and path.is_file()
    )


def _read_text_files(paths: Sequence[Path], reading: Reading) -> None:
    for path in paths:
        table = TABLE_OF_FILE[path.name.casefold()]
        if table.name in reading.texts:
            first = reading.texts[table.name].source.file
            reading.refuse(path.name, f"is the same table as {first}; keep one of the two")
            continue
        content = _read_content(path, reading)
        if content is None:
            reading.texts[table.name] = _unreadable(table.name, Source(path.name))
        elif table is PLAN:
            reading.texts[table.name] = read_settings(table, Source(path.name), content)
        else:
            reading.texts[table.name] = read_text_file(table, Source(path.name), content)
    for table in INPUTS.values():
        if table.required and table.name not in reading.texts:
            source = _file_source(table.name)
            finding = Finding(table.name, 0, "", "", "is missing; this file must be there")
            reading.texts[table.name] = absent_table(table, source, finding)


def _read_workbook(path: Path, settings: Path | None, reading: Reading) -> None:
    # A folder of CSV files is read without waiting for the import of openpyxl.
    from bomkit.inputs.workbooks.workbook_files import read_workbook

    content = _read_content(path, reading)
    if content is None:
        return
    sheets = read_workbook(_shown(path), content)
    reading.problems += sheets.problems
    reading.texts.update(sheets.texts)
    if not sheets.opened:
        return
    if settings and PLAN.name in reading.texts:
        message = f"is not read, as the workbook has a sheet {PLAN.name}"
        reading.problems.append(Problem(settings.name, "", "", "", message, "warning"))
    elif settings:
        _read_settings_beside(settings, reading)
    for table in INPUTS.values():
        if table.name not in reading.texts:
            reading.texts[table.name] = _absent_sheet(table.name, _shown(path))


def _read_settings_beside(settings: Path, reading: Reading) -> None:
    content = _read_content(settings, reading)
    source = Source(settings.name)
    reading.texts[PLAN.name] = (
        _unreadable(PLAN.name, source) if content is None else read_settings(PLAN, source, content)
    )


def _absent_sheet(name: str, file: str) -> TextTable:
    table, source = INPUTS[name], Source(file, name)
    if not table.required:
        return absent_table(table, source)
    message = "is missing; the workbook must have this sheet"
    if table is PLAN:
        message += f", or else a file {SETTINGS_FILE} beside it"
    return absent_table(table, source, Finding(name, 0, "", "", message))


def _unreadable(name: str, source: Source) -> TextTable:
    """A table whose file was refused already: empty, and known to be incomplete."""
    empty = absent_table(INPUTS[name], source)
    return TextTable(empty.table, source, empty.frame, complete=False)


def _read_content(path: Path, reading: Reading) -> bytes | None:
    """The bytes of the file, with their digest noted; None where it can't be read."""
    try:
        if path.stat().st_size > LARGEST_FILE:
            megabytes = LARGEST_FILE // 1_000_000
            reading.refuse(_shown(path), f"is larger than {megabytes} MB; is it the right file?")
            return None
        content = path.read_bytes()
    except OSError as error:
        reading.refuse(_shown(path), _cannot_be_read(error))
        return None
    reading.digests[_shown(path)] = hashlib.sha256(content).hexdigest()
    return content


def _refuse_unknown(paths: Sequence[Path], reading: Reading) -> None:
    for path in paths:
        other_workbook = path.suffix.lower() in OTHER_WORKBOOKS
        advice = "save it as .xlsx" if other_workbook else _nearest_file(path)
        advice = advice or "remove it from the folder"
        reading.refuse(_shown(path), f"is no input file; {advice}")


def _nearest_file(path: Path) -> str:
    """The name it has now, or a hint at the known file whose name without its ending is closest;
    empty if none is."""
    hint = nearest(path.stem, INPUTS)
    meant = (file for file, table in TABLE_OF_FILE.items() if f" {table.name}?" in hint)
    near = next((f"did you mean {file}?" for file in meant), "")
    return renamed(path.stem, INPUTS.values()) or near


def _settings_beside(workbook: Path) -> Path | None:
    beside = (path for path in _files_looked_at(workbook.parent))
    return next((path for path in beside if path.name.casefold() == SETTINGS_FILE), None)


def _wrong_file_advice(location: Path) -> str:
    if location.suffix.lower() in OTHER_WORKBOOKS:
        return "can't be read; save it as .xlsx"
    return "is no workbook; give the folder that holds the CSV files, or one .xlsx file"


def _cannot_be_read(error: Exception) -> str:
    reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return f"can't be read: {reason}"


def _file_source(name: str) -> Source:
    return Source(next(file for file, table in TABLE_OF_FILE.items() if table.name == name))


def _shown(path: Path) -> str:
    """The last part of the path, in letters that can be printed."""
    return os.fsencode(path.name or path.resolve().name).decode("utf-8", "replace")
