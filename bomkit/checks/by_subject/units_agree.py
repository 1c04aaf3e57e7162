"""Whether what is counted together is counted in the same kind of unit."""

import polars as pl

from bomkit.problems import Finding
from bomkit.tables.schema import Tables
from bomkit.units import UNITS, dimension


def find_other_dimensions(frames: Tables) -> list[Finding]:
    """Lines and replacements counted in another dimension than the item they are about."""
    units = _units_of_items(frames["items"])
    return [
        *_lines_in_other_dimensions(units, frames["structure"]),
        *_replacements_in_other_dimensions(units, frames["replacements"]),
    ]


def _lines_in_other_dimensions(units: pl.DataFrame, structure: pl.DataFrame) -> list[Finding]:
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


def _replacements_in_other_dimensions(
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
