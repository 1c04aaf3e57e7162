"""Packing parts onto the plates of one kind of printer: first-fit decreasing.

First-fit decreasing on the share never takes more than 11/9 OPT + 6/9 plates where only the share
limits them (Dosa 2007, from memory). With limits on parts or hours nothing of the kind is known to
hold: the best of several orders is taken then. The bound beside it is L2 of Martello & Toth,
Knapsack Problems, 1990, chapter 8 (from memory), or where it is higher what the other limits of a
plate ask for.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from bomkit.units import TOLERANCE


@dataclass(frozen=True)
class Limits:
    """What goes onto one plate besides the shares, which add up to 1 at most."""

    parts: float = math.inf
    hours: float = math.inf


@dataclass(frozen=True)
class Parts:
    """Like parts of one order: the share of a plate and the printing hours of one of them."""

    order: str
    count: int
    share: float
    hours: float


@dataclass
class Plate:
    """A plate while it is being filled: how many parts of which order are on it."""

    parts: dict[str, int] = field(default_factory=dict)
    count: int = 0
    share: float = 0.0
    hours: float = 0.0

    def room_for(self, parts: Parts, limits: Limits) -> int:
        """How many of these parts still fit on."""
        rooms = [
            _whole_times(1.0 - self.share, parts.share, 1.0),
            _whole_times(limits.hours - self.hours, parts.hours, limits.hours),
            limits.parts - self.count,
        ]
        return int(max(0, min(parts.count, *rooms)))

    def take(self, parts: Parts, count: int) -> None:
        """Puts some of these parts on."""
        self.parts[parts.order] = self.parts.get(parts.order, 0) + count
        self.count += count
        self.share += count * parts.share
        self.hours += count * parts.hours


def packed(batches: Sequence[Parts], limits: Limits, fewest: int = 0) -> list[Plate]:
    """Plates with all parts on them: each part, largest first, onto the first it fits on.

    Largest by share alone where nothing else limits a plate; else the best of several measures, of
    which none is tried once there are no more than the fewest plates that there can be.
    No single part may be beyond the limits of an empty plate: ValueError.
    """
    most_hours = limits.hours
    measures: list[Callable[[Parts], float]] = [lambda parts: parts.share]
    if limits != Limits():
        measures += [
            lambda parts: max(parts.share, parts.hours / most_hours, 1 / limits.parts),
            lambda parts: parts.share + parts.hours / most_hours,
            lambda parts: parts.hours,
        ]
    best = _first_fit(batches, limits, measures[0])
    for measure in measures[1:]:
        if len(best) > fewest:
            best = min(best, _first_fit(batches, limits, measure), key=len)  # of equals the first
    return best


def _first_fit(
    batches: Sequence[Parts], limits: Limits, measure: Callable[[Parts], float]
) -> list[Plate]:
    """Each part, the largest by the measure first, onto the first plate that it fits on."""
    plates: list[Plate] = []
    first_open = 0  # plates before it are as full as they get for what is still to come
    for parts in sorted(batches, key=lambda each: (-measure(each), *_size(each))):
        left = parts.count
        for plate in plates[first_open:]:
            if not left:
                break
            count = min(left, plate.room_for(parts, limits))
            if count:
                plate.take(parts, count)
                left -= count
        while left:
            plate = Plate()
            count = min(left, plate.room_for(parts, limits))
            if not count:
                raise ValueError(f"{parts.order}: one part of it is beyond an empty plate")
            plate.take(parts, count)
            plates.append(plate)
            left -= count
        while first_open < len(plates) and plates[first_open].share >= 1.0 - TOLERANCE:
            first_open += 1
    return plates


def _size(parts: Parts) -> tuple[float, float, str]:
    """Sorts the largest share first, of equals the longest."""
    return -parts.share, -parts.hours, parts.order


def fewest_plates(batches: Sequence[Parts], limits: Limits) -> int:
    """A number of plates below which no packing can be, whatever its cleverness."""
    bounds = [_fewest_bins([(parts.share, parts.count) for parts in batches])]
    if limits.parts < math.inf:
        bounds.append(_rounded_up(sum(parts.count for parts in batches) / limits.parts))
    if limits.hours < math.inf:
        sizes = [(parts.hours / limits.hours, parts.count) for parts in batches]
        bounds.append(_fewest_bins(sizes))
    return max(bounds)


def _fewest_bins(sizes: Sequence[tuple[float, int]]) -> int:
    """The bound L2 for bins of size 1; sizes: size and how many of it.

    For a threshold k of at most 1/2: sizes above 1 - k need a bin each and leave no room for those
    of k and more, sizes above 1/2 need a bin each, and sizes from k to 1/2 fill what is left there.
    """
    smaller = sorted({size for size, _ in sizes if size <= 0.5})
    return max(_bins_for_threshold(sizes, k) for k in (0.0, *smaller))


def _bins_for_threshold(sizes: Sequence[tuple[float, int]], k: float) -> int:
    alone = sum(count for size, count in sizes if size > 1 - k + TOLERANCE)
    large = [(size, count) for size, count in sizes if 0.5 + TOLERANCE < size <= 1 - k + TOLERANCE]
    small = sum(size * count for size, count in sizes if k <= size <= 0.5 + TOLERANCE)
    half = sum(count for _, count in large)
    room = half - sum(size * count for size, count in large)
    return alone + half + max(0, _rounded_up(small - room))


def _whole_times(room: float, each: float, limit: float) -> float:
    """How many times something goes into the room left; a hair beyond the limit still does."""
    if math.isinf(limit):
        return math.inf
    return math.floor((room + limit * TOLERANCE) / each)


def _rounded_up(value: float) -> int:
    return math.ceil(value - TOLERANCE * max(1.0, abs(value)))
