"""What only the structure as a whole shows: loops, items without use, moulds of nothing made."""

from collections.abc import Iterable, Iterator

import polars as pl

from bomkit.checks.by_serial.configured import configured_checks
from bomkit.checks.by_serial.fitting import misfit_findings
from bomkit.checks.horizon import horizon_findings, past_to_come_checks
from bomkit.checks.price_rules import holding_findings
from bomkit.checks.row_check import RowCheck
from bomkit.checks.slips import far_date_checks, nothing_within_findings, whole_piece_checks
from bomkit.planning.structure.levels import Levels, loops, low_level_codes
from bomkit.planning.structure.replaced import replacement_links
from bomkit.planning.structure.serial_conditions import serial_specific_items
from bomkit.problems import Finding
from bomkit.tables.kinds import STRUCTURED
from bomkit.tables.schema import Tables


def structure_findings(tables: Tables) -> list[Finding]:
    """Everything wrong with the structure, the serials and the horizon.

    tables: typed; a cell that could not be read is null and gives no further finding.
    """
    tables = {**tables, "items": tables["items"].filter(pl.col("item").is_not_null())}
    links = _links(tables)
    levels = low_level_codes(tables["items"]["item"].unique(), links)
    specific = serial_specific_items(tables["structure"], tables["build_plan"])
    return [
        *_loop_findings(levels, links),
        # round a loop everything goes into everything, so it is left open what is configured
        *_findings_of(configured_checks(tables, specific) if levels.tangled.is_empty() else []),
        *_findings_of(_item_checks(tables)),
        *horizon_findings(tables, levels, links),
        *nothing_within_findings(tables),
        *holding_findings(tables),
        *_findings_of(past_to_come_checks(tables)),
        *_findings_of(far_date_checks(tables)),
        *_findings_of(whole_piece_checks(tables)),
        *_findings_of(_untold_inspections(tables)),
        *misfit_findings(tables, specific),
    ]


def _findings_of(checks: Iterable[RowCheck]) -> Iterator[Finding]:
    """What the checks find."""
    for check in checks:
        yield from check.findings()


def _links(tables: Tables) -> pl.DataFrame:
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


def _loop_findings(levels: Levels, links: pl.DataFrame) -> list[Finding]:
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


def _item_checks(tables: Tables) -> Iterator[RowCheck]:
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


def _untold_inspections(tables: Tables) -> Iterator[RowCheck]:
    """Aircraft of the fleet that do not say what inspections are counted by."""
    counted_by = (("every_hours", ("hours", "hours_per_year")), ("every_months", ("delivered",)))
    for every, columns in counted_by:
        if tables["inspection_rules"][every].count():
            for column in columns:
                yield RowCheck(
                    "fleet",
                    column,
                    tables["fleet"].filter(pl.col(column).is_null()),
                    f"{{serial}} does not say; inspections that count by {every} is not foreseen",
                    "warning",
                )
