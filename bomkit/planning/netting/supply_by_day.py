"""What is there and what is asked from outside, as arrays beside a compiled structure."""

from dataclasses import dataclass, replace

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Floats, Ints, floats, in_order, ints
from bomkit.planning.netting.compiled_structure import Structure
from bomkit.planning.netting.expiring_lots import Lots, grouped_lots
from bomkit.planning.netting.net import Running
from bomkit.planning.tables_as_numbers.network import Network


@dataclass(frozen=True)
class Events:
    """Quantities by row and day."""

    row: Ints
    day: Ints
    quantity: Floats

    def added_to(self, quantities: Floats) -> None:
        """Adds them to an array of rows by days, in their order."""
        np.add.at(quantities.reshape(-1), self.row * quantities.shape[1] + self.day, self.quantity)


@dataclass(frozen=True)
class Supplied:
    """Demands from outside, stock and receipts of one plan.

    rows: with any supply, ascending; stock: from day 0 on; lots: by level, those that expire, whose
    places are those of expiring; present: rows that stand in the plan even if nothing asks;
    least: what is to be planned by each day at the least.
    """

    days: int
    outside: Events
    receipts: Events
    stock: Events
    rows: Ints
    lots: list[list[Lots]]
    expiring: pl.DataFrame
    present: Ints
    least: Running

    def by_day(self, lead: Ints | None = None) -> Floats:
        """Stock and receipts on their days: the rows with any by days.

        lead: by row of the structure the days within which nothing ordered today can be there. What
        comes by then counts from day 0 on: nothing new is planned beside it.
        """
        receipts = self.receipts
        if lead is not None:
            within = receipts.day <= lead[receipts.row]
            receipts = replace(receipts, day=np.where(within, 0, receipts.day))
        supply = np.zeros((len(self.rows), self.days))
        for events in (self.stock, receipts):
            rows = np.searchsorted(self.rows, events.row)
            replace(events, row=rows).added_to(supply)
        return supply


def supplied(network: Network, structure: Structure) -> Supplied:
    """What a network has beside its structure, which must know every key of it."""
    demands = _events(network.demands, structure)
    receipts = _in_order(_events(network.receipts, structure))
    stock = _in_order(_events(network.stock, structure, at_once=True))
    expiring = _expiring(network, structure)
    kept = np.flatnonzero(structure.rules.safety_stock > 0)
    rows = np.unique(np.concatenate([stock.row, receipts.row]))
    return Supplied(
        days=network.axis.count,
        outside=demands,
        receipts=receipts,
        stock=stock,
        rows=rows,
        lots=_lots_by_level(expiring, structure, network.axis.count),
        expiring=expiring.drop("place"),
        present=np.concatenate([demands.row, rows, kept]),
        least=_least(_events(network.least, structure), network.axis.count),
    )


def _least(events: Events, days: int) -> Running:
    """The greatest of what is to be planned by each day, by row, the days before it included."""
    rows, place = np.unique(events.row, return_inverse=True)
    sums = np.zeros((len(rows), days))
    np.maximum.at(sums, (place, events.day), events.quantity)
    return Running(rows, np.maximum.accumulate(sums, axis=1))


def _events(part: pl.DataFrame, structure: Structure, at_once: bool = False) -> Events:
    """Rows of key, quantity and day, but for those past the horizon; at_once: on the first day."""
    key, quantity = ints(part["key"]), floats(part["quantity"])
    day = np.zeros(len(key), np.int64) if at_once else ints(part["day"])
    if "past" in part.columns:
        within = ~part["past"].to_numpy()
        key, day, quantity = key[within], day[within], quantity[within]
    return Events(structure.rows_of(key), day, quantity)


def _in_order(events: Events) -> Events:
    """The same by row, quantity and day, so that they are added up in one order."""
    order = in_order(events.row, events.quantity, events.day)
    return Events(events.row[order], events.day[order], events.quantity[order])


def _expiring(network: Network, structure: Structure) -> pl.DataFrame:
    """Stock that expires, with the last day within the horizon and place (its row), as listed."""
    last = network.axis.count - 1
    lots = network.stock.filter(pl.col("day").is_not_null())
    rows = structure.rows_of(ints(lots["key"]))
    turn = np.empty(len(structure.keys), np.int64)
    turn[structure.listed] = np.arange(len(turn))
    return (
        lots.with_columns(
            pl.col("day").clip(upper_bound=last),
            place=pl.Series(rows, dtype=pl.Int64),
            turn=pl.Series(turn[rows], dtype=pl.Int64),
        )
        .sort("turn", "expires", "lot", "location", "serial", "quantity")
        .drop("turn")
    )


def _lots_by_level(expiring: pl.DataFrame, structure: Structure, days: int) -> list[list[Lots]]:
    """The lots in the groups in which they are netted."""
    row, day, quantity = (
        ints(expiring["place"]),
        ints(expiring["day"]),
        floats(expiring["quantity"]),
    )
    lost = ~expiring["beyond"].to_numpy() & (day + 1 < days)
    groups = []
    for level in structure.levels:
        own = np.flatnonzero((row >= level.first) & (row < level.last))
        of_level = grouped_lots(row[own], day[own], quantity[own], lost[own])
        groups.append([Lots(g.rows, own[g.place], g.day, g.quantity, g.lost) for g in of_level])
    return groups
