"""The overview's sheets on the shops' hours: load by process, before levelling, what was pulled."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.tables.results.finished_plan import Levelling
from bomkit.units import TOLERANCE
from bomkit.words import overview
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import (
    Cell,
    Chart,
    Column,
    Line,
    Sheet,
    quantity,
    text,
)

_PULLED = overview.PULLED_COLUMNS
_PULLED_FORM = ListForm(
    {
        "item": Column(_PULLED["item"], 16),
        "description": Column(_PULLED["description"], 40),
        "serial": Column(_PULLED["serial"], 12),
        "quantity": Column(_PULLED["quantity"], 12, "head_right"),
        "unit": Column(_PULLED["unit"], 6),
        "before": Column(_PULLED["before"], 18),
        "start": Column(_PULLED["start"], 18),
        "days": Column(_PULLED["days"], 12, "head_right"),
    }
)


def load_sheets(report: Report) -> list[Sheet]:
    """The load with a chart; where it was levelled also as it was, and what was pulled forward."""
    sheets = [_load_sheet(report, overview.SHEET_LOAD, overview.LOAD_TITLE, "hours")]
    if report.plan.levelling:
        sheets += [
            _load_sheet(report, overview.SHEET_BEFORE, overview.BEFORE_TITLE, "hours_before"),
            _pulled_sheet(report, report.plan.levelling),
        ]
    return sheets


def _load_sheet(report: Report, name: str, title: str, column: str) -> Sheet:
    """Hours by process and week, what there is, and the chart below.

    column: hours, or hours_before for those before levelling.
    """
    loads = report["loads"].with_columns(hours=column)
    processes = loads.partition_by("process", maintain_order=True)
    compared = report.plan.levelling is not None and column == "hours"
    worked = loads["hours"].sum() > 0
    note = overview.LOAD_NOTE if column == "hours" else overview.BEFORE_NOTE
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=(
            Column(overview.LOAD_PROCESS, 17),
            *(Column(week[-3:], 5.6, "head_week") for week in report.weeks),
        ),
        lines=[
            *(_load_line(report, own["process"][0], own) for own in processes),
            *_sum_lines(report, loads, compared),
            *_printer_lines(report, column),
        ],
        notes=(note if worked else overview.NO_LOAD,),
        filtered=False,
        frozen_columns=1,
        chart=_chart(report, loads, len(processes), compared) if worked else None,
    )


def _sum_lines(report: Report, loads: pl.DataFrame, compared: bool) -> Iterator[Line]:
    """The hours of all processes, what there is, and what of it was there before or is in work."""
    yield _sum_line(report, loads, "hours", (overview.LOAD_TOTAL, "strong"), "bold_pieces")
    yield _sum_line(report, loads, "capacity", (overview.LOAD_LIMIT, "faint"))
    if compared:
        yield _sum_line(report, loads, "hours_before", (overview.LOAD_BEFORE, "faint"))
    yield _sum_line(report, loads, "in_work", (overview.LOAD_IN_WORK, "faint"))


def _sum_line(
    report: Report, loads: pl.DataFrame, column: str, name: Cell, look: str = "pale_pieces"
) -> Line:
    """A column of loads added up over the processes, week by week."""
    sums = dict(loads.group_by("week").agg(pl.col(column).sum().round(6)).iter_rows())
    return Line([name, *((sums.get(week, 0.0), look) for week in report.weeks)])


def _chart(report: Report, loads: pl.DataFrame, processes: int, compared: bool) -> Chart:
    """The processes as columns over the weeks, beside what there is; its lines as _sum_lines."""
    limited = loads["capacity"].null_count() < len(loads)
    return Chart(
        first_line=0,
        last_line=processes - 1,
        first_column=1,
        last_column=len(report.weeks),
        value_title=overview.LOAD_HOURS,
        limit_line=processes + 1 if limited else None,
        other_line=processes + 2 if compared else None,
    )


def _printer_lines(report: Report, column: str) -> list[Line]:
    """The hours of each kind of printer, which the row of their process can't tell apart."""
    loads = (
        report["shop_loads"]
        .filter(pl.col("kind") == "printer")
        .with_columns(hours="load" if column == "hours" else "load_before")
    )
    return [
        _load_line(report, overview.LOAD_PRINTERS.format(kind=own["name"][0]), own)
        for own in loads.partition_by("name", maintain_order=True)
    ]


def _load_line(report: Report, name: str, loads: pl.DataFrame) -> Line:
    """The hours of one process or kind of printer, week by week."""
    by_week = {row["week"]: row for row in loads.iter_rows(named=True)}
    return Line([(name, "strong"), *(_load_cell(by_week.get(week)) for week in report.weeks)])


def _load_cell(load: Mapping[str, Any] | None) -> Cell:
    """The hours of one process in one week, marked where there are not as many."""
    if load is None:
        return (0.0, "end_pieces")
    over = load["capacity"] is not None and load["hours"] > load["capacity"] * (1 + TOLERANCE)
    return (load["hours"], "over_hours" if over else "end_pieces")


def _pulled_sheet(report: Report, levelling: Levelling) -> Sheet:
    """Every order, or part of one, that starts earlier than it needs to."""
    lines = [_pulled_line(report, row) for row in levelling.moves.iter_rows(named=True)]
    return Sheet(
        name=overview.SHEET_PULLED,
        title=overview.PULLED_TITLE,
        subtitle=report.subtitle(),
        columns=_PULLED_FORM.columns,
        lines=lines or [_PULLED_FORM.sentence(overview.NOTHING_PULLED)],
        notes=(overview.PULLED_NOTE,),
        filtered=bool(lines),
    )


def _pulled_line(report: Report, row: Mapping[str, Any]) -> Line:
    """One order, or part of one, with when it was to start and when it does."""
    item = report.items[row["item"]]
    return _PULLED_FORM.line(
        {
            "item": (row["item"], "strong"),
            "description": text(item["description"]),
            "serial": text(row["serial"]),
            "quantity": quantity(row["quantity"], item["unit"]),
            "unit": (item["unit"], "unit"),
            "before": (row["start_before"], "faint_full_date"),
            "start": (row["start"], "full_date"),
            "days": (row["days"], "pieces"),
        }
    )
