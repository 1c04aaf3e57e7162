"""The arrays that planning works on: planning keys by working days, and rows sorted by columns."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from bomkit.units import TOLERANCE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]  # rows, days, places
Flags = npt.NDArray[np.bool_]
Rows = Mapping[str, npt.NDArray[Any]]  # columns of the same length, by name
NO_ROW = -1  # stands for no supply in the stretch of a need, and for no need in that of a supply
_MOST_PACKED = 2**62  # what a whole number holds of several columns together


def ints(column: pl.Series) -> Ints:
    """A column of whole numbers, not to be written into."""
    return column.to_numpy().astype(np.int64, copy=False)


def floats(column: pl.Series) -> Floats:
    """A column of quantities, not to be written into."""
    return column.to_numpy().astype(np.float64, copy=False)


def stretches(*columns: npt.NDArray[np.generic]) -> Iterator[slice]:
    """The stretches of places, one after the other, over which all columns stay the same."""
    for first, last in pairwise([*heads(*columns).tolist(), len(columns[0])]):
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
    for own in _equally_long(heads(owner), len(owner)):
        yield owner[own[:, 0]], own


def _equally_long(first: Ints, count: int) -> Iterator[Ints]:
    """The places of stretches of equal length, the shortest first: (stretches, length).

    first: at which places of so many stretches begin.
    """
    sizes = np.diff(np.append(first, count))
    for size in np.unique(sizes).tolist():
        yield first[sizes == size][:, None] + np.arange(size)


def at_places(rows: Rows, places: Ints | Flags) -> Rows:
    """The rows at some places, or those that a flag chooses."""
    where = np.flatnonzero(places) if places.dtype == np.bool_ else places  # far quicker to take
    if places.dtype == np.bool_ and len(where) == len(places):
        return rows
    return {name: column.take(where) for name, column in rows.items()}


def one_after_other(parts: Sequence[Rows]) -> Rows:
    """Parts with the same columns as one."""
    return {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}


def in_order(*columns: npt.NDArray[Any]) -> Ints:
    """The places of rows sorted by columns, the first weighs most; equal ones stay in order.

    Columns that together fit into one whole number are sorted as one, quantities by their ranks.
    """
    count = len(columns[0])
    packed: list[Ints] = []
    room = 0  # how many different values fit beside the last of them
    for column in columns:
        whole = _ranks(column) if column.dtype.kind == "f" else column
        low = int(whole.min()) if count else 0
        span = int(whole.max()) - low + 1 if count else 1
        above = whole.astype(np.int64) - low
        if room >= span:
            packed[-1] = packed[-1] * span + above
            room //= span
        else:
            packed.append(above)
            room = _MOST_PACKED // span
    while len(packed) > 1:
        first, second = (_ranks(column) for column in packed[-2:])
        span = int(second.max(initial=0)) + 1
        packed[-2:] = [first * span + second]
        room = _MOST_PACKED // (span * (int(first.max(initial=0)) + 1))
    if room < count:
        return np.argsort(packed[0], kind="stable")
    return _in_order_of(packed[0])


def _ranks(column: npt.NDArray[Any]) -> Ints:
    """Of each row how many different values are smaller than its own."""
    order = np.argsort(column)
    ranks = np.empty(len(column), np.int64)
    ranks[order] = stretch_of(heads(column[order]), len(column))
    return ranks


def _in_order_of(numbers: Ints) -> Ints:
    """The places of whole numbers in their order, beside each of which its place fits: no two are
    alike then, and may be sorted as is quickest."""
    count = len(numbers)
    if (numbers[1:] >= numbers[:-1]).all():
        return np.arange(count)
    together = numbers * count + np.arange(count)
    together.sort()
    together %= count
    return together


def heads(*columns: npt.NDArray[Any]) -> Ints:
    """The places at which some column is another than in the row before."""
    changes = np.zeros(len(columns[0]), np.bool_)
    changes[:1] = True
    for column in columns:
        changes[1:] |= column[1:] != column[:-1]
    return np.flatnonzero(changes)


def each_once(*columns: npt.NDArray[Any]) -> Ints:
    """The places of rows sorted by columns, one of all that are alike in them."""
    order = in_order(*columns)
    return order[heads(*(column[order] for column in columns))]


def numbered(*columns: npt.NDArray[Any]) -> Ints:
    """Of each row a number that it shares with those of the same columns, by their order."""
    order = in_order(*columns)
    first = heads(*(column[order] for column in columns))
    numbers = np.empty_like(order)
    numbers[order] = stretch_of(first, len(order))
    return numbers


def stretch_of(first: Ints, count: int) -> Ints:
    """Of each of so many places the number of its stretch; first: at which places they begin."""
    return np.repeat(np.arange(len(first)), np.diff(np.append(first, count)))


def sums(values: Floats, stretch: Ints, count: int) -> Floats:
    """The sum of each of so many stretches, added up in the order of the places."""
    added = np.zeros(count)
    np.add.at(added, stretch, values)
    return added


def running_sums(values: Floats, first: Ints) -> Floats:
    """The running sums of stretches, added up in order; first: at which places they begin."""
    running = np.empty_like(values)
    for places in _equally_long(first, len(values)):
        running[places] = np.cumsum(values[places], axis=1)
    return running


def laid_along(asked: Rows, offered: Rows) -> Rows:
    """Asked and offered rows laid along their running sums, each in its order: need (row of what
    is asked, NO_ROW: for nobody), key, quantity, supply_id (row of what is offered, NO_ROW: none).

    That is what `allocate` gives where all needs are of one rank and may have every supply. Both:
    key (those of a key together), quantity, row.
    """
    key = np.concatenate([asked["key"], offered["key"]])
    end = np.concatenate([_ends(asked), _ends(offered)])
    order = in_order(key, end)
    key, end = key[order], end[order]
    begin = np.zeros_like(end)
    begin[1:] = np.where(key[1:] == key[:-1], end[:-1], 0.0)
    count = len(asked["key"])
    row = np.concatenate([asked["row"], offered["row"]])[order]
    need = _next(row, order < count, key)
    supply = _next(row, order >= count, key)
    kept = end - begin > end * TOLERANCE
    met = {"need": need, "key": key, "quantity": end - begin, "supply_id": supply}
    return at_places(met, kept)


def _ends(rows: Rows) -> Floats:
    """The running sums within each key."""
    return running_sums(rows["quantity"], heads(rows["key"]))


def _next(row: Ints, own: Flags, key: Ints) -> Ints:
    """At each place the row of the next that is its own kind, within the key; else NO_ROW."""
    last = len(row)
    places = np.where(own, np.arange(last), last)
    following = np.minimum.accumulate(places[::-1])[::-1]
    within = np.minimum(following, last - 1)
    return np.where((following < last) & (key[within] == key), row[within], NO_ROW)
