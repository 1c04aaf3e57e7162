"""A need and a supply of one planning key, as they are given out one by one."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from bomkit.units import TOLERANCE

LASTS = 10_000_000  # the ordinal of the last day of what never expires
NOBODY = 0  # in place of the number of a serial


@dataclass(frozen=True, slots=True)
class Supply:
    """comes: the day on which it is there; last: ordinal of the last day of use; kept_for: the
    number of the serial that it is kept for."""

    quantity: float
    comes: int
    is_stock: bool = False
    last: int = LASTS
    kept_for: int = NOBODY


@dataclass(slots=True)
class Need:
    """until: ordinal of the day up to which it must last at least; shelf: calendar days that it
    must last after it is taken; parts: the quantities of needs that are alike, put together
    as long as all are served in time; takes: supply number and quantity."""

    rank: int
    day: int
    quantity: float
    until: int = 0
    shelf: int = 0
    whose: int = NOBODY
    parts: list[float] = field(default_factory=list)
    takes: dict[int, float] = field(default_factory=dict)
    members: list["Need"] = field(default_factory=list)

    def taken(self) -> Iterator[tuple[int | None, float]]:
        """What it got, part after part: supply number (None: of none) and quantity."""
        for one in self.members or [self]:
            lacking = one.quantity
            for place in sorted(one.takes):
                yield place, one.takes[place]
                lacking -= one.takes[place]
            if lacking > one.quantity * TOLERANCE:
                yield None, lacking

    def apart(self) -> list["Need"]:
        """Its parts as needs of their own."""
        self.members = [
            Need(self.rank, self.day, part, self.until, self.shelf, self.whose)
            for part in self.parts
        ]
        return self.members
