"""What only the structure as a whole shows: loops, serials that are missing, items without use."""

from collections.abc import Callable, Mapping

import polars as pl

from bomkit.checks.fitting import misfit_findings
from bomkit.checks.lot_costs import holding_findings
from bomkit.planning.structure.conditions import serial_specific_items
from bomkit.planning.structure.levels import Levels, longest_chain, loops, low_level_codes
from bomkit.planning.workdays import workdays_of
from bomkit.problems import Finding, Severity
from bomkit.tables.kinds import STRUCTURED

Tables = Mapping[str, pl.DataFrame]
_NAMES_SERIAL = ("stock", "open_orders", "allocations", "spares_orders")


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
        *_missing_serials(tables, specific),
        *_specific_safety_stock(tables["items"], specific),
        *_replaced_by_specific(tables["replacements"], specific),
        *_specific_moulds(tables["moulds"], specific),
        *_moulds_of_what_is_not_made(tables),
        *_unfinished_items(tables),
        *_unused_items(tables),
        *_horizon_findings(tables, levels, links),
        *holding_findings(tables),
        *_past_to_come(tables),
        *_untold_inspections(tables),
        *misfit_findings(tables, specific),
    ]


def _links(tables: Tables) -> pl.DataFrame:
    """Structure lines and replacements between items that exist: parent, child, table, row."""
    links = pl.concat(
        [
            tables["structure"].select("parent", "child", "row", table=pl.lit("structure")),
            tables["replacements"].select(
                "row", parent="old", child="new", table=pl.lit("replacements")
            ),
        ],
        how="diagonal",
    )
    known = tables["items"]["item"].unique().implode()
    return links.filter(pl.col("parent").is_in(known) & pl.col("child").is_in(known))


def _loop_findings(levels: Levels, links: pl.DataFrame) -> list[Finding]:
    """A finding for each loop, at the first line that closes it."""
    found = []
    for loop in loops(levels.tangled):
        table, row = (
            links.filter((pl.col("parent") == loop[0]) & (pl.col("child") == loop[1]))
            .sort("table", "row", descending=[True, False])
            .select("table", "row")
            .row(0)
        )
        column = "child" if table == "structure" else "new"
        way = " -> ".join(loop)
        found.append(
            Finding(table, row, column, loop[1], f"an item can't contain itself; the loop is {way}")
        )
    return found


def _missing_serials(tables: Tables, specific: pl.Series) -> list[Finding]:
    """Rows of serial-specific items that name no serial."""
    return [
        finding
        for name in _NAMES_SERIAL
        for finding in _findings(
            name,
            tables[name].filter(
                (pl.col("serial") == "") & pl.col("item").is_in(specific.implode())
            ),
            "serial",
            "",
            lambda row: (
                f"{row['item']} is configured for each airframe; "
                "name the serial number it is for (one of build_plan or fleet)"
            ),
        )
    ]


def _specific_safety_stock(items: pl.DataFrame, specific: pl.Series) -> list[Finding]:
    """Serial-specific items that ask for a safety stock."""
    rows = items.filter((pl.col("safety_stock") > 0) & pl.col("item").is_in(specific.implode()))
    return _findings(
        "items",
        rows,
        "safety_stock",
        "safety_stock",
        lambda row: (
            f"{row['item']} is configured for each airframe and can't be kept in advance; empty it"
        ),
    )


def _replaced_by_specific(replacements: pl.DataFrame, specific: pl.Series) -> list[Finding]:
    """Replacements of a common item by one that is configured for each airframe."""
    known = specific.implode()
    rows = replacements.filter(pl.col("new").is_in(known) & ~pl.col("old").is_in(known))
    return _findings(
        "replacements",
        rows,
        "new",
        "new",
        lambda row: (
            f"{row['new']} is configured for each airframe but {row['old']} is not, so nobody "
            "could say for which serial it is; replace the items above them instead"
        ),
    )


def _specific_moulds(moulds: pl.DataFrame, specific: pl.Series) -> list[Finding]:
    """Worn moulds replaced by items that are configured for each airframe."""
    return _findings(
        "moulds",
        moulds.filter(pl.col("replacement").is_in(specific.implode())),
        "replacement",
        "replacement",
        lambda row: (
            f"{row['replacement']} is configured for each airframe, so nobody could say for which "
            "serial it is; name an item that is the same for all"
        ),
    )


def _moulds_of_what_is_not_made(tables: Tables) -> list[Finding]:
    """Moulds of items that nobody here makes: no order of theirs is a pull."""
    sources = tables["items"].select("item", "source").unique("item", keep="none")
    return _findings(
        "moulds",
        tables["moulds"].join(sources, on="item").filter(pl.col("source") != "make").sort("row"),
        "item",
        "item",
        lambda row: (
            f"{row['item']} comes from no mould here: its source in items is {row['source']}; "
            "name a part of source make, or correct the source"
        ),
    )


def _unfinished_items(tables: Tables) -> list[Finding]:
    """Items that are made from nothing."""
    parents = tables["structure"]["parent"].unique().implode()
    rows = tables["items"].filter(
        pl.col("source").is_in(STRUCTURED) & ~pl.col("item").is_in(parents)
    )
    return _findings(
        "items",
        rows,
        "source",
        "source",
        lambda row: (
            f"{row['item']} is not bought but has no lines in structure; "
            "add them, or nothing will be drawn for it"
        ),
        "warning",
    )


def _unused_items(tables: Tables) -> list[Finding]:
    """Items that nothing contains, orders, replaces by or approves as a stand-in."""
    used = pl.concat(
        [
            tables["structure"]["child"],
            tables["replacements"]["new"],
            tables["moulds"]["replacement"],
            tables["alternates"]["alternate"],
            *(tables[name]["item"] for name in ("build_plan", "spares_orders", "fleet")),
            *(
                tables[name]["item"]
                for name in ("allocations", "usage", "issues", "inspection_rules")
            ),
        ]
    ).unique()
    # a kit waits for the day somebody orders it
    rows = tables["items"].filter(
        ~pl.col("item").is_in(used.implode()) & (pl.col("source") != "kit")
    )
    return _findings(
        "items",
        rows,
        "item",
        "item",
        lambda row: "it is never used: no structure line, build plan or order names it",
        "warning",
    )


def _past_to_come(tables: Tables) -> list[Finding]:
    """Issues and works that are said to be past on the plan's first day or later."""
    start = tables["plan"]["start"].drop_nulls().min()
    if start is None:
        return []
    return [
        finding
        for name in ("issues", "inspection_log")
        for finding in _findings(
            name,
            tables[name].filter(pl.col("date") >= start),
            "date",
            "date",
            lambda row: f"is not past on the plan's first day, {start!s}, and does not count",
            "warning",
        )
    ]


def _untold_inspections(tables: Tables) -> list[Finding]:
    """Aircraft of the fleet that do not say what inspections are counted by."""
    fleet = tables["fleet"]
    return [
        finding
        for every, columns in (
            ("every_hours", ("hours", "hours_per_year")),
            ("every_months", ("delivered",)),
        )
        if tables["inspection_rules"][every].count()
        for column in columns
        for finding in _findings(
            "fleet",
            fleet.filter(pl.col(column).is_null()),
            column,
            "",
            lambda row, every=every: (  # type: ignore[misc]
                f"{row['serial']} does not say; inspections that count by {every} is not foreseen"
            ),
            "warning",
        )
    ]


def _horizon_findings(tables: Tables, levels: Levels, links: pl.DataFrame) -> list[Finding]:
    """A horizon in which nobody works, or that is shorter than the longest chain of lead times."""
    plan = tables["plan"].filter(pl.col("start").is_not_null() & (pl.col("horizon_weeks") > 0))
    if plan.is_empty():
        return []
    settings = plan.row(0, named=True)
    count = workdays_of({**tables, "plan": plan}).count
    weeks = str(settings["horizon_weeks"])
    if not count:
        message = "every day of the horizon is closed; plan more weeks, or look at calendar"
        return [Finding("plan", 0, "horizon_weeks", weeks, message)]
    if len(levels.tangled):
        return []
    chain, total = _slowest_chain(tables["items"], levels, links)
    if total <= count:
        return []
    message = (
        f"the horizon has {count} working days, but the longest chain of lead times takes {total}: "
        f"{' -> '.join(chain)}; plan more weeks, or orders deep in it will be late"
    )
    return [Finding("plan", 0, "horizon_weeks", weeks, message, "warning")]


def _slowest_chain(
    items: pl.DataFrame, levels: Levels, links: pl.DataFrame
) -> tuple[list[str], int]:
    """The chain of items whose lead and safety days add up to the most, and that sum."""
    ordered = pl.when(pl.col("source") != "phantom").then(
        pl.col("lead_days") + pl.col("safety_days")
    )
    timed = (
        items.unique("item").select("item", days=ordered.fill_null(0)).join(levels.codes, on="item")
    )
    chain = longest_chain(timed, links)
    return chain, int(timed.filter(pl.col("item").is_in(chain))["days"].sum())


def _findings(
    table: str,
    rows: pl.DataFrame,
    column: str,
    shown: str,
    message: Callable[[dict[str, object]], str],
    severity: Severity = "error",
) -> list[Finding]:
    """One finding for each of the rows."""
    return [
        Finding(table, row["row"], column, str(row[shown]) if shown else "", message(row), severity)
        for row in rows.iter_rows(named=True)
    ]
