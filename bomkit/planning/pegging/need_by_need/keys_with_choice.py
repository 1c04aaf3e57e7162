"""Keys whose needs may not have every supply, or are of several ranks: served need by need."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from bomkit.planning.netting.arrays import (
    NO_ROW,
    Flags,
    Floats,
    Ints,
    Rows,
    at_places,
    heads,
    in_order,
    laid_along,
    one_after_other,
    stretch_of,
    sums,
)
from bomkit.planning.pegging.asked_and_offered import Ground
from bomkit.planning.pegging.must_last import Lasting
from bomkit.planning.pegging.need_by_need.needs import LASTS, NOBODY, Need, Supply
from bomkit.planning.pegging.need_by_need.rank_by_rank import allocate
from bomkit.units import TOLERANCE

_SPAN = LASTS + 2  # more than any ordinal of a day
_Stretch = tuple[int, float, int]  # number of a group or a key, quantity, supply
_ALIKE = ("key", "rank", "day", "until", "shelf", "whose")


@dataclass(frozen=True)
class _Groups:
    """Needs that are alike, put together in the order in which they are served.

    key ... whose: of each group, as in _ALIKE; parts: of each group the quantities of what is
    served as one, a single need or all needs of an order; of_row: the group of each need.
    """

    columns: Rows
    parts: list[list[float]]
    of_row: Ints

    def needs(self) -> Iterator[tuple[int, Need]]:
        """The key and the need of each group."""
        columns = (self.columns[name].tolist() for name in _ALIKE)
        for key, rank, day, until, shelf, whose, parts in zip(*columns, self.parts, strict=True):
            yield key, Need(rank, day, sum(parts), until, shelf, whose, parts)


class Choosing:
    """Knows of each need how long what serves it must last, and for whom supplies are kept."""

    def __init__(self, ground: Ground, comes: Ints, lasting: Lasting) -> None:
        """comes: the day of each supply."""
        self.ground, self.lasting = ground, lasting
        self.ordinals: list[int] = lasting.ordinals.tolist()
        offered = ground.offered
        self.expiring = ground.keys_of(offered.last < LASTS)  # flags by key
        self.kept = ground.keys_of(offered.kept_for != NOBODY)
        order = in_order(offered.key, offered.last)
        self.last_days = offered.key[order], offered.last[order]
        columns = (offered.quantity, comes, offered.stock, offered.last, offered.kept_for)
        self.columns = [column.tolist() for column in columns]

    def lasts_otherwise(self, needs: Rows, before: Lasting) -> Flags:
        """By key whether some supply lasts long enough for a need but not by what was known before,
        or the other way round."""
        own = at_places(needs, self.expiring[needs["key"]])
        every = np.ones(len(own["key"]), np.bool_)
        last, was = (self._last_day(own["key"], known.of(own, every)[0])
                     for known in (self.lasting, before))  # fmt: skip
        otherwise: Flags = np.zeros(len(self.expiring), np.bool_)
        otherwise[own["key"][last != was]] = True
        return otherwise

    def _last_day(self, keys: Ints, until: Ints) -> Ints:
        """The first last day of a supply of the keys that is not before some days, in their place:
        what lasts until the one lasts until the other."""
        whose, last = self.last_days
        place = np.searchsorted(whose * _SPAN + last, keys * _SPAN + until)
        there = place < len(last)
        place = np.minimum(place, len(last) - 1)
        last_days: Ints = np.where(there & (whose[place] == keys), last[place], _SPAN - 1)
        return last_days

    def stretches(self, needs: Rows, supplies: Rows) -> Rows:
        """Which supply serves which need: need, key, quantity, supply_id, as laid_along has them.

        needs: as matching.in_line gives them, with their row; supplies: key, row, in the order in
        which they are taken.
        """
        alike = self._alike(needs)
        groups = _grouped(alike)
        asked: dict[int, list[tuple[int, Need]]] = {}
        for number, (key, need) in enumerate(groups.needs()):
            asked.setdefault(key, []).append((number, need))
        offered = self._offered(supplies)
        got: list[_Stretch] = []
        free: list[_Stretch] = []
        for key in sorted(asked.keys() | offered.keys()):
            ids, own = offered.get(key, ([], []))
            line = asked.get(key, [])
            pieces = bool(self.ground.pieces[self.ground.keys.item(key)])
            allocate([need for _, need in line], own, self.ordinals, pieces)
            took = list(_taken(line, ids))
            got += took
            free += _left_over(key, took, ids, own)
        return one_after_other([_told_apart(alike, groups, got), _for_nobody(free)])

    def _alike(self, needs: Rows) -> Rows:
        """The needs in the order in which they are served, with what tells them apart: until (0
        where nothing expires), shelf, whose (NOBODY where nothing is kept for anybody).

        What an order takes is for all whom it serves: of their first rank, lasting for each.
        """
        limited = self.expiring[needs["key"]]
        until, shelf = self.lasting.of(needs, limited)
        until[limited] = self._last_day(needs["key"][limited], until[limited])
        whose = np.where(self.kept[needs["key"]], self.ground.whose[needs["demand_id"]], NOBODY)
        first = heads(needs["key"], needs["day"], needs["from_id"])
        if not len(first):
            return {**needs, "until": until, "shelf": shelf, "whose": whose}
        lows, highs = np.minimum.reduceat(whose, first), np.maximum.reduceat(whose, first)
        as_one = {
            "rank": np.minimum.reduceat(needs["rank"], first),
            "until": np.maximum.reduceat(until, first),
            "shelf": np.maximum.reduceat(shelf, first),
            "whose": np.where(lows == highs, lows, NOBODY),
        }
        own = {"rank": needs["rank"], "until": until, "shelf": shelf, "whose": whose}
        of_order, stretch = needs["from_id"] >= 0, stretch_of(first, len(whose))
        apart = {name: np.where(of_order, as_one[name][stretch], own[name]) for name in own}
        return at_places({**needs, **apart}, in_order(needs["key"], apart["rank"]))

    def _offered(self, supplies: Rows) -> dict[int, tuple[list[int], list[Supply]]]:
        """By key the numbers of its supplies and the supplies, in their order."""
        by_key: dict[int, tuple[list[int], list[Supply]]] = {}
        for key, row in zip(supplies["key"].tolist(), supplies["row"].tolist(), strict=True):
            ids, own = by_key.setdefault(key, ([], []))
            ids.append(row)
            own.append(Supply(*(column[row] for column in self.columns)))
        return by_key


def _grouped(alike: Rows) -> _Groups:
    """The needs put together as far as they are alike."""
    same = [alike[name] for name in _ALIKE]
    unit = np.where(alike["from_id"] >= 0, alike["from_id"], -1 - alike["row"])
    first = heads(*same, unit)
    unit_of_row = stretch_of(first, len(unit))
    quantity = sums(alike["quantity"], unit_of_row, len(first))
    columns = [column[first] for column in same]
    group = _numbered_as_met(columns)
    order = in_order(group)
    bounds = heads(group[order])
    of_groups = quantity[order].tolist()
    ends = [*bounds.tolist(), len(of_groups)]
    parts = [of_groups[begin:end] for begin, end in pairwise(ends)]
    heads_of_groups = order[bounds]
    of_group = {name: column[heads_of_groups] for name, column in zip(_ALIKE, columns, strict=True)}
    return _Groups(of_group, parts, group[unit_of_row])


def _numbered_as_met(columns: list[Ints]) -> Ints:
    """Of each row the number of those with the same columns, counted as they are met first."""
    order = in_order(*columns)
    first = heads(*(column[order] for column in columns))
    met = order[first]  # stays in order, so that it is where each is met first
    numbers = np.empty_like(met)
    numbers[np.argsort(met)] = np.arange(len(met))
    of_rows = np.empty_like(order)
    of_rows[order] = numbers[stretch_of(first, len(order))]
    return of_rows


def _told_apart(alike: Rows, groups: _Groups, got: list[_Stretch]) -> Rows:
    """What groups of needs got, laid along the needs themselves."""
    order = in_order(groups.of_row)
    needs = {
        "key": groups.of_row[order],
        "quantity": alike["quantity"][order],
        "row": alike["row"][order],
    }
    number, quantity, supply = _columns(got)
    laid = laid_along(needs, {"key": number, "quantity": quantity, "row": supply})
    served = at_places(laid, laid["need"] != NO_ROW)
    return {**served, "key": groups.columns["key"][served["key"]]}


def _for_nobody(free: list[_Stretch]) -> Rows:
    """Stretches of supplies that nobody has."""
    key, quantity, supply = _columns(free)
    return {
        "need": np.full(len(key), NO_ROW),
        "key": key,
        "quantity": quantity,
        "supply_id": supply,
    }


def _columns(rows: list[_Stretch]) -> tuple[Ints, Floats, Ints]:
    """The columns of rows."""
    first, third = (np.array([row[at] for row in rows], np.int64) for at in (0, 2))
    return first, np.array([row[1] for row in rows], np.float64), third


def _taken(line: Iterable[tuple[int, Need]], ids: Sequence[int]) -> Iterator[_Stretch]:
    """What needs got: their number, quantity, and the supply."""
    for number, need in line:
        for place, quantity in need.taken():
            yield number, quantity, NO_ROW if place is None else ids[place]


def _left_over(
    key: int, took: Iterable[_Stretch], ids: Sequence[int], supplies: Sequence[Supply]
) -> Iterator[_Stretch]:
    """What of the supplies of a key nobody has."""
    left = {number: supply.quantity for number, supply in zip(ids, supplies, strict=True)}
    for _, quantity, number in took:
        if number != NO_ROW:
            left[number] -= quantity
    for number, supply in zip(ids, supplies, strict=True):
        if left[number] > supply.quantity * TOLERANCE:
            yield key, left[number], number
