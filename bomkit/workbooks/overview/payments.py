"""The overview's sheets on payments: what is to be paid each week, a sheet for each currency."""

import polars as pl

from bomkit.words import overview
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import Cell, Chart, Column, Line, Sheet


def payment_sheets(report: Report) -> list[Sheet]:
    """A sheet with a chart for each currency in which anything is paid; none without prices."""
    return [_payment_sheet(report, name) for name in currencies_paid(report)]


def currencies_paid(report: Report) -> list[str]:
    """The currencies in which anything is paid, by name."""
    return report["cash"]["currency"].unique().sort().to_list()


def payment_sheet_name(currency: str) -> str:
    """What the sheet of a currency is called, as short as a sheet's name may be."""
    return f"{overview.SHEET_PAYMENTS} {currency}".strip()[:31]


def _payment_sheet(report: Report, currency: str) -> Sheet:
    """What is paid in a currency by week, for open and for planned orders, with a chart."""
    paid = report["cash"].filter(pl.col("currency") == currency)
    later = paid.filter(pl.col("week") > report.weeks[-1])
    lines = []
    for column, words in overview.PAYMENT_ROWS.items():
        by_week = dict(paid.select("week", column).iter_rows())
        figures = [by_week.get(week, 0.0) for week in report.weeks]
        cells = map(_thousands, [*figures, later[column].sum()])
        lines.append(Line([(words, "strong"), *cells]))
    return Sheet(
        name=payment_sheet_name(currency),
        title=overview.PAYMENTS_TITLE.format(currency=currency or overview.NO_CURRENCY),
        subtitle=report.subtitle(),
        columns=(
            Column("", 15),
            *(Column(week[-3:], 4.6, "head_week") for week in report.weeks),
            Column(overview.PAID_LATER, 6, "head_week"),
        ),
        lines=lines,
        notes=(overview.PAYMENTS_NOTE,),
        filtered=False,
        frozen_columns=1,
        chart=Chart(
            0, len(lines) - 1, 1, len(report.weeks), overview.THOUSAND.format(currency=currency)
        ),
    )


def _thousands(value: float) -> Cell:
    """An amount in thousands, in a column of five characters; 0 where nothing is paid."""
    return (round(value / 1000, 4), "end_measure") if value else (0, "end_pieces")
