"""The arrays that netting works on: planning keys by working days, and what stands beside them."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import polars as pl

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]  # rows, days, places
Flags = npt.NDArray[np.bool_]


def ints(column: pl.Series) -> Ints:
    """A column of whole numbers."""
    return column.to_numpy().astype(np.int64)


def floats(column: pl.Series) -> Floats:
    """A column of quantities."""
    return column.to_numpy().astype(np.float64)


def stretches(*columns: npt.NDArray[np.generic]) -> Iterator[slice]:
    """The stretches of places, one after the other, over which all columns stay the same."""
    if not len(columns[0]):
        return
    changes = np.zeros(len(columns[0]) - 1, np.bool_)
    for column in columns:
        changes |= column[1:] != column[:-1]
    bounds = [0, *(np.flatnonzero(changes) + 1).tolist(), len(columns[0])]
    for first, last in pairwise(bounds):
        yield slice(first, last)


def each_repeated(first: Ints, count: Ints) -> Ints:
    """The places first, first + 1, ... of each stretch, one stretch after the other."""
    ends = np.cumsum(count)
    total = int(ends[-1]) if len(ends) else 0
    return np.repeat(first - ends + count, count) + np.arange(total)


def by_size(owner: Ints) -> Iterator[tuple[Ints, Ints]]:
    """The owners that own equally much, fewest first: owners, and places (owners, how much).

    owner: of each place, those of one owner one after the other.
    """
    heads = np.array([part.start for part in stretches(owner)], np.int64)
    sizes = np.diff(np.append(heads, len(owner)))
    for size in np.unique(sizes).tolist():
        own = heads[sizes == size]
        yield owner[own], own[:, None] + np.arange(size)
