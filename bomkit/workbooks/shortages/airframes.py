"""The sheet of all airframes: when each of them can be ready, and what holds it up."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.words import common, shortages
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.missing_lines import days_late, mould_words
from bomkit.workbooks.writing.sheet import BLANK, Cell, Column, Link, Sheet, text, to_fill
from bomkit.workbooks.writing.style import WRITING_HEIGHT

_MOST_OVERDUE = 12
_HEADS = shortages.AIRFRAME_COLUMNS
_FORM = ListForm(
    {
        "airframe": Column(_HEADS["airframe"], 16, shows=True),
        "ready_by": Column(_HEADS["ready_by"], 17),
        "forecast": Column(_HEADS["forecast"], 17),
        "days_late": Column(_HEADS["days_late"], 9, "head_right"),
        "days_to_spare": Column(_HEADS["days_to_spare"], 9, "head_right"),
        "missing": Column(_HEADS["missing"], 10, "head_right"),
        "late": Column(_HEADS["late"], 10, "head_right"),
        "held_up_by": Column(_HEADS["held_up_by"], 52),
        "from_house": Column(_HEADS["from_house"], 10),
        "delivered_on": Column(_HEADS["delivered_on"], 13, fills="delivered_on"),
    }
)


def airframes_sheet(report: Report, lines: pl.DataFrame, names: Mapping[str, str]) -> Sheet:
    """One line for each airframe, those that lack nothing included.

    lines: what is missing; names: by airframe the sheet of what it lacks.
    """
    rows = [
        _FORM.line(_cells(report, row, names), WRITING_HEIGHT, [row["demand"]])
        for row in _with_counts(report, lines).iter_rows(named=True)
    ]
    return Sheet(
        name=shortages.SHEET_AIRFRAMES,
        title=shortages.SHORTAGES_TITLE,
        subtitle=report.subtitle(),
        columns=_FORM.columns,
        lines=rows or [_FORM.sentence(shortages.NOTHING_MISSING)],
        notes=(
            _from_house(report),
            *_overdue(report),
            *(note.format(weeks=len(report.list_weeks)) for note in shortages.AIRFRAMES_NOTES),
        ),
        filtered=bool(rows),
        entries="delivered",
        frozen_columns=1,
        heading_height=40,
    )


def _with_counts(report: Report, lines: pl.DataFrame) -> pl.DataFrame:
    """The forecast of the airframes, with how many items each lacks and how many come late."""
    counts = (
        lines.filter(pl.col("demand_kind") == "airframe")
        .group_by("demand")
        .agg(
            missing=pl.col("item").n_unique(),
            late=pl.col("item").filter(pl.col("late_days") > 0).n_unique(),
        )
    )
    return (
        report["forecast"]
        .filter(pl.col("demand_kind") == "airframe")
        .join(counts, on="demand", how="left", maintain_order="left")
        .with_columns(pl.col("missing", "late").fill_null(0))
        .sort("ready_date", "demand")
    )


def _cells(report: Report, row: Mapping[str, Any], names: Mapping[str, str]) -> dict[str, Cell]:
    """The row of one airframe."""
    late, sheet = row["late_days"], names.get(row["demand"])
    forecast: Cell = (common.NO_DATE, "late")
    if row["earliest_date"] is not None:
        expected = row["earliest_date"] if late else row["ready_date"]
        forecast = (expected, "late_full_date" if late else "full_date")
    return {
        "airframe": (Link(row["demand"], sheet), "link") if sheet else (row["demand"], "text"),
        "ready_by": (row["ready_date"], "full_date"),
        "forecast": forecast,
        "days_late": days_late(late),
        "days_to_spare": (row["spare_days"], "pieces"),
        "missing": (row["missing"], "pieces"),
        "late": (row["late"], "late_pieces" if row["late"] else "pieces"),
        "held_up_by": text(_set_by(report, row), "late_wrapped" if late else "faint_wrapped"),
        "from_house": (row["from_house"], "pieces") if row["from_house"] else BLANK,
        "delivered_on": to_fill("delivered", "delivered_on"),
    }


def _set_by(report: Report, row: Mapping[str, Any]) -> str:
    """What comes first in the chain that makes it late; blank where it is in time."""
    if not row["pacing_item"] or not row["late_days"]:
        return ""
    first = row["pacing"].split(" > ")[0]
    chain = report.chains[row["demand"], row["demand_kind"]]
    waits = mould_words(report, chain.sort("step")["supply"][0])
    held_up_by = f"{report.items[row['pacing_item']]['description']}: {first}"
    return ", ".join(filter(None, (held_up_by, waits)))


def _from_house(report: Report) -> str:
    """Which airframes could be finished if nothing more arrived, as a sentence."""
    able = report["forecast"].filter(pl.col("from_house").is_not_null()).sort("from_house")
    if able.is_empty():
        return shortages.NONE_FROM_HOUSE
    return shortages.FROM_HOUSE.format(serials=", ".join(able["demand"]))


def _overdue(report: Report) -> Iterator[str]:
    """A sentence with the purchases that are overdue, and one with the work, if there is any."""
    sources = report.tables["items"].select("item", "source")
    late = report.tables["open_orders"].filter(pl.col("due_date") < report.start)
    bought = pl.col("source") == "buy"
    named = late.join(sources, on="item", how="left")
    for own, words in ((bought, shortages.OVERDUE_ORDERS), (~bought, shortages.OVERDUE_WORK)):
        if len(orders := named.filter(own)):
            yield words.format(orders=_named_overdue(report, orders))


def _named_overdue(report: Report, late: pl.DataFrame) -> str:
    """The first few of these orders with item and day."""
    told = [
        shortages.OVERDUE_ORDER.format(order=order, item=item, date=report.day(due))
        for order, item, due in late.sort("due_date", "order")
        .select("order", "item", "due_date")
        .rows()
    ]
    more = (
        [common.AND_MORE.format(count=len(told) - _MOST_OVERDUE)]
        if len(told) > _MOST_OVERDUE
        else []
    )
    return ", ".join([*told[:_MOST_OVERDUE], *more])
