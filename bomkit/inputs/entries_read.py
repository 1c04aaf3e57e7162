"""What was filled into the workbooks of a run, as the tables of entries."""

import io
import warnings
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl

from bomkit.inputs.cast import cast_column
from bomkit.inputs.filled_sheets import FilledRow, FilledSheet, filled_sheet
from bomkit.inputs.look import SheetLook, look_into
from bomkit.inputs.numerals import Decimals
from bomkit.inputs.read import LARGEST_FILE
from bomkit.inputs.text_table import Unreadable
from bomkit.problems import Problem
from bomkit.tables.entries import ENTRIES
from bomkit.tables.entry_keys import HEAD_MARK, LISTS_WRITTEN, RUN_NAME
from bomkit.words import filling as said

_NUMBERS = Decimals(advice="use a decimal point, or type it as a number")
_MARK = HEAD_MARK.encode()


@dataclass
class Entries:
    """What was filled in: by kind the rows with where (the row in words); and what is doubtful.

    places: by where and column the file, the cell and the heading.
    """

    tables: dict[str, pl.DataFrame] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    places: dict[tuple[str, str], tuple[str, str, str]] = field(default_factory=dict)

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
    copies = _copies(rows)
    for copy, first in copies.items():
        words = said.SECOND_COPY.format(first=first)
        entries.problems.append(Problem(copy, "", "", "", words))
    rows = [row for row in rows if row.file not in copies]
    entries.problems += _twice(rows)
    filled = [row for row in rows if row.is_filled]
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
        reason = error.strerror or str(error)
        entries.problems.append(
            Problem(name, "", "", "", said.NO_LONGER_THERE.format(reason=reason))
        )
    except Unreadable as reason:
        entries.problems.append(Problem(name, "", "", "", reason.message))
    except Exception:  # damaged content makes the libraries fail in many ways
        entries.problems.append(Problem(name, "", "", "", said.DAMAGED))
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
    book = _open(content)
    if _property(book, RUN_NAME) is None:
        entries.problems.append(Problem(name, "", "", "", said.NOT_A_LIST, "warning"))
    else:
        _check_book(entries, run_id, name, book, 0)
    return []


def _read_book(
    entries: Entries, run_id: str, name: str, content: bytes, looks: Mapping[str, SheetLook]
) -> list[FilledRow]:
    """The rows of all lists of a workbook."""
    book = _open(content)
    formulas = (
        _open(content, stored=False) if any(look.has_formulas for look in looks.values()) else None
    )
    rows: list[FilledRow] = []
    lists = 0
    for sheet in book.worksheets:
        look = looks[sheet._worksheet_path]
        shadows = _rows(formulas[sheet.title], look) if formulas and look.has_formulas else None
        found = filled_sheet(name, sheet.title, look, _rows(sheet, look), shadows)
        entries.problems += found.problems
        lists += found.head is not None or bool(found.problems)
        if found.head is not None:
            own = run_id if _property(book, RUN_NAME) == run_id else found.head.run_id
            entries.problems += _check_sheet(own, name, sheet.title, found)
            rows += found.rows
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
    entries.problems.append(Problem(name, "", "", "", message))


def _check_sheet(run_id: str, name: str, sheet: str, found: FilledSheet) -> Iterator[Problem]:
    """Says where a list is of another run, or has lost rows."""
    assert found.head is not None
    if found.head.run_id != run_id:
        words = said.OTHER_RUN.format(found=found.head.run_id, run=run_id)
        yield Problem(name, f"sheet {sheet}", "", "", words)
    lost = found.head.rows - len({(*row.key.values,) for row in found.rows})
    if lost > 0:
        words = said.ROWS_DELETED.format(count=lost)
        yield Problem(name, f"sheet {sheet}", "", "", words, "warning")


def _open(content: bytes, stored: bool = True) -> Any:
    return openpyxl.load_workbook(
        io.BytesIO(content), read_only=True, data_only=stored, keep_links=False
    )


def _property(book: Any, name: str) -> str | None:
    """A property of a workbook; None where it has none of that name."""
    names = book.custom_doc_props.names
    return str(book.custom_doc_props[name].value) if name in names else None


def _rows(sheet: Any, look: SheetLook) -> Iterator[Sequence[Any]]:
    sheet.reset_dimensions()  # a sheet may claim to be smaller than it is
    rows: Iterator[Sequence[Any]] = sheet.iter_rows(min_row=1, min_col=1, max_col=look.widest)
    return rows


def _copies(rows: Sequence[FilledRow]) -> dict[str, str]:
    """Files that hold rows of another one, of which any is filled in, and that other file."""
    seen: dict[tuple[object, ...], str] = {}
    copies: dict[str, str] = {}
    for row in rows:
        first = seen.setdefault((row.kind, *row.key.values), row.file)
        if first != row.file:
            copies.setdefault(row.file, first)
    written = {row.file for row in rows if row.is_filled}
    return {copy: first for copy, first in copies.items() if written & {copy, first}}


def _twice(rows: Iterable[FilledRow]) -> Iterator[Problem]:
    """Rows that are there twice, if anything is filled into one of them."""
    seen: dict[tuple[object, ...], FilledRow] = {}
    for row in rows:
        first = seen.setdefault((row.kind, *row.key.values), row)
        if first is not row and (first.is_filled or row.is_filled):
            words = said.KEY_TWICE.format(first=first.where)
            yield Problem(row.file, f"sheet {row.sheet} row {row.row}", "", "", words)


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
        if column.name in made:
            continue
        texts = [row.texts.get(column.name, "") for row in rows]
        cast = cast_column(column, pl.Series(column.name, texts), _NUMBERS)
        filled = "" if column.kind in ("name", "text") else None
        made[column.name] = cast.values.fill_null(filled) if filled is not None else cast.values
        wrong |= set(cast.wrong)
        entries.problems += [
            Problem(
                rows[at].file,
                f"sheet {rows[at].sheet} cell {rows[at].cells[column.name]}",
                rows[at].headings[column.name],
                texts[at],
                message,
            )
            for at, message in sorted(cast.wrong.items())
        ]
    for row in rows:
        for name, cell in row.cells.items():
            place = row.file, f"sheet {row.sheet} cell {cell}", row.headings[name]
            entries.places[row.where, name] = place
    frame = pl.DataFrame({name: made[name] for name in table.column_names}).with_columns(
        where=pl.Series([row.where for row in rows], dtype=pl.String)
    )
    return frame[[at for at in range(len(rows)) if at not in wrong]]
