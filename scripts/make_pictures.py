"""Writes the pictures of README.md: pages of the full-size sample's workbooks as they print.

With --check it only says whether the pictures are those of the present workbooks: beside them lies
a digest of what is on each sheet, and that is made again without drawing anything.

Drawing needs LibreOffice (soffice) and Poppler (pdftoppm); checking needs neither.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from bomkit.runs.week.plan import weekly_run
from bomkit.words.progress import silent
from bomkit.workbooks.overview.board import board_sheets
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.buy import buy_book
from bomkit.workbooks.writing.sheet import Sheet
from bomkit.workbooks.writing.style import STYLES
from bomkit.workbooks.writing.write import workbook_bytes

SAMPLE = Path(__file__).parent.parent / "sample_boms" / "fenlark"
PICTURES = SAMPLE / "pictures"
DIGESTS = "sheets.json"
DOTS_PER_INCH = {"board.png": 90, "buy_list.png": 110}


def main() -> int:
    """Write or check the pictures; 1 if they are not those of the present workbooks."""
    arguments = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    arguments.add_argument("--check", action="store_true", help="draw nothing, only compare")
    only_check = arguments.parse_args().check
    with tempfile.TemporaryDirectory() as scratch:
        report = weekly_run(SAMPLE, Path(scratch) / "run", False, silent).report
        sheets = _sheets(report)
        digests = {name: _digest(sheet) for name, sheet in sheets.items()}
        if only_check:
            return _check(digests)
        PICTURES.mkdir(exist_ok=True)
        for name, sheet in sheets.items():
            _draw(report, sheet, PICTURES / name, Path(scratch))
    (PICTURES / DIGESTS).write_text(json.dumps(digests, indent=2) + "\n")
    return 0


def _sheets(report: Report) -> dict[str, Sheet]:
    """The sheet whose first page each picture shows."""
    return {
        "board.png": board_sheets(report)[0],
        "buy_list.png": buy_book(report, report.list_weeks[0]).sheets[-1],
    }


def _digest(sheet: Sheet) -> str:
    """What is on a sheet and how it looks, in a short form."""
    return hashlib.sha256(repr((sheet, sorted(STYLES.items()))).encode()).hexdigest()[:16]


def _check(digests: dict[str, str]) -> int:
    """Say which picture is missing or shows something else than the sheet of today."""
    kept = PICTURES / DIGESTS
    known = json.loads(kept.read_text()) if kept.is_file() else {}
    drawn = {name for name in digests if (PICTURES / name).is_file()}
    old = sorted(name for name in digests if name not in drawn or known.get(name) != digests[name])
    for name in old:
        print(f"{name} is not the sheet of today: run scripts/make_pictures.py, and look at it")
    return 1 if old else 0


def _draw(report: Report, sheet: Sheet, picture: Path, scratch: Path) -> None:
    """Print the first page of a sheet into a picture."""
    for tool in ("soffice", "pdftoppm"):
        if shutil.which(tool) is None:
            sys.exit(f"{tool} is not there: install LibreOffice and Poppler to draw the pictures")
    book = scratch / f"{picture.stem}.xlsx"
    book.write_bytes(workbook_bytes(report.book([sheet])))
    profile = f"-env:UserInstallation=file://{scratch}/profile"
    office = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(scratch)]
    subprocess.run([*office, str(book)], check=True, capture_output=True)
    page = ["pdftoppm", "-png", "-singlefile", "-r", str(DOTS_PER_INCH[picture.name])]
    target = str(picture.with_suffix(""))
    subprocess.run([*page, str(book.with_suffix(".pdf")), target], check=True)


if __name__ == "__main__":
    sys.exit(main())
