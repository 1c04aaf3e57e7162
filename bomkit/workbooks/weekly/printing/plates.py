"""The plates of a week, in the order in which to run them."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import common
from bomkit.words.weekly import printing as print_words
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.printing.print_room import print_room_sheet
from bomkit.workbooks.writing.heights import height_of
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Cell,
    Line,
    Sheet,
    all_to_fill,
    list_columns,
    text,
)
from bomkit.workbooks.writing.sheet_names import sheet_names

_WIDTHS = (3, 7.4, 10.4, 9, 24.6, 6.9, 7.2, 7.7, 7, 6.6, 5.4, 6.3)
_RIGHT = (5, 6, 7)
_FILLS = {9: "begun", 10: "good", 11: "scrapped"}
_SHOWS = (1, 2, 3)


def plate_sheets(report: Report, week: str, taken: list[str]) -> list[Sheet]:
    """What the printer operator works by in a week; nothing where no printers are stated."""
    if not has_plates(report):
        return []
    names = sheet_names(print_words.PLATE_SHEETS, taken)
    plates, room = (names[words] for words in print_words.PLATE_SHEETS)
    return [_plates_sheet(report, week, plates), print_room_sheet(report, week, room)]


def has_plates(report: Report) -> bool:
    """Whether what is printed is laid out on plates: printers are stated."""
    return not report.plan.printers.is_empty()


def _plates_sheet(report: Report, week: str, name: str) -> Sheet:
    """Each plate of the week with a line to fill in, and below it the parts on it."""
    lines: list[Line] = []
    dues = report["orders"].select("order", order_due="due_date")
    on_plates = (
        report["plates"]
        .filter(pl.col("week") == week)
        .join(dues, on="order", how="left", maintain_order="left")
    )
    for plate in on_plates.partition_by("plate", maintain_order=True):
        cells = _plate_cells(report, plate)
        lines.append(Line(cells, height_of(cells, _WIDTHS)))
        for row in plate.iter_rows(named=True):
            key = [row["order"], row["item"], row["serial"], row["order_due"], row["plate"]]
            cells = _part_cells(report, row)
            lines.append(Line(cells, height_of(cells, _WIDTHS), key))
    return Sheet(
        name=name,
        title=print_words.PLATES_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(
            print_words.PLATE_COLUMNS.values(), _WIDTHS, _RIGHT, [0], fills=_FILLS, shows=_SHOWS
        ),
        lines=lines or [Line([(print_words.NO_PLATES.format(week=week), "plain")])],
        cautions=(print_words.PLATES_CAUTION,),
        notes=(f"{print_words.PLATES_NOTES} {_printers_there(report, week)}",),
        filtered=bool(lines),
        portrait=True,
        entries="printed",
        frozen_columns=2,
    )


def _printers_there(report: Report, week: str) -> str:
    """How many printers of each kind there are, and the hours that they have in the week."""
    hours = report.plan.printers.filter(pl.col("week") == week).select("kind", "capacity")
    there = dict(hours.iter_rows())
    kinds = report.tables["printers"].sort("kind").select("kind", "count").iter_rows()
    named = "; ".join(
        print_words.PLATES_PRINTERS_OF_KIND.format(
            kind=kind, count=count, hours=there.get(kind, 0.0)
        )
        for kind, count in kinds
    )
    return print_words.PLATES_PRINTERS.format(named=named)


def _short(plate: str) -> str:
    """The name of a plate without the year, as W49-01."""
    return plate.split("-", 1)[1]


def _plate_cells(report: Report, plate: pl.DataFrame) -> list[Cell]:
    """The row of one plate: what it is printed on and in, when, and how full it is."""
    first = plate.row(0, named=True)
    late = [print_words.PLATE_LATE.format(days=first["late_days"])] if first["late_days"] else []
    about = print_words.PLATE_ABOUT.format(
        start=f"{first['start_date']:%d %b}", due=f"{first['due_date']:%d %b}"
    )
    return [
        (common.BOX, "tick"),
        (_short(first["plate"]), "strong"),
        (first["kind"], "strong_wrapped"),
        (first["material"], "strong_wrapped"),
        ("; ".join([*late, about]), "late_wrapped" if late else "faint_wrapped"),
        (int(plate["parts"].sum()), "strong_pieces"),
        (round(float(plate["hours"].sum()), 6), "strong_hours"),
        (round(plate["grams"].sum()), "strong_pieces"),
        ("", "pen"),
        *[BLANK] * len(_FILLS),
    ]


def _part_cells(report: Report, row: Mapping[str, Any]) -> list[Cell]:
    """The row of the parts of one order on a plate."""
    described = report.items[row["item"]]["description"]
    serial = f"{described} · {row['serial']}" if row["serial"] else described
    return [
        BLANK,
        (_short(row["plate"]), "faint"),
        (row["order"], "faint_wrapped"),
        (row["item"], "strong_wrapped"),
        text(serial, "wrapped"),
        (row["parts"], "pieces"),
        (row["hours"], "faint_hours"),
        (round(row["grams"]), "faint_pieces"),
        BLANK,
        *all_to_fill("printed", _FILLS.values()),
    ]
