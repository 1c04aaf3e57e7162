"""The lists of what is late or on order by who brings it, for the telephone and for the shops."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import common, shortages
from bomkit.words.weekly import buying as buy_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.pegs_of_orders import FIGURES
from bomkit.workbooks.report import Report, shop
from bomkit.workbooks.shortages.missing_lines import (
    comes_cell,
    days_late,
    described,
    missing_quantity,
    state_cell,
)
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import Cell, Column, Line, Sheet, text

_HEADS = shortages.BY_ITEM_COLUMNS
_FORM = ListForm(
    {
        "state": Column(_HEADS["state"], 16),
        "item": Column(_HEADS["item"], 14),
        "description": Column(_HEADS["description"], 34),
        "missing": Column(_HEADS["missing"], 10, "head_right"),
        "unit": Column(_HEADS["unit"], 5),
        "supply": Column(_HEADS["supply"], 12),
        "needed_on": Column(_HEADS["needed_on"], 12),
        "comes_on": Column(_HEADS["comes_on"], 12),
        "days_late": Column(_HEADS["days_late"], 8, "head_right"),
        "whom": Column(_HEADS["whom"], 38),
    }
)
_MOST_NAMED = 3


def by_item_sheet(report: Report, listed: pl.DataFrame) -> Sheet:
    """What is bought and late or on order, by supplier, with its address."""
    bought = listed.filter(pl.col("source") == "buy")
    return _by_party_sheet(report, bought, shortages.SHEET_BY_ITEM, shortages.BY_ITEM_TITLE)


def by_shop_sheet(report: Report, listed: pl.DataFrame) -> Sheet:
    """What is made, printed or packed and late or in work, by process."""
    own = listed.filter(pl.col("source") != "buy")
    return _by_party_sheet(
        report, own, shortages.SHEET_BY_SHOP, shortages.BY_SHOP_TITLE, shortages.BY_SHOP_CAUTION
    )


def _by_party_sheet(
    report: Report, listed: pl.DataFrame, name: str, title: str, *cautions: str
) -> Sheet:
    """What is late or on order, by who brings it and by item; parties with late lines first."""
    lines: list[Line] = []
    listed = listed.filter((pl.col("late_days") > 0) | (pl.col("supply_kind") == "open order"))
    for group in _by_party(report, listed).partition_by("party", maintain_order=True):
        email: Cell = (group["email"][0] or "", "section_note")
        lines.append(_FORM.section(group["party"][0], {"supply": email}))
        lines += [_by_item_line(report, row) for row in group.iter_rows(named=True)]
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=_FORM.columns,
        lines=lines or [_FORM.sentence(shortages.NOTHING_MISSING)],
        cautions=cautions,
        notes=(shortages.BY_ITEM_NOTE.format(weeks=len(report.list_weeks)),),
        filtered=bool(lines),
        frozen_columns=2,
    )


def _by_party(report: Report, listed: pl.DataFrame) -> pl.DataFrame:
    """The missing lines of each order of an item in one, beside who brings it."""
    merged = (
        _with_party(report, listed)
        .sort("need_date", "who")
        .group_by(
            *("party", "email", "item", "supply", "supply_kind", "comes"),
            *("description", "unit", "source", "cures"),
            maintain_order=True,
        )
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            pl.col("late_days").max(),
            pl.col("overdue").min(),
            whom=pl.col("who").unique(maintain_order=True),
        )
    )
    return merged.with_columns(worst=pl.col("late_days").max().over("party")).sort(
        *("worst", "party"),
        pl.col("overdue").is_null(),
        *("late_days", "need_date", "item", "supply", "comes"),
        descending=[True, False, False, True, False, False, False, False],
    )


def _with_party(report: Report, listed: pl.DataFrame) -> pl.DataFrame:
    """The missing lines with party (the supplier by name, or the shop) and its email."""
    names = report.tables["suppliers"].select("supplier", "email", party_name="name")
    own_supplier = report.plan.deliverers.select(
        "item", "by", supply="order", supply_kind=pl.lit("open order")
    )
    named = pl.when(pl.col("party_name") != "").then("party_name")
    known = pl.when(pl.col("supplier") != "").then("supplier")
    bought = pl.coalesce(named, known, pl.lit(buy_words.NO_SUPPLIER))
    return (
        listed.join(own_supplier, on=["item", "supply", "supply_kind"], how="left")
        .with_columns(supplier=pl.coalesce("by", "supplier"))
        .join(names, on="supplier", how="left")
        .with_columns(party=pl.when(pl.col("source") == "buy").then(bought).otherwise(shop()))
    )


def _by_item_line(report: Report, row: Mapping[str, Any]) -> Line:
    """The row of one item from one order."""
    whom, late = row["whom"], row["late_days"]
    words = common.first_few(whom, _MOST_NAMED)
    told = described(report, row)
    cells: dict[str, Cell] = {
        "state": state_cell(row),
        "item": text(row["item"], "strong"),
        "description": text(told, "wrapped"),
        "missing": missing_quantity(row["quantity"], row["unit"]),
        "unit": (row["unit"], "unit"),
        "supply": text(row["supply"]),
        "needed_on": (row["need_date"], "date"),
        "comes_on": comes_cell(row),
        "days_late": days_late(late),
        "whom": text(words, "wrapped"),
    }
    wrapped = (told, _FORM.width("description")), (words, _FORM.width("whom"))
    return _FORM.line(cells, height_for(*wrapped))
