"""The print room's sheets of a week: plates, spools, printer hours, parts to slice anew."""

import math
from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit import units
from bomkit.words import common, weekly
from bomkit.workbooks.report import Report, iso_week
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Cell,
    Line,
    Sheet,
    all_to_fill,
    list_columns,
    quantity,
    text,
)
from bomkit.workbooks.writing.sheet_names import sheet_names
from bomkit.workbooks.writing.style import WRITING_HEIGHT

_GRAMS_IN_KG = 1000.0
_HAIR = 1e-9  # relative; hours that are over by that are not over
_PLATE_WIDTHS = (5.5, 8, 13, 13, 31, 7, 8, 8, 9.5, 12, 11, 9, 8, 8, 8)
_PLATE_RIGHT = (5, 6, 7, 8)
_PLATE_FILLS = {12: "begun", 13: "good", 14: "scrapped"}
_PLATE_SHOWS = (1, 2, 3)
_PART_HEIGHT = 20.0
_SPOOL_WIDTHS = (5.5, 13, 13, 30, 9, 10, 10, 11, 4.5, 28, 14, 14)
_LOAD_WIDTHS = (18, 14, 12, 16, 12, 12, 14, 34)
_RESLICE_WIDTHS = (14, 34, 18, 18, 16, 14, 16)


def plate_sheets(report: Report, week: str, taken: list[str]) -> list[Sheet]:
    """What the printer operator works by in a week; nothing where no printers are stated."""
    if not has_plates(report):
        return []
    names = sheet_names(weekly.PLATE_SHEETS, taken)
    plates, spools, hours, reslice = (names[words] for words in weekly.PLATE_SHEETS)
    sheets = [
        _plates_sheet(report, week, plates),
        _spools_sheet(report, week, spools),
        _hours_sheet(report, week, hours),
    ]
    if len(report.prints.reslicing):
        sheets.append(_reslice_sheet(report, week, reslice))
    return sheets


def has_plates(report: Report) -> bool:
    """Whether what is printed is laid out on plates: printers are stated."""
    return not report.prints.loads.is_empty()


def _plates_sheet(report: Report, week: str, name: str) -> Sheet:
    """Each plate of the week with a line to fill in, and below it the parts on it."""
    lines: list[Line] = []
    dues = report.orders.select("order", order_due="due_date")
    on_plates = report.prints.plates.filter(pl.col("week") == week).join(
        dues, on="order", how="left", maintain_order="left"
    )
    for plate in on_plates.partition_by("plate", maintain_order=True):
        lines.append(Line(_plate_cells(plate), height=WRITING_HEIGHT))
        for row in plate.iter_rows(named=True):
            key = [row["order"], row["item"], row["serial"], row["order_due"], row["plate"]]
            lines.append(Line(_part_cells(report, row), height=_PART_HEIGHT, key=key))
    return Sheet(
        name=name,
        title=weekly.PLATES_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(
            weekly.PLATE_COLUMNS.values(),
            _PLATE_WIDTHS,
            _PLATE_RIGHT,
            [0],
            fills=_PLATE_FILLS,
            shows=_PLATE_SHOWS,
        ),
        lines=lines or [Line([(weekly.NO_PLATES.format(week=week), "plain")])],
        cautions=(weekly.PLATES_CAUTION,),
        notes=(*weekly.PLATES_NOTES, _printers_there(report, week)),
        filtered=bool(lines),
        entries="printed",
        frozen_columns=2,
    )


def _printers_there(report: Report, week: str) -> str:
    """How many printers of each kind there are, and the hours that they have in the week."""
    hours = report.prints.loads.filter(pl.col("week") == week).select("kind", "capacity")
    there = dict(hours.iter_rows())
    kinds = report.tables["printers"].sort("kind").select("kind", "count").iter_rows()
    named = "; ".join(
        weekly.PLATES_PRINTERS_OF_KIND.format(kind=kind, count=count, hours=there.get(kind, 0.0))
        for kind, count in kinds
    )
    return weekly.PLATES_PRINTERS.format(named=named)


def _short(plate: str) -> str:
    """The name of a plate without the year, as W49-01."""
    return plate.split("-", 1)[1]


def _plate_cells(plate: pl.DataFrame) -> list[Cell]:
    """The row of one plate: what it is printed on and in, how full it is, what is to be noted."""
    first = plate.row(0, named=True)
    return [
        (common.BOX, "tick"),
        (_short(first["plate"]), "strong"),
        (first["kind"], "strong"),
        (first["material"], "strong"),
        (weekly.PLATE_LATE.format(days=first["late_days"]), "late")
        if first["late_days"]
        else BLANK,
        (int(plate["parts"].sum()), "strong_pieces"),
        (round(100 * plate["share"].sum()), "pieces"),
        (round(float(plate["hours"].sum()), 6), "strong_hours"),
        (round(plate["grams"].sum()), "strong_pieces"),
        (first["start_date"], "strong_date"),
        (first["due_date"], "date"),
        ("", "pen"),
        *[BLANK] * len(_PLATE_FILLS),
    ]


def _part_cells(report: Report, row: Mapping[str, Any]) -> list[Cell]:
    """The row of the parts of one order on a plate."""
    described = report.items[row["item"]]["description"]
    serial = f"{described} · {row['serial']}" if row["serial"] else described
    return [
        BLANK,
        (_short(row["plate"]), "faint"),
        (row["order"], "faint"),
        (row["item"], "strong"),
        text(serial),
        (row["parts"], "pieces"),
        (round(100 * row["share"]), "faint_pieces"),
        (row["hours"], "faint_hours"),
        (round(row["grams"]), "faint_pieces"),
        BLANK,
        BLANK,
        BLANK,
        *all_to_fill("printed", _PLATE_FILLS.values()),
    ]


def _spools_sheet(report: Report, week: str, name: str) -> Sheet:
    """For each material that the week prints or orders the spools to draw and to order."""
    plates = report.prints.plates.filter(pl.col("week") == week)
    needed = dict(plates.group_by("material").agg(pl.col("grams").sum()).iter_rows())
    ordered = report.orders.filter(iso_week("start_date") == week)
    materials = report.tables["materials"].sort("material").iter_rows(named=True)
    lines = [
        Line(
            _spool_cells(report, row, needed.get(row["material"], 0.0), bought),
            height=WRITING_HEIGHT,
        )
        for row in materials
        for bought in [ordered.filter(pl.col("item") == row["item"])]
        if row["material"] in needed or len(bought)
    ]
    return Sheet(
        name=name,
        title=weekly.SPOOLS_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(weekly.SPOOL_COLUMNS, _SPOOL_WIDTHS, right=(4, 5, 6, 7), centre=[0]),
        lines=lines or [Line([(weekly.NO_PLATES.format(week=week), "plain")])],
        notes=(weekly.SPOOLS_NOTE,),
        filtered=False,
    )


def _spool_cells(
    report: Report, material: Mapping[str, Any], grams: float, bought: pl.DataFrame
) -> list[Cell]:
    """The row of one material; bought: its filament's orders that start in the week."""
    item = report.items[material["item"]]
    spool, kg = material["spool_kg"], grams / _GRAMS_IN_KG
    stock = report.tables["stock"].filter(
        (pl.col("item") == item["item"])
        & (pl.col("status") == "usable")
        & (pl.col("expires") >= report.start).fill_null(True)
    )
    places = ", ".join(stock["location"].filter(stock["location"] != "").unique().sort())
    to_buy = ", ".join(
        _spools_to_buy(order, amount, unit, in_kg, spool)
        for order, amount, unit, in_kg in bought.select(
            "order", "quantity", "unit", kg=pl.col("quantity") * units.size(pl.col("unit"))
        ).iter_rows()
    )
    return [
        (common.BOX, "tick"),
        (material["material"], "strong"),
        (item["item"], "text"),
        text(item["description"], "wrapped"),
        (round(kg, 6), "strong_mass"),
        (spool, "mass") if spool else BLANK,
        (round(kg / spool, 6), "strong_tenths") if spool else BLANK,
        quantity(round(float(stock["quantity"].sum()), 6), item["unit"]),
        (item["unit"], "unit"),
        text(places, "faint_wrapped"),
        text(to_buy, "to_do_words"),
        ("", "pen"),
    ]


def _spools_to_buy(order: str, amount: float, unit: str, kg: float, spool: float | None) -> str:
    """What is to be ordered, in whole spools where it is said what one holds."""
    words = weekly.SPOOLS_TO_BUY if spool else weekly.FILAMENT_TO_BUY
    spools = math.ceil(round(kg / spool, 9)) if spool else 0
    return words.format(order=order, quantity=amount, unit=unit, spools=spools)


def _hours_sheet(report: Report, week: str, name: str) -> Sheet:
    """Hours of each printer kind from this week on, and where there are not enough."""
    loads = report.prints.loads.filter(pl.col("week") >= week)
    lines = [Line(_load_cells(row)) for row in loads.iter_rows(named=True)]
    return Sheet(
        name=name,
        title=weekly.PRINTER_HOURS_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(weekly.PRINTER_HOURS_COLUMNS, _LOAD_WIDTHS, right=(2, 3, 4, 5, 6)),
        lines=lines,
        notes=(weekly.PRINTER_HOURS_NOTE,),
    )


def _load_cells(row: Mapping[str, Any]) -> list[Cell]:
    """One printer kind in one week."""
    beyond = row["hours"] - row["capacity"]
    over = beyond > row["capacity"] * _HAIR
    return [
        (row["kind"], "strong"),
        (row["week"], "text"),
        (row["plates"], "pieces"),
        (row["fewest"], "faint_pieces"),
        (row["hours"], "late_hours" if over else "hours"),
        (row["in_work"], "faint_hours"),
        (row["capacity"], "faint_hours"),
        (weekly.PRINTER_OVER.format(hours=beyond), "late") if over else BLANK,
    ]


def _reslice_sheet(report: Report, week: str, name: str) -> Sheet:
    """Parts approved on old printers only, with the hours that slicing them anew would free."""
    lines = [
        Line(
            [
                (row["item"], "strong"),
                text(report.items[row["item"]]["description"]),
                (row["kind"], "text"),
                (row["newer_kind"], "text"),
                (row["hours"], "strong_hours"),
                (row["week_hours"], "hours"),
                (row["week"], "text"),
            ]
        )
        for row in report.prints.reslicing.iter_rows(named=True)
    ]
    return Sheet(
        name=name,
        title=weekly.RESLICE_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(weekly.RESLICE_COLUMNS, _RESLICE_WIDTHS, right=(4, 5)),
        lines=lines,
        cautions=(weekly.PRINT_CAUTION,),
        notes=(weekly.RESLICE_NOTE,),
    )
