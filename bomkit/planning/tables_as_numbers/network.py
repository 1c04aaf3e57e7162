"""The checked tables as numbers: items, structure lines, demands and supplies by row and day."""

from dataclasses import dataclass

import polars as pl

from bomkit.planning.netting.arrays import ints
from bomkit.planning.structure.lines import structure_lines
from bomkit.planning.structure.options_and_serials import CONDITIONS, active_conditions
from bomkit.planning.tables_as_numbers.demands_receipts_stock import Outside
from bomkit.planning.tables_as_numbers.frame_columns import LEAST, LINES, SERIALS
from bomkit.planning.tables_as_numbers.item_rules import numbered_items
from bomkit.planning.tables_as_numbers.keys import Keys
from bomkit.planning.workdays import Workdays, workdays_of
from bomkit.tables.schema import Tables

NOTHING_LEAST = pl.DataFrame(schema=LEAST)


@dataclass(frozen=True)
class Network:
    """What one plan is made from; each frame as frames declares it."""

    axis: Workdays
    items: pl.DataFrame
    serials: pl.DataFrame
    lines: pl.DataFrame
    active: pl.DataFrame
    demands: pl.DataFrame
    receipts: pl.DataFrame
    stock: pl.DataFrame
    least: pl.DataFrame  # at first nothing

    @property
    def serial_count(self) -> int:
        """How many serial numbers there are, with the empty one of common items."""
        return len(self.serials)

    @property
    def keys(self) -> Keys:
        """Keys to numbers of items and serials, and back."""
        return Keys(self.serial_count)

    def named(self, keyed: pl.DataFrame) -> pl.DataFrame:
        """The frame with item_id, serial_id, item and serial for its column key."""
        key = ints(keyed["key"])
        item, serial = self.keys.item(key), self.keys.serial(key)
        return keyed.with_columns(
            pl.Series("item_id", item),
            pl.Series("serial_id", serial),
            self.names[item].alias("item"),
            self.serials["serial"][serial].alias("serial"),
        )

    @property
    def names(self) -> pl.Series:
        """The names of the items, by number."""
        return self.items["item"]


@dataclass(frozen=True)
class Skeleton:
    """What of a network stays the same whatever is built, ordered and in stock.

    lines: as structure_lines gives them.
    """

    axis: Workdays
    items: pl.DataFrame
    lines: pl.DataFrame


def skeleton_of(tables: Tables) -> Skeleton:
    """The skeleton of checked, typed input tables; of the build plan it asks which items are built,
    not how many and when."""
    items = numbered_items(tables)
    longest = int(items["lead"].max() or 0) + int(items["safety"].max() or 0)  # type: ignore[arg-type]
    axis = workdays_of(tables, beyond=longest)
    return Skeleton(axis, items, structure_lines(tables, items, axis))


def build_network(tables: Tables, forecast: pl.DataFrame | None = None) -> Network:
    """The network of checked, typed input tables (see tables/columns_and_rules/).

    forecast: demands beside those of the tables: item, serial, quantity, date, demand, kind.
    """
    return fleshed_out(skeleton_of(tables), tables, forecast)


def fleshed_out(
    skeleton: Skeleton, tables: Tables, forecast: pl.DataFrame | None = None
) -> Network:
    """The network of tables which have this skeleton; forecast: as in build_network."""
    serials = _serials(tables)
    lines = skeleton.lines
    conditions = lines.filter(pl.col("condition") > 0).select("condition", *CONDITIONS).unique()
    outside = Outside(skeleton.items, serials, skeleton.axis)
    return Network(
        axis=skeleton.axis,
        items=skeleton.items,
        serials=serials,
        lines=lines.select(*LINES),
        active=active_conditions(conditions, serials.iter_rows()),
        demands=outside.demands(tables, forecast),
        receipts=outside.receipts(tables["open_orders"]),
        stock=outside.stock(tables["stock"]),
        least=NOTHING_LEAST,
    )


def _serials(tables: Tables) -> pl.DataFrame:
    """Every serial number with its options, numbered by name; number 0 is the empty serial."""
    options = {"": ""}
    for name in ("build_plan", "fleet"):
        for serial, own in zip(tables[name]["serial"], tables[name]["options"], strict=True):
            options.setdefault(serial, own)
    rows = [(number, serial, options[serial]) for number, serial in enumerate(sorted(options))]
    return pl.DataFrame(rows, schema=SERIALS, orient="row")
