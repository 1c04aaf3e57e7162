"""Reports with something in place of what the plan has."""

from dataclasses import replace
from typing import Any

import polars as pl

from bomkit.workbooks.report import Report


def with_results(report: Report, **results: pl.DataFrame) -> Report:
    """The same with other result tables, by name."""
    return with_plan(report, results={**report.plan.results, **results})


def with_plan(report: Report, **fields: Any) -> Report:
    """The same with other fields of the plan."""
    return replace(report, plan=replace(report.plan, **fields))
