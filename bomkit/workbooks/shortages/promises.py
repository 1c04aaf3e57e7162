"""The sheet of promises: when each spares order can leave."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import common, shortages
from bomkit.words.fleet import packing, promises
from bomkit.workbooks.for_whom import demand_in_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.missing_lines import days_late
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import BLANK, Cell, Column, Line, Sheet, quantity, text

_HEADS = promises.PROMISE_COLUMNS
_FORM = ListForm(
    {
        "order": Column(_HEADS["order"], 10),
        "urgency": Column(_HEADS["urgency"], 12),
        "item": Column(_HEADS["item"], 12),
        "description": Column(_HEADS["description"], 28),
        "quantity": Column(_HEADS["quantity"], 10, "head_right"),
        "unit": Column(_HEADS["unit"], 5),
        "aircraft": Column(_HEADS["aircraft"], 9),
        "customer": Column(_HEADS["customer"], 22),
        "wanted": Column(_HEADS["wanted"], 15),
        "promise": Column(_HEADS["promise"], 15),
        "days_late": Column(_HEADS["days_late"], 7, "head_right"),
        "leaves_from": Column(_HEADS["leaves_from"], 15),
        "waiting": Column(_HEADS["waiting"], 9),
        "later": Column(_HEADS["later"], 14),
    }
)


def promises_sheet(report: Report) -> Sheet:
    """When each spares order can leave without the line having to wait."""
    asked = report.tables["spares_orders"].select(
        "order", "item", "serial", "need_date", "customer"
    )
    rows = (
        report["promises"]
        .join(asked, on=["order", "item", "serial", "need_date"], how="left")
        .sort(pl.col("urgency") != "grounded", "need_date", "order", "item")
    )
    lines = [_promise_line(report, row) for row in rows.iter_rows(named=True)]
    return Sheet(
        name=promises.SHEET_PROMISES,
        title=promises.PROMISES_TITLE,
        subtitle=report.subtitle(),
        columns=_FORM.columns,
        lines=lines or [_FORM.sentence(promises.NO_SPARES)],
        notes=promises.PROMISES_NOTES,
        filtered=bool(lines),
        frozen_columns=1,
    )


def _promise_line(report: Report, row: Mapping[str, Any]) -> Line:
    """The row of one spares order."""
    item, grounded = report.items[row["item"]], row["urgency"] == "grounded"
    waiting = shortages.COUNT_OF.format(part=row["lines_waiting"], whole=row["lines"])
    cells: dict[str, Cell] = {
        "order": text(row["order"], "strong"),
        "urgency": (packing.URGENCY[row["urgency"]], "late" if grounded else "text"),
        "item": text(row["item"]),
        "description": text(item["description"], "wrapped"),
        "quantity": quantity(row["quantity"], item["unit"]),
        "unit": (item["unit"], "unit"),
        "aircraft": text(row["serial"]),
        "customer": text(row["customer"] or "", "wrapped"),
        "wanted": (row["need_date"], "full_date"),
        **_promised(row),
        "waiting": text(waiting if row["lines_waiting"] else ""),
        "later": text(_made_later(row), "late"),
    }
    height = height_for((item["description"], _FORM.width("description") - 4)) or 20
    return _FORM.line(cells, height)


def _promised(row: Mapping[str, Any]) -> dict[str, Cell]:
    """Promise, days late and the day from which it can leave; words where no day is known."""
    if row["promise_date"] is None:
        return {"promise": (common.NO_DATE, "late"), "days_late": BLANK, "leaves_from": BLANK}
    late = row["late_days"]
    return {
        "promise": (row["promise_date"], "late_full_date" if late else "full_date"),
        "days_late": days_late(late),
        "leaves_from": (row["earliest_date"], "faint_full_date"),
    }


def _made_later(row: Mapping[str, Any]) -> str:
    """Whom a grounded order makes later the most, and by how many working days."""
    if not row["later"]:
        return ""
    words = promises.LEFT_WITHOUT_DATE if row["later_days"] is None else promises.MAKES_LATER
    who = demand_in_words(row["later"], row["later_kind"])
    return words.format(who=who, days=row["later_days"])
