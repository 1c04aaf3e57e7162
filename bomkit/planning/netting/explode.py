"""Exploding: from the starts of one level to the gross requirements of its components.

First the starts of a parent are moved to the days on which its components are needed, once for all
lines that share the same timing; then each component adds up what its lines ask for.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Floats, Ints

_AT_ONCE = 1 << 16  # quantities handled together: few enough to stay near the processor


@dataclass(frozen=True)
class Timing:
    """From the day on which an order is usable to its own days and the need of a component."""

    lead: int
    safety: int
    offset: int

    def due(self, usable: int) -> int:
        """The day on which an order is due that is to be usable on a day; never before day 0."""
        return max(0, usable - self.safety)

    def start(self, usable: int) -> int:
        """The day on which it starts; never before day 0."""
        return max(0, usable - self.safety - self.lead)

    def need(self, usable: int) -> int:
        """The day on which the component is needed: from the start on, at latest on the due day."""
        return max(0, min(self.start(usable) + self.offset, self.due(usable)))


# The same for many orders at once: columns usable, safety and lead of their items.
DUE = (pl.col("usable") - pl.col("safety")).clip(0)
START = (pl.col("usable") - pl.col("safety") - pl.col("lead")).clip(0)
LATE_DAYS = (pl.col("lead") + pl.col("safety") - pl.col("usable")).clip(0)


@dataclass(frozen=True)
class Move:
    """One timing over the days of a plan: from usable day in_time on, a need lies ahead days before
    the usable day; before, the needs are on the days 0, 1, ..., each from the usable day in heads
    on."""

    timing: Timing
    ahead: int
    in_time: int
    heads: Ints


def move_of(timing: Timing, days: int) -> Move:
    """The move that a timing makes in a plan of so many days."""
    ahead = timing.safety + timing.lead - min(timing.offset, timing.lead)
    in_time = min(max(timing.safety + timing.lead, ahead), days)
    late = np.array([timing.need(usable) for usable in range(in_time)], np.int64)
    return Move(timing, ahead, in_time, np.unique(late, return_index=True)[1])


@dataclass(frozen=True)
class Asking:
    """Parents that ask for components with one timing: the rows first to last of what is asked."""

    first: int
    last: int
    parent: Ints  # the rows of the parents
    move: Move
    per_order: bool  # once for each order, whatever its size
    window: tuple[Ints, Ints] | None  # first and last day on which each parent has to start


@dataclass(frozen=True)
class Fan:
    """Components on which equally many lines end."""

    child: Ints  # their rows
    source: Ints  # components by lines: rows of what is asked
    factor: Floats  # components by lines: of the component for each that is asked


def move_to_needs(starts: Floats, asked: Floats, groups: Iterable[Asking]) -> None:
    """Writes what parents start, by usable day, into what they ask for, by day of the need."""
    for group in groups:
        started = starts[group.parent]
        if group.per_order:
            started = (started > 0).astype(np.float64)
        if group.window:
            started *= _counting(group.move.timing, *group.window, started.shape[1])
        _moved(started, group.move, asked[group.first : group.last])


def _counting(timing: Timing, first: Ints, last: Ints, days: int) -> Floats:
    """1 where a parent's order of a usable day starts within the dates of a line, else 0."""
    start = np.array([timing.start(usable) for usable in range(days)])
    return ((first[:, None] <= start) & (start <= last[:, None])).astype(np.float64)


def _moved(started: Floats, move: Move, asked: Floats) -> None:
    """Moves quantities from the usable day of their order to the day of the need."""
    days = started.shape[1]
    asked[:, move.in_time - move.ahead : days - move.ahead] = started[:, move.in_time :]
    if move.in_time:
        late = started[:, : move.in_time]
        asked[:, : len(move.heads)] += np.add.reduceat(late, move.heads, axis=1)


def add_needs(asked: Floats, gross: Floats, fans: Iterable[Fan]) -> None:
    """Adds to the gross requirement of each component what its lines ask for, in their order."""
    for fan in fans:
        together = max(1, _AT_ONCE // (fan.source.shape[1] * asked.shape[1]))
        for first in range(0, len(fan.child), together):
            some = slice(first, first + together)
            needs = asked.take(fan.source[some], axis=0)
            gross[fan.child[some]] += np.einsum("cld,cl->cd", needs, fan.factor[some])
