"""The overview workbook: contents, load with a chart, late orders, counts, planning record."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.tables.weeks import iso_week
from bomkit.words import board, common, compare, overview
from bomkit.workbooks.compare import compare_sheets
from bomkit.workbooks.headline import headline
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.overview.board import board_sheets
from bomkit.workbooks.overview.inspections import inspection_sheets
from bomkit.workbooks.overview.loads import load_sheets
from bomkit.workbooks.overview.moulds import moulds_sheet
from bomkit.workbooks.overview.payments import (
    currencies_paid,
    payment_sheet_name,
    payment_sheets,
)
from bomkit.workbooks.pegs_of_orders import FIGURES
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import (
    Book,
    Cell,
    Column,
    Line,
    Link,
    Sheet,
    Value,
    quantity,
    text,
)
from bomkit.workbooks.writing.style import WRITING_HEIGHT

_MOST_RECORDS = 5_000  # items in the planning record: 20 thousand rows
_KINDS = ("make", "print", "buy", "kit")
_LATE = overview.LATE_COLUMNS
_LATE_FORM = ListForm(
    {
        "days_late": Column(_LATE["days_late"], 9, "head_right"),
        "order": Column(_LATE["order"], 12),
        "item": Column(_LATE["item"], 16),
        "description": Column(_LATE["description"], 38),
        "serial": Column(_LATE["serial"], 10),
        "quantity": Column(_LATE["quantity"], 11, "head_right"),
        "unit": Column(_LATE["unit"], 6),
        "kind": Column(_LATE["kind"], 10),
        "due": Column(_LATE["due"], 12),
        "whom": Column(_LATE["whom"], 34),
    }
)


def overview_book(report: Report) -> Book:
    """The workbook to open first."""
    return report.book(
        [
            *board_sheets(report),
            _contents(report),
            *(compare_sheets(report.changed) if report.changed else []),
            *load_sheets(report),
            *moulds_sheet(report),
            *payment_sheets(report),
            _late_sheet(report),
            _counts_sheet(report),
            _record_sheet(report),
            *inspection_sheets(report),
        ]
    )


def _contents(report: Report) -> Sheet:
    """What is in the workbook, the figures of the run, and what the reader should know."""
    figures: tuple[tuple[Value, str], ...] = (
        (len(report["orders"]), overview.FIGURES[0][1]),
        (int((report["orders"]["late_days"] > 0).sum()), overview.FIGURES[1][1]),
        (len(report.weeks), overview.FIGURES[2][1]),
    )
    lines = [
        Line([(Link(name, name), "link"), (about, "faint")], height=20)
        for name, about in _sheets(report).items()
    ]
    lines.append(Line([]))
    lines += [Line([(value, "figure"), (words, "subtitle")], height=28) for value, words in figures]
    lines.append(Line([]))
    lines += [Line([(words, "note")]) for words in report.asides]
    return Sheet(
        name=overview.OVERVIEW_TITLE,
        title=f"{overview.OVERVIEW_TITLE} · {report.title}",
        subtitle=report.subtitle(),
        columns=(Column(overview.IN_THIS_BOOK, 30), Column("", 90)),
        lines=lines,
        notes=(headline(report),),
        filtered=False,
    )


def _sheets(report: Report) -> dict[str, str]:
    """The sheets of this workbook, and what each of them is about."""
    levelled = overview.LEVELLING_ABOUT if report.plan.levelling else {}
    moulds = {} if report.plan.moulds.wear.is_empty() else overview.MOULD_ABOUT
    more = overview.INSPECTIONS_ABOUT if len(report.tables["inspection_rules"]) else {}
    changed = compare.CHANGED_ABOUT if report.changed else {}
    spares = {} if report["promises"].is_empty() else board.SPARES_ABOUT
    wall = {**board.BOARD_ABOUT, **spares}
    paid = {payment_sheet_name(name): overview.PAYMENTS_ABOUT for name in currencies_paid(report)}
    return {**wall, **changed, **overview.SHEET_ABOUT, **levelled, **moulds, **paid, **more}


def _late_sheet(report: Report) -> Sheet:
    """The orders whose start lies before the plan's first day, the latest first."""
    late = (
        report["orders"]
        .filter(pl.col("late_days") > 0)
        .sort("late_days", "due_date", "order", descending=[True, False, False])
    )
    lines = [_late_line(report, order) for order in late.iter_rows(named=True)]
    return Sheet(
        name=overview.SHEET_LATE,
        title=overview.LATE_TITLE,
        subtitle=report.subtitle(),
        columns=_LATE_FORM.columns,
        lines=lines or [_LATE_FORM.sentence(overview.NO_LATE)],
        notes=(overview.LATE_NOTE,),
        filtered=bool(lines),
    )


def _late_line(report: Report, order: Mapping[str, Any]) -> Line:
    """One order that starts too late."""
    cells: dict[str, Cell] = {
        "days_late": (order["late_days"], "late_pieces"),
        "order": (order["order"], "text"),
        "item": (order["item"], "strong"),
        "description": text(report.items[order["item"]]["description"], "wrapped"),
        "serial": text(order["serial"]),
        "quantity": quantity(order["quantity"], order["unit"]),
        "unit": (order["unit"], "unit"),
        "kind": (common.SOURCES[order["source"]], "text"),
        "due": (order["due_date"], "date"),
        "whom": text(report.for_whom.get(order["order"], ""), "wrapped"),
    }
    return _LATE_FORM.line(cells, WRITING_HEIGHT)


def _counts_sheet(report: Report) -> Sheet:
    """How many orders of each kind start in each week."""
    counted = {
        (week, source): count
        for week, source, count in report["orders"]
        .group_by(iso_week("start_date").alias("week"), "source")
        .len()
        .iter_rows()
    }
    lines = [
        Line(
            [
                (week, "strong"),
                *((counted.get((week, kind), 0), "pieces") for kind in _KINDS),
                (sum(counted.get((week, kind), 0) for kind in _KINDS), "strong_pieces"),
            ]
        )
        for week in report.weeks
    ]
    heads = [common.SOURCES[kind] for kind in _KINDS]
    return Sheet(
        name=overview.SHEET_ORDERS,
        title=overview.COUNT_TITLE,
        subtitle=report.subtitle(),
        columns=(
            Column(overview.WEEK_HEAD, 16),
            *(Column(head, 12, "head_right") for head in [*heads, overview.ALL_KINDS]),
        ),
        lines=lines,
    )


def _record_sheet(report: Report) -> Sheet:
    """Four rows an item: needed, coming, planned, on hand, by week; serials added up.

    Of very many items the first ones: nobody opens a sheet of a hundred thousand rows to look at
    one item.
    """
    named = report["projection"]["item"].unique().sort()
    shown = named.head(_MOST_RECORDS)
    records = _records(report["projection"].filter(pl.col("item").is_in(shown.implode())), report)
    items = report.items
    lines = [line for item in shown for line in _record_lines(items[item], records)]
    cut = overview.RECORD_CUT.format(count=f"{len(named):,}", shown=f"{len(shown):,}")
    heads = zip(overview.RECORD_COLUMNS, (12, 25, 4.5, 8), strict=True)
    return Sheet(
        name=overview.SHEET_RECORD,
        title=overview.RECORD_TITLE,
        subtitle=report.subtitle(),
        columns=(
            *(Column(heading, width) for heading, width in heads),
            *(Column(week[-3:], 5.3, "head_week") for week in report.weeks),
        ),
        lines=lines,
        notes=(overview.RECORD_NOTE, *([cut] if len(shown) < len(named) else [])),
        frozen_columns=4,
    )


def _records(
    projection: pl.DataFrame, report: Report
) -> dict[str, dict[str, tuple[float | None, ...]]]:
    """By the name of a figure and item what it is in each week, serials added up."""
    figures = [name for name, _ in overview.RECORD_ROWS]
    sums = projection.group_by("item", "week").agg(pl.col(figures).sum().round_sig_figs(FIGURES))
    records = {}
    for name in figures:
        wide = sums.pivot(on="week", on_columns=report.weeks, index="item", values=name)
        rows = wide.select("item", *report.weeks).iter_rows()
        records[name] = {item: tuple(by_week) for item, *by_week in rows}
    return records


def _record_lines(
    item: Mapping[str, Any], records: Mapping[str, Mapping[str, tuple[float | None, ...]]]
) -> Iterator[Line]:
    """The four rows of one item; a figure that is nothing stays an empty cell."""
    unit = item["unit"]
    for number, (name, words) in enumerate(overview.RECORD_ROWS):
        first, last = number == 0, number == len(overview.RECORD_ROWS) - 1
        style = "end_" if last else "slim_"
        nothing: Cell = ("", "end_faint") if last else None
        yield Line(
            [
                (item["item"], "slim_strong" if first else f"{style}faint"),
                (item["description"], "slim_text") if first else nothing,
                (unit, "slim_faint") if first else nothing,
                (words, f"{style}faint"),
                *(
                    quantity(value, unit, style) if value else nothing
                    for value in records[name][item["item"]]
                ),
            ],
            height=12,
        )
