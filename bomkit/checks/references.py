"""What must agree between tables: references, units and options."""

from collections.abc import Mapping

import polars as pl

from bomkit.checks.by_serial.serial_numbers import (
    CONDITIONAL,
    are_empty,
    find_bad_serial_ranges,
    find_built_and_delivered,
)
from bomkit.checks.price_rules import find_price_problems
from bomkit.checks.print_rules import find_print_problems
from bomkit.inputs.text_table import TextTable
from bomkit.problems import Finding, nearest
from bomkit.tables.schema import Column, Tables
from bomkit.units import UNITS, dimension

Texts = Mapping[str, TextTable]

MOST_HINTS = 20  # different values of a column for which the nearest name is looked up
MOST_COMPARED = 100_000  # names compared for them; half a second at most is spent on a column


def find_reference_problems(texts: Texts, frames: Tables) -> list[Finding]:
    """Every disagreement between the tables; what could not be read is not held against them."""
    findings = [
        finding
        for text in texts.values()
        if not text.frame.is_empty()
        for column in text.table.columns
        if column.refers_to and column.name in text.frame.columns
        for finding in find_dangling(text, column, texts, frames)
    ]
    units = _units_of_items(frames["items"])
    findings += find_lines_in_other_dimensions(units, frames["structure"])
    findings += find_replacements_in_other_dimensions(units, frames["replacements"])
    findings += find_bad_serial_ranges(frames)
    findings += find_built_and_delivered(texts, frames)
    findings += find_unknown_options(texts, frames)
    findings += find_print_problems(texts, frames)
    findings += find_price_problems(frames)
    return findings


def find_dangling(text: TextTable, column: Column, texts: Texts, frames: Tables) -> list[Finding]:
    """Cells of a referring column whose value stands in none of the columns referred to.

    Nothing is said where all those tables are missing, or one of them could not be read whole.
    """
    targets = [target.split(".") for target in column.refers_to]
    given = [texts[table] for table, _ in targets if texts[table].given]
    if not given or not all(target.complete for target in given):
        return []
    frame = frames[text.table.name]
    everything = {value for table, name in targets for value in frames[table][name].to_list()}
    if everything.issuperset(set(frame[column.name].to_list()) - {None, ""}):
        return []
    known = pl.concat([frames[table][name].rename("known") for table, name in targets]).unique()
    values = frame.select("row", value=pl.col(column.name).fill_null(""))
    dangling = values.filter((pl.col("value") != "") & ~pl.col("value").is_in(known.implode()))
    messages = _dangling_messages(dangling["value"], known, [table for table, _ in targets])
    return [
        Finding(text.table.name, row, column.name, value, messages[value])
        for row, value in dangling.sort("row").iter_rows()
    ]


def _dangling_messages(dangling: pl.Series, known: pl.Series, tables: list[str]) -> dict[str, str]:
    """For each dangling value where it is missing, and the nearest known one."""
    places = (
        f"is not in {tables[0]}" if len(tables) == 1 else f"is in neither {' nor '.join(tables)}"
    )
    advice = f"add it to {' or '.join(tables)}, or correct it here"
    names = known.drop_nulls().sort().to_list()
    most_hints = min(MOST_HINTS, 1 + MOST_COMPARED // (len(names) + 1))
    messages = {}
    for place, value in enumerate(dangling.unique().sort()):
        hint = nearest(value, names) if place < most_hints else ""
        messages[value] = f"{places}; {hint or advice}"
    return messages


def find_lines_in_other_dimensions(units: pl.DataFrame, structure: pl.DataFrame) -> list[Finding]:
    """Structure lines in a unit that can't be converted to the child's; units: item, unit."""
    lines = (
        structure.select("row", "unit", item="child")
        .join(units, on="item", suffix="_of_child")
        .filter(dimension(pl.col("unit")) != dimension(pl.col("unit_of_child")))
        .select("row", "unit", "item", "unit_of_child")
    )
    return [
        Finding("structure", row, "unit", unit, _unit_advice(child, unit_of_child))
        for row, unit, child, unit_of_child in lines.iter_rows()
    ]


def find_replacements_in_other_dimensions(
    units: pl.DataFrame, replacements: pl.DataFrame
) -> list[Finding]:
    """Replacements that are counted in another dimension than the old item; units: item, unit."""
    if replacements.is_empty():
        return []
    pairs = (
        replacements.select("row", "old", "new")
        .join(units.rename({"item": "old", "unit": "old_unit"}), on="old")
        .join(units.rename({"item": "new", "unit": "new_unit"}), on="new")
        .filter(dimension(pl.col("old_unit")) != dimension(pl.col("new_unit")))
        .select("row", "old", "new", "old_unit", "new_unit")
    )
    message = "is counted in {}, but {} in {}; both must be counted in the same kind of unit"
    return [
        Finding("replacements", row, "new", new, message.format(new_unit, old, old_unit))
        for row, old, new, old_unit, new_unit in pairs.iter_rows()
    ]


def _units_of_items(items: pl.DataFrame) -> pl.DataFrame:
    """The unit of each item that stands once and has one."""
    known = items.select("item", "unit").drop_nulls()
    return known.unique("item", keep="none")


def _unit_advice(child: str, unit: str) -> str:
    kind = UNITS[unit][0]
    fitting = " or ".join(name for name, (other, _, _) in UNITS.items() if other == kind)
    return f"{child} is counted in {unit}, so the unit must be {fitting}"


def find_unknown_options(texts: Texts, frames: Tables) -> list[Finding]:
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
