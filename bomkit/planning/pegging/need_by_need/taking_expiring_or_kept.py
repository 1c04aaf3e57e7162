"""What is left of each supply of one planning key of which lots expire or are kept for a serial."""

from collections.abc import Iterable, Sequence

from bomkit.planning.pegging.need_by_need.needs import NOBODY, Need, Supply
from bomkit.planning.pegging.need_by_need.taking_and_giving_back import Counter

_MOST_TURNS = 4  # what is served later needs lots that last longer, and so may be served later


class ChoosyCounter(Counter):
    """What is left while needs are served of what lasts long enough, and of what is kept for them.

    Of stock what is kept for the serial goes before.
    """

    def __init__(self, supplies: Sequence[Supply], pieces: bool, ordinals: Sequence[int]) -> None:
        """ordinals: the date of each working day."""
        super().__init__(supplies, pieces)
        self.ordinals = ordinals

    def serve(self, need: Need) -> int:
        """Takes what is there first, and gives the day by which all of it is to be taken."""
        until = need.until
        for _ in range(_MOST_TURNS):
            line = self._in_line(need.whose, range(len(self.left)))
            self._take(need, [place for place in line if self._may(place, need, until)])
            limit = self._limit(need)
            wanted = max(until, self._until(need, limit))
            if wanted == until or all(self.supplies[p].last >= wanted for p in need.takes):
                break
            until = wanted
            self.give_back(need)
        return limit

    def _take_late(self, need: Need, coming: int, limit: int) -> None:
        """Takes the latest of the supplies that come by a day; coming: how many do."""
        places = range(coming - 1, -1, -1)
        orders = [place for place in places if not self.supplies[place].is_stock]
        stock = [place for place in places if self.supplies[place].is_stock]
        line, until = [*orders, *self._in_line(need.whose, stock)], self._until(need, limit)
        self._take(need, [place for place in line if self._may(place, need, until)])

    def _has_all(self, need: Need) -> bool:
        """Never: it may gain by another lot of what it has."""
        return False

    def _suits(self, place: int, need: Need, until: int) -> bool:
        """Whether a supply may serve a need."""
        supply = self.supplies[place]
        return supply.last >= until and supply.kept_for in (NOBODY, need.whose)

    def _until(self, need: Need, day: int) -> int:
        """How long what is taken on a day must last."""
        day = min(max(day, need.day), len(self.ordinals) - 1)
        return max(need.until, self.ordinals[day] + need.shelf)

    def _in_line(self, whose: int, places: Sequence[int]) -> Iterable[int]:
        """The places, those of what is kept for a serial before the others."""
        if whose == NOBODY:
            return places
        return sorted(places, key=lambda place: self.supplies[place].kept_for != whose)
