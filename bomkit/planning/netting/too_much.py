"""Structures that multiply to quantities beyond counting: refused, with the item named."""

from collections.abc import Iterator
from contextlib import contextmanager

import numpy as np

from bomkit.planning.netting.arrays import Floats, Ints
from bomkit.planning.netting.compiled_structure import Structure
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import MOST_ASKED, MOST_TOLD_APART


class TooMuch(ValueError):  # noqa: N818 - reads as what happened
    """Raised where an item is asked for in quantities beyond counting; names the item."""


class Beyond(ValueError):  # noqa: N818 - reads as what happened
    """Raised where a row is asked for in quantities beyond counting; names the row."""

    def __init__(self, row: int) -> None:
        """row: of the structure."""
        super().__init__(f"row {row} is asked for beyond counting")
        self.row = row


def refuse_too_much(structure: Structure, gross: Floats, rows: slice | Ints) -> None:
    """Raises Beyond where the structure multiplies to quantities beyond counting.

    So it is where an order could be of more multiples, or whole pieces, than a number tells apart.
    """
    rules = structure.rules.of(rows)
    asked = gross[rows].sum(axis=1)
    started = np.maximum((asked + rules.safety_stock) / rules.good, rules.minimum)
    huge = (asked > MOST_ASKED) | (started / rules.step > MOST_TOLD_APART)
    if huge.any():
        beyond = np.arange(len(structure.keys))[rows][huge]
        raise Beyond(int(beyond[np.argmin(structure.keys[beyond])]))


@contextmanager
def too_much_named(network: Network, structure: Structure) -> Iterator[None]:
    """Where a row is asked for in quantities beyond counting, raises TooMuch with its item."""
    try:
        yield
    except Beyond as beyond:
        raise TooMuch(network.items["item"][int(structure.item_id[beyond.row])]) from None
