"""The workbooks of a run: which there are, and where in its folder each lies."""

from collections.abc import Callable
from pathlib import Path

from bomkit.tables.results.finished_plan import Choices
from bomkit.words.progress import Tell
from bomkit.workbooks.fleet.consignment import consignment_books
from bomkit.workbooks.fleet.packing_list import kit_books
from bomkit.workbooks.overview.overview import overview_book
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.shortages import shortages_book
from bomkit.workbooks.weekly.arrivals import arrivals_book
from bomkit.workbooks.weekly.buy import buy_book
from bomkit.workbooks.weekly.counts import counts_book
from bomkit.workbooks.weekly.make_and_print import make_book, print_book
from bomkit.workbooks.weekly.picks.book import picks_book
from bomkit.workbooks.weekly.picks.order_sheets import pick_sheets_book
from bomkit.workbooks.writing.sheet import Book
from bomkit.workbooks.writing.write import workbook_bytes

WeekBook = Callable[[Report, str], Book]  # of a report and a week


def write_workbooks(folder: Path, report: Report, choices: Choices, tell: Tell) -> None:
    """The workbooks of every release week, the overview, the shortages and what to pack."""
    for week in report.list_weeks:
        tell(f"writing the workbooks of {week}")
        (folder / week).mkdir()
        for name, book in _week_books(choices).items():
            _write(folder / week, name, book(report, week))
    tell("writing the overview")
    _write(folder, "overview", overview_book(report))
    if choices.stores:
        _write(folder, "shortages", shortages_book(report))
        _write_kits(folder / "kits", report)


def _week_books(choices: Choices) -> dict[str, WeekBook]:
    """By name what makes each workbook of a week."""
    books: dict[str, WeekBook] = {"make": make_book, "buy": buy_book, "print": print_book}
    books |= {"arrivals": arrivals_book, "counts": counts_book}
    if choices.stores:
        books["picks"] = picks_book
    if choices.stores and choices.pick_sheets:
        books["pick_sheets"] = pick_sheets_book
    return books


def _write_kits(folder: Path, report: Report) -> None:
    """What to pack for each spares order, and what leaves together; no folder for none."""
    kits = kit_books(report)
    kits |= consignment_books(report, kits)
    if kits:
        folder.mkdir()
    for name, kit in kits.items():
        _write(folder, name, kit)


def _write(folder: Path, name: str, book: Book) -> None:
    """Writes a workbook."""
    (folder / f"{name}.xlsx").write_bytes(workbook_bytes(book))
