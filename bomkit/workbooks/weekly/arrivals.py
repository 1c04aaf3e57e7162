"""The arrivals workbook of a week: what suppliers owe, with room for what came."""

from collections.abc import Mapping, Sequence
from typing import Any

import polars as pl

from bomkit.tables.weeks import iso_week
from bomkit.words import common
from bomkit.words.weekly import arrivals_and_counts as said
from bomkit.words.weekly import buying as buy_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import Book, Column, Line, Sheet, quantity, text

_HEADS = said.ARRIVALS_COLUMNS
_FORM = ListForm(
    {
        "done": Column(_HEADS["done"], 3, "head_centre"),
        "order": Column(_HEADS["order"], 9.6, shows=True),
        "item": Column(_HEADS["item"], 8.6, shows=True),
        "description": Column(_HEADS["description"], 32),
        "due": Column(_HEADS["due"], 10.4, shows=True),
        "quantity": Column(_HEADS["quantity"], 8.4, "head_right"),
        "unit": Column(_HEADS["unit"], 4.1),
        "usual": Column(_HEADS["usual"], 21),
        "arrived": Column(_HEADS["arrived"], 7.6, fills="arrived"),
        "rejected": Column(_HEADS["rejected"], 8, fills="rejected"),
        "lot": Column(_HEADS["lot"], 10, fills="lot"),
        "use_by": Column(_HEADS["use_by"], 11, fills="use_by"),
        "place": Column(_HEADS["place"], 14, fills="place"),
    },
    "arrived",
)
_KEY = ("order", "item", "serial", "due_date")


def arrivals_book(report: Report, week: str) -> Book:
    """What is due in a week; in the first one also what is overdue, and what is due later on."""
    owed = _owed(report)
    due, first = iso_week("due_date"), week == report.list_weeks[0]
    own = due <= week if first else due == week
    title = said.ARRIVALS_FIRST_TITLE if first else said.ARRIVALS_TITLE
    lines = _lines(report, owed.filter(own))
    lines = lines or [_FORM.sentence(said.NOTHING_IS_DUE.format(week=week))]
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
        lines.append(_FORM.section(group["party"][0], height=20))
        lines += [_line(report, row) for row in group.iter_rows(named=True)]
    return lines


def _sheet(
    report: Report, week: str, title: str, lines: Sequence[Line], later: Sequence[Line]
) -> Sheet:
    """What is due now; below it what is due later, which is looked up where it comes early."""
    after = [_FORM.section(said.LATER), *later] if later else []
    return Sheet(
        name=said.ARRIVALS_SHEET,
        title=title.format(week=week),
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=[*lines, *after],
        printed=len(lines),
        cautions=(said.ARRIVALS_CAUTION,),
        notes=(said.ARRIVALS_NOTE,),
        frozen_columns=3,
        entries=_FORM.entries,
    )


def _line(report: Report, row: Mapping[str, Any]) -> Line:
    """One open order."""
    late, usual = row["due_date"] < report.start, report.plan.usual_places.get(row["item"], "")
    words = f"{row['description']} · {row['serial']}" if row["serial"] else row["description"]
    words = f"{said.IS_OVERDUE}; {words}" if late else words
    cells = {
        "done": (common.BOX, "tick"),
        "order": text(row["order"], "strong_wrapped"),
        "item": text(row["item"], "strong_wrapped"),
        "description": text(words, "late_wrapped" if late else "wrapped"),
        "due": (row["due_date"], "late_brief_date" if late else "brief_date"),
        "quantity": quantity(row["quantity"], row["unit"], "strong_"),
        "unit": (row["unit"], "unit"),
        "usual": text(usual, "faint_wrapped"),
        **_FORM.to_fill(),
    }
    return _FORM.row(cells, [row[name] for name in _KEY])
