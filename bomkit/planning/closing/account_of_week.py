"""The account of a week: what was there, what came and went, what is there now.

It is made from what was filled in and from the tables before and after, not from the booking.
"""

from collections.abc import Sequence

import polars as pl

from bomkit.planning.closing.ledger import Ledger
from bomkit.tables.results.closing import ACCOUNT
from bomkit.tables.schema import Tables
from bomkit.units import TOLERANCE

_OPEN = ("arrived", "good", "counted", "picked", "scrapped", "sent")


def account(ledger: Ledger, closing: Tables) -> pl.DataFrame:
    """The table account: one row for each item of which anything was there, came or went."""
    stock = _stock_of(ledger.week.inputs, "opening"), _stock_of(closing, "closing")
    moved = pl.DataFrame(
        [*_filled_in(ledger), *ledger.log],
        schema={"item": pl.String, "kind": pl.String, "quantity": pl.Float64},
        orient="row",
    )
    sums = moved.pivot("kind", index="item", values="quantity", aggregate_function="sum")
    units = ledger.week.inputs["items"].select("item", "description", "unit")
    table = (
        units.join(stock[0], on="item", how="left")
        .join(sums, on="item", how="left")
        .join(stock[1], on="item", how="left")
    )
    empty = [pl.lit(0.0).alias(name) for name in _OPEN if name not in table.columns]
    amounts = ("opening", *_OPEN, "closing")
    return (
        table.with_columns(empty)
        .with_columns(pl.col(amounts).fill_null(0.0).round(9))
        .filter(pl.any_horizontal(pl.col(amounts) != 0))
        .sort("item")
        .select(ACCOUNT.column_names)
    )


def not_closed(table: pl.DataFrame) -> Sequence[tuple[str, float, float, float]]:
    """Where an account does not add up: item, opening, what was booked, closing.

    To the last piece, and within 1e-9 of what was moved for what is measured.
    """
    booked = (
        pl.col("arrived")
        + pl.col("good")
        + pl.col("counted")
        - pl.col("picked")
        - pl.col("scrapped")
        - pl.col("sent")
    )
    moved = pl.sum_horizontal(pl.col("opening", "closing", *_OPEN).abs())
    off = (pl.col("opening") + booked - pl.col("closing")).abs()
    wrong = table.filter(off > TOLERANCE * moved.clip(lower_bound=1.0))
    return wrong.select("item", "opening", booked.alias("booked"), "closing").rows()


def _stock_of(tables: Tables, name: str) -> pl.DataFrame:
    """How much of each item lies in stock, whatever its state."""
    return tables["stock"].group_by("item").agg(pl.col("quantity").sum().alias(name))


def _filled_in(ledger: Ledger) -> list[tuple[str, str, float]]:
    """What came and went by what was filled in: item, kind of movement, quantity."""
    week = ledger.week
    movements: list[tuple[str, str, float]] = []
    for row in week.filled("arrived"):
        movements.append((row["item"], "arrived", (row["arrived"] or 0) - (row["rejected"] or 0)))
    movements += [
        (row["item"], "good", row["good"]) for row in week.filled("worked") if row["good"]
    ]
    movements += [
        (row["item"], "picked", row["picked"]) for row in week.filled("picked") if row["picked"]
    ]
    items = dict(week.inputs["build_plan"].select("serial", "item").iter_rows())
    for row in week.filled("delivered"):
        if row["delivered_on"] is not None and row["serial"] in items:
            movements.append((items[row["serial"]], "sent", 1.0))
    return movements
