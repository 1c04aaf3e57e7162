"""What takes the place of what: replacements as lines old -> new, and what each item is by now."""

import polars as pl

from bomkit.planning.structure.options_and_serials import NO_CONDITION
from bomkit.tables.schema import Tables


def is_replaced(tables: Tables) -> pl.Expr:
    """Whether another one takes the place of the item (column item) once it is used up."""
    return pl.col("item").is_in(tables["replacements"]["old"].implode())


def passes_on(tables: Tables) -> pl.Expr:
    """Whether the item (columns item, source) has no orders of its own: a phantom, or replaced."""
    return (pl.col("source") == "phantom") | is_replaced(tables)


def replacement_links(tables: Tables) -> pl.DataFrame:
    """Each replacement as a link that always counts: parent (the old item), child (the new one),
    row, the condition columns."""
    return tables["replacements"].select("row", parent="old", child="new", **NO_CONDITION)


def replacement_lines(tables: Tables) -> pl.DataFrame:
    """The same as structure lines, one for one."""
    return replacement_links(tables).with_columns(
        quantity=pl.lit(1.0),
        per=pl.lit("each"),
        waste=pl.lit(0.0),
        offset_days=pl.lit(0, pl.Int64),
    )


def successors(tables: Tables) -> dict[str, str]:
    """By replaced item the one that comes right after it."""
    return dict(tables["replacements"].select("old", "new").iter_rows())


def newest_items(tables: Tables) -> pl.DataFrame:
    """For every item the one that is bought or made in its place by now: item, newest."""
    items = tables["items"].select("item", newest="item")
    step = tables["replacements"].select(newest="old", then="new")
    for _ in range(len(step)):
        moved = items.join(step, on="newest", how="left").select(
            "item", newest=pl.coalesce("then", "newest")
        )
        if moved.sort("item").equals(items.sort("item")):
            break
        items = moved
    return items
