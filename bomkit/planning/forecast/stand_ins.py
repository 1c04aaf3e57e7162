"""What could take the place of an item that is missing: proposals, never taken by themselves.

A replacement needs no proposal, as netting uses up the old item and goes on with the new one.
"""

import polars as pl

from bomkit.planning.pegging.order_of_supplies import STOCK
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables
from bomkit.units import TOLERANCE

ALTERNATE, HELD = "alternate", "held"


def stand_ins(
    network: Network, tables: Tables, pegged: Pegged, missing: pl.DataFrame
) -> pl.DataFrame:
    """Proposals for missing items: item, serial, kind, stand_in, quantity, locations, expires,
    note.

    missing: item and serial. alternate: free stock of an approved alternate, which nobody needs
    within the horizon, above its safety stock. held: stock of the item itself that is on hold or in
    quarantine. expires: when the first of it does. note: what the approval says, why it is held.
    """
    asked = missing.select("item", "serial").unique()
    free = network.named(_free_stock(network, pegged))
    alternates = _alternates(tables["alternates"], free, asked)
    return pl.concat([alternates, _held(tables["stock"], asked)]).sort(
        "item", "serial", "kind", "stand_in", "note"
    )


def no_stand_ins() -> pl.DataFrame:
    """The columns of stand_ins without rows."""
    words = dict.fromkeys(("item", "serial", "kind", "stand_in"), pl.String)
    more = {"quantity": pl.Float64, "locations": pl.String, "expires": pl.Date, "note": pl.String}
    return pl.DataFrame(schema={**words, **more})


def _alternates(approved: pl.DataFrame, free: pl.DataFrame, asked: pl.DataFrame) -> pl.DataFrame:
    """Free stock of what is approved in the place of the missing items: as stand_ins."""
    return (
        asked.join(approved.drop("row"), on="item")
        .join(
            free.select("serial", "quantity", "locations", "expires", alternate="item").rename(
                {"serial": "held_for"}
            ),
            on="alternate",
        )
        .filter((pl.col("held_for") == "") | (pl.col("held_for") == pl.col("serial")))
        .select(
            "item",
            "serial",
            kind=pl.lit(ALTERNATE),
            stand_in="alternate",
            quantity="quantity",
            locations="locations",
            expires="expires",
            note="note",
        )
    )


def _free_stock(network: Network, pegged: Pegged) -> pl.DataFrame:
    """Stock that serves no need: key, quantity (above safety stock), locations, expires."""
    kept = network.items.select("item_id", "safety_stock")
    return (
        _lots_left(network, pegged)
        .group_by("key")
        .agg(
            pl.col("left").sum(),
            locations=pl.col("location").filter(pl.col("location") != "").unique().sort(),
            expires=pl.col("expires").min(),
        )
        .with_columns(item_id=network.keys.item(pl.col("key")))
        .join(kept, on="item_id")
        .with_columns(quantity=pl.col("left") - pl.col("safety_stock"))
        .filter(pl.col("quantity") > pl.col("left") * TOLERANCE)
        .select("key", "quantity", pl.col("locations").list.join(", "), "expires")
    )


def _lots_left(network: Network, pegged: Pegged) -> pl.DataFrame:
    """The lots of which something serves no need: key, lot, location, expires, left."""
    lot = ["key", "lot", "location"]
    taken = (
        pegged.told(pegged.by_order, "kind", "supply", "location")
        .filter(pl.col("kind") == STOCK)
        .group_by("key", lot="supply", location="location")
        .agg(taken=pl.col("quantity").sum())
    )
    return (
        network.stock.group_by(lot)
        .agg(pl.col("quantity").sum(), pl.col("expires").min())
        .join(taken, on=lot, how="left")
        .with_columns(left=pl.col("quantity") - pl.col("taken").fill_null(0.0))
        .filter(pl.col("left") > pl.col("quantity") * TOLERANCE)
        .sort(lot)
    )


def _held(stock: pl.DataFrame, asked: pl.DataFrame) -> pl.DataFrame:
    """Stock of the missing items that is not usable for now: as stand_ins."""
    held = stock.filter((pl.col("status") != "usable") & (pl.col("quantity") > 0))
    return (
        held.rename({"serial": "held_for"})
        .join(asked, on="item")
        .filter((pl.col("held_for") == "") | (pl.col("held_for") == pl.col("serial")))
        .group_by("item", "serial", "status", note="reason")
        .agg(
            pl.col("quantity").sum(),
            locations=pl.col("location").filter(pl.col("location") != "").unique().sort(),
            expires=pl.col("expires").min(),
        )
        .select(
            "item",
            "serial",
            kind=pl.lit(HELD),
            stand_in="status",
            quantity="quantity",
            locations=pl.col("locations").list.join(", "),
            expires="expires",
            note="note",
        )
    )
