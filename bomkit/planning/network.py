"""The checked tables as numbers: items, structure lines, demands and supplies by row and day.

A planning row is an item, or one serial of a serial-specific item; its key is
item number x number of serials + serial number, with serial number 0 for common items.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import polars as pl

from bomkit import units
from bomkit.planning.structure import conditions as configure
from bomkit.planning.structure.levels import low_level_codes
from bomkit.planning.structure.lines import structure_lines
from bomkit.planning.workdays import (
    OVERDUE,
    PAST,
    WORKING_DAYS_IN_YEAR,
    Workdays,
    workdays_of,
)

Tables = Mapping[str, pl.DataFrame]
UNLIMITED = 10**9  # working days; more than any plan has


NOTHING_LEAST = pl.DataFrame(
    schema={"key": pl.Int64(), "day": pl.Int64(), "quantity": pl.Float64()}
)


@dataclass(frozen=True)
class Network:
    """What one plan is made from.

    items: item_id, item, source, process, unit, lead, safety, good, minimum, multiple, whole,
    cover, longest (cover), safety_stock, least_cost (whether lots are chosen by cost), order_cost,
    holding (cost of a unit for a working day), specific, passes (phantom or replaced: no orders of
    its own), level.
    lines: parent_id, child_id, factor (child units for each unit started, or for each order),
    per_order, offset, first_start, last_start (days between which the parent starts), condition.
    active: condition, serial_id. demands: key, day, quantity, demand, kind, serial, date, overdue,
    past.
    receipts: key, day, quantity (good), ordered, order, firm, overdue, past.
    stock: key, quantity, lot columns. least: key, day, quantity (good) that is to be planned by
    that day at the least, whatever is in stock; at first nothing.
    The serial of a demand, a receipt or a lot says for whom it is meant, also of common items.
    """

    axis: Workdays
    items: pl.DataFrame
    serials: pl.DataFrame  # serial_id, serial, options
    lines: pl.DataFrame
    active: pl.DataFrame
    demands: pl.DataFrame
    receipts: pl.DataFrame
    stock: pl.DataFrame
    least: pl.DataFrame

    @property
    def serial_count(self) -> int:
        """How many serial numbers there are, with the empty one of common items."""
        return len(self.serials)

    def named(self, keyed: pl.DataFrame) -> pl.DataFrame:
        """The frame with item_id, serial_id, item and serial for its column key."""
        count = self.serial_count
        return (
            keyed.with_columns(item_id=pl.col("key") // count, serial_id=pl.col("key") % count)
            .join(self.items.select("item_id", "item"), on="item_id", maintain_order="left")
            .join(self.serials.select("serial_id", "serial"), on="serial_id", maintain_order="left")
        )


def build_network(tables: Tables, forecast: pl.DataFrame | None = None) -> Network:
    """The network of checked, typed input tables (see tables.INPUTS).

    forecast: demands beside those of the tables: item, serial, quantity, date, demand, kind.
    """
    items = _items(tables)
    longest = int(items["lead"].max() or 0) + int(items["safety"].max() or 0)  # type: ignore[arg-type]
    axis = workdays_of(tables, beyond=longest)
    serials = _serials(tables)
    keys = _Keys(items, serials)
    lines = structure_lines(tables, items, axis)
    conditions = lines.filter(pl.col("condition") > 0).select("condition", *configure.CONDITIONS)
    return Network(
        axis=axis,
        items=items,
        serials=serials,
        lines=lines.drop(configure.CONDITIONS),
        active=configure.active_conditions(conditions.unique(), serials.iter_rows()),
        demands=_demands(tables, keys, axis, forecast),
        receipts=_receipts(tables["open_orders"], keys, axis),
        stock=_stock(tables["stock"], keys, axis),
        least=NOTHING_LEAST,
    )


def _items(tables: Tables) -> pl.DataFrame:
    """The items in the order of their names, with numbers, scrap resolved and levels."""
    specific = configure.serial_specific_items(tables["structure"], tables["build_plan"])
    process_scrap = tables["processes"].select("process", process_scrap="scrap_rate")
    replaced = pl.col("item").is_in(tables["replacements"]["old"].unique().implode())
    return (
        tables["items"]
        .join(process_scrap, on="process", how="left")
        .join(_levels(tables), on="item", how="left")
        .sort("item")
        .select(
            "item",
            "source",
            "process",
            "unit",
            "level",
            **_planning_columns(
                (pl.col("source") == "phantom") | replaced,
                tables["plan"]["holding_rate"].fill_null(0.0)[0],
            ),
            specific=pl.col("item").is_in(specific.implode()),
            replaced=replaced,
        )
        .with_row_index("item_id")
        .with_columns(pl.col("item_id").cast(pl.Int64))
    )


def _planning_columns(passes: pl.Expr, holding_rate: float) -> dict[str, pl.Expr]:
    """How an item is planned; what passes straight on has no lead time, lot rule or scrap."""
    good = 1 - pl.coalesce("scrap_rate", "process_scrap", pl.lit(0.0))
    own: dict[str, tuple[pl.Expr, float | int | bool]] = {
        "lead": (pl.col("lead_days"), 0),
        "safety": (pl.col("safety_days"), 0),
        "good": (good, 1.0),
        "minimum": (pl.col("minimum"), 0.0),
        "multiple": (pl.col("multiple"), 0.0),
        "whole": (pl.col("unit").is_in(units.WHOLE_UNITS), False),
        "cover": (pl.min_horizontal("cover_days", "longest_cover_days").clip(1), 1),
        "longest": (pl.col("longest_cover_days").fill_null(UNLIMITED), UNLIMITED),
        "safety_stock": (pl.col("safety_stock"), 0.0),
        "least_cost": (pl.col("lot_rule") == "least_cost", False),
        "order_cost": (pl.col("order_cost").fill_null(0.0), 0.0),
        "holding": (pl.col("cost").fill_null(0.0) * holding_rate / WORKING_DAYS_IN_YEAR, 0.0),
    }
    columns = {
        name: pl.when(passes).then(pl.lit(passing)).otherwise(value)
        for name, (value, passing) in own.items()
    }
    return {**columns, "receipt_good": good, "passes": passes}


def _levels(tables: Tables) -> pl.DataFrame:
    """The low-level code of every item: item, level."""
    links = pl.concat(
        [
            tables["structure"].select("parent", "child"),
            tables["replacements"].select(parent="old", child="new"),
        ]
    )
    return low_level_codes(tables["items"]["item"], links).codes


def _serials(tables: Tables) -> pl.DataFrame:
    """Every serial number with its options, numbered by name; number 0 is the empty serial."""
    return (
        pl.concat(
            [
                pl.DataFrame({"serial": [""], "options": [""]}),
                tables["build_plan"].select("serial", "options"),
                tables["fleet"].select("serial", "options"),
            ]
        )
        .unique("serial", keep="first")
        .sort("serial")
        .with_row_index("serial_id")
        .with_columns(pl.col("serial_id").cast(pl.Int64))
    )


@dataclass(frozen=True)
class _Keys:
    """Gives rows with item and serial their planning key."""

    items: pl.DataFrame
    serials: pl.DataFrame

    def keyed(self, rows: pl.DataFrame) -> pl.DataFrame:
        """The rows with column key; the serial of a common item only says for whom it is."""
        serial = pl.when("specific").then("serial_id").otherwise(0)
        return (
            rows.join(
                self.items.select("item_id", "item", "specific", "receipt_good"),
                on="item",
                maintain_order="left",
            )
            .join(
                self.serials.select("serial_id", "serial"),
                on="serial",
                how="left",
                maintain_order="left",
            )
            .with_columns(key=pl.col("item_id") * len(self.serials) + serial)
        )


# what is for the own shelf is served after all who need it
_OF_SPARES = pl.when(pl.col("kind") == "stock").then(pl.col("kind")).otherwise("urgency")


def _demands(
    tables: Tables, keys: _Keys, axis: Workdays, forecast: pl.DataFrame | None
) -> pl.DataFrame:
    """Everything asked for from outside the plan."""
    parts = [
        tables["build_plan"].select(
            "item",
            "serial",
            quantity=pl.lit(1.0),
            date="ready_date",
            demand="serial",
            kind=pl.lit("airframe"),
        ),
        tables["spares_orders"].select(
            "item", "serial", "quantity", date="need_date", demand="order", kind=_OF_SPARES
        ),
        _lacking(tables["allocations"], tables["open_orders"]),
    ]
    rows = keys.keyed(pl.concat(parts if forecast is None else [*parts, forecast]))
    return pl.concat([rows, axis.needs(rows["date"])], how="horizontal").select(
        "key", "day", "quantity", "demand", "kind", "serial", "date", OVERDUE, PAST
    )


def _lacking(allocations: pl.DataFrame, open_orders: pl.DataFrame) -> pl.DataFrame:
    """What open orders lack, as demands; meant for the serial of the order if they name none."""
    whose = open_orders.filter(pl.col("serial") != "").unique("order", keep="first")
    own = pl.when(pl.col("serial") != "").then("serial")
    return (
        allocations.join(
            whose.select("order", whose="serial"), on="order", how="left", maintain_order="left"
        )
        .with_columns(serial=pl.coalesce(own, "whose", pl.lit("")), kind=pl.lit("in work"))
        .select("item", "serial", "quantity", date="need_date", demand="order", kind="kind")
    )


def _receipts(open_orders: pl.DataFrame, keys: _Keys, axis: Workdays) -> pl.DataFrame:
    """Open orders with the quantity expected good."""
    rows = keys.keyed(open_orders.rename({"due_date": "date"}))
    return pl.concat([rows, axis.receipts(rows["date"])], how="horizontal").select(
        "key",
        "day",
        "order",
        "date",
        "serial",
        OVERDUE,
        PAST,
        quantity=pl.col("quantity") * pl.col("receipt_good"),
        ordered="quantity",
        firm=pl.col("firm") == "yes",
    )


def _stock(stock: pl.DataFrame, keys: _Keys, axis: Workdays) -> pl.DataFrame:
    """Usable stock that has not expired, with the last day it may be used (null: any day)."""
    rows = keys.keyed(stock.filter((pl.col("status") == "usable") & (pl.col("quantity") > 0)))
    return (
        pl.concat([rows, axis.last_uses(rows["expires"])], how="horizontal")
        .with_columns(day=pl.when(pl.col("expires").is_not_null()).then("day"))
        .filter(pl.col("day").is_null() | (pl.col("day") >= 0))
        .select(
            "key",
            "quantity",
            "location",
            "lot",
            "expires",
            "serial",
            "day",
            beyond=pl.col("beyond").fill_null(True),
        )
    )
