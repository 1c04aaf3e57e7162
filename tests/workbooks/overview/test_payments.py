"""The overview's sheets on payments: each week's figures in thousands, each currency apart."""

import polars as pl
import pytest

from bomkit.runs.week.plan import Run
from bomkit.tables.results.buying import CASH
from bomkit.workbooks.overview.overview import overview_book
from bomkit.workbooks.overview.payments import payment_sheets
from bomkit.workbooks.report import Report
from tests.workbooks.other_reports import with_plan, with_results

ROWS = [("2026-W49", "EUR", 1234.0, 0.0), ("2026-W50", "EUR", 0.0, 56.7),
        ("2030-W01", "EUR", 10.0, 20.0), ("2026-W50", "SEK", 7000.0, 9000.0)]  # fmt: skip


@pytest.fixture
def report(tiny_run: Run) -> Report:
    cash = pl.DataFrame(ROWS, {name: CASH.schema[name] for name in CASH.column_names}, orient="row")
    return with_results(tiny_run.report, cash=cash)


def test_each_currency_has_a_sheet_with_what_is_paid_in_each_week(report: Report) -> None:
    in_eur, in_sek = payment_sheets(report)
    assert (in_eur.name, in_sek.name) == ("Payments EUR", "Payments SEK")
    heads = [column.heading for column in in_eur.columns]
    assert heads[1:3] == ["W49", "W50"] and heads[-1] == "Later"
    figures = {
        line.cells[0][0]: [cell[0] for cell in line.cells[1:] if cell]  # type: ignore[index]
        for line in in_eur.lines
    }
    assert figures["open orders"][:2] == [1.234, 0] and figures["open orders"][-1] == 0.01
    assert figures["planned orders"][:2] == [0, 0.0567] and figures["planned orders"][-1] == 0.02
    assert all(len(row) == len(heads) - 1 for row in figures.values())
    [open_orders, planned] = in_sek.lines
    assert (open_orders.cells[2], planned.cells[2]) == ((7.0, "end_measure"), (9.0, "end_measure"))


def test_the_figures_print_at_seven_points_or_more(report: Report) -> None:
    # A4 landscape holds 1,150 units of a digit's seven, and five a column, at its full size
    for sheet in payment_sheets(with_plan(report, weeks=[f"2027-W{n:02}" for n in range(1, 31)])):
        width = sum(column.width * 7 + 5 for column in sheet.columns)
        assert 8 * min(1.0, 1150 / width) >= 7


def test_where_nothing_is_paid_there_is_no_sheet(tiny_run: Run) -> None:
    bare = with_results(tiny_run.report, cash=tiny_run.report["cash"].clear())
    assert not [sheet for sheet in overview_book(bare).sheets if sheet.name.startswith("Payments")]
