"""The sheets of coming inspections: aircraft by aircraft, and what they take week by week."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.tables.weeks import iso_week
from bomkit.words import overview
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import Cell, Column, Line, Sheet, quantity, text
from bomkit.workbooks.writing.style import WRITING_HEIGHT

_HEADS = overview.INSPECTION_COLUMNS
_FORM = ListForm(
    {
        "due": Column(_HEADS["due"], 18),
        "week": Column(_HEADS["week"], 11),
        "aircraft": Column(_HEADS["aircraft"], 12),
        "base": Column(_HEADS["base"], 22),
        "what": Column(_HEADS["what"], 34),
        "item": Column(_HEADS["item"], 14),
        "description": Column(_HEADS["description"], 32),
        "quantity": Column(_HEADS["quantity"], 10, "head_right"),
        "unit": Column(_HEADS["unit"], 6),
        "cause": Column(_HEADS["cause"], 11),
        "last_done": Column(_HEADS["last_done"], 18),
    }
)
_ONE_LINE = 40  # characters of a note or description that fit


def inspection_sheets(report: Report) -> list[Sheet]:
    """Both sheets; none where the tables say nothing of inspections."""
    if report.tables["inspection_rules"].is_empty():
        return []
    return [_due_sheet(report), _parts_sheet(report)]


def _notes(report: Report) -> tuple[str, ...]:
    planned = (
        overview.INSPECTED_PLANNED
        if report.plan.choices.inspections
        else overview.INSPECTED_NOT_PLANNED
    )
    return (overview.INSPECTIONS_NOTE, planned)


def _due_sheet(report: Report) -> Sheet:
    """Every inspection of the horizon in the order of its days."""
    bases = dict(report.tables["fleet"].select("serial", "base").iter_rows())
    weeks = report["inspections"].with_columns(week=iso_week("due_date"))
    lines = [
        _FORM.line(_due_cells(report, bases, row), _height(row["note"], report.items[row["item"]]))
        for row in weeks.iter_rows(named=True)
    ]
    return Sheet(
        name=overview.SHEET_INSPECTIONS,
        title=overview.INSPECTIONS_TITLE,
        subtitle=report.subtitle(),
        columns=_FORM.columns,
        lines=lines or [_FORM.sentence(overview.NOTHING_DUE)],
        cautions=(overview.INSPECTIONS_CAUTION,),
        notes=_notes(report),
        filtered=bool(lines),
    )


def _height(note: str, item: Mapping[str, Any]) -> float | None:
    """A higher row where words take a second line."""
    longest = max(len(note), len(item["description"]))
    return WRITING_HEIGHT if longest > _ONE_LINE else None


def _due_cells(report: Report, bases: Mapping[str, str], row: Mapping[str, Any]) -> dict[str, Cell]:
    """One inspection of one aircraft."""
    item, last = report.items[row["item"]], row["last_done"]
    return {
        "due": (row["due_date"], "full_date"),
        "week": (row["week"], "faint"),
        "aircraft": text(row["serial"], "strong"),
        "base": text(bases[row["serial"]]),
        "what": text(row["note"], "wrapped"),
        "item": text(row["item"], "strong"),
        "description": text(item["description"], "wrapped"),
        "quantity": quantity(row["quantity"], item["unit"]),
        "unit": (item["unit"], "unit"),
        "cause": (overview.INSPECTION_CAUSES[row["cause"]], "faint"),
        "last_done": (last, "full_date") if last else (overview.LAST_DONE_UNKNOWN, "faint"),
    }


def _parts_sheet(report: Report) -> Sheet:
    """What the inspections take: a row an item, a column a week."""
    lines = [*_part_lines(report)]
    heads = zip(overview.INSPECTED_COLUMNS, (13, 42, 5, 9), strict=True)
    return Sheet(
        name=overview.SHEET_INSPECTED,
        title=overview.INSPECTED_TITLE,
        subtitle=report.subtitle(),
        columns=(
            *(Column(head, width) for head, width in heads),
            *(Column(week[-3:], 5.3, "head_week") for week in report.weeks),
        ),
        lines=lines or [Line([(overview.NOTHING_DUE, "plain")])],
        cautions=(overview.INSPECTIONS_CAUTION,),
        notes=_notes(report),
        filtered=bool(lines),
        frozen_columns=4,
    )


def _part_lines(report: Report) -> Iterator[Line]:
    """How much of each item is taken in all and week by week."""
    sums = (
        report["inspections"]
        .with_columns(week=iso_week("due_date"))
        .group_by("item", "week")
        .agg(pl.col("quantity").sort().sum())
    )
    needed = {(item, week): value for item, week, value in sums.iter_rows()}
    for name in sums["item"].unique().sort():
        item = report.items[name]
        by_week = [needed.get((name, week)) for week in report.weeks]
        cells: list[Cell] = [
            (name, "strong"),
            text(item["description"]),
            (item["unit"], "unit"),
            quantity(sum(filter(None, by_week)), item["unit"], "strong_"),
        ]
        yield Line([*cells, *(_slim(value, item["unit"]) for value in by_week)])


def _slim(value: float | None, unit: str) -> Cell:
    """A quantity of one week; an empty cell for none, with its line below."""
    return ("", "end_faint") if value is None else quantity(value, unit, "end_")
