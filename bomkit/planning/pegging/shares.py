"""For whom orders are: their shares, and so what each share asks of components."""

import polars as pl

from bomkit.planning.netting.explode import DUE, START
from bomkit.planning.network import Network
from bomkit.planning.pegging.demands import FOR_STOCK, OUTSIDE, RANKS, SEVERAL
from bomkit.planning.pegging.supplies import PASSED_ON

MOST_NEEDS = 1_000_000  # rows of needs that the orders of one level may give
_OF = ("from_id", "demand_id", "asked_id", "leaves", "rank")  # what a share hands down


def portions(
    network: Network, found: pl.DataFrame, supplies: pl.DataFrame, orders: pl.DataFrame
) -> pl.DataFrame:
    """For whom each planned order and each thing passed on is: one row a share of it.

    Columns key, usable, quantity (of the whole that this share asks components for), share,
    from_id, demand_id, asked_id, leaves, rank. What an order makes beyond all needs is for stock.
    An order begins when it has all its components, so each of its shares ranks as its first one.
    """
    place = found["supply_id"]
    sources = network.items["source"].gather(found["key"] // network.serial_count)
    served = found.with_columns(
        order_id=supplies["order_id"].gather(place),
        usable=supplies["usable"].gather(place),
        passing=(supplies["kind"] == PASSED_ON).gather(place),
    )
    packed = pl.Series(sources == "kit")
    own = ["key", "usable", "order_id", "demand_id", "asked_id", "leaves"]
    shares = (
        served.with_columns(leaves=pl.col("leaves") & packed)
        .filter(pl.col("order_id").is_not_null())
        .with_columns(
            pl.col("demand_id").fill_null(FOR_STOCK),
            pl.col("rank").fill_null(RANKS["stock"]),
            pl.col("asked_id").fill_null(OUTSIDE),
            pl.col("leaves").fill_null(False),
        )
        .group_by(own, maintain_order=True)
        .agg(pl.col("quantity").sum(), pl.col("rank").min())
        .with_columns(
            pl.col("rank").min().over("order_id"),
            share=pl.col("quantity") / pl.col("quantity").sum().over("order_id"),
        )
    )
    started = orders["quantity"].gather(shares["order_id"])
    columns = ("key", "usable", "share", "quantity", *_OF)
    return pl.concat(
        [
            shares.with_columns(quantity=started * pl.col("share"), from_id="order_id").select(
                columns
            ),
            served.filter(pl.col("passing") & pl.col("demand_id").is_not_null())
            .with_columns(share=pl.col("quantity") / pl.col("quantity").sum().over("key", "usable"))
            .select(columns),
        ]
    )


def told_apart(shares: pl.DataFrame, lines: pl.DataFrame, serial_count: int) -> pl.DataFrame:
    """The shares, those of one order put together where all would give more needs than can be
    held: in a structure of a hundred thousand shared items every order serves every demand."""
    of_parent = lines.group_by("parent_id").len()
    parents = shares.select(parent_id=pl.col("key") // serial_count)
    if int(parents.join(of_parent, on="parent_id")["len"].sum()) <= MOST_NEEDS:
        return shares
    demand = pl.when(pl.len() == 1).then(pl.col("demand_id").first()).otherwise(SEVERAL)
    outside = pl.when(pl.col("from_id") == OUTSIDE).then("demand_id")
    return (
        shares.with_columns(outside=outside)
        .group_by("key", "usable", "from_id", "outside", maintain_order=True)
        .agg(
            pl.col("share", "quantity").sum(),
            pl.col("rank").min(),
            leaves=pl.col("leaves").first() & (pl.len() == 1),
            asked_id=pl.when(pl.len() == 1).then(pl.col("asked_id").first()).otherwise(OUTSIDE),
            demand_id=demand.cast(pl.Int64),
        )
        .select(shares.columns)
    )


def component_needs(network: Network, shares: pl.DataFrame, lines: pl.DataFrame) -> pl.DataFrame:
    """The needs that the shares put on components, through the structure lines of a level."""
    count = network.serial_count
    beside = (
        shares.with_columns(parent_id=pl.col("key") // count, serial_id=pl.col("key") % count)
        .join(lines, on="parent_id")
        .filter(START.is_between("first_start", "last_start"))
    )
    fitted = beside.filter(pl.col("condition") > 0).join(
        network.active, on=["condition", "serial_id"], how="semi"
    )
    serial = pl.when("child_specific").then("serial_id").otherwise(0)
    return pl.concat([beside.filter(pl.col("condition") == 0), fitted]).select(
        key=pl.col("child_id") * count + serial,
        day=pl.min_horizontal(START + pl.col("offset"), DUE).clip(0),
        quantity=pl.col("factor") * pl.when("per_order").then("share").otherwise("quantity"),
        **{name: name for name in _OF},
        level="child_level",
    )
