"""Which later orders to place with the orders of a week that stay below what a supplier accepts."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.planning.buying.offers import Later, to_bring_forward
from bomkit.planning.workdays import iso_weeks

Tables = Mapping[str, pl.DataFrame]
Row = tuple[str, str, str, str, float, int]
FILL_UPS = {
    "week": pl.String,
    "supplier": pl.String,
    "order": pl.String,
    "item": pl.String,
    "value": pl.Float64,
    "days": pl.Int64,
}


def fill_ups(
    tables: Tables, orders: pl.DataFrame, lines: pl.DataFrame, weeks: list[str]
) -> pl.DataFrame:
    """Week, supplier, order, item, value and days (calendar days placed earlier) of what is added.

    orders: as planned_orders gives them; lines: as buy_lines. Only orders in the supplier's own
    currency count, and nothing is said where a line of the week has no price. An order is added
    once, to the first week that lacks it.
    """
    priced = lines.join(orders.select("order", "start_date"), on="order", maintain_order="left")
    priced = priced.with_columns(week=iso_weeks(priced["start_date"]))
    rows: list[Row] = []
    for about in tables["suppliers"].sort("supplier").iter_rows(named=True):
        if about["order_minimum"] is not None:
            own = priced.filter(pl.col("supplier") == about["supplier"])
            rows += _of_supplier(own, about, weeks)
    return pl.DataFrame(rows, schema=FILL_UPS, orient="row")


def _of_supplier(own: pl.DataFrame, about: Mapping[str, Any], weeks: list[str]) -> Iterator[Row]:
    """What is added to the orders of one supplier; about: its row."""
    gone: set[str] = set()
    for week in weeks:
        left = own.filter(~pl.col("order").is_in(list(gone)))
        there = left.filter(pl.col("week") == week)
        if there.is_empty() or there["value"].null_count():
            continue
        same = pl.col("currency") == about["currency"]
        short = about["order_minimum"] - there.filter(same)["value"].sum()
        earlier = pl.col("start_date") - there["start_date"].min()
        later = left.filter(same & (pl.col("week") > week) & (pl.col("value") > 0)).select(
            "order", "value", days=earlier.dt.total_days()
        )
        items = dict(own.select("order", "item").iter_rows())
        for each in to_bring_forward((Later(*row) for row in later.iter_rows()), short):
            gone.add(each.order)
            yield (week, about["supplier"], each.order, items[each.order], each.value, each.days)
