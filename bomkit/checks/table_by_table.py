"""Tables of text to typed tables: kinds, required cells, keys and rules of each table alone."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import polars as pl

from bomkit.checks.between_tables import find_disagreements
from bomkit.inputs.text_table import WHOLE_ROW, TextTable
from bomkit.inputs.values.cast import cast_column
from bomkit.inputs.values.numerals import find_decimals
from bomkit.problems import Finding
from bomkit.tables.schema import Column, Rule, Table


@dataclass(frozen=True)
class TypedTable:
    """One table with its values, and what is wrong with its cells."""

    text: TextTable
    frame: pl.DataFrame  # every column of the table by its type, and "row"
    findings: tuple[Finding, ...]


def check_tables(
    texts: Mapping[str, TextTable],
) -> tuple[dict[str, pl.DataFrame], list[Finding]]:
    """The typed frames of all tables, and everything that is wrong with any of them.

    A cell gets one error at most: the first in the order reading, kind, key, rule, reference.
    """
    typed = {name: type_table(text) for name, text in texts.items()}
    findings = [finding for table in typed.values() for finding in table.findings]
    for table in typed.values():
        findings += find_broken_keys(table)
        findings += find_broken_rules(table)
    frames = {name: table.frame for name, table in typed.items()}
    findings += find_disagreements(texts, frames)
    return frames, _keep_one_for_each_cell(texts, findings)


def type_table(text: TextTable) -> TypedTable:
    """The table's values, empty cells replaced by what they mean, and its bad cells."""
    table = text.table
    rows = text.frame["row"]
    if rows.is_empty():
        return TypedTable(text, table.empty().hstack([rows]), ())
    decimals = find_decimals(text)
    findings: list[Finding] = []
    columns: list[pl.Series] = []
    for column in table.columns:
        if column.name not in text.frame.columns:
            # No value is made up for a column that must be there: it would break rules and keys.
            one = _one_unknown(column) if column.required else column.one_empty
            columns.append(one.new_from_index(0, len(rows)))
            continue
        cells = text.frame[column.name]
        cast = cast_column(column, cells, decimals)
        if column.required:
            cast.refuse(cells == "", "must not be empty")
        findings += [
            Finding(table.name, rows[place], column.name, cells[place], message)
            for place, message in sorted(cast.wrong.items())
        ]
        columns.append(_fill_empty(column, cells, cast.values))
    return TypedTable(text, pl.DataFrame([*columns, rows]), tuple(findings))


def _fill_empty(column: Column, cells: pl.Series, values: pl.Series) -> pl.Series:
    """The values with what an empty cell means; a bad cell stays null."""
    if column.when_empty is not None and not (filled := cells != "").all():
        values = values.zip_with(filled, column.one_empty.new_from_index(0, len(cells)))
    return values.alias(column.name)


def _one_unknown(column: Column) -> pl.Series:
    return pl.Series(column.name, [None], dtype=column.dtype)


def find_broken_keys(typed: TypedTable) -> list[Finding]:
    """Rows that repeat the key of an earlier one; where there is no key, identical rows.

    Rows with a bad cell in the key are left out: it may not be what was meant.
    """
    table = typed.text.table
    key = table.key or table.column_names
    bad = {finding.row for finding in typed.findings if finding.column in key}
    bad |= {row for row, column in typed.text.spoiled if column in (WHOLE_ROW, *key)}
    if table.one_row:
        return _find_further_rows(typed)
    if typed.frame.height < 2:
        return []
    if any(table.column(name).required and name not in typed.text.frame.columns for name in key):
        return []
    if not typed.frame.select(key).is_duplicated().any():
        return []
    repeated = (
        typed.frame.filter(~pl.col("row").is_in(list(bad)))
        .with_columns(first=pl.col("row").min().over(key))
        .filter(pl.col("row") != pl.col("first"))
    )
    texts = typed.text.frame.select("row", value=typed.text.column(key[0]))
    with_text = repeated.select("row", "first").join(texts, on="row", how="left").sort("row")
    word = "row" if typed.text.source.sheet else "line"
    return [
        _repeated_finding(table, row, value, f"{word} {first}")
        for row, first, value in with_text.iter_rows()
    ]


def _repeated_finding(table: Table, row: int, value: str, first: str) -> Finding:
    if not table.key:
        message = f"the same row stands in {first}; both count"
        return Finding(table.name, row, "", "", message, "warning")
    if len(table.key) == 1:
        message = f"stands in {first} already; each {table.key[0]} only once"
        return Finding(table.name, row, table.key[0], value, message)
    others = f"{', '.join(table.key[1:-1])} and {table.key[-1]}".removeprefix(" and ")
    advice = "add the quantities up" if "quantity" in table.column_names else "remove one of them"
    message = f"stands in {first} already with the same {others}; {advice}"
    return Finding(table.name, row, table.key[0], value, message)


def _find_further_rows(typed: TypedTable) -> list[Finding]:
    """For a table of one row: that it has none, or more."""
    table = typed.text.table
    rows = typed.frame["row"].to_list()
    if rows or not typed.text.given or not typed.text.complete:
        message = f"{table.name} has one row; remove this one"
        return [Finding(table.name, row, "", "", message) for row in rows[1:]]
    return [Finding(table.name, 0, "", "", "must have one row with the settings")]


def find_broken_rules(typed: TypedTable) -> list[Finding]:
    """Rows that do not meet one of the table's rules; a condition on nothing counts as met."""
    table = typed.text.table
    if not table.rules or typed.frame.is_empty():
        return []
    holds = typed.frame.select(
        rule.holds.fill_null(True).alias(str(place)) for place, rule in enumerate(table.rules)
    )
    return [
        finding
        for place, rule in enumerate(table.rules)
        for finding in _broken_rule(typed.text, rule, holds[str(place)])
    ]


def _broken_rule(text: TextTable, rule: Rule, holds: pl.Series) -> Iterable[Finding]:
    cells = text.column(rule.column)
    for place in (~holds).arg_true():
        yield Finding(
            text.table.name,
            text.frame["row"][place],
            rule.column,
            cells[place],
            rule.message,
            rule.severity,
        )


def _keep_one_for_each_cell(
    texts: Mapping[str, TextTable], findings: Iterable[Finding]
) -> list[Finding]:
    """The findings without those about cells or rows for which an error is known already."""
    kept = [finding for text in texts.values() for finding in text.findings]
    spoiled = {(name, row, column) for name, text in texts.items() for row, column in text.spoiled}
    whole = {(name, row) for name, row, column in spoiled if column == WHOLE_ROW}
    for finding in sorted(findings, key=lambda finding: finding.severity):
        cell = (finding.table, finding.row, finding.column)
        if (finding.table, finding.row) in whole or cell in spoiled:
            continue
        kept.append(finding)
        if finding.severity == "error":
            spoiled.add(cell)
    return kept
