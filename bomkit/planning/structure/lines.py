"""Structure lines and replacements as numbers, with what makes each of them count."""

import polars as pl

from bomkit import units
from bomkit.planning.structure.options_and_serials import CONDITIONAL, CONDITIONS
from bomkit.planning.structure.replaced import replacement_lines
from bomkit.planning.workdays import Workdays
from bomkit.tables.schema import Tables

_AS_IT_IS = pl.exclude("row", "position", "note")


def structure_lines(tables: Tables, items: pl.DataFrame, axis: Workdays) -> pl.DataFrame:
    """Structure lines of items that are planned by them, and replacements as lines.

    Columns parent_id, child_id, the condition columns and their number condition (0: none), factor,
    per_order, offset, first_start, last_start; in an order of their own.
    """
    sizes = units.size(pl.col("line_unit")) / units.size(pl.col("child_unit"))

    number = pl.struct(CONDITIONS).rank("dense").cast(pl.Int64)
    return (
        _with_start_window(_between_items(tables, items), axis)
        .select(
            "parent_id",
            "child_id",
            *CONDITIONS,
            factor=pl.col("quantity") / (1 - pl.col("waste")) * sizes,
            per_order=pl.col("per") == "order",
            offset=pl.when("parent_passes").then(0).otherwise(pl.col("offset_days")),
            first_start="first_start",
            last_start="last_start",
            condition=pl.when(CONDITIONAL).then(number).otherwise(0),
        )
        .sort(pl.all())
    )


def _between_items(tables: Tables, items: pl.DataFrame) -> pl.DataFrame:
    """The lines that count beside what their parent and child say; a replaced item has only one."""
    lines = [
        tables["structure"].select(_AS_IT_IS, replacing=False),
        replacement_lines(tables).with_columns(replacing=True),
    ]
    parents = items.select(
        parent="item",
        parent_id="item_id",
        parent_unit="unit",
        parent_replaced="replaced",
        parent_passes="passes",
    )
    children = items.select(child="item", child_id="item_id", child_unit="unit")
    own_unit = pl.coalesce("unit", "child_unit")
    return (
        pl.concat(lines, how="diagonal")
        .join(parents, on="parent")
        .join(children, on="child")
        .filter(pl.col("replacing") == pl.col("parent_replaced"))
        .with_columns(line_unit=pl.when("replacing").then("parent_unit").otherwise(own_unit))
    )


def _with_start_window(lines: pl.DataFrame, axis: Workdays) -> pl.DataFrame:
    """Adds the first and last day on which the parent's order may start for a line to count."""
    return lines.with_columns(
        first_start=axis.working_days_before(lines["from_date"]).fill_null(0),
        last_start=axis.working_days_up_to(lines["to_date"]).fill_null(len(axis.dates)) - 1,
    )
