"""Mass, cost and hours of one unit, rolled up through every level of the structure.

With N the matrix of what goes directly into one unit of each item and v the items' own values, the
rolled-up values are v (I - N)^-1 (Vazsonyi, Management Science 1(1), 1954), found here level by
level from the bottom, for many serial numbers side by side.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import polars as pl

from bomkit import units
from bomkit.planning.structure.levels import item_levels
from bomkit.planning.structure.options_and_serials import CONDITIONS, fits, option_names
from bomkit.planning.structure.replaced import is_replaced, passes_on, replacement_lines
from bomkit.tables.schema import Tables
from bomkit.units import TOLERANCE

Roll = Literal["mass", "cost", "hours"]
Lots = Literal["planned", "smallest"]

_GRAMS_IN_KG = 1000.0
_BETWEEN = "\x1f"  # stands in no cell: between the parts of a condition


@dataclass(frozen=True)
class RollUp:
    """What was rolled up.

    items: item, own (kg, cost or hours of one unit by itself; null: not stated), ends (its stated
    value stands for all that is in it) and a column a serial number with the rolled-up value.
    lines: parent, child, row (in structure; 0: a replacement), factor (child units for each unit of
    the parent) and a column a serial number: whether it has the line.
    columns: the names of these columns by serial number.
    """

    items: pl.DataFrame
    lines: pl.DataFrame
    columns: Mapping[str, str]

    def values(self, serial: str) -> dict[str, float]:
        """By item the rolled-up value of one unit: kg, cost or hours."""
        return dict(self.items.select("item", self.columns[serial]).iter_rows())

    def ends(self) -> set[str]:
        """The items whose stated value stands for all that is in them."""
        return set(self.items.filter("ends")["item"])

    def factors(self, serial: str) -> dict[tuple[str, int], float]:
        """By parent and row the child units for each unit of the parent; 0: not this serial."""
        of_serial = pl.when(self.columns[serial]).then("factor").otherwise(0.0)
        rows = self.lines.select("parent", "row", of_serial).iter_rows()
        return {(parent, row): factor for parent, row, factor in rows}

    def lacking(self, item: str, serial: str) -> list[str]:
        """What is in an item of that serial number and, for it, has neither value nor parts."""
        below = self.lines.filter(self.columns[serial]).group_by("parent").agg("child")
        children = dict(below.iter_rows())
        ends, reached, waiting = self.ends(), {item}, [item]
        while waiting:
            name = waiting.pop()
            fresh = set() if name in ends else set(children.get(name, ())) - reached
            reached |= fresh
            waiting += fresh
        valueless = set(self.items.filter(pl.col("own").is_null())["item"])
        return sorted((reached & valueless) - set(children))


def mean_lots(orders: pl.DataFrame) -> pl.DataFrame:
    """The mean quantity that one planned order starts, by item: item, usual_lot.

    orders: as the result table. What all orders take once, spread over it, adds up to what they
    take.
    """
    return orders.group_by("item").agg(usual_lot=pl.col("quantity").sort().mean())


NO_LOTS = pl.DataFrame(schema={"item": pl.String, "usual_lot": pl.Float64})


def roll_up(
    tables: Tables, kind: Roll, serials: Sequence[str], lots: pl.DataFrame = NO_LOTS
) -> RollUp:
    """The rolled-up mass in kg, cost, or working hours of one unit of every item.

    - mass: a stated mass_g goes before what is in the item; what is counted in kg or g weighs that;
      no scrap, no waste, and nothing of lines `per` order, which are used up and not built in.
    - cost: a stated cost goes before what is in the item. hours: an item's own (hours_each, and
      hours_per_order over its lot) and those of what is in it. Both count what is scrapped and
      wasted: child units are quantity / (1 - waste) / (1 - scrap rate of the parent), and lines
      `per` order are spread over the lot: of lots (item, usual_lot), else the smallest order.
    - A replaced item counts as its replacement. Serial "" has no conditional line. Dated lines
      count if they hold on the day the serial is ready or was delivered, else the plan's start.
    """
    columns = {serial: f"serial {number}" for number, serial in enumerate(serials)}
    names = list(columns.values())
    items = _items(tables, kind, lots)
    lines = _lines(tables, items, kind).with_columns(_held(tables, columns))
    values = pl.DataFrame(schema={"item": pl.String} | dict.fromkeys(names, pl.Float64))
    for level in range(int(items["level"].max() or 0), -1, -1):  # type: ignore[arg-type]
        here = items.filter(pl.col("level") == level).select("item", "own", "ends")
        values = pl.concat([values, _values(here, lines, values, names)])
    rolled = items.select("item", "own", "ends").join(values, "item", maintain_order="left")
    return RollUp(rolled, lines.select("parent", "child", "row", "factor", *names), columns)


def _values(
    here: pl.DataFrame, lines: pl.DataFrame, below: pl.DataFrame, names: Sequence[str]
) -> pl.DataFrame:
    """One level: item and its value for each serial, its own and that of what is in it."""
    open_items = here.filter(~pl.col("ends"))["item"]
    inside = (
        lines.filter(pl.col("parent").is_in(open_items.implode()))
        .join(below, left_on="child", right_on="item", suffix="_of_child", maintain_order="left")
        .group_by("parent", maintain_order=True)
        .agg((pl.col("factor") * pl.col(s) * pl.col(f"{s}_of_child")).sum().alias(s) for s in names)
    )
    own = pl.col("own").fill_null(0.0)
    return here.join(
        inside, left_on="item", right_on="parent", how="left", maintain_order="left"
    ).select("item", *((own + pl.col(name).fill_null(0.0)).alias(name) for name in names))


def _items(tables: Tables, kind: Roll, lots: pl.DataFrame) -> pl.DataFrame:
    """Item, level, own, ends, unit, good (share), lot, replaced; by name."""
    scrap = tables["processes"].select("process", process_scrap="scrap_rate")
    passes, replaced = passes_on(tables), is_replaced(tables)
    good = 1 - pl.coalesce("scrap_rate", "process_scrap", pl.lit(0.0))
    return (
        tables["items"]
        .join(scrap, on="process", how="left")
        .join(item_levels(tables), on="item")
        .join(lots, on="item", how="left")
        .with_columns(
            good=pl.when(passes | (kind == "mass")).then(1.0).otherwise(good),
            lot=pl.when(passes).then(1.0).otherwise(_lot()),
        )
        .with_columns(own=pl.when(~replaced).then(_own(kind)))
        .sort("item")
        .select(
            "item",
            "level",
            "unit",
            "good",
            "lot",
            "own",
            ends=pl.col("own").is_not_null() & (kind != "hours"),
            replaced=replaced,
        )
    )


def _lot() -> pl.Expr:
    """What one order starts: the usual lot where one is known, else the smallest order."""
    step = pl.when(pl.col("multiple") > 0).then("multiple").otherwise(1.0)
    steps = pl.max_horizontal("minimum", pl.lit(1.0)) / step
    return pl.coalesce("usual_lot", (steps * (1 - TOLERANCE)).ceil() * step)


def _own(kind: Roll) -> pl.Expr:
    """What one good unit of an item has by itself; null where nothing is stated."""
    if kind == "mass":
        weighed = units.dimension(pl.col("unit")) == "mass"
        in_kg = pl.when(weighed).then(units.size(pl.col("unit")))
        return pl.coalesce(pl.col("mass_g") / _GRAMS_IN_KG, in_kg)
    if kind == "cost":
        return pl.col("cost") / pl.col("good")
    each = pl.col("hours_each") + pl.col("hours_per_order") / pl.col("lot")
    return pl.when(pl.col("source") == "phantom").then(0.0).otherwise(each / pl.col("good"))


def _lines(tables: Tables, items: pl.DataFrame, kind: Roll) -> pl.DataFrame:
    """Structure lines and replacements with factor and the columns that say for whom they count."""
    replacing = replacement_lines(tables).with_columns(row=pl.lit(0, pl.Int64))
    parents = items.select("good", "lot", "replaced", parent="item", parent_unit="unit")
    own = tables["structure"].filter((pl.col("per") == "each") | (kind != "mass"))
    whole = 1.0 if kind == "mass" else 1 - pl.col("waste")
    own_unit = pl.when("replaced").then("parent_unit").otherwise(pl.coalesce("unit", "child_unit"))
    converted = units.size(own_unit) / units.size(pl.col("child_unit"))
    spread = pl.when(pl.col("per") == "order").then("lot").otherwise(1.0)
    return (
        pl.concat([own, replacing], how="diagonal")
        .join(parents, on="parent")
        .join(items.select(child="item", child_unit="unit"), on="child")
        .filter((pl.col("row") == 0) == pl.col("replaced"))
        .with_columns(factor=pl.col("quantity") / whole * converted / pl.col("good") / spread)
        .sort("parent", "child", "row")
    )


def _held(tables: Tables, columns: Mapping[str, str]) -> list[pl.Expr]:
    """For each serial number whether it has a line, as a column of the name given for it."""
    conditions = tables["structure"].select(CONDITIONS).unique().rows()
    condition = pl.concat_str(CONDITIONS, separator=_BETWEEN)
    held = []
    for serial, (options, day) in _configurations(tables, columns).items():
        fitting = [
            _BETWEEN.join(texts)
            for texts in {("", "", "", ""), *conditions}
            if not any(texts) or (serial and fits(texts, serial, options))
        ]
        from_now = (pl.col("from_date") <= day).fill_null(True)
        until_now = (pl.col("to_date") >= day).fill_null(True)
        held.append((condition.is_in(fitting) & from_now & until_now).alias(columns[serial]))
    return held


def _configurations(
    tables: Tables, serials: Iterable[str]
) -> dict[str, tuple[frozenset[str], dt.date]]:
    """The options of each serial, and the day it is ready or was delivered, else the start."""
    start = tables["plan"]["start"][0]
    known = pl.concat(
        [
            tables["build_plan"].select("serial", "options", day="ready_date"),
            tables["fleet"].select("serial", "options", day="delivered"),
        ]
    )
    configured = {
        serial: (option_names(options), day or start) for serial, options, day in known.iter_rows()
    }
    return {serial: configured.get(serial, (frozenset(), start)) for serial in serials}
