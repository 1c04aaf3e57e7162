"""Lots that expire: what each can serve in time, and what of it is lost."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bomkit.planning.netting.arrays import Flags, Floats, Ints, by_size


@dataclass(frozen=True)
class Lots:
    """Rows with equally many expiring lots: arrays of rows by lots, first-expired first."""

    rows: Ints  # one a row
    place: Ints  # of each lot in the frame of lots
    day: Ints  # last working day of use (Workdays.last_uses), within the horizon
    quantity: Floats
    lost: Flags  # whether what is left of it is lost after that day, within the horizon


def grouped_lots(row: Ints, day: Ints, quantity: Floats, lost: Flags) -> Iterator[Lots]:
    """Lots, sorted by row and expiry, in groups of rows with equally many."""
    for rows, places in by_size(row):
        yield Lots(rows, places, day[places], quantity[places], lost[places])


def lot_uses(lots: Lots, required: Floats) -> Floats:
    """What each lot can serve before it expires, first-expired first: rows by lots.

    required: C, of the same rows by day. With Q the running sum of the lots, used up to lot k is
    Q(k) + min over j <= k of min(0, C(j) - Q(j)): the closed form of
    u_k = min(q_k, max(0, C(e_k) - u_1 - ... - u_{k-1})).
    """
    running = np.cumsum(lots.quantity, axis=1)
    beyond = np.take_along_axis(required, lots.day, axis=1) - running
    used_up_to = running + np.minimum(np.minimum.accumulate(beyond, axis=1), 0)
    return np.diff(used_up_to, axis=1, prepend=0.0)


def left_over(lots: Lots, used: Floats, days: int) -> Floats:
    """What of the lots is lost, as a change of supply on the day after their last: rows by days."""
    change = np.zeros((len(lots.rows), days))
    of_row, of_lot = np.nonzero(lots.lost)
    after = lots.day[of_row, of_lot] + 1
    np.add.at(change, (of_row, after), (used - lots.quantity)[of_row, of_lot])
    return change
