"""What open make and print orders still take of the shops: hours, printer hours and mould pulls."""

from typing import Literal

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import (
    each_repeated,
    floats,
    heads,
    in_order,
    ints,
    stretch_of,
    sums,
)
from bomkit.planning.shops.process_hours import process_name
from bomkit.planning.workdays import Workdays
from bomkit.tables.schema import Tables

Amount = Literal["hours", "print_hours", "pulls"]

IN_WORK = {
    "item": pl.String,
    "process": pl.String,
    "hours": pl.Float64,
    "print_hours": pl.Float64,
    "pulls": pl.Float64,
    "last": pl.Int64,
}


def work_in_progress(tables: Tables, axis: Workdays) -> pl.DataFrame:
    """The open orders of items that are made, printed or packed, with what they still take.

    Columns of IN_WORK: process ("" if none); hours of it; print_hours; pulls; last: the day before
    which all of it is done, at least 1, so that what is overdue counts on the first day. All that
    an order takes is still to be done, unless its hours_left says otherwise; print hours and pulls
    left stand in the same proportion. hours_left of an item without hours are its print hours.
    """
    rows = _begun_orders(tables)
    own = pl.col("hours_each") * pl.col("quantity") + pl.col("hours_per_order")
    printing = (pl.col("each") * pl.col("quantity")).fill_null(0.0)
    counted = pl.when(own > 0).then(own).otherwise(printing)
    left = pl.when((counted > 0) & pl.col("hours_left").is_not_null()).then(
        pl.col("hours_left") / counted
    )
    share = pl.coalesce(left, pl.lit(1.0))
    return rows.with_columns(
        process=process_name(),
        hours=pl.when((own > 0) | (printing == 0)).then(pl.coalesce("hours_left", own)),
        print_hours=printing * share,
        pulls=pl.col("quantity") * share.clip(upper_bound=1.0),
        last=pl.max_horizontal(axis.receipts(rows["due_date"])["day"], pl.lit(1)),
    ).select(
        pl.col(name).fill_null(pl.lit(0.0) if kind == pl.Float64 else pl.lit(None)).cast(kind)
        for name, kind in IN_WORK.items()
    )


def _begun_orders(tables: Tables) -> pl.DataFrame:
    """The open orders of items that are not bought, with what says how long they take: each is the
    printer hours of one unit."""
    items = tables["items"].filter(pl.col("source") != "buy")
    return (
        tables["open_orders"]
        .select("item", "quantity", "due_date", "hours_left")
        .join(items.select("item", "source", "process", "hours_each", "hours_per_order"), on="item")
        .join(tables["prints"].select("item", each="hours"), on="item", how="left")
    )


def by_week(in_work: pl.DataFrame, of: str, amount: Amount, axis: Workdays) -> pl.DataFrame:
    """What work in progress takes in each week: the column `of`, week, in_work.

    Spread evenly over the working days from the plan's first day to the day before the order is
    due; what would fall past the horizon is left out.
    """
    own = in_work.filter(pl.col(amount) > 0)
    last = np.minimum(ints(own["last"]), axis.count)
    a_day = floats(own[amount]) / ints(own["last"])
    names, named = np.unique(own[of].to_numpy(), return_inverse=True)
    weeks, week_of = np.unique(axis.weeks().to_numpy(), return_inverse=True)
    row = np.repeat(np.arange(len(own)), last)
    name, week = named[row], week_of[each_repeated(np.zeros_like(last), last)]
    order = in_order(name, week, a_day[row])
    name, week = name[order], week[order]
    first = heads(name, week)
    taken = sums(a_day[row][order], stretch_of(first, len(order)), len(first))
    columns = {of: names[name[first]], "week": weeks[week[first]], "in_work": taken}
    return pl.DataFrame(columns, schema={of: pl.String, "week": pl.String, "in_work": pl.Float64})
