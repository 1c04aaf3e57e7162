"""Open orders as they would be if every proposed move were agreed."""

import polars as pl

from bomkit.planning.buying.moves import LESS, NOT_NEEDED
from bomkit.tables.schema import Tables

_WHOSE = ("order", "item", "due_date", "meant_for")  # tell the rows of open orders apart


def open_moves(moves: pl.DataFrame, open_orders: pl.DataFrame) -> pl.DataFrame:
    """The moves of orders that are not firm, those that can be agreed."""
    fixed = _told_apart(open_orders).filter(pl.col("firm") == "yes")
    return moves.join(fixed, on=_WHOSE, how="anti", maintain_order="left").filter(
        pl.col("right_date").is_not_null() | (pl.col("kind") == NOT_NEEDED)
    )


def as_agreed(tables: Tables, moves: pl.DataFrame) -> dict[str, pl.DataFrame]:
    """The tables with the right days and quantities of the moves in their open orders.

    What is not needed is gone, and so are its allocations. moves: as open_moves gives them.
    """
    dated = moves.filter(~pl.col("kind").is_in([LESS, NOT_NEEDED]))
    fewer = moves.filter(pl.col("kind") == LESS)
    gone = moves.filter(pl.col("kind") == NOT_NEEDED)
    orders = (
        _told_apart(tables["open_orders"])
        .join(gone, on=_WHOSE, how="anti", maintain_order="left")
        .join(_once(dated, "right_date"), on=_WHOSE, how="left", maintain_order="left")
        .join(_once(fewer, "right_quantity"), on=_WHOSE, how="left", maintain_order="left")
        .with_columns(
            due_date=pl.coalesce("right_date", "due_date"),
            quantity=pl.coalesce("right_quantity", "quantity"),
        )
        .drop("right_date", "right_quantity", "meant_for")
    )
    kept = tables["allocations"].join(orders, on="order", how="semi", maintain_order="left")
    return {**tables, "open_orders": orders, "allocations": kept}


def _told_apart(open_orders: pl.DataFrame) -> pl.DataFrame:
    """The rows with what tells them apart under the names that moves give it."""
    return open_orders.with_columns(meant_for="serial")


def _once(moves: pl.DataFrame, column: str) -> pl.DataFrame:
    """One row for each order with what is right."""
    return moves.select(*_WHOSE, column).unique(_WHOSE, keep="first", maintain_order=True)
