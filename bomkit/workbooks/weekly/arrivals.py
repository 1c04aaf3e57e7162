"""The arrivals workbook of a week: what suppliers owe, with room for what came."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import common, weekly
from bomkit.words import shelves as said
from bomkit.workbooks.report import Report, iso_week
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Line,
    Sheet,
    all_to_fill,
    list_columns,
    quantity,
    section,
    text,
)
from bomkit.workbooks.writing.style import WRITING_HEIGHT

_WIDTHS = (5, 11, 12, 28, 11, 11, 9, 5, 19, 8, 8, 12, 11, 14)
_RIGHT = (6,)
_DESCRIPTION, _USUAL = 3, 8
_FILLS = {9: "arrived", 10: "rejected", 11: "lot", 12: "use_by", 13: "place"}
_SHOWS = (1, 2, 4)
_KEY = ("order", "item", "serial", "due_date")


def arrivals_book(report: Report, week: str) -> Book:
    """What is due in a week; in the first one also what is overdue, and what is due later on."""
    owed = _owed(report)
    due, first = iso_week("due_date"), week == report.list_weeks[0]
    own = due <= week if first else due == week
    title = said.ARRIVALS_FIRST_TITLE if first else said.ARRIVALS_TITLE
    sheets = [_sheet(report, week, owed.filter(own), said.ARRIVALS_SHEET, title)]
    later = owed.filter(due > report.list_weeks[-1])
    if first and len(later):
        sheets.append(_sheet(report, week, later, said.LATER_SHEET, said.LATER_TITLE))
    return report.book(sheets)


def _owed(report: Report) -> pl.DataFrame:
    """The open purchases with what their items and suppliers say, by supplier and day."""
    items = report.tables["items"].select(
        "item", "description", "unit", "source", usual_supplier="supplier"
    )
    names = report.tables["suppliers"].select("supplier", "name")
    own = pl.when(pl.col("supplier") != "").then("supplier").otherwise("usual_supplier")
    return (
        report.tables["open_orders"]
        .join(items, on="item", how="left")
        .filter(pl.col("source") == "buy")
        .with_columns(supplier=own)
        .join(names, on="supplier", how="left")
        .with_columns(
            party=pl.coalesce(
                pl.when(pl.col("name") != "").then("name"),
                pl.when(pl.col("supplier") != "").then("supplier"),
                pl.lit(weekly.NO_SUPPLIER),
            )
        )
        .sort("party", "due_date", "order", "item", "serial")
    )


def _sheet(report: Report, week: str, owed: pl.DataFrame, name: str, title: str) -> Sheet:
    lines: list[Line] = []
    for group in owed.partition_by("party", maintain_order=True):
        lines.append(Line(section(group["party"][0], len(_WIDTHS)), height=24))
        lines += [_line(report, row) for row in group.iter_rows(named=True)]
    nothing = said.NOTHING_IS_DUE.format(week=week)
    return Sheet(
        name=name,
        title=title.format(week=week),
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(
            said.ARRIVALS_COLUMNS.values(), _WIDTHS, _RIGHT, [0], fills=_FILLS, shows=_SHOWS
        ),
        lines=lines or [Line([(nothing, "plain")])],
        cautions=(said.ARRIVALS_CAUTION,),
        notes=(said.ARRIVALS_NOTE,),
        filtered=bool(lines),
        frozen_columns=3,
        entries="arrived",
    )


def _line(report: Report, row: Mapping[str, Any]) -> Line:
    """One open order."""
    late, usual = row["due_date"] < report.start, report.usual_places.get(row["item"], "")
    words = f"{row['description']} · {row['serial']}" if row["serial"] else row["description"]
    cells: list[Cell] = [
        (common.BOX, "tick"),
        text(row["order"], "strong_wrapped"),
        text(row["item"], "strong"),
        text(words, "wrapped"),
        (row["due_date"], "late_date" if late else "date"),
        (said.IS_OVERDUE, "late") if late else BLANK,
        quantity(row["quantity"], row["unit"], "strong_"),
        (row["unit"], "unit"),
        text(usual, "faint_wrapped"),
        *all_to_fill("arrived", _FILLS.values()),
    ]
    higher = height_for((words, _WIDTHS[_DESCRIPTION]), (usual, _WIDTHS[_USUAL])) or 0
    return Line(cells, max(WRITING_HEIGHT, higher), [row[name] for name in _KEY])
