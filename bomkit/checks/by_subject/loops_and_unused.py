"""What goes into itself, comes from nothing or is used by nothing; moulds of what nobody makes."""

from collections.abc import Iterator

import polars as pl

from bomkit.checks.row_check import RowCheck
from bomkit.planning.structure.levels import Levels, loops
from bomkit.planning.structure.replaced import replacement_links
from bomkit.problems import Finding
from bomkit.tables.kinds import STRUCTURED
from bomkit.tables.schema import Tables


def links_between_items(tables: Tables) -> pl.DataFrame:
    """Structure lines and replacements between items that exist: parent, child, table, row."""
    links = pl.concat(
        [
            tables["structure"].select("parent", "child", "row", table=pl.lit("structure")),
            replacement_links(tables).with_columns(table=pl.lit("replacements")),
        ],
        how="diagonal",
    )
    known = tables["items"]["item"].unique().implode()
    of_itself = pl.col("parent") == pl.col("child")  # a rule of the table says that
    return links.filter(pl.col("parent").is_in(known) & pl.col("child").is_in(known) & ~of_itself)


def loop_findings(levels: Levels, links: pl.DataFrame) -> list[Finding]:
    """A finding for each loop, at the first line that closes it."""
    findings = []
    for loop in loops(levels.tangled):
        table, row = (
            links.filter((pl.col("parent") == loop[0]) & (pl.col("child") == loop[1]))
            .sort("table", "row", descending=[True, False])
            .select("table", "row")
            .row(0)
        )
        column = "child" if table == "structure" else "new"
        way = " -> ".join(loop)
        findings.append(
            Finding(table, row, column, loop[1], f"an item can't contain itself; the loop is {way}")
        )
    return findings


def item_checks(tables: Tables) -> Iterator[RowCheck]:
    """Moulds of what nobody here makes, items made from nothing, and items that nothing uses."""
    items = tables["items"]
    sources = items.select("item", "source").unique("item", keep="none")
    moulds = tables["moulds"].join(sources, on="item")
    yield RowCheck(
        "moulds",
        "item",
        moulds.filter(pl.col("source") != "make").sort("row"),
        "{item} comes from no mould here: its source in items is {source}; "
        "name a part of source make, or correct the source",
    )
    parents = tables["structure"]["parent"].unique().implode()
    yield RowCheck(
        "items",
        "source",
        items.filter(pl.col("source").is_in(STRUCTURED) & ~pl.col("item").is_in(parents)),
        "{item} is not bought but has no lines in structure; "
        "add them, or nothing will be drawn for it",
        "warning",
    )
    # a kit waits for the day somebody orders it
    idle = ~pl.col("item").is_in(_used(tables).implode()) & (pl.col("source") != "kit")
    yield RowCheck(
        "items",
        "item",
        items.filter(idle),
        "it is never used: no structure line, build plan or order names it",
        "warning",
    )


def _used(tables: Tables) -> pl.Series:
    """The items that something contains, orders, replaces by or approves as a stand-in."""
    orders = ("build_plan", "spares_orders", "fleet", "allocations")
    uses = ("usage", "issues", "inspection_rules")
    return pl.concat(
        [
            tables["structure"]["child"],
            tables["replacements"]["new"],
            tables["moulds"]["replacement"],
            tables["alternates"]["alternate"],
            *(tables[name]["item"] for name in (*orders, *uses)),
        ]
    ).unique()
