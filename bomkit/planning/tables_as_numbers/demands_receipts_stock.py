"""What comes from outside the plan, by planning key and day: demands, open orders, stock."""

from dataclasses import dataclass
from functools import cached_property

import polars as pl

from bomkit.planning.tables_as_numbers.frame_columns import DEMANDS, RECEIPTS, STOCK, columns_of
from bomkit.planning.tables_as_numbers.keys import Keys
from bomkit.planning.workdays import Workdays
from bomkit.tables.schema import Tables

# what is for the own shelf is served after all who need it
_OF_SPARES = pl.when(pl.col("kind") == "stock").then(pl.col("kind")).otherwise("urgency")


@dataclass(frozen=True)
class Outside:
    """Gives rows of the input tables their planning key and day.

    items, serials: as frames declares them.
    """

    items: pl.DataFrame
    serials: pl.DataFrame
    axis: Workdays

    def demands(self, tables: Tables, forecast: pl.DataFrame | None) -> pl.DataFrame:
        """Everything asked for; forecast: demands beside those of the tables."""
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
        rows = self._keyed(pl.concat(parts if forecast is None else [*parts, forecast]))
        days = self.axis.needs(rows["date"])
        return pl.concat([rows, days], how="horizontal").select(*DEMANDS)

    def receipts(self, open_orders: pl.DataFrame) -> pl.DataFrame:
        """Open orders with the quantity expected good."""
        rows = self._keyed(open_orders)
        given = {
            "date": pl.col("due_date"),
            "ordered": pl.col("quantity"),
            "quantity": pl.col("quantity") * pl.col("receipt_good"),
            "firm": pl.col("firm") == "yes",
        }
        return pl.concat([rows, self.axis.receipts(rows["due_date"])], how="horizontal").select(
            columns_of(RECEIPTS, given)
        )

    def stock(self, stock: pl.DataFrame) -> pl.DataFrame:
        """Usable stock that has not expired, with the last day it may be used (null: any day)."""
        usable = (pl.col("status") == "usable") & (pl.col("quantity") > 0)
        rows = self._keyed(stock.filter(usable))
        given = {
            "day": pl.when(pl.col("expires").is_not_null()).then("day"),
            "beyond": pl.col("beyond").fill_null(True),
        }
        lasts = pl.col("expires").is_null() | (pl.col("day") >= 0)
        return (
            pl.concat([rows, self.axis.last_uses(rows["expires"])], how="horizontal")
            .filter(lasts)
            .select(columns_of(STOCK, given))
        )

    def _keyed(self, rows: pl.DataFrame) -> pl.DataFrame:
        """The rows with column key; the serial of a common item only says for whom it is."""
        serial = pl.when("specific").then("serial_id").otherwise(0)
        return (
            rows.join(self._known_items, on="item", maintain_order="left")
            .join(self._known_serials, on="serial", how="left", maintain_order="left")
            .with_columns(key=Keys(len(self.serials)).of(pl.col("item_id")) + serial)
        )

    @cached_property
    def _known_items(self) -> pl.DataFrame:
        """What a row takes from its item."""
        return self.items.select("item_id", "item", "specific", "receipt_good")

    @cached_property
    def _known_serials(self) -> pl.DataFrame:
        """The numbers of the serials."""
        return self.serials.select("serial_id", "serial")


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
