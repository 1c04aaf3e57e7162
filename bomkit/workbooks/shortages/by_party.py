"""The lists of what is late or on order by who brings it, for the telephone and for the shops."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import common, shortages, weekly
from bomkit.workbooks.report import FIGURES, Report, shop
from bomkit.workbooks.shortages.missing import comes_cell, described, missing_quantity, state_cell
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import Line, Sheet, list_columns, section, text

_BY_ITEM_WIDTHS = (13, 14, 34, 10, 5, 12, 12, 12, 8, 38)
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
        heading = section(group["party"][0], len(_BY_ITEM_WIDTHS))
        heading[5] = (group["email"][0] or "", "section_note")
        lines.append(Line(heading, height=24))
        lines += [_by_item_line(report, row) for row in group.iter_rows(named=True)]
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=list_columns(shortages.BY_ITEM_COLUMNS, _BY_ITEM_WIDTHS, right=(3, 8)),
        lines=lines or [Line([(shortages.NOTHING_MISSING, "plain")])],
        cautions=cautions,
        notes=(shortages.BY_ITEM_NOTE.format(weeks=len(report.list_weeks)),),
        filtered=bool(lines),
        frozen_columns=2,
    )


def _by_party(report: Report, listed: pl.DataFrame) -> pl.DataFrame:
    """The missing lines of each order of an item in one, beside who brings it."""
    names = report.tables["suppliers"].select("supplier", "email", party_name="name")
    own_supplier = report.deliverers.select(
        "item", "by", supply="order", supply_kind=pl.lit("open order")
    )
    named = pl.when(pl.col("party_name") != "").then("party_name")
    known = pl.when(pl.col("supplier") != "").then("supplier")
    merged = (
        listed.join(own_supplier, on=["item", "supply", "supply_kind"], how="left")
        .with_columns(supplier=pl.coalesce("by", "supplier"))
        .join(names, on="supplier", how="left")
        .with_columns(
            party=pl.when(pl.col("source") == "buy")
            .then(pl.coalesce(named, known, pl.lit(weekly.NO_SUPPLIER)))
            .otherwise(shop())
        )
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


def _by_item_line(report: Report, row: Mapping[str, Any]) -> Line:
    """The row of one item from one order."""
    whom, late = row["whom"], row["late_days"]
    words = ", ".join(whom[:_MOST_NAMED])
    if len(whom) > _MOST_NAMED:
        words = f"{words} {common.AND_MORE.format(count=len(whom) - _MOST_NAMED)}"
    told = described(report, row)
    cells = [
        state_cell(row),
        text(row["item"], "strong"),
        text(told, "wrapped"),
        missing_quantity(row["quantity"], row["unit"]),
        (row["unit"], "unit"),
        text(row["supply"]),
        (row["need_date"], "date"),
        comes_cell(row),
        (late, "late_pieces" if late else "pieces"),
        text(words, "wrapped"),
    ]
    return Line(cells, height_for((told, _BY_ITEM_WIDTHS[2]), (words, _BY_ITEM_WIDTHS[-1])))
