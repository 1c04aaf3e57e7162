"""Which items the configured structure of each aircraft contains.

Dates on lines do not count: an aircraft in the field may have been built before a change or after
it. A replacement is followed like a line, so that an aircraft with the old item has the new one.
"""

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Flags, each_repeated, ints
from bomkit.planning.structure.options_and_serials import CONDITIONAL, CONDITIONS, active_conditions
from bomkit.planning.structure.replaced import replacement_links
from bomkit.tables.schema import Tables


def all_links(tables: Tables) -> pl.DataFrame:
    """Structure lines and replacements with what they hang on.

    Columns parent, child, the condition columns, row (in structure, or in replacements) and
    condition: 0 for a line that always counts, else the number of its condition.
    """
    lines = tables["structure"].select("parent", "child", *CONDITIONS, "row")
    links = pl.concat([lines, replacement_links(tables).select(lines.columns)])
    conditional = links.filter(CONDITIONAL)
    numbered = (
        conditional.select(CONDITIONS)
        .unique(maintain_order=True)
        .with_row_index("condition", offset=1)
        .with_columns(pl.col("condition").cast(pl.Int64))
    )
    return pl.concat(
        [
            links.filter(~CONDITIONAL).with_columns(condition=pl.lit(0, pl.Int64)),
            conditional.join(numbered, on=CONDITIONS, maintain_order="left"),
        ]
    )


def contained_items(links: pl.DataFrame, aircraft: pl.DataFrame) -> pl.DataFrame:
    """What each aircraft contains: serial, item; the item that is the aircraft itself included.

    links: as from all_links; aircraft: serial, item, options. Aircraft of one kind whose lines are
    the same are gone through once.
    """
    fitted = _fitted(links, aircraft)
    of_serial = (
        fitted.sort("serial", "condition")
        .group_by("serial", maintain_order=True)
        .agg(conditions=pl.col("condition").cast(pl.String).str.join(" "))
    )
    named = aircraft.join(of_serial, on="serial", how="left", maintain_order="left")
    kinds = (
        named.select("item", pl.col("conditions").fill_null(""), "serial")
        .group_by("item", "conditions", maintain_order=True)
        .agg("serial", first=pl.col("serial").first())
        .with_row_index("kind")
    )
    active = fitted.join(kinds.select("kind", serial="first"), on="serial").select(
        "kind", "condition"
    )
    contained = _below(links, kinds.select("kind", "item"), active)
    return kinds.select("kind", "serial").explode("serial").join(contained, on="kind").drop("kind")


def mentioned_items(links: pl.DataFrame, tops: pl.Series) -> pl.Series:
    """The items that some line leads to from one of the tops, whatever its conditions."""
    start = tops.unique().to_frame("item").select(pl.lit(0).alias("kind"), "item")
    always = links.with_columns(condition=pl.lit(0, pl.Int64))
    none = pl.DataFrame(schema={"kind": pl.Int32, "condition": pl.Int64})
    return _below(always, start, none)["item"]


def leading_to(links: pl.DataFrame, items: pl.Series) -> pl.DataFrame:
    """The links from which some of the items is reached, going down."""
    upwards = links.select("condition", parent="child", child="parent")
    above = mentioned_items(upwards, items)
    return links.join(above.to_frame("child"), on="child", how="semi", maintain_order="left")


def _fitted(links: pl.DataFrame, aircraft: pl.DataFrame) -> pl.DataFrame:
    """Which conditions hold for which aircraft: condition, serial."""
    conditions = links.filter(pl.col("condition") > 0).unique("condition").sort("condition")
    numbered = aircraft.select("serial", "options").with_row_index("serial_id")
    held = active_conditions(conditions, numbered.iter_rows())
    serials = numbered.select(pl.col("serial_id").cast(pl.Int64), "serial")
    return held.join(serials, on="serial_id").select("condition", "serial")


def _below(links: pl.DataFrame, tops: pl.DataFrame, active: pl.DataFrame) -> pl.DataFrame:
    """Everything reached from the tops over lines that count: kind, item.

    tops: kind, item; active: kind, condition.
    """
    names = pl.concat([links["parent"], links["child"], tops["item"]]).unique().sort()
    lines = links.select("parent", "child", "condition").unique().sort("parent")
    parent, child = (ints(names.search_sorted(lines[name])) for name in ("parent", "child"))
    count = np.bincount(parent, minlength=len(names))
    first = np.cumsum(count) - count
    holds = _holding(lines["condition"], int(tops["kind"].max() or 0) + 1, active)  # type: ignore[arg-type]
    fresh = ints(tops["kind"]) * len(names) + ints(names.search_sorted(tops["item"]))
    contained: Flags = np.zeros(len(holds) * len(names), np.bool_)
    while len(fresh):
        contained[fresh] = True
        kind, item = np.divmod(fresh, max(1, len(names)))
        line = each_repeated(first[item], count[item])
        kind = np.repeat(kind, count[item])
        counting = holds[kind, line]
        reached = kind[counting] * len(names) + child[line[counting]]
        fresh = np.unique(reached[~contained[reached]])
    kind, item = np.divmod(np.flatnonzero(contained), max(1, len(names)))
    return pl.DataFrame({"kind": pl.Series(kind, dtype=tops.schema["kind"]), "item": names[item]})


def _holding(conditions: pl.Series, kinds: int, active: pl.DataFrame) -> Flags:
    """By kind and line whether the line counts; conditions: of each line; active: as in _below."""
    of_kinds: Flags = np.zeros((kinds, int(conditions.max() or 0) + 1), np.bool_)  # type: ignore[arg-type]
    of_kinds[:, 0] = True
    own = active.filter(pl.col("condition") < of_kinds.shape[1])
    of_kinds[ints(own["kind"]), ints(own["condition"])] = True
    return of_kinds[:, ints(conditions)]
