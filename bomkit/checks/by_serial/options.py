"""Options that lines count by, held against those that aircraft have."""

from collections.abc import Mapping

import polars as pl

from bomkit.checks.by_serial.serial_numbers import CONDITIONAL, are_empty
from bomkit.inputs.text_table import TextTable
from bomkit.problems import Finding
from bomkit.tables.schema import Tables
from bomkit.words.did_you_mean import nearest


def find_unknown_options(texts: Mapping[str, TextTable], frames: Tables) -> list[Finding]:
    """Options that lines name but no aircraft has, each once a table, at its first line."""
    if not (texts["build_plan"].complete and texts["fleet"].complete):
        return []
    fitted = _split_names(pl.concat([frames[name]["options"] for name in ("build_plan", "fleet")]))
    fitted_names = fitted.sort().to_list()
    return [
        finding
        for table in CONDITIONAL
        for finding in _unknown_options(frames, table, fitted, fitted_names)
    ]


def _unknown_options(
    frames: Tables, table: str, fitted: pl.Series, known: list[str]
) -> list[Finding]:
    if are_empty(frames[table], "with_option", "without_option"):
        return []
    named = pl.concat(
        [
            frames[table].select("row", pl.lit(name).alias("column"), option=name)
            for name in ("with_option", "without_option")
        ]
    )
    unknown = (
        named.with_columns(pl.col("option").str.split(" "))
        .explode("option")
        .filter((pl.col("option") != "") & ~pl.col("option").is_in(fitted.implode()))
        .sort("row")
        .group_by("option", maintain_order=True)
        .agg(pl.col("row").first(), pl.col("column").first(), lines=pl.col("row").n_unique())
    )
    return [
        Finding(table, row, column, option, _option_advice(option, known, lines), "warning")
        for option, row, column, lines in unknown.iter_rows()
    ]


def _split_names(names: pl.Series) -> pl.Series:
    words = names.str.split(" ").explode()
    return words.filter(words != "").unique()


def _option_advice(option: str, known: list[str], lines: int) -> str:
    message = "is fitted to no aircraft in build_plan or fleet"
    if lines > 1:
        message += f", but named in {lines} lines"
    hint = nearest(option, known)
    return f"{message}; {hint}" if hint else message
