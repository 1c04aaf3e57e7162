"""What `bomkit plan` prints in the end: how much is late, and what is counted as that."""

import polars as pl

from bomkit.runs.week.plan import Run
from bomkit.screens.plan import summary_lines


def test_the_number_of_late_forecasts_says_which_of_them_it_leaves_out(full_run: Run) -> None:
    report = full_run.report
    late = report["forecast"].filter(pl.col("late_days") > 0)
    apart = late.filter(pl.col("demand_kind").is_in(["routine", "inspection"]))
    assert len(apart) > 0
    counted = len(late) - len(apart)
    told = (
        f"Forecast late, apart from routine spares orders and inspections: {counted}. The latest:"
    )
    assert told in list(summary_lines(report))
