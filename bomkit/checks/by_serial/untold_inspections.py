"""Whether the fleet says of each aircraft what its inspections are counted by."""

from collections.abc import Iterator

import polars as pl

from bomkit.checks.row_check import RowCheck
from bomkit.tables.schema import Tables


def untold_inspection_checks(tables: Tables) -> Iterator[RowCheck]:
    """Aircraft of the fleet that do not say what inspections are counted by."""
    counted_by = (("every_hours", ("hours", "hours_per_year")), ("every_months", ("delivered",)))
    for every, columns in counted_by:
        if tables["inspection_rules"][every].count():
            for column in columns:
                yield RowCheck(
                    "fleet",
                    column,
                    tables["fleet"].filter(pl.col(column).is_null()),
                    f"{{serial}} does not say; inspections that count by {every} is not foreseen",
                    "warning",
                )
