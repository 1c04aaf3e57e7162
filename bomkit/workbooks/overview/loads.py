"""The overview's sheets on the shops' hours: load by process, before levelling, what was pulled."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import overview
from bomkit.workbooks.report import Levelling, Report
from bomkit.workbooks.writing.sheet import (
    Cell,
    Chart,
    Column,
    Line,
    Sheet,
    list_columns,
    quantity,
    text,
)

_PULLED_WIDTHS = (16, 40, 12, 12, 6, 18, 18, 12)


def load_sheets(report: Report) -> list[Sheet]:
    """The load with a chart; where it was levelled also as it was, and what was pulled forward."""
    sheets = [_load_sheet(report, overview.SHEET_LOAD, overview.LOAD_TITLE, "hours")]
    if report.levelling:
        sheets += [
            _load_sheet(report, overview.SHEET_BEFORE, overview.BEFORE_TITLE, "hours_before"),
            _pulled_sheet(report, report.levelling),
        ]
    return sheets


def _load_sheet(report: Report, name: str, title: str, column: str) -> Sheet:
    """Hours by process and week, what there is, and the chart below.

    column: hours, or hours_before for those before levelling.
    """
    weeks = report.weeks
    lines = []
    loads = report.loads.with_columns(hours=column)
    for group in loads.partition_by("process", maintain_order=True):
        by_week = {row["week"]: row for row in group.iter_rows(named=True)}
        lines.append(
            Line([(group["process"][0], "strong"), *(_load_cell(by_week.get(w)) for w in weeks)])
        )
    hours = dict(loads.group_by("week").agg(pl.col("hours").sum().round(6)).iter_rows())
    limits = dict(loads.group_by("week").agg(pl.col("capacity").sum().round(6)).iter_rows())
    processes = len(lines)
    lines.append(
        Line(
            [(overview.LOAD_TOTAL, "strong"), *((hours.get(w, 0.0), "bold_pieces") for w in weeks)]
        )
    )
    lines.append(
        Line(
            [(overview.LOAD_LIMIT, "faint"), *((limits.get(w, 0.0), "pale_pieces") for w in weeks)]
        )
    )
    note = overview.LOAD_NOTE if column == "hours" else overview.BEFORE_NOTE
    compared = report.levelling is not None and column == "hours"
    if compared:
        before = dict(loads.group_by("week").agg(pl.col("hours_before").sum().round(6)).iter_rows())
        cells = ((before.get(week, 0.0), "pale_pieces") for week in weeks)
        lines.append(Line([(overview.LOAD_BEFORE, "faint"), *cells]))
    in_work = dict(loads.group_by("week").agg(pl.col("in_work").sum().round(6)).iter_rows())
    cells = ((in_work.get(week, 0.0), "pale_pieces") for week in weeks)
    lines.append(Line([(overview.LOAD_IN_WORK, "faint"), *cells]))
    lines += _printer_lines(report, column)
    limited = loads["capacity"].null_count() < len(loads)
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=(
            Column(overview.LOAD_PROCESS, 17),
            *(Column(week[-3:], 5.6, "head_week") for week in weeks),
        ),
        lines=lines,
        notes=(note if loads["hours"].sum() > 0 else overview.NO_LOAD,),
        filtered=False,
        frozen_columns=1,
        chart=Chart(
            0,
            processes - 1,
            1,
            len(weeks),
            overview.LOAD_HOURS,
            processes + 1 if limited else None,
            processes + 2 if compared else None,
        )
        if loads["hours"].sum() > 0
        else None,
    )


def _printer_lines(report: Report, column: str) -> list[Line]:
    """The hours of each kind of printer, which the row of their process can't tell apart."""
    loads = report.shop_loads.filter(pl.col("kind") == "printer").with_columns(
        hours="load" if column == "hours" else "load_before"
    )
    lines = []
    for group in loads.partition_by("name", maintain_order=True):
        by_week = {row["week"]: row for row in group.iter_rows(named=True)}
        name = overview.LOAD_PRINTERS.format(kind=group["name"][0])
        lines.append(Line([(name, "strong"), *(_load_cell(by_week.get(w)) for w in report.weeks)]))
    return lines


def _load_cell(load: Mapping[str, Any] | None) -> Cell:
    """The hours of one process in one week, marked where there are not as many."""
    if load is None:
        return (0.0, "end_pieces")
    over = load["capacity"] is not None and load["hours"] > load["capacity"] * (1 + 1e-9)
    return (load["hours"], "over_hours" if over else "end_pieces")


def _pulled_sheet(report: Report, levelling: Levelling) -> Sheet:
    """Every order, or part of one, that starts earlier than it needs to."""
    lines = [
        Line(
            [
                (row["item"], "strong"),
                text(report.items[row["item"]]["description"]),
                text(row["serial"]),
                quantity(row["quantity"], report.items[row["item"]]["unit"]),
                (report.items[row["item"]]["unit"], "unit"),
                (row["start_before"], "faint_full_date"),
                (row["start"], "full_date"),
                (row["days"], "pieces"),
            ]
        )
        for row in levelling.moves.iter_rows(named=True)
    ]
    return Sheet(
        name=overview.SHEET_PULLED,
        title=overview.PULLED_TITLE,
        subtitle=report.subtitle(),
        columns=list_columns(overview.PULLED_COLUMNS, _PULLED_WIDTHS, right=(3, 7)),
        lines=lines or [Line([(overview.NOTHING_PULLED, "plain")])],
        notes=(overview.PULLED_NOTE,),
        filtered=bool(lines),
    )
