"""The print room in a week: spools to pick, hours of the printers, parts to slice anew."""

import math
from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit import units
from bomkit.tables.weeks import in_weeks
from bomkit.units import TOLERANCE
from bomkit.words import common
from bomkit.words.weekly import printing as print_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.rows_by_columns import partitions
from bomkit.workbooks.writing.sheet import BLANK, Cell, Column, Line, Sheet, quantity, text

_GRAMS_IN_KG = 1000.0
_HEADS = print_words.SPOOL_COLUMNS
_COLUMNS = {
    "done": Column(_HEADS["done"], 3, "head_centre"),
    "material": Column(_HEADS["material"], 9),
    "filament": Column(_HEADS["filament"], 9),
    "description": Column(_HEADS["description"], 28),
    "needed": Column(_HEADS["needed"], 9.4, "head_right"),
    "on_a_spool": Column(_HEADS["on_a_spool"], 11, "head_right"),
    "spools": Column(_HEADS["spools"], 8.4, "head_right"),
    "in_stock": Column(_HEADS["in_stock"], 9.4, "head_right"),
    "unit": Column(_HEADS["unit"], 9.4),
    "places": Column(_HEADS["places"], 21.6),
    "to_order": Column(_HEADS["to_order"], 22),
    "picked": Column(_HEADS["picked"], 7.4),
}
_FORM = ListForm(_COLUMNS)
# the lists below the spools: for each of their columns the column of the spools that it is in
_HOURS = {
    "printers": "material",
    "week": "filament",
    "plates": "needed",
    "fewest": "on_a_spool",
    "hours": "spools",
    "in_work": "in_stock",
    "available": "unit",
    "state": "places",
}
_RESLICE = {
    "item": "material",
    "approved_on": "filament",
    "description": "description",
    "freed": "needed",
    "most": "on_a_spool",
    "week": "unit",
    "sliced_for": "places",
}
_SECTION_HEIGHT, _HEAD_HEIGHT, _SPOOLS_HEIGHT = 26.0, 27.0, 20.0


def print_room_sheet(report: Report, week: str, name: str) -> Sheet:
    """Spools, then the printers' hours of the listed weeks; below it, not printed, what is to be
    sliced anew and the hours of all later weeks."""
    spools = list(_spool_lines(report, week))
    spools = spools or [_FORM.sentence(print_words.NO_PLATES.format(week=week))]
    loads = report.plan.printers.filter(pl.col("week") >= week).sort("week", "kind")
    listed = pl.col("week") <= max(report.list_weeks)
    hours = list(_hours_lines(print_words.PRINTER_HOURS_TITLE, loads.filter(listed)))
    later = list(_hours_lines(print_words.LATER_HOURS_TITLE, loads.filter(~listed)))
    return Sheet(
        name=name,
        title=print_words.PRINT_ROOM_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=[*spools, *hours, *_reslice_lines(report), *later],
        printed=len(spools) + len(hours),
        cautions=(work_words.PRINT_CAUTION,),
        notes=(print_words.SPOOLS_NOTE, print_words.PRINTER_HOURS_NOTE),
        filtered=False,
    )


def _headings(below: Mapping[str, str], headings: Mapping[str, str]) -> Line:
    """The headings of a list below the spools; below: in which columns its own are."""
    words = {below[name]: heading for name, heading in headings.items()}
    cells = {
        name: (words.get(name, ""), "head_right" if column.style == "head_right" else "head")
        for name, column in _COLUMNS.items()
    }
    return _FORM.line(cells, _HEAD_HEIGHT)


def _row(below: Mapping[str, str], cells: Mapping[str, Cell]) -> Line:
    """A row of such a list, with these cells by its own columns."""
    placed = {below[name]: cell for name, cell in cells.items()}
    return _FORM.row({**dict.fromkeys(_COLUMNS, BLANK), **placed})


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
            line = _FORM.row(cells)
            yield line._replace(height=max(_SPOOLS_HEIGHT, line.height or 0))


def _spool_cells(
    report: Report,
    material: Mapping[str, Any],
    grams: float,
    bought: pl.DataFrame | None,
    stock: pl.DataFrame | None,
) -> dict[str, Cell]:
    """The row of one material; bought: its filament's orders that start in the week, with kg; of
    neither these nor the stock there need be any."""
    item = report.items[material["item"]]
    spool, kg = material["spool_kg"], grams / _GRAMS_IN_KG
    places = [] if stock is None else sorted({*stock["location"]} - {""})
    there = 0.0 if stock is None else float(stock["quantity"].sum())
    return {
        "done": (common.BOX, "tick"),
        "material": (material["material"], "strong"),
        "filament": (item["item"], "text"),
        "description": text(item["description"], "wrapped"),
        "needed": (round(kg, 6), "strong_mass"),
        "on_a_spool": (spool, "mass") if spool else BLANK,
        "spools": (round(kg / spool, 6), "strong_tenths") if spool else BLANK,
        "in_stock": quantity(round(there, 6), item["unit"]),
        "unit": (item["unit"], "unit"),
        "places": text(", ".join(places), "faint_wrapped"),
        "to_order": text(_all_to_buy(bought, spool), "to_do_words"),
        "picked": ("", "pen"),
    }


def _usable(report: Report) -> pl.DataFrame:
    """The stock that may be used."""
    return report.tables["stock"].filter(
        (pl.col("status") == "usable") & (pl.col("expires") >= report.start).fill_null(True)
    )


def _all_to_buy(bought: pl.DataFrame | None, spool: float | None) -> str:
    """What is to be ordered of one filament, order by order."""
    orders = [] if bought is None else bought.rows(named=True)
    return ", ".join(
        _spools_to_buy(each["order"], each["quantity"], each["unit"], each["kg"], spool)
        for each in orders
    )


def _spools_to_buy(order: str, amount: float, unit: str, kg: float, spool: float | None) -> str:
    """One order, in whole spools where it is said what one holds."""
    words = print_words.SPOOLS_TO_BUY if spool else print_words.FILAMENT_TO_BUY
    spools = math.ceil(round(kg / spool, 9)) if spool else 0
    return words.format(order=order, quantity=amount, unit=unit, spools=spools)


def _hours_lines(title: str, loads: pl.DataFrame) -> Iterator[Line]:
    """Hours of each printer kind, week by week, and where there are not enough."""
    if loads.is_empty():
        return
    yield _FORM.section(title, height=_SECTION_HEIGHT)
    yield _headings(_HOURS, print_words.PRINTER_HOURS_COLUMNS)
    for row in loads.iter_rows(named=True):
        beyond = row["hours"] - row["capacity"]
        over = beyond > row["capacity"] * TOLERANCE
        cells: dict[str, Cell] = {
            "printers": (row["kind"], "strong_wrapped"),
            "week": (row["week"], "text"),
            "plates": (row["plates"], "pieces"),
            "fewest": (row["fewest"], "faint_pieces"),
            "hours": (row["hours"], "late_hours" if over else "hours"),
            "in_work": (row["in_work"], "faint_hours"),
            "available": (row["capacity"], "faint_hours"),
        }
        if over:
            cells["state"] = (print_words.PRINTER_OVER.format(hours=beyond), "late_wrapped")
        yield _row(_HOURS, cells)


def _reslice_lines(report: Report) -> Iterator[Line]:
    """Parts approved on old printers only, with the hours that slicing them anew would free."""
    if report.plan.reslicing.is_empty():
        return
    yield _FORM.section(print_words.RESLICE_TITLE, height=_SECTION_HEIGHT)
    yield _FORM.line({"material": (print_words.RESLICE_NOTE, "note")})
    yield _headings(_RESLICE, print_words.RESLICE_COLUMNS)
    for row in report.plan.reslicing.iter_rows(named=True):
        cells: dict[str, Cell] = {
            "item": (row["item"], "strong_wrapped"),
            "approved_on": (row["kind"], "wrapped"),
            "description": text(report.items[row["item"]]["description"], "wrapped"),
            "freed": (row["hours"], "strong_hours"),
            "most": (row["week_hours"], "hours"),
            "week": (row["week"], "text"),
            "sliced_for": (row["newer_kind"], "wrapped"),
        }
        yield _row(_RESLICE, cells)
