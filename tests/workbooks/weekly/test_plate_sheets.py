"""The print workbook as the printer's operator opens it on Monday morning."""

import shutil
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl
import pytest

from bomkit.runs.week.plan import Run, weekly_run
from bomkit.words.progress import silent
from tests.commands import written
from tests.samples import TINY


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Run:
    """The tiny sample with a printer."""
    folder = tmp_path_factory.mktemp("data")
    shutil.copytree(TINY, folder, dirs_exist_ok=True)
    (folder / "materials.csv").write_text(
        "material,item,spool_kg,heat_limit_c\nPETG,filament,1,77\n"
    )
    (folder / "prints.csv").write_text("item,hours,per_plate,printers\nlamp-mount,3.5,4,old\n")
    (folder / "printers.csv").write_text(
        "kind,count,hours_per_week,newer_kind\nold,1,5,new\nnew,1,60,\n"
    )
    items = folder / "items.csv"
    head, *rows = items.read_text().splitlines()
    heat = [f"{row},{'70' if row.startswith('lamp-mount') else ''}" for row in rows]
    items.write_text("\n".join([f"{head},heat_c", *heat]) + "\n")
    return weekly_run(folder, tmp_path_factory.mktemp("run") / "out", False, silent)


def cells(run: Run, sheet: str) -> list[tuple[Any, ...]]:
    """The rows below the headings of a sheet of the first week's print workbook."""
    rows = words_above_and_rows(run, sheet)
    heading = next(number for number, row in enumerate(rows) if row[1])
    return rows[heading + 1 :]


def below(run: Run, heading: str) -> list[tuple[Any, ...]]:
    """The rows of a part of the sheet on the print room, below its headings."""
    rows = words_above_and_rows(run, "Print room")
    first = next(number for number, row in enumerate(rows) if row[0] == heading)
    headings = next(n for n, row in enumerate(rows[first:], first) if n > first and row[4])
    found = []
    for row in rows[headings + 1 :]:
        if row[0] not in (None, ""):
            break
        found.append(row)
    return found


def words_above_and_rows(run: Run, sheet: str) -> list[tuple[Any, ...]]:
    """All rows of a sheet; title and notes stand in the first column."""
    book = openpyxl.load_workbook(run.out / "2026-W49" / "print.xlsx")
    return list(book[sheet].iter_rows(values_only=True))


def kelto_run(tmp_path: Path, ready: str, clip_days: int = 1) -> Run:
    """One kelto with one printed clip."""
    files = {
        "items.csv": "item,source,unit,lead_days,material,structure_class,heat_c\n"
        "kelto,make,pc,0,,,\n"
        f"clip,print,pc,{clip_days},ASA,none,50\nf-asa,buy,g,6,,,\n",
        "structure.csv": "parent,child,quantity,unit\nkelto,clip,1,\nclip,f-asa,1300,g\n",
        "build_plan.csv": f"serial,item,ready_date\nKL-1,kelto,{ready}\n",
        "materials.csv": "material,item,spool_kg,heat_limit_c\nASA,f-asa,0.5,90\n",
        "prints.csv": "item,hours,per_plate,printers\nclip,3,1,old\n",
        "printers.csv": "kind,count,hours_per_week\nold,1,50\n",
        "stock.csv": "item,quantity,location,expires\nf-asa,250,shelf,2026-11-29\n"
        "f-asa,50,box,2026-12-31\n",
        "plan.toml": "start = 2026-11-30\nhorizon_weeks = 4\nlist_weeks = 2\n",
    }
    folder = tmp_path / "data"
    written(folder, files)
    return weekly_run(folder, tmp_path / "out", False, silent)


def test_the_sheets_of_the_print_room_follow_the_list(run: Run) -> None:
    book = openpyxl.load_workbook(run.out / "2026-W49" / "print.xlsx")
    assert book.sheetnames == [
        *("Print list", "Plates", "Print room"),
    ]


def test_each_plate_has_a_line_and_its_parts_below(run: Run) -> None:
    plate, part = cells(run, "Plates")
    # 2 mounts are started: half a plate, 7 hours, 125 g with waste and what the order purges
    assert plate[:8] == ("☐", "W49-01", "old", "PETG", "start 01 Dec, due 02 Dec", 2, 7, 125)
    assert part[1:8] == ("W49-01", "print-0001", "lamp-mount", *part[4:5], 2, 7, 125)


def test_late_plates_are_marked_and_the_printers_are_named(run: Run, tmp_path: Path) -> None:
    assert "late" not in cells(run, "Plates")[0][4]
    words = " ".join(str(row[0]) for row in words_above_and_rows(run, "Plates")[:8])
    assert "Printers: 1 new, 60 h this week; 1 old, 5 h this week." in words
    late = kelto_run(tmp_path, "2026-12-01", clip_days=3)
    assert cells(late, "Plates")[0][4].startswith("▲ late 2 d; start ")


def test_the_caution_stands_on_the_plates(run: Run) -> None:
    words = " ".join(str(row[0]) for row in words_above_and_rows(run, "Plates")[:8])
    assert "takes its whole plate" in words
    assert "a caution for the engineer in charge, not an approval" in words


def test_spools_are_what_the_plates_take(run: Run) -> None:
    row = cells(run, "Print room")[0]
    assert row[1:3] == ("PETG", "filament") and row[4:7] == (0.125, 1, 0.125)


def test_spools_to_order_stand_there_in_the_week_in_which_to_order_them(
    tmp_path: Path,
) -> None:
    spools = kelto_run(tmp_path, "2026-12-09")
    # the clip starts on 8 December, its filament is ordered six working days before
    row, *_ = cells(spools, "Print room")
    assert row[1:3] == ("ASA", "f-asa")
    assert (row[4], row[7], row[9]) == (0, 50, "box")  # what has expired is not there
    assert row[10] == "■ buy-0001: 3 spools (1,250 g)"


def test_overload_and_what_slicing_anew_would_free_are_named(run: Run) -> None:
    hours = {(row[1], row[2]): row[6:10] for row in below(run, "Printer hours")}
    assert hours["old", "2026-W49"] == (7, 0, 5, "▲ 2.0 hours too many")
    assert hours["new", "2026-W49"] == (0, 0, 60, None)
    (part,) = below(run, "Approved on old printers only")
    assert (part[2], part[9], *part[4:6], part[8]) == ("old", "new", 10.5, 7, "2026-W49")


def test_hours_of_the_listed_weeks_are_printed_and_those_of_later_weeks_are_not(run: Run) -> None:
    book = openpyxl.load_workbook(run.out / "2026-W49" / "print.xlsx")
    last = int(book["Print room"].print_area.split("$")[-1])
    printed = [
        str(cell.value) for row in book["Print room"].iter_rows(max_row=last) for cell in row
    ]
    listed, later = run.report.list_weeks, run.report.weeks[len(run.report.list_weeks) :]
    assert set(listed) <= set(printed) and not set(later) & set(printed)
    below_it = {row[2] for row in below(run, "Printer hours of later weeks")}
    assert below_it == set(later)


def test_printer_hours_stand_by_kind_and_week_in_a_result_table(run: Run) -> None:
    loads = pl.read_parquet(run.out / "tables" / "shop_loads.parquet")
    assert loads.filter(pl.col("week") == "2026-W49").rows() == [
        ("printer", "new", "2026-W49", 0, 0, 60, 0),
        ("printer", "old", "2026-W49", 7, 7, 5, 0),
    ]


def test_the_load_sheet_tells_the_kinds_of_printer_apart(run: Run) -> None:
    book = openpyxl.load_workbook(run.out / "overview.xlsx")
    rows = {row[0]: row[1:3] for row in book["Load"].iter_rows(values_only=True)}
    assert rows["printers: old"] == (7, 0)
    assert rows["printers: new"] == (0, 0)


def test_the_result_table_has_a_row_for_each_order_on_a_plate(run: Run) -> None:
    plates = pl.read_parquet(run.out / "tables" / "plates.parquet")
    assert plates.select("plate", "order", "parts", "grams").rows() == [
        ("2026-W49-01", "print-0001", 2, 125.0),
        ("2026-W51-01", "print-0002", 1, 75.0),
    ]
