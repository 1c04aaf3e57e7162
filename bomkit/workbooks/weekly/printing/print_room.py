"""The print room in a week: spools to pick, hours of the printers, parts to slice anew."""

import math
from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit import units
from bomkit.tables.weeks import in_weeks
from bomkit.words import common
from bomkit.words.weekly import printing as print_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.report import Report, partitions
from bomkit.workbooks.writing.heights import height_of
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Cell,
    Line,
    Sheet,
    list_columns,
    quantity,
    section,
    text,
)

_GRAMS_IN_KG = 1000.0
_HAIR = 1e-9  # relative; hours that are over by that are not over
_WIDTHS = (3, 9, 9, 28, 9.4, 11, 8.4, 9.4, 9.4, 21.6, 22, 7.4)
_RIGHT = (4, 5, 6, 7)
_SECTION_HEIGHT, _HEAD_HEIGHT = 26.0, 27.0


def print_room_sheet(report: Report, week: str, name: str) -> Sheet:
    """Spools, then the printers' hours of the listed weeks; below it, not printed, what is to be
    sliced anew and the hours of all later weeks."""
    spools = list(_spool_lines(report, week))
    spools = spools or [Line([(print_words.NO_PLATES.format(week=week), "plain")])]
    loads = report.plan.printers.filter(pl.col("week") >= week).sort("week", "kind")
    listed = pl.col("week") <= max(report.list_weeks)
    hours = list(_hours_lines(print_words.PRINTER_HOURS_TITLE, loads.filter(listed)))
    later = list(_hours_lines(print_words.LATER_HOURS_TITLE, loads.filter(~listed)))
    return Sheet(
        name=name,
        title=print_words.PRINT_ROOM_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(print_words.SPOOL_COLUMNS, _WIDTHS, right=_RIGHT, centre=[0]),
        lines=[*spools, *hours, *_reslice_lines(report), *later],
        printed=len(spools) + len(hours),
        cautions=(work_words.PRINT_CAUTION,),
        notes=(print_words.SPOOLS_NOTE, print_words.PRINTER_HOURS_NOTE),
        filtered=False,
    )


def _headed(title: str, headings: Mapping[int, str]) -> Iterator[Line]:
    """A heading across the sheet and headings of columns below it."""
    yield Line(section(title, len(_WIDTHS)), _SECTION_HEIGHT)
    yield Line(
        [
            (headings.get(place, ""), "head_right" if place in _RIGHT else "head")
            for place in range(len(_WIDTHS))
        ],
        _HEAD_HEIGHT,
    )


def _row(cells: Mapping[int, Cell]) -> Line:
    """A row with these cells by column."""
    whole = [cells.get(place, BLANK) for place in range(len(_WIDTHS))]
    return Line(whole, height_of(whole, _WIDTHS))


def _spool_lines(report: Report, week: str) -> Iterator[Line]:
    """For each material that the week prints or orders the spools to draw and to order."""
    plates = report["plates"].filter(pl.col("week") == week)
    needed = dict(plates.group_by("material").agg(pl.col("grams").sum()).iter_rows())
    materials = report.tables["materials"].sort("material")
    filament = pl.col("item").is_in(materials["item"].implode())
    ordered = partitions(
        report["orders"]
        .filter(in_weeks("start_date", week) & filament)
        .with_columns(kg=pl.col("quantity") * units.size(pl.col("unit"))),
        "item",
    )
    stock = partitions(_usable(report).filter(filament), "item")
    for row in materials.iter_rows(named=True):
        bought, there = ordered.get((row["item"],)), stock.get((row["item"],))
        if row["material"] in needed or bought is not None:
            cells = _spool_cells(report, row, needed.get(row["material"], 0.0), bought, there)
            yield Line(cells, max(20.0, height_of(cells, _WIDTHS)))


def _spool_cells(
    report: Report,
    material: Mapping[str, Any],
    grams: float,
    bought: pl.DataFrame | None,
    stock: pl.DataFrame | None,
) -> list[Cell]:
    """The row of one material; bought: its filament's orders that start in the week, with kg; of
    neither these nor the stock there need be any."""
    item = report.items[material["item"]]
    spool, kg = material["spool_kg"], grams / _GRAMS_IN_KG
    places = [] if stock is None else sorted({*stock["location"]} - {""})
    there = 0.0 if stock is None else float(stock["quantity"].sum())
    orders = [] if bought is None else bought.rows(named=True)
    to_buy = ", ".join(
        _spools_to_buy(each["order"], each["quantity"], each["unit"], each["kg"], spool)
        for each in orders
    )
    return [
        (common.BOX, "tick"),
        (material["material"], "strong"),
        (item["item"], "text"),
        text(item["description"], "wrapped"),
        (round(kg, 6), "strong_mass"),
        (spool, "mass") if spool else BLANK,
        (round(kg / spool, 6), "strong_tenths") if spool else BLANK,
        quantity(round(there, 6), item["unit"]),
        (item["unit"], "unit"),
        text(", ".join(places), "faint_wrapped"),
        text(to_buy, "to_do_words"),
        ("", "pen"),
    ]


def _usable(report: Report) -> pl.DataFrame:
    """The stock that may be used."""
    return report.tables["stock"].filter(
        (pl.col("status") == "usable") & (pl.col("expires") >= report.start).fill_null(True)
    )


def _spools_to_buy(order: str, amount: float, unit: str, kg: float, spool: float | None) -> str:
    """What is to be ordered, in whole spools where it is said what one holds."""
    words = print_words.SPOOLS_TO_BUY if spool else print_words.FILAMENT_TO_BUY
    spools = math.ceil(round(kg / spool, 9)) if spool else 0
    return words.format(order=order, quantity=amount, unit=unit, spools=spools)


def _hours_lines(title: str, loads: pl.DataFrame) -> Iterator[Line]:
    """Hours of each printer kind, week by week, and where there are not enough."""
    if loads.is_empty():
        return
    yield from _headed(title, print_words.PRINTER_HOURS_COLUMNS)
    for row in loads.iter_rows(named=True):
        beyond = row["hours"] - row["capacity"]
        over = beyond > row["capacity"] * _HAIR
        cells: dict[int, Cell] = {
            1: (row["kind"], "strong_wrapped"),
            2: (row["week"], "text"),
            4: (row["plates"], "pieces"),
            5: (row["fewest"], "faint_pieces"),
            6: (row["hours"], "late_hours" if over else "hours"),
            7: (row["in_work"], "faint_hours"),
            8: (row["capacity"], "faint_hours"),
        }
        if over:
            cells[9] = (print_words.PRINTER_OVER.format(hours=beyond), "late_wrapped")
        yield _row(cells)


def _reslice_lines(report: Report) -> Iterator[Line]:
    """Parts approved on old printers only, with the hours that slicing them anew would free."""
    if report.plan.reslicing.is_empty():
        return
    yield Line(section(print_words.RESLICE_TITLE, len(_WIDTHS)), _SECTION_HEIGHT)
    yield Line([None, (print_words.RESLICE_NOTE, "note")])
    _, headings = _headed("", print_words.RESLICE_COLUMNS)
    yield headings
    for row in report.plan.reslicing.iter_rows(named=True):
        yield _row(
            {
                1: (row["item"], "strong_wrapped"),
                2: (row["kind"], "wrapped"),
                3: text(report.items[row["item"]]["description"], "wrapped"),
                4: (row["hours"], "strong_hours"),
                5: (row["week_hours"], "hours"),
                8: (row["week"], "text"),
                9: (row["newer_kind"], "wrapped"),
            }
        )
