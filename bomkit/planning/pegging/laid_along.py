"""Needs and supplies laid along each other, as far as all needs may have every supply."""

import numpy as np

from bomkit.planning.netting.arrays import (
    Flags,
    Floats,
    Ints,
    Rows,
    at_places,
    heads,
    in_order,
    running_sums,
)
from bomkit.planning.tolerance import TOLERANCE

NO_ROW = -1  # stands for no supply in the stretch of a need, and for no need in that of a supply


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
    found = np.minimum(following, last - 1)
    return np.where((following < last) & (key[found] == key), row[found], NO_ROW)
