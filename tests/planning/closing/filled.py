"""What people fill in, as frames: typed by hand for a test, or a whole week as it was planned."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.tables.filled_in_tables import ENTRIES

Frames = dict[str, pl.DataFrame]


def filled_in(**rows_of: list[Mapping[str, Any]]) -> Frames:
    """Entries by kind; what a row does not name is empty, and each has its own place."""
    frames = {}
    for name, rows in rows_of.items():
        table = ENTRIES[name]
        full = [
            {**table.when_empty, **row} | {"where": f"book.xlsx › {name} › row {number}"}
            for number, row in enumerate(rows, 5)
        ]
        frames[name] = pl.DataFrame(full, schema={**table.schema, "where": pl.String})
    return frames


def week_as_planned(inputs: Frames, results: Frames, until: dt.date) -> Frames:
    """A week in which everything that was to start before a day started, and came when due.

    Orders that lack something stay in work, and those with scrap, as a shop has no tenths of
    good pieces.
    """
    orders = results["orders"].filter(pl.col("start_date") < until)
    made = orders.filter(pl.col("source") != "buy")
    return filled_in(
        ordered=_ordered(orders),
        arrived=_arrived(inputs, until),
        worked=_worked(results, made, until) + _in_work(inputs, results, until),
        picked=_picked(results, made, inputs, until),
    )


def _ordered(orders: pl.DataFrame) -> list[dict[str, Any]]:
    bought = orders.filter(pl.col("source") == "buy").select("order", "item", "serial")
    return [
        {"plan_order": order, "item": item, "serial": serial, "order": f"P-{order}"}
        for order, item, serial in bought.iter_rows()
    ]


def _arrived(inputs: Frames, until: dt.date) -> list[dict[str, Any]]:
    bought = inputs["items"].filter(pl.col("source") == "buy").select("item")
    due = inputs["open_orders"].join(bought, on="item").filter(pl.col("due_date") < until)
    names = ("order", "item", "serial", "due_date")
    return [
        {name: row[name] for name in names} | {"arrived": row["quantity"]}
        for row in due.iter_rows(named=True)
    ]


def _worked(results: Frames, made: pl.DataFrame, until: dt.date) -> list[dict[str, Any]]:
    there = pl.col("supply_kind").is_in(["stock", "passed on"])
    waiting = set(results["pegs"].filter(~there)["from_order"])
    found = []
    for row in made.iter_rows(named=True):
        whole = row["expected_good"] == row["quantity"]
        finished = whole and row["due_date"] < until and row["order"] not in waiting
        good = row["quantity"] if finished else None
        entry = {name: row[name] for name in ("order", "item", "serial", "due_date")}
        found.append({**entry, "begun": row["quantity"], "good": good})
    return found


def _in_work(inputs: Frames, results: Frames, until: dt.date) -> list[dict[str, Any]]:
    """Orders in work that are due, lack nothing and have no scrap."""
    rates = dict(inputs["processes"].select("process", "scrap_rate").iter_rows())
    own = inputs["items"].filter(pl.col("source") != "buy")
    sure = [
        row["item"]
        for row in own.iter_rows(named=True)
        if not (row["scrap_rate"] if row["scrap_rate"] is not None else rates.get(row["process"]))
    ]
    lacking = inputs["allocations"]["order"].to_list()
    due = inputs["open_orders"].filter(
        pl.col("item").is_in(sure), ~pl.col("order").is_in(lacking), pl.col("due_date") < until
    )
    names = ("order", "item", "serial", "due_date")
    return [
        {name: row[name] for name in names} | {"good": row["quantity"]}
        for row in due.iter_rows(named=True)
    ]


def _picked(
    results: Frames, made: pl.DataFrame, inputs: Frames, until: dt.date
) -> list[dict[str, Any]]:
    """What lies in stock for the orders begun, and for those in work by the day they need it."""
    begun = pl.col("from_order").is_in(made["order"].implode())
    in_work = (pl.col("demand_kind") == "in work") & (pl.col("need_date") < until)
    drawn = (
        results["pegs"]
        .filter(pl.col("supply_kind") == "stock", begun | ((pl.col("from_order") == "") & in_work))
        .group_by("need", "item", "serial", "location", "supply")
        .agg(pl.col("quantity").sum().round(9), pl.col("need_date").min())
        .sort("need", "item", "serial", "location", "supply")
    )
    return [
        {
            "order": row["need"],
            "item": row["item"],
            "serial": row["serial"],
            "location": row["location"],
            "listed_lot": row["supply"],
            "need_date": row["need_date"],
            "picked": row["quantity"],
        }
        for row in drawn.iter_rows(named=True)
    ]
