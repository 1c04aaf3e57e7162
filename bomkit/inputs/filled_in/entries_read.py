"""What was filled into the workbooks of a run, as the tables of entries."""

import io
import warnings
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import polars as pl

from bomkit.inputs.filled_in.filled_sheets import FilledRow, filled_sheet
from bomkit.inputs.read import LARGEST_FILE
from bomkit.inputs.text_table import DAMAGED, Unreadable
from bomkit.inputs.values.cast import cast_column
from bomkit.inputs.values.numerals import Decimals
from bomkit.inputs.workbooks.safe_to_open import SheetLook, look_into
from bomkit.inputs.workbooks.workbook_files import open_workbook, rows_of
from bomkit.problems import Problem, of_whole
from bomkit.tables.entry_keys import HEAD_MARK, LISTS_WRITTEN, RUN_NAME, SheetHead
from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.tables.schema import Column
from bomkit.words.problems import filling as said

_NUMBERS = Decimals(advice="use a decimal point, or type it as a number")
_MARK = HEAD_MARK.encode()


@dataclass
class Entries:
    """What was filled in: by kind the rows with where (the row in words); and what is doubtful.

    places: by where and column the file, the cell and the heading; unread: by kind the rows of
    which a cell could not be read, which are not among the tables.
    """

    tables: dict[str, pl.DataFrame] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    places: dict[tuple[str, str], tuple[str, str, str]] = field(default_factory=dict)
    unread: dict[str, pl.DataFrame] = field(default_factory=dict)

    def placed(self, problem: Problem) -> Problem:
        """A problem of an entry with the file, cell and heading of its column."""
        place = self.places.get((problem.file, problem.column))
        if place is None:
            return problem
        file, cell, heading = place
        return replace(problem, file=file, place=cell, column=heading)


def read_entries(run_id: str, folder: Path, files: Sequence[Path] = ()) -> Entries:
    """What was filled into all workbooks of a run, where they lie, or into the files named.

    Changes nothing. Whatever is doubtful becomes a problem.
    """
    entries = Entries()
    rows: list[FilledRow] = []
    for path in files or _workbooks(folder):
        name = str(path.relative_to(folder)) if path.is_relative_to(folder) else str(path)
        rows += _read_file(entries, run_id, name, path, bool(files))
    filled = [row for row in _once(entries, rows) if row.is_filled]
    for kind in ENTRIES:
        own = [row for row in filled if row.kind == kind]
        if own:
            entries.tables[kind] = _typed(entries, kind, own)
    return entries


def _workbooks(folder: Path) -> list[Path]:
    """The workbooks below a folder by name, but for what programs put beside open ones."""
    return sorted(
        path
        for path in folder.rglob("*.xlsx")
        if path.is_file() and not path.name.startswith((".", "~$"))
    )


def _read_file(
    entries: Entries, run_id: str, name: str, path: Path, named: bool
) -> list[FilledRow]:
    """The rows of a workbook; named: whether somebody asked for this one."""
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise Unreadable(f"is larger than {LARGEST_FILE // 1_000_000} MB")
        content = path.read_bytes()
        looks = look_into(content)
        if not _has_lists(content) and not named:
            return _passed_over(entries, run_id, name, content)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # what is wrong with styles is nothing to people
            return _read_book(entries, run_id, name, content, looks)
    except OSError as error:
        message = said.NO_LONGER_THERE.format(reason=error.strerror or str(error))
    except Unreadable as reason:
        message = reason.message
    except Exception:  # damaged content makes the libraries fail in many ways
        message = DAMAGED
    entries.problems.append(of_whole(name, message))
    return []


def _has_lists(content: bytes) -> bool:
    """Whether any text of a workbook marks a list that is filled in."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return any(
            _MARK in archive.read(name)
            for name in archive.namelist()
            if name.endswith(".xml") and "/theme" not in name
        )


def _passed_over(entries: Entries, run_id: str, name: str, content: bytes) -> list[FilledRow]:
    """Nothing; says so of a workbook that is not of this run, or has lost its lists."""
    book = open_workbook(content, stored_values=True)
    if _property(book, RUN_NAME) is None:
        entries.problems.append(Problem(name, "", "", "", said.NOT_A_LIST, "warning"))
    else:
        _check_book(entries, run_id, name, book, 0)
    return []


def _read_book(
    entries: Entries, run_id: str, name: str, content: bytes, looks: Mapping[str, SheetLook]
) -> list[FilledRow]:
    """The rows of all lists of a workbook."""
    book: Any = open_workbook(content, stored_values=True)
    has_formulas = any(look.has_formulas for look in looks.values())
    formulas = open_workbook(content, stored_values=False) if has_formulas else None
    run = _property(book, RUN_NAME)
    rows: list[FilledRow] = []
    lists = 0
    for sheet in book.worksheets:
        look = looks[sheet._worksheet_path]
        shadows = rows_of(formulas[sheet.title], look) if formulas and look.has_formulas else None
        filled = filled_sheet(name, sheet.title, look, rows_of(sheet, look), shadows)
        entries.problems += filled.problems
        lists += filled.head is not None or bool(filled.problems)
        if filled.head is not None:
            if run == run_id and filled.head.run_id != run_id:
                words = said.OTHER_RUN.format(found=filled.head.run_id, run=run_id)
                entries.problems.append(Problem(name, f"sheet {sheet.title}", "", "", words))
            entries.problems += _rows_lost(name, sheet.title, filled.head, filled.rows)
            rows += filled.rows
    _check_book(entries, run_id, name, book, lists)
    return rows


def _check_book(entries: Entries, run_id: str, name: str, book: Any, lists: int) -> None:
    """Says where a workbook is of another run, or has lost lists."""
    run, written = _property(book, RUN_NAME), _property(book, LISTS_WRITTEN)
    if run is None or written is None or not written.isdecimal():
        message = said.NO_RUN if lists else said.NOTHING_TO_TAKE
    elif run != run_id:
        message = said.OTHER_RUN.format(found=run, run=run_id)
    elif lists < int(written):
        message = said.LISTS_MISSING.format(found=lists, written=written)
    else:
        return
    entries.problems.append(of_whole(name, message))


def _rows_lost(
    name: str, sheet: str, head: SheetHead, rows: Sequence[FilledRow]
) -> Iterator[Problem]:
    """Says where a list has fewer rows than were written."""
    lost = head.rows - len({tuple(row.key.values) for row in rows})
    if lost > 0:
        words = said.ROWS_DELETED.format(count=lost, written=head.rows)
        yield Problem(name, f"sheet {sheet}", "", "", words, "warning")


def _property(book: Any, name: str) -> str | None:
    """A property of a workbook; None where it has none of that name."""
    names = book.custom_doc_props.names
    return str(book.custom_doc_props[name].value) if name in names else None


def _once(entries: Entries, rows: Sequence[FilledRow]) -> list[FilledRow]:
    """The rows that are there for the first time.

    Says where one is there twice: row by row within a workbook, if either is filled in; once for a
    second copy of a workbook, if anything is filled into either.
    """
    seen: dict[tuple[object, ...], FilledRow] = {}
    copies: set[str] = set()
    written = {row.file for row in rows if row.is_filled}
    for row in rows:
        first = seen.setdefault((row.kind, *row.key.values), row)
        if first is row:
            continue
        if first.file == row.file and (first.is_filled or row.is_filled):
            words = said.KEY_TWICE.format(first=first.where)
            entries.problems.append(
                Problem(row.file, f"sheet {row.sheet} row {row.row}", "", "", words)
            )
        elif first.file != row.file and row.file not in copies and written & {first.file, row.file}:
            copies.add(row.file)
            words = said.SECOND_COPY.format(first=first.file)
            entries.problems.append(of_whole(row.file, words))
    return list(seen.values())


def _typed(entries: Entries, kind: str, rows: Sequence[FilledRow]) -> pl.DataFrame:
    """The rows of a kind with typed values; what does not fit its column becomes a problem, and no
    more is said about its row."""
    table = ENTRIES[kind]
    wrong: set[int] = set()
    made = {
        name: pl.Series(name, [row.key.values[at] for row in rows], table.column(name).dtype)
        for at, name in enumerate(table.key)
    }
    for column in table.columns:
        if column.name not in made:
            texts = [_chosen(column, row.texts.get(column.name, "")) for row in rows]
            cast = cast_column(column, pl.Series(column.name, texts), _NUMBERS)
            worded = column.kind in ("name", "text")
            made[column.name] = cast.values.fill_null("") if worded else cast.values
            wrong |= set(cast.wrong)
            entries.problems += _misfits(column.name, rows, cast.wrong)
    for row in rows:
        for name in row.cells:
            entries.places[row.where, name] = row.file, _cell(row, name), row.headings[name]
    frame = pl.DataFrame({name: made[name] for name in table.column_names}).with_columns(
        where=pl.Series([row.where for row in rows], dtype=pl.String)
    )
    if wrong:
        entries.unread[kind] = frame[sorted(wrong)]
    return frame[[at for at in range(len(rows)) if at not in wrong]]


def _chosen(column: Column, text: str) -> str:
    """A word of a list, however it is typed in large and small letters."""
    return text.casefold() if text.casefold() in column.choices else text


def _misfits(column: str, rows: Sequence[FilledRow], wrong: Mapping[int, str]) -> Iterator[Problem]:
    """What is wrong with the cells of a column; wrong: by the place of the row what must hold."""
    for at, message in sorted(wrong.items()):
        row = rows[at]
        text = row.texts.get(column, "")
        yield Problem(row.file, _cell(row, column), row.headings[column], text, message)


def _cell(row: FilledRow, column: str) -> str:
    """Where a row has a column, in words."""
    return f"sheet {row.sheet} cell {row.cells[column]}"
