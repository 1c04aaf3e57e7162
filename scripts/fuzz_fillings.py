"""Fills workbooks of a run in oddly, damages them, and takes them back.

    python scripts/fuzz_fillings.py --count 10000
    python scripts/fuzz_fillings.py --quick

There is no traceback; where anything is refused, nothing is written; and what was filled in counts
or is named: where nothing is refused, as many cells are read as are filled in.
"""

from __future__ import annotations

import argparse
import contextlib
import datetime as dt
import hashlib
import io
import json
import random
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl

sys.path.insert(0, str(Path(__file__).parent.parent))

from bomkit.inputs.filled_in.entries_read import read_entries
from bomkit.problems import ProblemsFound
from bomkit.runs.files.run_files import FinishedRun, whole_run
from bomkit.runs.week.plan import weekly_run
from bomkit.runs.week.take_back import book_into
from bomkit.tables.filled_in_tables import ENTRIES
from bomkit.words.progress import silent
from scripts.year_parts.filling import lines_of

TINY = Path(__file__).parent.parent / "sample_boms" / "tiny_glider_tail"
QUICK, MANY = 60, 10_000
_USUAL: dict[str, tuple[Any, ...]] = {
    "number": (0, 1, 2, 3, 0.5, 1.25),
    "whole": (0, 1, 3),
    "date": (dt.date(2026, 12, 2), dt.date(2026, 12, 4), dt.date(2027, 6, 1)),
    "name": ("P-1", "P-2", "L7", "make-0001", "screw-old"),
    "text": ("rack 1", "shelf 9"),
    "choice": ("yes", "no"),
}
_ODD = (
    *("ten", "-3", "1,500", "1e999", "#REF!", "=1+1", " ", "\u00a0", "9" * 40, "TRUE", "+1", "@a"),
    *(-1, 1e12, 1e-12, 0.1 + 0.2, True, 123456789012345678, dt.date(1900, 1, 1), "x" * 40_000),
    *(dt.datetime(2026, 12, 2, 13, 5), dt.time(3, 4), "2026-12-02", "2.12.2026", "١٢", "ja"),
)


def main() -> int:
    """Fills in, takes back, tells how it went; 1 if anything went wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=MANY)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        outcome = fuzz(QUICK if asked.quick else asked.count, asked.seed, Path(scratch))
    print(", ".join(f"{number} {words}" for words, number in sorted(outcome.items())))
    return 1 if outcome["wrong"] else 0


def fuzz(count: int, seed: int, scratch: Path) -> Counter[str]:
    """How many fillings were taken back, refused, or went wrong."""
    folder = scratch / "run"
    weekly_run(TINY, folder, False, silent)
    run = whole_run(folder)
    books = {path: path.read_bytes() for path in sorted(folder.rglob("*.xlsx"))}
    outcome: Counter[str] = Counter()
    for number in range(count):
        chance = random.Random(f"{seed}/{number}")
        path = chance.choice(list(books))
        content, filled = odd_filling(books[path], chance)
        given = scratch / "given.xlsx"
        given.write_bytes(content)
        found = _tried(run, folder, given, scratch / "next", filled)
        if found.startswith("wrong"):
            print(f"filling {number} of seed {seed}, {path.relative_to(folder)}: {found}")
            shutil.copy(given, scratch.parent / f"wrong-{seed}-{number}.xlsx")
        outcome[found.split(":")[0]] += 1
    return outcome


def _tried(run: FinishedRun, folder: Path, given: Path, into: Path, filled: int | None) -> str:
    """What came of one workbook; filled: how many cells are filled in, None if nobody can say."""
    try:
        read = read_entries(run.run_id, folder, [given])
        book_into(run, read.tables, into, False, read)
    except ProblemsFound as found:
        if into.exists():
            return "wrong: refused, but something was written"
        return "refused" if found.problems else "wrong: refused without a word"
    except Exception as error:  # what this script looks for
        return f"wrong: {type(error).__name__}: {error}"
    whole = json.loads((into / "taken_back" / "taken_back.json").read_text())["files"]
    there = {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest()
        for path in into.iterdir()
        if path.is_file()
    }
    shutil.rmtree(into)
    counted = sum(
        row[column.name] not in (None, "")
        for kind, frame in read.tables.items()
        for row in frame.iter_rows(named=True)
        for column in ENTRIES[kind].columns
        if column.name not in ENTRIES[kind].key
    )
    if there != whole:
        return "wrong: what was written is not whole"
    if filled is not None and counted != filled:
        return f"wrong: {filled} cells are filled in, {counted} were read"
    return "taken back"


def odd_filling(content: bytes, chance: random.Random) -> tuple[bytes, int | None]:
    """A workbook filled in and damaged, and how many of its open cells are filled in."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    lists = [sheet for sheet in book.worksheets if any(True for _ in lines_of(sheet))]
    for sheet in lists:
        _fill(sheet, chance)
    for _ in range(chance.choice((0, 0, 1, 1, 2))):
        # the library can't do everything to what is damaged already
        with contextlib.suppress(AttributeError, StopIteration, IndexError, ValueError):
            chance.choice(DAMAGES)(chance.choice(lists), chance)
    if not any(sheet.sheet_state == "visible" for sheet in book.worksheets):
        book.create_sheet("new")
    saved = io.BytesIO()
    book.save(saved)
    filled = sum(map(_filled_cells, book.worksheets))
    if chance.random() < 0.1:
        return _spoilt(saved.getvalue(), chance), None
    return saved.getvalue(), filled


def _filled_cells(sheet: Any) -> int:
    return sum(
        not cell.protection.locked and bool(str("" if cell.value is None else cell.value).strip())
        for row in sheet.iter_rows()
        for cell in row
    )


def _fill(sheet: Any, chance: random.Random) -> None:
    """Types into some of the cells of a list: what is usual, now and then what is odd."""
    for head, headings, row, _ in list(lines_of(sheet)):
        for name, heading in head.fills.items():
            cell = sheet.cell(row, headings[heading])
            if cell.protection.locked or chance.random() > 0.15:
                continue
            odd = chance.random() < 0.05
            kind = ENTRIES[head.kind].column(name).kind
            cell.value = chance.choice(_ODD if odd else _USUAL[kind])


def _spoilt(content: bytes, chance: random.Random) -> bytes:
    """The file with bytes changed or missing."""
    place = chance.randrange(len(content))
    if chance.random() < 0.5:
        return content[:place] + bytes([chance.randrange(256)]) + content[place + 1 :]
    return content[:place] + content[place + chance.randrange(2000) :]


def _rows_below(sheet: Any) -> range:
    first = next(row for _, _, row, _ in lines_of(sheet))
    return range(first, sheet.max_row + 1)


def _swap(sheet: Any, chance: random.Random, places: range) -> None:
    """Exchanges two rows in some of their columns."""
    rows = _rows_below(sheet)
    one, other = chance.choice(rows), chance.choice(rows)
    for place in places:
        first, second = sheet.cell(one, place), sheet.cell(other, place)
        first.value, second.value = second.value, first.value
        first._style, second._style = second._style, first._style


def swap_rows(sheet: Any, chance: random.Random) -> None:
    """As sorting does."""
    _swap(sheet, chance, range(1, sheet.max_column + 1))


def swap_visible_cells(sheet: Any, chance: random.Random) -> None:
    """As sorting without the hidden column does."""
    _swap(sheet, chance, range(1, sheet.max_column))


def swap_in_one_column(sheet: Any, chance: random.Random) -> None:
    """As sorting one column alone does."""
    place = chance.randint(1, sheet.max_column)
    _swap(sheet, chance, range(place, place + 1))


def delete_rows(sheet: Any, chance: random.Random) -> None:
    """Some rows, headings perhaps among them."""
    sheet.delete_rows(chance.randint(1, sheet.max_row), chance.randint(1, 3))


def delete_a_column(sheet: Any, chance: random.Random) -> None:
    """Any, that of the keys included."""
    sheet.delete_cols(chance.randint(1, sheet.max_column))


def insert_rows(sheet: Any, chance: random.Random) -> None:
    """Empty ones, somewhere."""
    sheet.insert_rows(chance.randint(1, sheet.max_row), chance.randint(1, 3))


def insert_a_column(sheet: Any, chance: random.Random) -> None:
    """An empty one, somewhere."""
    sheet.insert_cols(chance.randint(1, sheet.max_column))


def double_a_row(sheet: Any, chance: random.Random) -> None:
    """A row once more below the list."""
    row, last = chance.choice(_rows_below(sheet)), sheet.max_row + 1
    for cell in list(sheet[row]):
        copy = sheet.cell(last, cell.column)
        copy.value, copy._style = cell.value, cell._style


def edit_a_cell(sheet: Any, chance: random.Random) -> None:
    """Any cell of the list, its keys and headings included."""
    rows = range(max(1, _rows_below(sheet).start - 1), sheet.max_row + 1)
    cell = sheet.cell(chance.choice(rows), chance.randint(1, sheet.max_column))
    cell.value = chance.choice(_ODD)


def merge_cells(sheet: Any, chance: random.Random) -> None:
    """Two or more cells of the list in one."""
    row, place = chance.choice(_rows_below(sheet)), chance.randint(1, sheet.max_column - 1)
    below, beside = row + chance.randint(0, 2), place + chance.randint(0, 1)
    if (below, beside) != (row, place):
        sheet.merge_cells(start_row=row, end_row=below, start_column=place, end_column=beside)


def hide(sheet: Any, chance: random.Random) -> None:
    """A row and a column; filters do no more."""
    sheet.row_dimensions[chance.choice(_rows_below(sheet))].hidden = True
    sheet.column_dimensions["B"].hidden = True


def rename(sheet: Any, chance: random.Random) -> None:
    """The sheet."""
    sheet.title = f"mine {chance.randint(1, 9)}"


def copy_the_sheet(sheet: Any, chance: random.Random) -> None:
    """Within its workbook."""
    sheet.parent.copy_worksheet(sheet)


def delete_the_sheet(sheet: Any, chance: random.Random) -> None:
    """If there is another one left."""
    if len(sheet.parent.worksheets) > 1 and sheet in sheet.parent.worksheets:
        sheet.parent.remove(sheet)


def lose_the_run(sheet: Any, chance: random.Random) -> None:
    """The properties of the workbook, as some programs do."""
    names = list(sheet.parent.custom_doc_props.names)
    if names:
        del sheet.parent.custom_doc_props[chance.choice(names)]


DAMAGES: tuple[Callable[[Any, random.Random], None], ...] = (
    *(swap_rows, swap_visible_cells, swap_in_one_column, delete_rows, delete_a_column),
    *(insert_rows, insert_a_column, double_a_row, edit_a_cell, merge_cells, hide, rename),
    *(copy_the_sheet, delete_the_sheet, lose_the_run),
)

if __name__ == "__main__":
    sys.exit(main())
