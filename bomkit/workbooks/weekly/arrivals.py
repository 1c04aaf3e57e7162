"""The arrivals workbook of a week: what suppliers owe, with room for what came."""

from collections.abc import Mapping, Sequence
from typing import Any

import polars as pl

from bomkit.tables.weeks import iso_week
from bomkit.words import common
from bomkit.words import shelves as said
from bomkit.words.weekly import buying as buy_words
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.heights import height_of
from bomkit.workbooks.writing.sheet import (
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

_WIDTHS = (3, 9.6, 8.6, 32, 10.4, 8.4, 4.1, 21, 7.6, 8, 10, 11, 14)
_RIGHT = (5,)
_FILLS = {8: "arrived", 9: "rejected", 10: "lot", 11: "use_by", 12: "place"}
_SHOWS = (1, 2, 4)
_KEY = ("order", "item", "serial", "due_date")


def arrivals_book(report: Report, week: str) -> Book:
    """What is due in a week; in the first one also what is overdue, and what is due later on."""
    owed = _owed(report)
    due, first = iso_week("due_date"), week == report.list_weeks[0]
    own = due <= week if first else due == week
    title = said.ARRIVALS_FIRST_TITLE if first else said.ARRIVALS_TITLE
    lines = _lines(report, owed.filter(own))
    lines = lines or [Line([(said.NOTHING_IS_DUE.format(week=week), "plain")])]
    later = _lines(report, owed.filter(due > report.list_weeks[-1])) if first else []
    return report.book([_sheet(report, week, title, lines, later)])


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
                pl.lit(buy_words.NO_SUPPLIER),
            )
        )
        .sort("party", "due_date", "order", "item", "serial")
    )


def _lines(report: Report, owed: pl.DataFrame) -> list[Line]:
    """The open purchases, supplier by supplier."""
    lines: list[Line] = []
    for group in owed.partition_by("party", maintain_order=True):
        lines.append(Line(section(group["party"][0], len(_WIDTHS)), height=20))
        lines += [_line(report, row) for row in group.iter_rows(named=True)]
    return lines


def _sheet(
    report: Report, week: str, title: str, lines: Sequence[Line], later: Sequence[Line]
) -> Sheet:
    """What is due now; below it what is due later, which is looked up where it comes early."""
    after = [Line(section(said.LATER, len(_WIDTHS)), height=24), *later] if later else []
    return Sheet(
        name=said.ARRIVALS_SHEET,
        title=title.format(week=week),
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(
            said.ARRIVALS_COLUMNS.values(), _WIDTHS, _RIGHT, [0], fills=_FILLS, shows=_SHOWS
        ),
        lines=[*lines, *after],
        printed=len(lines),
        cautions=(said.ARRIVALS_CAUTION,),
        notes=(said.ARRIVALS_NOTE,),
        frozen_columns=3,
        entries="arrived",
    )


def _line(report: Report, row: Mapping[str, Any]) -> Line:
    """One open order."""
    late, usual = row["due_date"] < report.start, report.plan.usual_places.get(row["item"], "")
    words = f"{row['description']} · {row['serial']}" if row["serial"] else row["description"]
    words = f"{said.IS_OVERDUE}; {words}" if late else words
    cells: list[Cell] = [
        (common.BOX, "tick"),
        text(row["order"], "strong_wrapped"),
        text(row["item"], "strong_wrapped"),
        text(words, "late_wrapped" if late else "wrapped"),
        (row["due_date"], "late_brief_date" if late else "brief_date"),
        quantity(row["quantity"], row["unit"], "strong_"),
        (row["unit"], "unit"),
        text(usual, "faint_wrapped"),
        *all_to_fill("arrived", _FILLS.values()),
    ]
    return Line(cells, height_of(cells, _WIDTHS), [row[name] for name in _KEY])
