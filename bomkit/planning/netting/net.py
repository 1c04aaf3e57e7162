"""Netting: from gross requirements and supply by day to planned orders, for many rows at once.

A row is an item (of one serial), a column a working day. Each step of the loop over the days is a
handful of operations on whole columns, and only days on which something may be asked are visited.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bomkit.planning.netting.arrays import Floats, Ints
from bomkit.planning.netting.lot_sizes.days_covered import widest_needs
from bomkit.planning.netting.lot_sizes.scrap_and_lot_rules import LotRules, size_lots
from bomkit.units import TOLERANCE


@dataclass(frozen=True)
class Running:
    """Running sums over the days (rows, days) of the few rows that have any."""

    rows: Ints  # ascending
    sums: Floats

    def among(self, rows: Ints) -> "Running":
        """Those of some rows, ascending, counted by their places."""
        own = np.flatnonzero(np.isin(self.rows, rows))
        return Running(np.searchsorted(rows, self.rows[own]), self.sums[own])

    def within(self, first: int, last: int) -> "Running":
        """Those of the rows from first up to last, counted from first."""
        low, high = np.searchsorted(self.rows, (first, last))
        return Running(self.rows[low:high] - first, self.sums[low:high])


@dataclass(frozen=True)
class Beside:
    """What stands beside the gross requirements of some rows, in running sums over the days.

    supplied: S, with open orders that come within the lead time from day 0 on; lost: what of it is
    lost when a lot expires, below zero; least: what is to be planned by each day at the least,
    since what is there may not serve who needs it.
    """

    supplied: Running
    lost: Running
    least: Running

    def among(self, rows: Ints) -> "Beside":
        """Those of some rows, ascending, counted by their places."""
        return Beside(*(part.among(rows) for part in (self.supplied, self.lost, self.least)))

    def within(self, first: int, last: int) -> "Beside":
        """Those of the rows from first up to last, counted from first."""
        parts = (self.supplied, self.lost, self.least)
        return Beside(*(part.within(first, last) for part in parts))


def planned_starts(rules: LotRules, gross: Floats, beside: Beside) -> Floats:
    """The quantity started by the order of each row that is to be usable on each day; 0: no order.

    gross: rows by days. Returns days by rows. The netting rule: an order on day t when
    D(t) > P(t-1), for the widest D of its cover.
    """
    lacking, slack = lacking_by_day(rules, gross, beside)
    slack -= lacking
    np.negative(slack, out=slack)  # where this is above P(t-1), D(t) is by more than the tolerance
    asking = np.ascontiguousarray(slack.T)
    wanted = np.ascontiguousarray(widest_needs(rules, lacking).T)
    days = _days_to_visit(gross, slack, np.concatenate([beside.lost.rows, beside.least.rows]))
    return _started_by_day(rules, days, asking, wanted)


def lacking_by_day(rules: LotRules, gross: Floats, beside: Beside) -> tuple[Floats, Floats]:
    """D by day, and by how much it must be above what is planned for an order."""
    required = np.cumsum(gross, axis=1)
    required += rules.safety_stock[:, None]
    lacking = required.copy()
    lacking[beside.supplied.rows] -= beside.supplied.sums
    rows = beside.least.rows
    lacking[rows] = np.maximum(lacking[rows], beside.least.sums)
    # C + safety stock is the largest quantity involved, but for what was supplied and lost again
    required[beside.lost.rows] -= beside.lost.sums
    required *= TOLERANCE
    return lacking, required


def _started_by_day(rules: LotRules, days: Sequence[int], asking: Floats, wanted: Floats) -> Floats:
    """The starts, days by rows: what is wanted on each day on which more is asked than planned."""
    starts = np.zeros(asking.shape)
    planned, started = np.zeros(asking.shape[1]), np.empty(asking.shape[1])
    for day in days:
        asks = asking[day] > planned
        if np.count_nonzero(asks):
            np.subtract(wanted[day], planned, out=started)
            size_lots(rules, started)
            started *= asks
            starts[day] = started
            started *= rules.good
            planned += started
    return starts


def _days_to_visit(gross: Floats, asking: Floats, losing: Ints) -> Sequence[int]:
    """The days on which some row may ask: D grows only where something is needed or lost."""
    grows = gross > 0
    grows[:, 0] = True
    grows[losing] = True
    grows &= asking > 0
    days: list[int] = np.flatnonzero(grows.any(axis=0)).tolist()
    return days
