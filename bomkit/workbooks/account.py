"""The workbook of the account of a week: every item's way from opening to closing stock."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import account as said
from bomkit.words import common
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Line,
    Sheet,
    list_columns,
    quantity,
    text,
)

_WIDTHS = (14, 44, 6, 11, 11, 11, 11, 11, 11, 11, 11)
_DIFFERENCE_WIDTHS = (14, 44, 6, 12, 12, 14, 14, 10)
_AMOUNTS = ("arrived", "good", "counted", "picked", "scrapped", "sent")


def account_book(
    account: pl.DataFrame,
    costs: Mapping[str, float],
    week: str,
    run_id: str,
    title: str,
    made: dt.date,
) -> Book:
    """The account and what counts found; account: the table account; costs: of a unit, by item."""
    shown = title or common.DEFAULT_TITLE
    run = common.RUN.format(run_id=run_id)
    subtitle = common.BETWEEN.join([shown, run])
    sheets = [_account_sheet(account, week, subtitle), _differences_sheet(account, costs, subtitle)]
    return Book(sheets, run_id, shown, made)


def _account_sheet(account: pl.DataFrame, week: str, subtitle: str) -> Sheet:
    lines = [Line(_account_cells(row)) for row in account.iter_rows(named=True)]
    return Sheet(
        name=said.SHEET_ACCOUNT,
        title=said.ACCOUNT_TITLE.format(week=week),
        subtitle=subtitle,
        columns=list_columns(said.ACCOUNT_COLUMNS, _WIDTHS, right=range(3, 11)),
        lines=lines or [Line([(said.NOTHING_THERE, "plain")])],
        notes=(said.ACCOUNT_NOTE,),
        filtered=bool(lines),
        frozen_columns=1,
    )


def _account_cells(row: Mapping[str, Any]) -> list[Cell]:
    """One item: what is 0 is left blank but for opening and closing."""
    unit = row["unit"]
    return [
        (row["item"], "strong"),
        text(row["description"]),
        (unit, "unit"),
        quantity(row["opening"], unit),
        *(quantity(row[name] or None, unit) for name in _AMOUNTS),
        quantity(row["closing"], unit, "strong_"),
    ]


def _differences_sheet(account: pl.DataFrame, costs: Mapping[str, float], subtitle: str) -> Sheet:
    found = account.filter(pl.col("counted") != 0)
    rows = [_difference(row, costs) for row in found.iter_rows(named=True)]
    rows.sort(key=lambda row: (-abs(row["worth"] or 0.0), row["item"]))
    lines = [Line(_difference_cells(row)) for row in rows]
    return Sheet(
        name=said.SHEET_DIFFERENCES,
        title=said.DIFFERENCES_TITLE,
        subtitle=subtitle,
        columns=list_columns(said.DIFFERENCES_COLUMNS, _DIFFERENCE_WIDTHS, right=range(3, 8)),
        lines=lines or [Line([(said.NO_DIFFERENCES, "plain")])],
        notes=(said.DIFFERENCES_NOTE,),
        filtered=bool(lines),
        frozen_columns=1,
    )


def _difference(row: Mapping[str, Any], costs: Mapping[str, float]) -> dict[str, Any]:
    """An item whose count is another than it should be."""
    should, cost = row["closing"] - row["counted"], costs.get(row["item"])
    worth = None if cost is None else row["counted"] * cost
    return {
        **row,
        "should": should,
        "worth": worth,
        "share": row["counted"] / should if should else None,
    }


def _difference_cells(row: Mapping[str, Any]) -> list[Cell]:
    unit = row["unit"]
    return [
        (row["item"], "strong"),
        text(row["description"]),
        (unit, "unit"),
        quantity(row["should"], unit),
        quantity(row["closing"], unit),
        quantity(row["counted"], unit, "strong_"),
        BLANK if row["worth"] is None else (row["worth"], "money"),
        BLANK if row["share"] is None else (row["share"], "percent"),
    ]
