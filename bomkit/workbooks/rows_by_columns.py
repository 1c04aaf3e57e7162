"""The rows of a frame by what some of its columns hold, in the order in which they come."""

from typing import Any

import polars as pl

Values = tuple[object, ...]  # of the columns named, in their order


def partitions(frame: pl.DataFrame, *names: str) -> dict[Values, pl.DataFrame]:
    """A frame for each."""
    parts = frame.partition_by(names, maintain_order=True) if len(frame) else []
    return {tuple(part[name][0] for name in names): part for part in parts}


def rows_by(frame: pl.DataFrame, *names: str) -> dict[Any, list[dict[str, Any]]]:
    """The rows themselves, by column; where one column is named, by its value alone."""
    rows: dict[Any, list[dict[str, Any]]] = {}
    for row in frame.iter_rows(named=True):
        values = tuple(row[name] for name in names)
        rows.setdefault(values if len(names) > 1 else values[0], []).append(row)
    return rows
