"""The keys of planning rows: an item, or one serial of an item configured for each airframe."""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt
import polars as pl

Number = TypeVar("Number", int, pl.Expr, pl.Series, npt.NDArray[np.int64])


@dataclass(frozen=True)
class Keys:
    """A key is item number x number of serials + serial number.

    Items and serials are numbered in the order of their names; serial 0 is that of common items.
    """

    serial_count: int  # with the empty serial of common items

    def of(self, item: Number) -> Number:
        """The keys of items that are the same for all."""
        return item * self.serial_count

    def item(self, key: Number) -> Number:
        """The numbers of the items of keys."""
        return key // self.serial_count

    def serial(self, key: Number) -> Number:
        """The numbers of the serials of keys; 0 for common items."""
        return key % self.serial_count
