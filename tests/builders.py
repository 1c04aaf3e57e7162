"""Small tables for tests: rows of plain values become the frames that planning takes."""

from collections.abc import Mapping, Sequence

import polars as pl

from bomkit.tables.inputs import INPUTS
from bomkit.tables.schema import Table

Rows = Sequence[Mapping[str, object]]


def typed_tables(rows_of: Mapping[str, Rows]) -> dict[str, pl.DataFrame]:
    """Every input table as a checked frame, with defaults filled in and rows numbered from 2."""
    return {name: _typed(table, rows_of.get(name, ())) for name, table in INPUTS.items()}


def _typed(table: Table, rows: Rows) -> pl.DataFrame:
    values = {
        column.name: [
            column.when_empty if row.get(column.name) is None else row[column.name] for row in rows
        ]
        for column in table.columns
    }
    frame = pl.DataFrame(values, schema=table.schema, strict=False)
    return frame.with_columns(row=pl.int_range(2, len(rows) + 2, dtype=pl.Int64))
