"""The workbook of the account of a week: every item's way from opening to closing stock."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import account_of_week as said
from bomkit.words import common
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Column,
    Sheet,
    quantity,
    text,
)

_HEADS, _DIFFERENCES = said.ACCOUNT_COLUMNS, said.DIFFERENCES_COLUMNS
_FORM = ListForm(
    {
        "item": Column(_HEADS["item"], 14),
        "description": Column(_HEADS["description"], 44),
        "unit": Column(_HEADS["unit"], 6),
        "opening": Column(_HEADS["opening"], 11, "head_right"),
        "arrived": Column(_HEADS["arrived"], 11, "head_right"),
        "good": Column(_HEADS["good"], 11, "head_right"),
        "counted": Column(_HEADS["counted"], 11, "head_right"),
        "picked": Column(_HEADS["picked"], 11, "head_right"),
        "scrapped": Column(_HEADS["scrapped"], 11, "head_right"),
        "sent": Column(_HEADS["sent"], 11, "head_right"),
        "closing": Column(_HEADS["closing"], 11, "head_right"),
    }
)
_DIFFERENCE_FORM = ListForm(
    {
        "item": Column(_DIFFERENCES["item"], 14),
        "description": Column(_DIFFERENCES["description"], 44),
        "unit": Column(_DIFFERENCES["unit"], 6),
        "should": Column(_DIFFERENCES["should"], 12, "head_right"),
        "closing": Column(_DIFFERENCES["closing"], 12, "head_right"),
        "counted": Column(_DIFFERENCES["counted"], 14, "head_right"),
        "worth": Column(_DIFFERENCES["worth"], 14, "head_right"),
        "share": Column(_DIFFERENCES["share"], 10, "head_right"),
    }
)
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
    lines = [_FORM.line(_account_cells(row)) for row in account.iter_rows(named=True)]
    return Sheet(
        name=said.SHEET_ACCOUNT,
        title=said.ACCOUNT_TITLE.format(week=week),
        subtitle=subtitle,
        columns=_FORM.columns,
        lines=lines or [_FORM.sentence(said.NOTHING_THERE)],
        notes=(said.ACCOUNT_NOTE,),
        filtered=bool(lines),
        frozen_columns=1,
    )


def _account_cells(row: Mapping[str, Any]) -> dict[str, Cell]:
    """One item: what is 0 is left blank but for opening and closing."""
    unit = row["unit"]
    return {
        "item": (row["item"], "strong"),
        "description": text(row["description"]),
        "unit": (unit, "unit"),
        "opening": quantity(row["opening"], unit),
        **{name: quantity(row[name] or None, unit) for name in _AMOUNTS},
        "closing": quantity(row["closing"], unit, "strong_"),
    }


def _differences_sheet(account: pl.DataFrame, costs: Mapping[str, float], subtitle: str) -> Sheet:
    counted = account.filter(pl.col("counted") != 0)
    rows = [_difference(row, costs) for row in counted.iter_rows(named=True)]
    rows.sort(key=lambda row: (-abs(row["worth"] or 0.0), row["item"]))
    lines = [_DIFFERENCE_FORM.line(_difference_cells(row)) for row in rows]
    return Sheet(
        name=said.SHEET_DIFFERENCES,
        title=said.DIFFERENCES_TITLE,
        subtitle=subtitle,
        columns=_DIFFERENCE_FORM.columns,
        lines=lines or [_DIFFERENCE_FORM.sentence(said.NO_DIFFERENCES)],
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


def _difference_cells(row: Mapping[str, Any]) -> dict[str, Cell]:
    unit = row["unit"]
    return {
        "item": (row["item"], "strong"),
        "description": text(row["description"]),
        "unit": (unit, "unit"),
        "should": quantity(row["should"], unit),
        "closing": quantity(row["closing"], unit),
        "counted": quantity(row["counted"], unit, "strong_"),
        "worth": BLANK if row["worth"] is None else (row["worth"], "money"),
        "share": BLANK if row["share"] is None else (row["share"], "percent"),
    }
