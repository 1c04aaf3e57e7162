"""Exploding: from the starts of one level to the gross requirements of its components.

Wide form as in netting: one join of lines on their parents, and one grouped sum of all day columns.
Lines that move a need by the same number of days go together.
"""

from dataclasses import dataclass

import polars as pl

TIMING = ("lead", "safety", "offset", "dated")  # what moves the need of a line


@dataclass(frozen=True)
class Timing:
    """From the day on which an order is usable to its own days and the need of a component."""

    lead: int
    safety: int
    offset: int = 0

    def due(self, usable: int) -> int:
        """The day on which an order is due that is to be usable on a day; never before day 0."""
        return max(0, usable - self.safety)

    def start(self, usable: int) -> int:
        """The day on which it starts; never before day 0."""
        return max(0, usable - self.safety - self.lead)

    def need(self, usable: int) -> int:
        """The day on which the component is needed: from the start on, at latest on the due day."""
        return max(0, min(self.start(usable) + self.offset, self.due(usable)))


# The same for many orders at once: columns usable, safety and lead of their items.
DUE = (pl.col("usable") - pl.col("safety")).clip(0)
START = (pl.col("usable") - pl.col("safety") - pl.col("lead")).clip(0)
LATE_DAYS = (pl.col("lead") + pl.col("safety") - pl.col("usable")).clip(0)


def component_needs(
    starts: pl.DataFrame, lines: pl.DataFrame, active: pl.DataFrame, serial_count: int
) -> list[pl.DataFrame]:
    """Gross requirements that the starts put on components: frames of key and one column a day.

    starts: item_id, serial_id and a column of started quantities a usable day, named "0", "1", ...
    lines: structure lines with lead and safety of the parent and child_specific, those with the
    same TIMING one after the other. A key may occur in many rows.
    """
    days = [name for name in starts.columns if name.isdigit()]
    beside = _fitting(lines, starts, active, serial_count)
    asked = _asked(beside, days)
    parts = []
    first = 0
    for count in beside.select(pl.struct(TIMING).rle().struct.field("len")).to_series():
        parts.append(_moved(beside[first : first + count], asked, first, days))
        first += count
    return parts


def summed_by_key(parts: list[pl.DataFrame], days: list[str]) -> pl.DataFrame:
    """One row a key, sorted, each day column summed over all parts."""
    nothing = pl.DataFrame(schema={"key": pl.Int64, **dict.fromkeys(days, pl.Float64)})
    return pl.concat([nothing, *parts]).group_by("key").sum().sort("key")


def _fitting(
    lines: pl.DataFrame, starts: pl.DataFrame, active: pl.DataFrame, serial_count: int
) -> pl.DataFrame:
    """The lines beside the starts of their parents, less those that a serial does not have."""
    # the lines' own order makes every sum add up in the same order, whatever the input's order
    beside = lines.join(
        starts, left_on="parent_id", right_on="item_id", maintain_order="left_right"
    )
    if (lines["condition"] > 0).any():
        held = active.with_columns(held=True)
        beside = beside.join(held, ["condition", "serial_id"], "left", maintain_order="left")
        beside = beside.filter((pl.col("condition") == 0) | pl.col("held").fill_null(False))
    serial = pl.when("child_specific").then("serial_id").otherwise(0)
    return beside.with_columns(key=pl.col("child_id") * serial_count + serial)


def _asked(beside: pl.DataFrame, days: list[str]) -> list[pl.Series | None]:
    """What each line asks for by the usable day of its parent's order; None: nothing on that day.

    The factor for each unit started, or once for each order. Column by column on the values
    themselves: building an expression for each day would cost more than the products.
    """
    factor, per_order = beside["factor"], beside["per_order"]
    some_per_order = per_order.any()
    asked: list[pl.Series | None] = []
    for started in beside.select(days).get_columns():
        if not started.max():
            asked.append(None)
            continue
        if some_per_order:
            started = (started > 0).cast(pl.Float64).zip_with(per_order, started)
        asked.append(started * factor)
    return asked


def _moved(
    group: pl.DataFrame, asked: list[pl.Series | None], first: int, days: list[str]
) -> pl.DataFrame:
    """Lines that share one timing: what they ask for, moved to the day on which it is needed.

    asked: of all lines; the group's stand from `first` on.
    """
    timing = Timing(group["lead"][0], group["safety"][0], group["offset"][0])
    dated = group["dated"][0]
    moved: dict[int, pl.Series] = {}
    for usable, column in enumerate(asked):
        if column is None:
            continue
        quantity = column.slice(first, len(group))
        if dated:
            start = timing.start(usable)
            counts = (group["first_start"] <= start) & (group["last_start"] >= start)
            quantity = quantity * counts.cast(pl.Float64)
        need = timing.need(usable)
        moved[need] = moved[need] + quantity if need in moved else quantity
    nothing = group["factor"] * 0.0
    return pl.DataFrame(
        {"key": group["key"], **{name: moved.get(int(name), nothing) for name in days}}
    )
