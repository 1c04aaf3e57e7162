"""What coming inspections take of the parts to keep, beside what fails.

When they fall due is known, so they add no chance. Of a part that takes some days to replace, a
stock has to last for what falls due within any such stretch of days; the worst one of the horizon
counts. What fails meanwhile is Poisson as ever, and meets what is there beyond those pieces.
"""

from collections import deque
from collections.abc import Iterable, Sequence
from math import ceil

import polars as pl

from bomkit.planning.fleet.inspections_due import applies, inspections_due
from bomkit.planning.fleet.spares_stock.yearly_use import NOBODY, Use, left_out_parts
from bomkit.planning.structure.replaced import newest_items
from bomkit.planning.workdays import workdays_of
from bomkit.tables.schema import Tables
from bomkit.units import TOLERANCE

INSPECTIONS = "inspections"  # the source of a part that only inspections take
Need = tuple[int, float]  # day, quantity

NONE_FORESEEN = pl.DataFrame(
    schema={"item": pl.String, "serial": pl.String, "day": pl.Int64, "quantity": pl.Float64}
)


def foreseen_needs(tables: Tables, serials: Sequence[str], by_calendar: bool) -> pl.DataFrame:
    """What inspections take within the horizon, by day: item, serial, day, quantity.

    Of all the fleet, or only of the aircraft named; a replaced item counts as the one in its place.
    day: as the plan counts them, the working day up to the date; by_calendar: the day since the
    start.
    """
    due = inspections_due(tables).join(newest_items(tables), on="item", maintain_order="left")
    chosen = due.filter(pl.col("serial").is_in(list(serials))) if serials else due
    settings = tables["plan"].row(0, named=True)
    days = (
        (chosen["due_date"] - settings["start"]).dt.total_days()
        if by_calendar
        else workdays_of(tables).needs(chosen["due_date"])["day"]
    )
    return chosen.select("serial", "quantity", item="newest", day=days.cast(pl.Int64)).select(
        NONE_FORESEEN.columns
    )


def beside_use(use: Use, needs: pl.DataFrame, tables: Tables, serials: Sequence[str]) -> Use:
    """The parts in use and those that only inspections take, and what can't be kept of either.

    Of the latter the aircraft are those whose inspections take it, within the horizon or later.
    """
    taken = needs.select(pl.col("item").unique()).join(_inspected(tables, serials), on="item")
    unkept = left_out_parts(tables, taken["item"])
    kept = taken.join(unkept, on="item", how="anti")
    parts = (
        use.parts.join(kept, on="item", how="full", coalesce=True)
        .with_columns(
            pl.coalesce("aircraft", "inspected").alias("aircraft"),
            pl.col("yearly").fill_null(0.0),
            pl.col("source").fill_null(INSPECTIONS),
        )
        .sort("item")
    )
    idle = (pl.col("reason") == NOBODY) & pl.col("item").is_in(kept["item"].implode())
    left_out = pl.concat([use.left_out.filter(~idle), unkept]).unique("item").sort("item")
    return Use(parts.select(use.parts.columns), left_out, use.assumed)


def _inspected(tables: Tables, serials: Sequence[str]) -> pl.DataFrame:
    """How many aircraft of the fleet, or of those named, have inspections that take an item: item,
    inspected."""
    fleet = [
        row
        for row in tables["fleet"].iter_rows(named=True)
        if not serials or row["serial"] in serials
    ]
    pairs = [
        (work["item"], aircraft["serial"])
        for work in tables["inspection_rules"].iter_rows(named=True)
        for aircraft in fleet
        if applies(work, aircraft)
    ]
    taking = pl.DataFrame(pairs, schema={"item": pl.String, "serial": pl.String}, orient="row")
    return (
        taking.join(newest_items(tables), on="item")
        .group_by(item="newest")
        .agg(inspected=pl.col("serial").n_unique())
    )


def most_at_once(needs: pl.DataFrame, spans: pl.DataFrame) -> pl.DataFrame:
    """The most pieces that fall due within a stretch of days: item, due, for each item of spans.

    spans: item, span (days until a piece is replaced; needs as many days apart are not together).
    """
    by_item: dict[str, list[Need]] = {}
    for item, day, quantity in needs.sort("item", "day").select("item", "day", "quantity").rows():
        by_item.setdefault(item, []).append((day, quantity))
    rows = [(item, _most(by_item.get(item, ()), span)) for item, span in spans.iter_rows()]
    return pl.DataFrame(rows, schema={"item": pl.String, "due": pl.Int64}, orient="row")


def _most(needs: Iterable[Need], span: int) -> int:
    """The most that a stretch of so many days takes, in whole pieces."""
    within: deque[Need] = deque()
    most = 0.0
    for day, quantity in needs:
        within.append((day, quantity))
        while within and within[0][0] + span <= day:
            within.popleft()
        most = max(most, sum(each for _, each in within))
    return ceil(most * (1 - TOLERANCE))


def with_due(levels: pl.DataFrame, due: pl.DataFrame) -> pl.DataFrame:
    """The levels of stock where so many pieces are sure to be asked for as well.

    levels: as stock_for_target.stock_levels gives them; due: item, due. Those pieces are taken
    first.
    """
    due_too = levels.join(due.filter(pl.col("due") > 0), on="item", maintain_order="left")
    moved = due_too.with_columns(
        held=pl.col("held") + pl.col("due"),
        served=pl.col("served") + pl.col("due"),
        asked=pl.col("asked") + pl.col("due"),
    )
    lowest = moved.group_by("item", maintain_order=True).first()
    below = (
        lowest.with_columns(held=pl.int_ranges(0, "held"))
        .explode("held")
        .drop_nulls("held")
        .with_columns(
            chance=pl.lit(0.0),
            over=pl.lit(1.0),
            backorders=pl.col("asked") - pl.col("held"),
            fill_rate=pl.lit(0.0),
            unmet=pl.lit(1.0),
            served=pl.min_horizontal("held", "due").cast(pl.Float64),
        )
    )
    rest = levels.join(moved, on="item", how="anti", maintain_order="left")
    return pl.concat([rest, *(each.select(levels.columns) for each in (below, moved))]).sort(
        "item", "held"
    )
