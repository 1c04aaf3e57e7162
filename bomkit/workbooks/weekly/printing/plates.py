"""The plates of a week, in the order in which to run them."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import common
from bomkit.words.weekly import printing as print_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.printing.spools_and_hours import print_room_sheet
from bomkit.workbooks.writing.sheet import BLANK, Cell, Column, Line, Sheet, text
from bomkit.workbooks.writing.sheet_names import sheet_names

_HEADS = print_words.PLATE_COLUMNS
_FORM = ListForm(
    {
        "done": Column(_HEADS["done"], 3, "head_centre"),
        "plate": Column(_HEADS["plate"], 7.4, shows=True),
        "printer": Column(_HEADS["printer"], 10.4, shows=True),
        "material": Column(_HEADS["material"], 9, shows=True),
        "description": Column(_HEADS["description"], 24.6),
        "parts": Column(_HEADS["parts"], 6.9, "head_right"),
        "hours": Column(_HEADS["hours"], 7.2, "head_right"),
        "grams": Column(_HEADS["grams"], 7.7, "head_right"),
        "machine": Column(_HEADS["machine"], 7),
        "started": Column(_HEADS["started"], 6.6, fills="begun"),
        "good": Column(_HEADS["good"], 5.4, fills="good"),
        "failed": Column(_HEADS["failed"], 6.3, fills="scrapped"),
    },
    "printed",
)


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
        lines.append(_FORM.row(_plate_cells(report, plate)))
        for row in plate.iter_rows(named=True):
            key = [row["order"], row["item"], row["serial"], row["order_due"], row["plate"]]
            lines.append(_FORM.row(_part_cells(report, row), key))
    return Sheet(
        name=name,
        title=print_words.PLATES_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=lines or [_FORM.sentence(print_words.NO_PLATES.format(week=week))],
        cautions=(print_words.PLATES_CAUTION,),
        notes=(f"{print_words.PLATES_NOTES} {_printers_there(report, week)}",),
        filtered=bool(lines),
        portrait=True,
        entries=_FORM.entries,
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


def _plate_cells(report: Report, plate: pl.DataFrame) -> dict[str, Cell]:
    """The row of one plate: what it is printed on and in, when, and how full it is."""
    first = plate.row(0, named=True)
    late = [print_words.PLATE_LATE.format(days=first["late_days"])] if first["late_days"] else []
    about = print_words.PLATE_ABOUT.format(
        start=f"{first['start_date']:%d %b}", due=f"{first['due_date']:%d %b}"
    )
    return {
        "done": (common.BOX, "tick"),
        "plate": (_short(first["plate"]), "strong"),
        "printer": (first["kind"], "strong_wrapped"),
        "material": (first["material"], "strong_wrapped"),
        "description": ("; ".join([*late, about]), "late_wrapped" if late else "faint_wrapped"),
        "parts": (int(plate["parts"].sum()), "strong_pieces"),
        "hours": (round(float(plate["hours"].sum()), 6), "strong_hours"),
        "grams": (round(plate["grams"].sum()), "strong_pieces"),
        "machine": ("", "pen"),
        **_FORM.to_fill(False),
    }


def _part_cells(report: Report, row: Mapping[str, Any]) -> dict[str, Cell]:
    """The row of the parts of one order on a plate."""
    described = report.items[row["item"]]["description"]
    serial = f"{described} · {row['serial']}" if row["serial"] else described
    return {
        "done": BLANK,
        "plate": (_short(row["plate"]), "faint"),
        "printer": (row["order"], "faint_wrapped"),
        "material": (row["item"], "strong_wrapped"),
        "description": text(serial, "wrapped"),
        "parts": (row["parts"], "pieces"),
        "hours": (row["hours"], "faint_hours"),
        "grams": (round(row["grams"]), "faint_pieces"),
        "machine": BLANK,
        **_FORM.to_fill(),
    }
