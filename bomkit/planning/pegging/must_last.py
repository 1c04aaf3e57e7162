"""How long what serves a need must last, and what a forecast knows about it."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Flags, Ints, Rows, ints


@dataclass(frozen=True)
class Foreseen:
    """What a forecast knows: comes (the day of each supply, by its number); by planned order
    (number) the days by which it begins later than planned, by row of spares_orders (number) the
    day on which it leaves."""

    comes: Ints
    delays: Mapping[int, int]
    leaves: Mapping[int, int]

    def not_before(self, other: "Foreseen") -> "Foreseen":
        """The same with no day earlier than another forecast has it."""
        return Foreseen(
            np.maximum(self.comes, other.comes),
            _latest(self.delays, other.delays),
            _latest(self.leaves, other.leaves),
        )


def _latest(one: Mapping[int, int], other: Mapping[int, int]) -> Mapping[int, int]:
    """By number the later of both."""
    return {
        number: max(days[number] for days in (one, other) if number in days)
        for number in one.keys() | other.keys()
    }


class Lasting:
    """Knows of each need up to which day what serves it must last."""

    def __init__(self, dates: pl.Series, asked: pl.DataFrame, foreseen: Foreseen | None) -> None:
        """dates: of the working days; asked: as spares_rows gives them."""
        self.ordinals = np.array([date.toordinal() for date in dates], np.int64)
        wanted = np.array([date.toordinal() for date in asked["date"]], np.int64)
        delays = foreseen.delays if foreseen is not None else {}
        # one more in the end: what no order asks for has number -1, what does not leave row -1
        self.delays = np.zeros(max(delays, default=-1) + 2, np.int64)
        self.delays[list(delays)] = list(delays.values())
        if foreseen is not None:
            rows, days = (list(each) for each in (foreseen.leaves, foreseen.leaves.values()))
            left = self._ordinal(np.array(days, np.int64))
            wanted[rows] = np.maximum(wanted[rows], left)
        self.shelf = np.append(ints(asked["shelf"]), 0)
        self.until = np.append(wanted, 0) + self.shelf

    def of(self, needs: Rows, limited: Flags) -> tuple[Ints, Ints]:
        """Of needs up to which day what serves them must last at least (until), and for how long
        after it (shelf); 0 but for those that are limited."""
        asked, leaves = needs["asked_id"], needs["leaves"]
        begins = needs["day"] + self._delays(needs["from_id"])
        until = np.where(leaves, self.until[asked], self._ordinal(begins))
        shelf = np.where(leaves, self.shelf[asked], 0)
        return until * limited, shelf * limited

    def _delays(self, orders: Ints) -> Ints:
        """By how many days orders begin later than planned; 0 for those not known to."""
        delays: Ints = self.delays[np.minimum(orders, len(self.delays) - 1)]
        return delays

    def _ordinal(self, days: Ints) -> Ints:
        """The ordinals of working days; past the known days that of the last one."""
        ordinals: Ints = self.ordinals[np.minimum(days, len(self.ordinals) - 1)]
        return ordinals
