"""Who gets what within one planning key, in plain Python and whole pieces, step by step.

It judges `allocate` and shares nothing with it but the two descriptions of a need and a supply.
"""

from collections import Counter as Pieces
from collections.abc import Iterator, Sequence
from itertools import groupby

from bomkit.planning.pegging.need_by_need.needs import LASTS, NOBODY, Need, Supply


class Asking:
    """A need, or one of the like needs that are put together in it, and the pieces that it has."""

    def __init__(self, need: Need, quantity: float) -> None:
        self.need, self.wanted = need, int(quantity)
        self.has: Pieces[int] = Pieces()


class Shelf:
    """What is left of each supply."""

    def __init__(self, supplies: Sequence[Supply], ordinals: Sequence[int]) -> None:
        self.supplies, self.ordinals = supplies, ordinals
        self.left = [int(supply.quantity) for supply in supplies]
        stock = [supply for supply in supplies if supply.is_stock]
        self.choice = any(supply.last < LASTS or supply.kept_for != NOBODY for supply in stock)

    def lasting(self, need: Need, day: int) -> int:
        """What is taken on a day lasts from then on, and at least until the need says."""
        known = min(max(day, need.day), len(self.ordinals) - 1)
        return max(need.until, self.ordinals[known] + need.shelf)

    def may(self, place: int, need: Need, until: int) -> bool:
        """A supply serves if it lasts, and is not kept for another serial."""
        supply = self.supplies[place]
        return supply.last >= until and supply.kept_for in (NOBODY, need.whose)

    def line(self, need: Need, latest: bool) -> list[int]:
        """What is there first in front, or the latest; of stock what is kept for the serial."""

        def kept(place: int) -> bool:
            supply = self.supplies[place]
            return self.choice and supply.kept_for == need.whose != NOBODY

        order = list(range(len(self.supplies)))
        if not latest:
            return sorted(order, key=lambda place: not kept(place))
        if not any(kept(place) for place in order):
            return order[::-1]
        return sorted(order, key=lambda p: (self.supplies[p].is_stock, not kept(p), -p))

    def back(self, asking: Asking) -> None:
        """All that it has is there for others again."""
        for place, pieces in asking.has.items():
            self.left[place] += pieces
        asking.has = Pieces()

    def give(self, asking: Asking, has: Pieces[int]) -> None:
        """It has exactly these."""
        self.back(asking)
        for place, pieces in has.items():
            self.left[place] -= pieces
        asking.has = +has

    def take(self, asking: Asking, places: Sequence[int], until: int) -> None:
        """Piece by piece, from what stands in front."""
        for place in places:
            while self.left[place] and asking.has.total() < asking.wanted:
                if not self.may(place, asking.need, until):
                    break
                self.left[place] -= 1
                asking.has[place] += 1

    def day_of(self, asking: Asking) -> int:
        """The day on which it has all of its pieces."""
        return max([asking.need.day, *(self.supplies[place].comes for place in asking.has)])

    def first(self, asking: Asking) -> int:
        """It takes what is there first; what must last from a later day on is chosen anew."""
        until = asking.need.until
        for _ in range(4):
            self.take(asking, self.line(asking.need, latest=False), until)
            day = self.day_of(asking)
            wanted = max(until, self.lasting(asking.need, day))
            if all(self.supplies[place].last >= wanted for place in asking.has):
                break
            until = wanted
            self.back(asking)
        return day

    def latest(self, asking: Asking, day: int) -> None:
        """It takes what is there last, but by that day; never less than before."""
        before = Pieces(asking.has)
        self.back(asking)
        places = [
            place
            for place in self.line(asking.need, latest=True)
            if self.supplies[place].comes <= day
        ]
        self.take(asking, places, self.lasting(asking.need, day))
        if asking.has.total() < before.total():
            self.give(asking, before)

    def sooner(self, asking: Asking) -> None:
        """It takes what is there first of what nobody wants; never less, and never later."""
        before, day = Pieces(asking.has), self.day_of(asking)
        self.back(asking)
        if self.first(asking) > day or asking.has.total() < before.total():
            self.give(asking, before)

    def exchange(self, asking: Asking, others: Sequence[Asking]) -> None:
        """What it lacks it has from another one, who gets what is left instead, as soon."""
        until = self.lasting(asking.need, asking.need.day)
        for other in others:
            day = self.day_of(other)
            lasting = self.lasting(other.need, day)
            for own in list(other.has) if other is not asking else []:
                for place in range(len(self.supplies)):
                    while (
                        asking.has.total() < asking.wanted
                        and self.may(own, asking.need, until)
                        and other.has[own]
                        and place != own
                        and self.left[place]
                        and self.supplies[place].comes <= day
                        and self.may(place, other.need, lasting)
                    ):
                        self.left[place] -= 1
                        other.has[place] += 1
                        other.has[own] -= 1
                        asking.has[own] += 1
                other.has = +other.has


def in_turn(shelf: Shelf, need: Need) -> Iterator[tuple[Asking, int]]:
    """Like needs are served as one if all are in time, and else each for itself."""
    whole = Asking(need, need.quantity)
    day = shelf.first(whole)
    if day <= need.day or len(need.parts) < 2:
        yield whole, day
        return
    shelf.back(whole)
    for part in need.parts:
        own = Asking(need, part)
        yield own, shelf.first(own)


def naive_allocation(
    needs: Sequence[Need], supplies: Sequence[Supply], ordinals: Sequence[int]
) -> list[dict[int, int]]:
    """What each need, or each of those put together in one, has of each supply."""
    shelf = Shelf(supplies, ordinals)
    every: list[Asking] = []
    ranks = [list(line) for _, line in groupby(needs, key=lambda need: need.rank)]
    for rank in ranks:
        line = [asking for need in rank for asking in in_turn(shelf, need)]
        every += [asking for asking, _ in line]
        if len(ranks) > 1:
            for asking, day in reversed(line):
                shelf.latest(asking, day)
    for asking in every:
        shelf.exchange(asking, every)
    if len(ranks) > 1:
        for asking in every:
            shelf.sooner(asking)
    return [dict(asking.has) for asking in every]
