"""The days whose needs one order covers: those of its cover, and those on which it is late."""

import numpy as np

from bomkit.planning.netting.arrays import Floats
from bomkit.planning.netting.lot_sizes.scrap_and_lot_rules import LotRules


def widest_needs(rules: LotRules, lacking: Floats) -> Floats:
    """For each day the greatest D over the days that an order of that day covers.

    They are the days of its cover, and for an order that is late at least those before the first
    one on which an order placed today is in time, within the longest cover.
    """
    widest = lacking.copy()
    for days in np.unique(rules.cover[rules.cover > 1]).tolist():
        rows = np.flatnonzero(rules.cover == days)
        widest[rows] = _sliding_maxima(lacking[rows], days)
    late = _widest_while_late(rules, lacking)
    np.maximum(widest[:, : late.shape[1]], late, out=widest[:, : late.shape[1]])
    return widest


def _widest_while_late(rules: LotRules, lacking: Floats) -> Floats:
    """For each day on which some row's order is late the greatest D from it to the last of these
    days; below any D where the order is in time."""
    days = np.arange(min(rules.ahead.max(initial=0), lacking.shape[1]))
    late = np.where(days < rules.ahead[:, None], lacking[:, : len(days)], -np.inf)
    widest: Floats = np.maximum.accumulate(late[:, ::-1], axis=1)[:, ::-1]
    spoils = rules.longest < rules.ahead
    for longest in np.unique(rules.longest[spoils]).tolist():
        rows = np.flatnonzero(spoils & (rules.longest == longest))
        widest[rows] = _sliding_maxima(late[rows], longest)
    return widest


def _sliding_maxima(values: Floats, width: int) -> Floats:
    """Along each row the greatest of each value and those after it, `width` in all.

    By doubling: the maximum over some days is that of two stretches of the largest power of two
    that fits into them.
    """
    widest, reach = values, 1
    while 2 * reach <= width:
        widest, reach = _larger_of(widest, reach), 2 * reach
    return _larger_of(widest, width - reach) if width > reach else widest


def _larger_of(values: Floats, later: int) -> Floats:
    """For each day the larger of its value and the one some days later (the last ones as is)."""
    larger = values.copy()
    ahead = values[:, later:]
    np.maximum(larger[:, : ahead.shape[1]], ahead, out=larger[:, : ahead.shape[1]])
    return larger
