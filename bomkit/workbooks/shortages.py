"""The shortage workbook: airframe by airframe, what stock does not cover and when it comes."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit import labels
from bomkit.workbooks.report import FIGURES, Report, iso_week
from bomkit.workbooks.sheet import (
    BLANK,
    Book,
    Cell,
    Line,
    Link,
    Sheet,
    expected,
    list_columns,
    quantity,
    text,
)

_AIRFRAME_WIDTHS = (32, 16, 20, 10, 12, 12, 12, 11, 21)
_MISSING_WIDTHS = (26, 13, 14, 36, 11, 5, 12, 12, 9, 12, 17)


def shortages_book(report: Report) -> Book:
    """A front sheet with one line an airframe or spares order, and every missing line."""
    lines = missing_lines(report)
    listed = lines.filter(pl.col("listed"))
    return report.book([_airframes_sheet(report, lines), _missing_sheet(report, listed)])


def missing_lines(report: Report) -> pl.DataFrame:
    """What open and planned orders must still bring, by whom it is for.

    Columns who, ready, item, serial, quantity, need_date, arrives, late_days, supply, supply_kind,
    listed (late, or needed within the release weeks). Work on an airframe in hand is its own.
    """
    in_hand = (
        report.tables["open_orders"]
        .filter(pl.col("serial") != "")
        .unique("order", keep="first", maintain_order=True)
        .select(demand="order", airframe="serial", demand_kind=pl.lit("in work"))
    )
    grouped = (
        report.pegs.filter(pl.col("supply_kind").is_in(["open order", "planned order", "none"]))
        .filter(pl.col("demand_kind") != "stock")
        .join(in_hand, on=["demand", "demand_kind"], how="left")
        .with_columns(
            demand_kind=pl.when(pl.col("airframe").is_not_null())
            .then(pl.lit("airframe"))
            .otherwise("demand_kind"),
            demand=pl.coalesce("airframe", "demand"),
        )
        .group_by("demand", "demand_kind", "item", "serial", "supply", "supply_kind", "arrives")
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            pl.col("late_days").max(),
        )
    )
    in_release = iso_week("need_date").is_in(report.release_weeks)
    return (
        _named(grouped)
        .with_columns(listed=in_release | (pl.col("late_days") > 0))
        .join(_ready_dates(report), on="demand", how="left")
        .sort(pl.col("ready").fill_null(report.start), "who", "need_date", "item", "supply")
    )


def _named(asked: pl.DataFrame) -> pl.DataFrame:
    """The rows with column who: their demand in words."""
    named = [
        pl.when(pl.col("demand_kind") == kind).then(
            pl.format(words.replace("{demand}", "{}"), "demand")
        )
        for kind, words in labels.DEMAND_KINDS.items()
        if "{demand}" in words
    ]
    return asked.with_columns(who=pl.coalesce(named))


def _ready_dates(report: Report) -> pl.DataFrame:
    """The day on which each airframe and each spares order is to be ready."""
    airframes = report.tables["build_plan"].select(demand="serial", ready="ready_date")
    spares = (
        report.tables["spares_orders"].group_by(demand="order").agg(ready=pl.col("need_date").min())
    )
    forecast = report.inspections.select(
        demand=pl.format(labels.UPKEEP_DEMAND, "serial", "due_date"), ready="due_date"
    )
    return pl.concat([airframes, spares, forecast]).unique(
        "demand", keep="first", maintain_order=True
    )


def _airframes_sheet(report: Report, lines: pl.DataFrame) -> Sheet:
    """One line for each airframe and spares order, those that lack nothing included."""
    rows = [
        Line(_airframe_cells(row), height=20)
        for row in _counted(report, lines).iter_rows(named=True)
    ]
    return Sheet(
        name=labels.SHEET_AIRFRAMES,
        title=labels.SHORTAGES_TITLE,
        subtitle=report.subtitle(),
        columns=list_columns(labels.AIRFRAME_COLUMNS, _AIRFRAME_WIDTHS, right=range(3, 8)),
        lines=rows or [Line([(labels.NOTHING_MISSING, "plain")])],
        notes=(
            labels.AIRFRAMES_NOTE.format(weeks=len(report.release_weeks)),
            labels.STATES_LEGEND,
        ),
        filtered=bool(rows),
        frozen_columns=1,
    )


def _counted(report: Report, lines: pl.DataFrame) -> pl.DataFrame:
    """For each airframe and order: who, ready, late, to_start, coming, later, late_days, last."""
    late, planned = pl.col("late_days") > 0, pl.col("supply_kind") != "open order"
    listed = pl.col("listed")
    counted = lines.group_by("who").agg(
        pl.col("ready").first(),
        (listed & late).sum().alias("late"),
        (listed & ~late & planned).sum().alias("to_start"),
        (listed & ~late & ~planned).sum().alias("coming"),
        (~listed).sum().alias("later"),
        pl.col("late_days").max(),
        pl.col("arrives").filter(listed).max().alias("last"),
    )
    asking = _named(
        report.pegs.filter(pl.col("demand_kind").is_in(["airframe", "grounded", "routine"]))
    )
    complete = (
        asking.select("demand", "who")
        .unique()
        .join(counted, on="who", how="anti")
        .join(_ready_dates(report), on="demand", how="left")
        .select("who", "ready")
    )
    return (
        pl.concat([counted, complete], how="diagonal")
        .with_columns(pl.col("late", "to_start", "coming", "later", "late_days").fill_null(0))
        .sort(pl.col("ready").fill_null(report.start), "who")
    )


def _airframe_cells(row: Mapping[str, Any]) -> list[Cell]:
    """The row of one airframe or spares order."""
    if row["late"]:
        state: Cell = (labels.LATE_WORD, "late")
    elif row["to_start"]:
        state = (labels.TO_START_STATE, "to_do")
    elif row["coming"]:
        state = (labels.COMING, "coming")
    else:
        state = (labels.LATER_STATE if row["later"] else labels.THERE_STATE, "faint")
    return [
        (Link(row["who"], labels.SHEET_MISSING), "link"),
        state,
        (row["ready"], "full_date") if row["ready"] else BLANK,
        (row["late"], "late_pieces" if row["late"] else "pieces"),
        (row["to_start"], "pieces"),
        (row["coming"], "pieces"),
        (row["later"], "faint_pieces"),
        (row["late_days"], "late_pieces" if row["late_days"] else "pieces"),
        (row["last"], "full_date") if row["last"] else BLANK,
    ]


def _missing_sheet(report: Report, lines: pl.DataFrame) -> Sheet:
    """Every listed line, airframe by airframe, in the order in which it is needed."""
    about = report.tables["items"].select(
        "item", "description", "unit", "source", "supplier", "process"
    )
    rows: list[Line] = []
    before = ""
    for line in lines.join(about, on="item", maintain_order="left").iter_rows(named=True):
        rows.append(Line(_missing_cells(line, repeated=line["who"] == before)))
        before = line["who"]
    return Sheet(
        name=labels.SHEET_MISSING,
        title=labels.MISSING_TITLE,
        subtitle=report.subtitle(),
        columns=list_columns(labels.MISSING_COLUMNS, _MISSING_WIDTHS, right=(4, 8)),
        lines=rows or [Line([(labels.NOTHING_MISSING, "plain")])],
        notes=(labels.MISSING_NOTE.format(weeks=len(report.release_weeks)), labels.STATES_LEGEND),
        filtered=bool(rows),
        frozen_columns=3,
    )


def _missing_cells(line: Mapping[str, Any], repeated: bool) -> list[Cell]:
    """The row of one missing item."""
    late, planned = line["late_days"], line["supply_kind"] == "planned order"
    if late:
        state: Cell = (labels.LATE_WORD, "late")
    elif planned:
        state = (labels.TO_START[line["source"]], "to_do")
    else:
        state = (labels.COMING, "coming")
    return [
        (line["who"], "faint" if repeated else "strong"),
        state,
        (line["item"], "strong"),
        text(line["description"], "wrapped"),
        _missing_quantity(line["quantity"], line["unit"]),
        (line["unit"], "unit"),
        (line["need_date"], "date"),
        (line["arrives"], "late_date" if late else "date"),
        (late, "late_pieces" if late else "pieces"),
        text(line["supply"], "text"),
        text(line["supplier"] if line["source"] == "buy" else line["process"], "faint"),
    ]


def _missing_quantity(value: float, unit: str) -> Cell:
    """A quantity; a share of a piece, as scrap leaves it, in tenths."""
    return quantity(value, unit) if value == round(value) else expected(value, unit)
