"""The workbook of other rates as a planner reads it."""

import polars as pl

from bomkit.workbooks.rates import RateColumn, rate_sheets


def test_a_peak_above_what_the_week_has_is_marked_even_if_the_average_is_not() -> None:
    loads = pl.DataFrame(
        {
            "kind": ["process", "process"],
            "name": ["lay-up", "paint"],
            "average": [20.0, 20.0],
            "peak": [40.5, 40.5],  # of 40 in a short week, of 42 in a whole one
            "capacity": [40.0, 40.0],
            "weeks_over": [1, 0],
        }
    )
    sheet, _ = rate_sheets([RateColumn(3, loads, 0, 0, 0, 20)], [], "Kites", "")
    lay_up, paint = (line.cells for line in sheet.lines[:2])
    assert lay_up[2:4] == [(20, "tenths"), (40.5, "late_tenths")]
    assert paint[2:4] == [(20, "tenths"), (40.5, "tenths")]
