"""A small aircraft as input files, and ways to spoil it."""

import io
import zipfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from openpyxl import Workbook

from bomkit.checks.everything import Inputs, load_inputs

GOOD_FILES: dict[str, str] = {
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 12\n",
    "items.csv": (
        "item,source,unit,lead_days\nKELTO,make,pc,10\nWING,make,pc,5\n00123,buy,kg,20\n"
    ),
    "structure.csv": "parent,child,quantity\nKELTO,WING,2\nWING,00123,1.5\n",
    "build_plan.csv": "serial,item,ready_date,options\nKL-061,KELTO,2027-01-29,FLOATS\n",
}

Rows = Sequence[Sequence[object]]

GOOD_SHEETS: dict[str, Rows] = {
    "plan": [["start", "horizon_weeks"], ["2026-11-30", 12]],
    "items": [
        ["item", "source", "unit", "lead_days"],
        ["KELTO", "make", "pc", 10],
        ["WING", "make", "pc", 5],
        ["00123", "buy", "kg", 20],
    ],
    "structure": [["parent", "child", "quantity"], ["KELTO", "WING", 2], ["WING", "00123", 1.5]],
    "build_plan": [["serial", "item", "ready_date"], ["KL-061", "KELTO", "2027-01-29"]],
}


def load_files(folder: Path, files: Mapping[str, str | bytes | None] | None = None) -> Inputs:
    """What is loaded from the good files with some replaced, or left out where None."""
    folder.mkdir(exist_ok=True)
    for name, content in {**GOOD_FILES, **(files or {})}.items():
        if content is not None:
            written = content if isinstance(content, bytes) else content.encode()
            (folder / name).write_bytes(written)
    return load_inputs(folder)


def load_sheets(
    folder: Path,
    sheets: Mapping[str, Rows | None] | None = None,
    change: Callable[[Workbook], None] = lambda book: None,
) -> Inputs:
    """What is loaded from the good sheets with some replaced, after a last change to the book."""
    path = folder / "kelto.xlsx"
    path.write_bytes(workbook_bytes(sheets, change))
    return load_inputs(path)


def workbook_bytes(
    sheets: Mapping[str, Rows | None] | None = None,
    change: Callable[[Workbook], None] = lambda book: None,
) -> bytes:
    """The good sheets with some replaced, or left out where None, as an .xlsx file."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for title, rows in {**GOOD_SHEETS, **(sheets or {})}.items():
        if rows is not None:
            sheet = book.create_sheet(title)
            for row in rows:
                sheet.append(list(row))
    change(book)
    saved = io.BytesIO()
    book.save(saved)
    return saved.getvalue()


def with_member(workbook: bytes, name: str, change: Callable[[bytes], bytes]) -> bytes:
    """The workbook with the bytes of one of its members changed."""
    changed = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(workbook)) as old,
        zipfile.ZipFile(changed, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        assert name in old.namelist()
        for member in old.namelist():
            content = old.read(member)
            new.writestr(member, change(content) if member == name else content)
    return changed.getvalue()


def sentences(inputs: Inputs) -> list[str]:
    """The problems as a person reads them."""
    return [problem.sentence() for problem in inputs.problems]


def only_sentence(inputs: Inputs) -> str:
    """The one problem there is."""
    found = sentences(inputs)
    assert len(found) == 1, found
    return found[0]
