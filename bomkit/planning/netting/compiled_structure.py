"""The structure as index arrays: compiled once, then netted and exploded as often as wanted.

Rows stand level by level; within a level those whose quantities are rounded up come first, then
those of like lead and safety times together, so that one operation on an array does for many.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from bomkit.planning.netting.arrays import (
    Flags,
    Floats,
    Ints,
    by_size,
    floats,
    ints,
    numbered,
    stretches,
)
from bomkit.planning.netting.explode import Asking, Fan, Move, Timing, move_of
from bomkit.planning.netting.keys_asked_for import Reached, reached_keys, wanted_keys
from bomkit.planning.netting.lot_sizes.scrap_and_lot_rules import LotRules
from bomkit.planning.tables_as_numbers.network import Network


@dataclass(frozen=True)
class Level:
    """The rows first to last; what their components add up; what these rows ask of others."""

    first: int
    last: int
    fans: tuple[Fan, ...]
    asks: tuple[Asking, ...]


@dataclass(frozen=True)
class Structure:
    """What plans of the same items and lines share.

    keys: one a row; listed: the rows by level and key; parent, child: the rows of each line.
    """

    keys: Ints
    listed: Ints
    levels: tuple[Level, ...]
    rules: LotRules
    parent: Ints
    child: Ints
    sources: int  # rows of what is asked
    item_id: Ints
    by_key: Ints  # the rows in the order of their keys

    def rows_of(self, keys: Ints) -> Ints:
        """The rows of some keys, all of which have one."""
        rows: Ints = self.by_key[np.searchsorted(self.keys, keys, sorter=self.by_key)]
        return rows

    def knows(self, keys: Ints) -> bool:
        """Whether every one of some keys has a row."""
        return bool(np.isin(keys, self.keys).all())


def compile_structure(network: Network) -> Structure:
    """The structure of a network, as far as its demands, receipts and stock reach into it."""
    reached = reached_keys(network, wanted_keys(network))
    items = _Items(network)
    keys = np.concatenate([items.in_rows(own) for own in reached.keys])
    bounds = np.cumsum([0, *map(len, reached.keys)]).tolist()
    by_key = np.argsort(keys)
    levels = np.repeat(np.arange(len(reached.keys)), np.diff(bounds))
    bare = Structure(
        keys=keys,
        listed=np.lexsort((keys, levels)),
        levels=(),
        rules=items.rules(keys),
        parent=np.zeros(0, np.int64),
        child=np.zeros(0, np.int64),
        sources=0,
        item_id=network.keys.item(keys),
        by_key=by_key,
    )
    return _with_lines(bare, network, reached, items, bounds)


def _with_lines(
    bare: Structure, network: Network, reached: Reached, items: "_Items", bounds: Sequence[int]
) -> Structure:
    """The structure with its lines: what each level asks for and adds up."""
    parent, child = bare.rows_of(reached.parent), bare.rows_of(reached.child)
    source, asks = _asking(network, parent, reached.line, bare.item_id, items, bounds)
    factor = floats(network.lines["factor"])[reached.line]
    order = np.argsort(child, kind="stable")  # by parent and line: sums add up in this order
    cuts = np.searchsorted(child[order], bounds)
    levels = tuple(
        Level(first, last, _fans(child, source, factor, order[low:high]), own)
        for (first, last), (low, high), own in zip(
            pairwise(bounds), pairwise(cuts.tolist()), asks, strict=True
        )
    )
    sources = max((each.last for own in asks for each in own), default=0)
    return replace(bare, levels=levels, parent=parent, child=child, sources=sources)


def _fans(child: Ints, source: Ints, factor: Floats, lines: Ints) -> tuple[Fan, ...]:
    """Lines, sorted by child, in groups of children with equally many."""
    return tuple(
        Fan(rows, source[lines[places]], factor[lines[places]])
        for rows, places in by_size(child[lines])
    )


def _asking(
    network: Network,
    parent: Ints,
    line: Ints,
    item_id: Ints,
    items: "_Items",
    bounds: Sequence[int],
) -> tuple[Ints, list[tuple[Asking, ...]]]:
    """The row of what is asked for each line, and by level the parents with their timings.

    Lines of one parent that move a need alike share a row.
    """
    kinds = _kinds(network)
    count = len(kinds.offset)
    pairs, place = np.unique(parent * count + kinds.number[line], return_inverse=True)
    row, kind = pairs // max(1, count), pairs % max(1, count)
    level = np.searchsorted(bounds, row, side="right") - 1
    timing = (items.lead[item_id[row]], items.safety[item_id[row]], kinds.offset[kind])
    alike = (level, *timing, kinds.per_order[kind], kinds.dated[kind])
    order = np.lexsort((row, *reversed(alike)))
    by_level: list[list[Asking]] = [[] for _ in bounds[1:]]
    for part in stretches(*(column[order] for column in alike)):
        one, some = order[part.start], order[part]
        lead, safety, offset = (int(days[one]) for days in timing)
        move = move_of(Timing(lead, safety, offset), network.axis.count)
        asking = kinds.asked_by(row[some], kind[some], part.start, move)
        by_level[level[one]].append(asking)
    position = np.empty(len(order), np.int64)
    position[order] = np.arange(len(order))
    return position[place], [tuple(own) for own in by_level]


@dataclass(frozen=True)
class _Kinds:
    """The ways in which lines move needs: number (of each line), and what each number means."""

    number: Ints
    offset: Ints
    per_order: Flags
    first_start: Ints
    last_start: Ints
    dated: Flags

    def asked_by(self, parent: Ints, kind: Ints, first: int, move: Move) -> Asking:
        """What some parents ask for, all by kinds that are alike but for their dates."""
        window = (self.first_start[kind], self.last_start[kind])
        return Asking(
            first,
            first + len(parent),
            parent,
            move,
            bool(self.per_order[kind[0]]),
            window if self.dated[kind[0]] else None,
        )


def _kinds(network: Network) -> _Kinds:
    """The kinds of the network's lines."""
    lines, last = network.lines, len(network.axis.dates) - 1
    per_order = lines["per_order"].to_numpy()
    offset, first, until = (ints(lines[name]) for name in ("offset", "first_start", "last_start"))
    number = numbered(offset, per_order, first, until)
    one = np.zeros(int(number.max(initial=-1)) + 1, np.int64)  # a line of each kind
    one[number] = np.arange(len(number))
    # a line without dates counts from the first day to the last one
    dated = (first[one] > 0) | (until[one] < last)
    return _Kinds(number, offset[one], per_order[one], first[one], until[one], dated)


class _Items:
    """The items' columns as arrays, by item_id."""

    def __init__(self, network: Network) -> None:
        """Takes the columns that decide about rows and lots."""
        items = network.items
        self.keys = network.keys
        self.lead, self.safety = ints(items["lead"]), ints(items["safety"])
        multiple, whole = floats(items["multiple"]), items["whole"].to_numpy()
        step = np.where(multiple > 0, multiple, 1.0)
        self.stepped = (multiple > 0) | whole
        self._rules = LotRules(
            good=floats(items["good"]),
            minimum=floats(items["minimum"]),
            step=step,
            stepped=self.stepped,
            broken=whole & (step % 1.0 > 0),
            cover=ints(items["cover"]),
            longest=ints(items["longest"]),
            lead=self.lead,
            ahead=self.lead + self.safety,
            safety_stock=floats(items["safety_stock"]),
            whole=whole,
            least_cost=items["least_cost"].to_numpy(),
            order_cost=floats(items["order_cost"]),
            holding=floats(items["holding"]),
        )

    def in_rows(self, keys: Ints) -> Ints:
        """The keys of one level in the order of their rows."""
        item = self.keys.item(keys)
        order = np.lexsort((keys, self.safety[item], self.lead[item], ~self.stepped[item]))
        rows: Ints = keys[order]
        return rows

    def rules(self, keys: Ints) -> LotRules:
        """The lot rules of some keys."""
        return self._rules.of(self.keys.item(keys))
