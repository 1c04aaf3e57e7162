"""Small tables for tests: rows of plain values become the frames that planning takes."""

from collections.abc import Mapping, Sequence
from functools import cache

import polars as pl

from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.schema import Table

Rows = Sequence[Mapping[str, object]]


def typed_tables(rows_of: Mapping[str, Rows]) -> dict[str, pl.DataFrame]:
    """Every input table as a checked frame, with defaults filled in and rows numbered from 2."""
    return {
        name: _typed(table, rows_of[name]) if rows_of.get(name) else _empty(name)
        for name, table in INPUTS.items()
    }


@cache
def _empty(name: str) -> pl.DataFrame:
    """A table without rows, made once: most tables of most tests have none."""
    return _typed(INPUTS[name], ())


def _typed(table: Table, rows: Rows) -> pl.DataFrame:
    values = [
        pl.Series(
            column.name,
            [
                column.when_empty if (value := row.get(column.name)) is None else value
                for row in rows
            ],
            column.dtype,
            strict=False,
        )
        for column in table.columns
    ]
    return pl.DataFrame([*values, pl.Series("row", range(2, len(rows) + 2), pl.Int64)])
