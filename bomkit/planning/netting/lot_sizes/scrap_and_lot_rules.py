"""How large an order is that a minimum, a multiple, whole pieces and scrap make of a need."""

from dataclasses import dataclass, fields
from functools import cached_property
from math import ceil

import numpy as np

from bomkit.planning.netting.arrays import Flags, Floats, Ints
from bomkit.units import TOLERANCE


@dataclass(frozen=True)
class LotRules:
    """How the orders of each row are sized; one value a row, those that are stepped in front."""

    good: Floats  # share of what is started that is expected good: 1 - scrap rate
    minimum: Floats  # 0: none
    step: Floats  # what quantities are rounded up to: the multiple, else whole pieces
    stepped: Flags  # whether quantities are rounded up at all
    broken: Flags  # whether a multiple is not whole but pieces are: rounding goes on to whole ones
    cover: Ints  # working days whose needs one order covers, at least 1
    longest: Ints  # at most so many even if it is late
    lead: Ints  # working days
    ahead: Ints  # lead and safety days: an order that is usable sooner is late
    safety_stock: Floats
    whole: Flags  # whether it is counted in whole pieces
    least_cost: Flags  # whether lots are chosen by what they cost, by the two below
    order_cost: Floats
    holding: Floats  # of a good unit for a working day

    @cached_property
    def stepped_rows(self) -> int:
        """How many rows are stepped."""
        return int(np.count_nonzero(self.stepped))

    @cached_property
    def good_of_step(self) -> Floats:
        """What a step is expected to give, and what the tolerance forgives."""
        return np.where(self.stepped, self.good * self.step / (1 - TOLERANCE), self.good)

    @cached_property
    def least_steps(self) -> Floats:
        """The minimum in steps, less what the tolerance forgives."""
        return np.where(self.stepped, self.minimum / self.step * (1 - TOLERANCE), self.minimum)

    @cached_property
    def broken_rows(self) -> Ints:
        """The rows that are broken."""
        return np.flatnonzero(self.broken)

    def of(self, rows: slice | Ints) -> "LotRules":
        """The rules of some rows."""
        return LotRules(*(getattr(self, field.name)[rows] for field in fields(self)))


def size_lots(rules: LotRules, quantities: Floats) -> None:
    """Turns wanted good quantities, in place, into what is started for them: scrap, minimum,
    multiple, whole pieces."""
    quantities /= rules.good_of_step
    np.maximum(quantities, rules.least_steps, out=quantities)
    steps = quantities[: rules.stepped_rows]
    np.ceil(steps, out=steps)
    quantities *= rules.step
    if len(rules.broken_rows):
        quantities[rules.broken_rows] = np.ceil(quantities[rules.broken_rows] * (1 - TOLERANCE))


def rounded_up(quantity: float, multiple: float, whole: bool) -> float:
    """One quantity as it can be ordered: a multiple (0: none), and whole pieces."""
    step = multiple or (1.0 if whole else 0.0)
    if step:
        quantity = ceil(quantity / step * (1 - TOLERANCE)) * step
    return float(ceil(quantity * (1 - TOLERANCE))) if whole else quantity
