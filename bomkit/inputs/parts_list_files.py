"""Parts lists from outside, CSV or .xlsx, to grids of text."""

import csv
import io
import warnings
from pathlib import Path

from bomkit.inputs.text.text_files import SEPARATORS, decode
from bomkit.inputs.text_table import DAMAGED, Unreadable
from bomkit.inputs.workbooks.safe_to_open import look_into
from bomkit.inputs.workbooks.sheet_cells import cell_text
from bomkit.parts_lists.list_as_found import Grid
from bomkit.problems import Problem, ProblemsFound, of_whole

MOST_ROWS = 200_000
_TEXTS = (".csv", ".tsv", ".txt")
_LOOKED_AT = 60
_INDENT = "  "  # what one step of a cell's own indent counts as


def read_lists(paths: list[Path]) -> list[Grid]:
    """The grids of all files, and of the files in folders; raises ProblemsFound."""
    grids: list[Grid] = []
    problems: list[Problem] = []
    for path in paths:
        inside = sorted(path.iterdir()) if path.is_dir() else [path]
        for file in inside:
            if path.is_dir() and file.suffix.lower() not in (*_TEXTS, ".xlsx"):
                continue
            try:
                grids += _read(file)
            except Unreadable as reason:
                place = f"line {reason.line}" if reason.line else ""
                problems.append(Problem(file.name, place, "", "", reason.message))
            except OSError as error:
                problems.append(of_whole(file.name, f"can't be read: {error.strerror}"))
    if not grids and not problems:
        problems.append(of_whole(paths[0], "holds no list; give a CSV or .xlsx file"))
    if problems:
        raise ProblemsFound(problems)
    return grids


def _read(path: Path) -> list[Grid]:
    content = path.read_bytes()
    if content.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")) or path.suffix.lower() == ".xlsx":
        return _sheets(content, path.stem)
    text = decode(content)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text)))
    except csv.Error as error:
        raise Unreadable(f"is not written as CSV: {error}") from error
    return [Grid(path.stem, tuple(map(tuple, rows)), tuple(range(1, len(rows) + 1)))]


def _separator(text: str) -> str:
    """The separator that cuts most of the first rows into most cells."""
    lines = [line for line in text.splitlines()[:_LOOKED_AT] if line.strip()]

    def cut(separator: str) -> int:
        return sum(min(line.count(separator), 12) for line in lines)

    return max((";", "\t", ","), key=cut) if lines else SEPARATORS[0]


def _sheets(content: bytes, stem: str) -> list[Grid]:
    import openpyxl

    try:
        look_into(content)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
            several = len(book.worksheets) > 1
            grids = []
            for sheet in book.worksheets:
                sheet.reset_dimensions()
                rows = tuple(tuple(map(_text, row)) for row in sheet.iter_rows())
                name = sheet.title if several else stem
                if any(cell.strip() for row in rows for cell in row):
                    grids.append(Grid(name, rows, tuple(range(1, len(rows) + 1))))
    except Unreadable:
        raise
    except Exception as error:  # damaged content makes the libraries fail in many ways
        raise Unreadable(DAMAGED) from error
    return grids


def _text(cell: object) -> str:
    value = getattr(cell, "value", None)
    said = cell_text(value, getattr(cell, "number_format", "General") if value is not None else "")
    if not isinstance(value, str):
        return said
    indent = getattr(getattr(cell, "alignment", None), "indent", 0) or 0
    return _INDENT * int(indent) + said
