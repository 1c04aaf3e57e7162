"""Exploding: from the starts of one level to the gross requirements of its components.

Wide form as in netting. Lines that move a need by the same number of days go together: for each
such group, one join of lines on their parents, and one grouped sum of all day columns at the end.
"""

from dataclasses import dataclass

import polars as pl


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


def component_needs(
    starts: pl.DataFrame, lines: pl.DataFrame, active: pl.DataFrame, serial_count: int
) -> pl.DataFrame:
    """Gross requirements that the starts put on components, with columns key and one a day.

    starts: item_id, serial_id and a column of started quantities a usable day, named "0", "1", ...
    lines: the parents' structure lines with lead and safety of the parent and child_specific.
    """
    days = [name for name in starts.columns if name.isdigit()]
    parts = [
        _needs_of_group(_fitting(group, starts, active, serial_count), days)
        for group in lines.partition_by(
            "lead", "safety", "offset", "per_order", "dated", maintain_order=True
        )
    ]
    return summed_by_key(parts, days)


def summed_by_key(parts: list[pl.DataFrame], days: list[str]) -> pl.DataFrame:
    """One row a key, sorted, each day column summed over all parts."""
    nothing = pl.DataFrame(schema={"key": pl.Int64, **dict.fromkeys(days, pl.Float64)})
    return pl.concat([nothing, *parts]).group_by("key", maintain_order=True).sum().sort("key")


def _fitting(
    group: pl.DataFrame, starts: pl.DataFrame, active: pl.DataFrame, serial_count: int
) -> pl.DataFrame:
    """The group's lines beside the starts of their parents, less those a serial does not have."""
    # the lines' own order makes every sum add up in the same order, whatever the input's order
    beside = group.join(
        starts, left_on="parent_id", right_on="item_id", maintain_order="left_right"
    )
    if (group["condition"] > 0).any():
        always = beside.filter(pl.col("condition") == 0)
        fitted = beside.join(
            active, on=["condition", "serial_id"], how="semi", maintain_order="left"
        )
        beside = pl.concat([always, fitted])
    serial = pl.when("child_specific").then("serial_id").otherwise(0)
    return beside.with_columns(key=pl.col("child_id") * serial_count + serial)


def _needs_of_group(beside: pl.DataFrame, days: list[str]) -> pl.DataFrame:
    """The needs of lines that share one timing: started columns moved to the day of the need.

    Column by column on the values themselves: building an expression for each day of each group
    would cost more than the sums.
    """
    if beside.is_empty():
        return beside.select("key", *days)
    timing = Timing(beside["lead"][0], beside["safety"][0], beside["offset"][0])
    per_order, dated, factor = beside["per_order"][0], beside["dated"][0], beside["factor"]
    first, last = beside["first_start"], beside["last_start"]
    moved: dict[int, pl.Series] = {}
    for usable, started in enumerate(beside.select(days).get_columns()):
        if not started.max():
            continue
        quantity = ((started > 0).cast(pl.Float64) if per_order else started) * factor
        if dated:
            start = timing.start(usable)
            quantity = quantity * ((first <= start) & (last >= start)).cast(pl.Float64)
        need = timing.need(usable)
        moved[need] = moved[need] + quantity if need in moved else quantity
    nothing = factor * 0.0
    return pl.DataFrame(
        {"key": beside["key"], **{name: moved.get(int(name), nothing) for name in days}}
    )
