"""The sheet of promises: when each spares order can leave."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import fleet, shortages
from bomkit.workbooks.report import Report, demand_in_words
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import BLANK, Cell, Line, Sheet, list_columns, quantity, text

_PROMISE_WIDTHS = (10, 12, 12, 28, 9, 5, 9, 22, 15, 15, 7, 15, 9, 14)


def promises_sheet(report: Report) -> Sheet:
    """When each spares order can leave without the line having to wait."""
    asked = report.tables["spares_orders"].select(
        "order", "item", "serial", "need_date", "customer"
    )
    rows = report.promises.join(
        asked, on=["order", "item", "serial", "need_date"], how="left"
    ).sort(pl.col("urgency") != "grounded", "need_date", "order", "item")
    lines = [_promise_line(report, row) for row in rows.iter_rows(named=True)]
    return Sheet(
        name=fleet.SHEET_PROMISES,
        title=fleet.PROMISES_TITLE,
        subtitle=report.subtitle(),
        columns=list_columns(fleet.PROMISE_COLUMNS, _PROMISE_WIDTHS, right=(4, 10)),
        lines=lines or [Line([(fleet.NO_SPARES, "plain")])],
        notes=fleet.PROMISES_NOTES,
        filtered=bool(lines),
        frozen_columns=1,
    )


def _promise_line(report: Report, row: Mapping[str, Any]) -> Line:
    """The row of one spares order."""
    item = report.items[row["item"]]
    waiting = shortages.COUNT_OF.format(part=row["lines_waiting"], whole=row["lines"])
    cells = [
        text(row["order"], "strong"),
        (fleet.URGENCY[row["urgency"]], "late" if row["urgency"] == "grounded" else "text"),
        text(row["item"]),
        text(item["description"], "wrapped"),
        quantity(row["quantity"], item["unit"]),
        (item["unit"], "unit"),
        text(row["serial"]),
        text(row["customer"] or "", "wrapped"),
        (row["need_date"], "full_date"),
        *_promised(row),
        text(waiting if row["lines_waiting"] else ""),
        text(_made_later(row), "late"),
    ]
    return Line(cells, height_for((item["description"], _PROMISE_WIDTHS[3] - 4)) or 20)


def _promised(row: Mapping[str, Any]) -> list[Cell]:
    """Promise, days late and the day from which it can leave; words where no day is known."""
    if row["promise_date"] is None:
        return [(shortages.NEVER, "late"), BLANK, BLANK]
    late = row["late_days"]
    return [
        (row["promise_date"], "late_full_date" if late else "full_date"),
        (late, "late_pieces" if late else "pieces"),
        (row["earliest_date"], "faint_full_date"),
    ]


def _made_later(row: Mapping[str, Any]) -> str:
    """Whom a grounded order makes later the most, and by how many working days."""
    if not row["later_days"]:
        return ""
    who = demand_in_words(row["later"], row["later_kind"])
    return fleet.MAKES_LATER.format(who=who, days=row["later_days"])
