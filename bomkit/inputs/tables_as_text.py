"""Typed tables as the text that a person would have typed: to be checked again, or written."""

import csv
import datetime as dt
import io
import json
from decimal import Decimal

import polars as pl

from bomkit.inputs.text_table import TextTable
from bomkit.problems import Source
from bomkit.tables.columns_and_rules.by_name import INPUTS
from bomkit.tables.columns_and_rules.plan_settings import PLAN
from bomkit.tables.schema import Table, Tables


def text_tables(tables: Tables) -> dict[str, TextTable]:
    """Every input table as text, rows numbered as in the file that `table_files` writes."""
    texts = {}
    for name, table in INPUTS.items():
        frame = _as_text(table, tables[name])
        first = 0 if table is PLAN else 2  # below the headings
        rows = pl.int_range(first, first + len(frame), eager=True).alias("row")
        source = Source("plan.toml" if table is PLAN else f"{name}.csv")
        texts[name] = TextTable(table, source, frame.with_columns(rows), given=len(frame) > 0)
    return texts


def table_files(tables: Tables) -> dict[str, bytes]:
    """The content of plan.toml and of a CSV file for each table that has rows, by file name.

    Columns in which every cell means the same as an empty one are left out.
    """
    files = {}
    for name, table in INPUTS.items():
        if table is PLAN:
            files["plan.toml"] = _settings(tables[name]).encode()
        elif len(tables[name]) or table.required:
            files[f"{name}.csv"] = csv_file(table, tables[name])
    return files


def csv_file(table: Table, frame: pl.DataFrame) -> bytes:
    """The content of the CSV file of one input table."""
    return _csv(table, frame).encode()


def _csv(table: Table, frame: pl.DataFrame) -> str:
    """A table as comma-separated text with headings."""
    text = _as_text(table, frame)
    told = [
        column.name
        for column in table.columns
        if column.required or not frame[column.name].eq_missing(_empty(column.when_empty)).all()
    ]
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(told)
    writer.writerows(text.select(told).iter_rows())
    return written.getvalue()


def _empty(value: str | float | None) -> pl.Series:
    """What an empty cell means, to compare a column with."""
    return pl.Series([value])


def _settings(plan: pl.DataFrame) -> str:
    """The plan's settings as TOML; those that are empty are left out."""
    lines = []
    for name, value in plan.select(PLAN.column_names).row(0, named=True).items():
        if value is None or value == "":
            continue
        if isinstance(value, str):
            lines.append(f"{name} = {json.dumps(value, ensure_ascii=False)}")
        else:
            lines.append(f"{name} = {_cell(value)}")
    return "\n".join(lines) + "\n"


def _as_text(table: Table, frame: pl.DataFrame) -> pl.DataFrame:
    """The table's columns, every cell as text."""
    return pl.DataFrame(
        [
            pl.Series(name, [_cell(value) for value in frame[name]], dtype=pl.String)
            for name in table.column_names
        ]
    )


def _cell(value: str | float | dt.date | None) -> str:
    """A value as it is typed: dates as 2026-11-30, numbers to their last digit, none as nothing."""
    if value is None:
        return ""
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, float):
        return f"{Decimal(repr(value)):f}".removesuffix(".0")
    return str(value)
