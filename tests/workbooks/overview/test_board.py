"""The board: what its bands, marks and lines say, and that it prints on one page, large enough."""

import datetime as dt
import io
from pathlib import Path
from textwrap import wrap
from typing import Any

import openpyxl
import polars as pl
import pytest

from bomkit.runs.week.plan import Run, weekly_run
from bomkit.words import board as words
from bomkit.words.progress import silent
from bomkit.workbooks.overview.board import board_sheets
from bomkit.workbooks.overview.board_stages import short_names, stage_bands
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing import style
from bomkit.workbooks.writing.sheet import Sheet
from bomkit.workbooks.writing.write import workbook_bytes
from tests.workbooks.other_reports import with_plan, with_results

MONDAY = dt.date(2026, 11, 30)
FILES = {
    "items.csv": "item,description,source,process,unit,lead_days,hours_each,supplier\n"
    "craft,Craft,make,fit,pc,5,10,\nhull,Hull,make,lay,pc,5,20,\nrib,Rib,make,cut,pc,5,4,\n"
    "motor,Motor,buy,,pc,30,,\nset,Set,kit,,pc,2,,\n",
    "structure.csv": "parent,child,quantity\ncraft,hull,1\nhull,rib,2\ncraft,motor,1\nset,rib,1\n",
    "build_plan.csv": "serial,item,ready_date\nX-1,craft,2026-12-25\nX-2,craft,2027-01-29\n",
    "processes.csv": "process,hours_per_week,stage\ncut,40,shell\nlay,40,shell\nfit,,\n",
    "open_orders.csv": "order,item,quantity,due_date\nPO-1,rib,1,2026-12-02\n"
    "PO-2,rib,1,2026-11-20\nPO-3,rib,1,2026-12-09\n",
    "stock.csv": "item,quantity\nrib,3\n",
    "spares_orders.csv": "order,item,quantity,need_date\nS-1,set,1,2026-12-04\n"
    "S-2,rib,1,2026-12-11\n",
    "plan.toml": "start = 2026-11-30\nhorizon_weeks = 12\nlist_weeks = 2\n",
}


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Report:
    folder = tmp_path_factory.mktemp("board")
    for name, text in FILES.items():
        (folder / name).write_text(text)
    return weekly_run(folder, folder / "out", False, silent).report


def rows(sheet: Sheet) -> dict[str, list[Any]]:
    """The rows of a board by their first cell, their cells as words."""
    return {
        line.cells[0][0]: [cell and cell[0] for cell in line.cells]
        for line in sheet.lines
        if line.cells and line.cells[0]
    }


def weeks(sheet: Sheet) -> range:
    """The places of the columns of weeks."""
    looks = [column.style for column in sheet.columns]
    return range(looks.index("board_week"), len(looks) - 1)


def test_bands_follow_the_work_from_stage_to_stage_up_to_the_wanted_week(small: Report) -> None:
    board = board_sheets(small)[0]
    across = weeks(board)
    row = rows(board)["X-2"]
    # fit takes 5 days before Fri 29 Jan; the hull the 5 before, its ribs are in the stage shell too
    first_days = [MONDAY + dt.timedelta(weeks=week) for week in range(len(across))]
    told = dict(zip(first_days, (row[place] for place in across), strict=True))
    assert told[dt.date(2027, 1, 25)] == words.WANTED
    assert told[dt.date(2027, 1, 18)] in ("F", "S")
    assert told[dt.date(2027, 1, 11)] == "S"
    assert not any(told[day] for day in first_days if day > dt.date(2027, 1, 29))
    assert "S shell, F fit" in " ".join(board.notes)


def test_a_late_airframe_says_by_how_much_and_what_it_waits_for(small: Report) -> None:
    board = board_sheets(small)[0]
    _, wanted, forecast, late, *middle, waits = rows(board)["X-1"]
    told = small["forecast"].filter(pl.col("demand") == "X-1").row(0, named=True)
    assert (wanted, forecast) == (told["ready_date"], told["earliest_date"])
    assert late == f"▲ {told['late_days']} d" and told["late_days"] > 0
    assert waits.startswith("Motor: buy-") and "there" in waits
    places = [number for number, cell in enumerate(middle) if cell == words.WANTED]
    assert places == [(wanted - MONDAY).days // 7]
    places = [number for number, cell in enumerate(middle) if cell == words.FORECAST]
    assert places == [(forecast - MONDAY).days // 7]


def test_the_first_day_of_the_plan_is_a_thick_line_before_the_first_week(small: Report) -> None:
    for board in board_sheets(small):
        first = weeks(board)[0]
        bands = [line for line in board.lines if len(line.cells) > first and line.cells[1]]
        assert bands
        for line in bands:
            looks = [cell[1] for cell in line.cells if cell]
            assert [look.startswith("today_") for look in looks].index(True) == first
            assert sum(look.startswith("today_") for look in looks) == 1
    assert style.STYLES["today_stage_none"].today


def test_the_lines_below_count_hours_arrivals_and_spares_orders(small: Report) -> None:
    board = board_sheets(small)[0]
    across, found = weeks(board), rows(board)
    week = small.weeks[0]
    loads = small["loads"].filter((pl.col("week") == week) & (pl.col("capacity") > 0))
    share = round(100 * loads["hours"].sum() / loads["capacity"].sum())
    assert found[words.HOURS_LINE][across[0]] == share
    arrivals = found[words.ARRIVES_LINE]
    assert arrivals[across[0] : across[0] + 3] == ["2", "1", ""]  # what is overdue comes today
    assert arrivals[-1] == "this week: PO-1, PO-2"
    # the kit is packed in two days, and the rib of S-2, wanted next week, lies there today
    spares = found[words.SPARES_LINE]
    assert spares[across[0]] == "2" and spares[-1] == "this week: S-1, S-2"


def test_loose_parts_that_can_leave_this_week_are_named_on_the_board(full_run: Run) -> None:
    told = rows(board_sheets(full_run.report)[0])[words.SPARES_LINE][-1]
    assert told == "this week: SP-2611, SP-2623"


def loaded(report: Report, *over: tuple[str, str]) -> list[Any]:
    """The line of hours where these shops (kind and name) have twice what they can in the first
    week, and no process more than it can."""
    week = report.weeks[0]
    columns = {"week": week, "load_before": 0.0, "load": 80.0, "capacity": 40.0, "in_work": 0.0}
    shops = pl.DataFrame([{"kind": kind, "name": name} | columns for kind, name in over])
    calm = report["loads"].with_columns(hours=pl.lit(1.0))
    other = with_results(report, loads=calm, shop_loads=shops.select(report["shop_loads"].columns))
    (line,) = (
        line.cells
        for line in board_sheets(other)[0].lines
        if line.cells and line.cells[0] and line.cells[0][0] == words.HOURS_LINE
    )
    return list(line)


def test_printers_and_moulds_with_too_much_to_do_are_named_and_darken_the_week(
    small: Report,
) -> None:
    line = loaded(small, ("printer", "bench"), ("mould", "hull"))
    assert line[-1][0] == "▲ too much this week: mould of hull, printers bench"
    first = weeks(board_sheets(small)[0])[0]
    assert [line[place][1] for place in (first, first + 1)] == ["board_over", "board_count"]


def test_what_has_the_most_too_much_to_do_this_week_is_named_first(full_run: Run) -> None:
    told = rows(board_sheets(full_run.report)[0])[words.HOURS_LINE][-1]
    assert told == "▲ too much this week: printers bench, machine, core-trim, lay-up"


def test_spares_orders_have_a_board_of_their_own(small: Report) -> None:
    _, spares = board_sheets(small)
    assert list(rows(spares)) == ["S-1", "S-2"]
    assert rows(spares)["S-1"][1] == dt.date(2026, 12, 4)
    assert rows(spares)["S-2"][-1] == "1 pc Rib"
    alone = with_results(small, promises=small["promises"].clear())
    assert [sheet.name for sheet in board_sheets(alone)] == [words.BOARD]


def test_a_band_stands_where_there_is_work_and_nowhere_else(full_run: Run) -> None:
    report = full_run.report
    first = report.start
    mondays = [first + dt.timedelta(weeks=week) for week in range(len(report.weeks))]
    bands = stage_bands(report, mondays, ["FN-070", "FN-071"])
    stages = dict(report.tables["processes"].select("process", "stage").iter_rows())
    begins = dict(report["ready"].select("order", "can_start").iter_rows())
    serial = "FN-070"
    mine = set(report["pegs"].filter(pl.col("demand") == serial)["supply"])
    worked: dict[int, set[str]] = {}
    for order in report["orders"].iter_rows(named=True):
        process = report.items[order["item"]]["process"]
        if order["order"] not in mine or order["source"] == "buy" or not process:
            continue
        begin = begins.get(order["order"], order["start_date"])
        end = order["due_date"] + (begin - order["start_date"])
        for column, monday in enumerate(mondays):
            if begin <= monday + dt.timedelta(days=6) and monday <= max(begin, end):
                worked.setdefault(column, set()).add(stages[process])
    told = {column: stage for (demand, column), stage in bands.items() if demand == serial}
    assert told.keys() == worked.keys() and len(told) > 8
    assert all(stage in worked[column] for column, stage in told.items())
    assert len(set(told.values())) > 3


def test_stages_that_begin_alike_get_names_of_their_own() -> None:
    assert short_names(["paint", "parts", "pa", "-"]) == {
        "paint": "P",
        "parts": "Pa",
        "pa": "3",
        "-": "?",
    }


def printed_scale(sheet: Sheet) -> float:
    """By how much a page of A3 makes the sheet smaller (widths and margins as written)."""
    wide = sum(column.width * 7 + 5 for column in sheet.columns) * 72 / 96
    notes = len(sheet.cautions) + len(sheet.notes)
    high = 27 + 16.5 * (1 + notes) + 15 + sheet.heading_height
    high += sum(line.height or style.USUAL_HEIGHT for line in sheet.lines)
    room_wide, room_high = 420 / 25.4 * 72 - 2 * 0.43 * 72, 297 / 25.4 * 72 - (0.43 + 0.6) * 72
    return min(1.0, room_wide / wide, room_high / high)


def smallest(sheet: Sheet) -> float:
    """The smallest type on the sheet, in points."""
    looks = {"board_note", *(column.style for column in sheet.columns)}
    looks |= {cell[1] for line in sheet.lines for cell in line.cells if cell}
    return min(style.STYLES[look].size for look in looks)


def large(report: Report, airframes: int, horizon: int) -> Report:
    """The report with more airframes and weeks than any board has room for."""
    serials = [f"X-{number:03}" for number in range(airframes)]
    day = dt.date(2027, 1, 29)
    plan = {"serial": serials, "item": ["craft"] * airframes, "ready_date": [day] * airframes}
    frame = pl.DataFrame(plan).with_columns(options=pl.lit(""), row=pl.lit(2))
    weeks = [f"{MONDAY + dt.timedelta(weeks=week):%G-W%V}" for week in range(horizon)]
    return with_plan(report, tables={**report.tables, "build_plan": frame}, weeks=weeks)


@pytest.mark.parametrize("case", ["small", "sample", "large"])
def test_the_board_prints_on_one_page_with_nothing_below_nine_points(
    small: Report, full_run: Run, case: str
) -> None:
    report = {"small": small, "sample": full_run.report, "large": large(small, 90, 156)}[case]
    for sheet in board_sheets(report):
        assert printed_scale(sheet) * smallest(sheet) >= 9
        book = openpyxl.load_workbook(io.BytesIO(workbook_bytes(report.book([sheet]))))
        page = book.worksheets[0].page_setup
        assert (page.fitToWidth, page.fitToHeight, page.paperSize) == (1, 1, 8)  # 8 is A3
        assert page.orientation == "landscape"


def test_what_does_not_fit_is_counted(small: Report) -> None:
    board = board_sheets(large(small, 90, 156))[0]
    assert len(weeks(board)) == 26  # of six weeks each
    assert "a column for 6 weeks" in " ".join(board.notes)
    assert any(str(name).startswith("and 64 more") for name in rows(board))


@pytest.mark.parametrize("case", ["small", "sample"])
def test_no_words_on_the_board_are_cut(small: Report, full_run: Run, case: str) -> None:
    for sheet in board_sheets(small if case == "small" else full_run.report):
        for line in sheet.lines:
            for cell, column in zip(line.cells, sheet.columns, strict=False):
                if cell is None or not isinstance(cell[0], str) or cell[1] == "board_line":
                    continue
                look = style.STYLES[cell[1]]
                letters = int(column.width * 1.12 * 10 / look.size)
                lines = len(wrap(cell[0], max(1, letters)))
                assert lines <= (2 if look.wrap else 1), cell
                assert lines * look.size * 1.2 <= (line.height or 0) or not cell[0]


def test_the_board_is_the_first_sheet_and_written_without_pictures(tiny_run: Run) -> None:
    book = openpyxl.load_workbook(Path(tiny_run.out) / "overview.xlsx")
    board = book.worksheets[0]
    assert board.title == words.BOARD
    assert not board._images and not board._charts
    ground = {
        cell.fill.fgColor.rgb for row in board.iter_rows() for cell in row if cell.fill.fill_type
    }
    assert ground
