"""Rows that were filled in for several orders or plates at once, as a row for each order."""

import datetime as dt
import json
from collections.abc import Collection, Iterable, Iterator

import polars as pl

from bomkit.planning.closing.ledger import Row
from bomkit.tables.filled_in_tables import (
    BROUGHT_OUT,
    ENTRIES,
    FURTHER_PICKS,
    LEFT_OUT,
    PICKED,
    PRINTED,
    WORKED,
)
from bomkit.tables.schema import Table, Tables
from bomkit.units import TOLERANCE

_DONE = ("begun", "good", "scrapped")


def unfolded(entries: Tables, results: Tables) -> dict[str, pl.DataFrame]:
    """The entries with brought_out and further_picks as part of picked, and printed of worked."""
    waiting = {row["order"] for row in _rows(entries, LEFT_OUT) if row["waits"] == "yes"}
    picked = list(_picked(_rows(entries, BROUGHT_OUT), waiting))
    picked += [_further(row, results) for row in _rows(entries, FURTHER_PICKS)]
    worked = _worked(_rows(entries, PRINTED), results["plates"])
    kept = {name: frame for name, frame in entries.items() if name in ENTRIES}
    kept[PICKED.name] = _with(kept, PICKED, picked)
    kept[WORKED.name] = _with(kept, WORKED, worked)
    return kept


def served_in_spite(entries: Tables) -> Iterator[tuple[Row, list[str]]]:
    """Orders that are said to wait, with the items of which as much was picked as for them too."""
    rows = _rows(entries, LEFT_OUT)
    waiting = {row["order"] for row in rows if row["waits"] == "yes"}
    items_of: dict[str, list[str]] = {}
    for row in _rows(entries, BROUGHT_OUT):
        named = json.loads(row["goes_to"])
        others = sum(asked for order, asked, _ in named if order not in waiting)
        if (row["picked"] or 0.0) > others + TOLERANCE * max(1.0, others):
            for order in {each[0] for each in named} & waiting:
                items_of.setdefault(order, []).append(row["item"])
    for row in rows:
        if row["waits"] == "yes" and row["order"] in items_of:
            yield row, sorted(set(items_of[row["order"]]))


def unread_picks(unread: Tables) -> set[tuple[str, str]]:
    """The order and the item of picks of which a cell could not be read."""
    listed = {
        (order, row["item"])
        for row in _rows(unread, BROUGHT_OUT)
        for order, *_ in json.loads(row["goes_to"])
    }
    others = [*_rows(unread, PICKED), *_rows(unread, FURTHER_PICKS)]
    return listed | {(row["order"], row["item"]) for row in others}


def _rows(entries: Tables, table: Table) -> list[Row]:
    frame = entries.get(table.name)
    return [] if frame is None else list(frame.iter_rows(named=True))


def _with(entries: Tables, table: Table, rows: list[Row]) -> pl.DataFrame:
    """The entries of a table and rows that were made."""
    made = pl.DataFrame(rows, {**table.schema, "where": pl.String()})
    there = entries.get(table.name)
    return made if there is None else pl.concat([there.select(made.columns), made])


def _picked(rows: Iterable[Row], waiting: Collection[str]) -> Iterator[Row]:
    """What was picked of a lot, to the orders named one after the other; the last one gets what is
    more than they ask for.

    waiting: orders that get nothing, unless the lot was picked for none but them.
    """
    for row in rows:
        shared = {name: row[name] for name in PICKED.column_names if name in row}
        left = row["picked"]
        named = json.loads(row["goes_to"])
        goes = [each for each in named if each[0] not in waiting] or named
        for number, (order, asked, day) in enumerate(goes, 1):
            own = left if left is None or number == len(goes) else round(min(left, asked), 9)
            if own or number == 1:
                need = {"order": order, "need_date": dt.date.fromisoformat(day), "picked": own}
                yield {**shared, **need, "where": row["where"]}
            left = None if left is None else round(left - own, 9)  # as stock is kept


def _further(row: Row, results: Tables) -> Row:
    """A pick besides the lists."""
    day = results["orders"].filter(pl.col("order") == row["order"])["start_date"]
    need = {"listed_lot": "", "need_date": day[0] if len(day) else None}
    return {name: row[name] for name in ("where", *FURTHER_PICKS.column_names[1:])} | need


def _worked(rows: Iterable[Row], plates: pl.DataFrame) -> list[Row]:
    """What was done of an order on all of its plates; of a plate without a word on how much was
    begun, all of its parts were.

    plates: the result table of that name.
    """
    on_plate = {(plate, order): parts for plate, order, parts in plates.select(
        "plate", "order", "parts").iter_rows()}  # fmt: skip
    by_order: dict[tuple[object, ...], Row] = {}
    for row in rows:
        key = tuple(row[name] for name in WORKED.key)
        own = {name: row[name] for name in (*WORKED.column_names, "where")}
        if own["begun"] is None and (own["good"] or own["scrapped"]):
            own["begun"] = float(on_plate.get((row["plate"], row["order"]), 0)) or None
        known = by_order.setdefault(key, {**own, **dict.fromkeys(_DONE)})
        for name in _DONE:
            if own[name] is not None:
                known[name] = (known[name] or 0.0) + own[name]
    return list(by_order.values())
