"""What is left of each supply of one planning key while one need after the other is served."""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from math import ceil, floor

from bomkit.planning.pegging.need_by_need.needs import Need, Supply
from bomkit.units import TOLERANCE


class Counter:
    """What is left while needs are served of supplies that serve anybody, just as they come."""

    def __init__(self, supplies: Sequence[Supply], pieces: bool) -> None:
        """supplies: by the day on which they come; pieces: stock is given in whole pieces."""
        self.supplies = supplies
        self.counted = [pieces and supply.is_stock for supply in supplies]  # in whole pieces
        self.least = [supply.quantity * TOLERANCE for supply in supplies]  # no more is nothing
        self.left = [supply.quantity for supply in supplies]
        self.comes = [supply.comes for supply in supplies]
        self.first = 0  # all before it is gone for good while needs of one rank are served

    def serve_all(self, line: Iterable[Need]) -> tuple[list[Need], list[int]]:
        """Serves needs in line; gives those served, late ones each for itself, and their limits."""
        served: list[Need] = []
        limits: list[int] = []
        for need in line:
            limit = self.serve(need)
            if limit > need.day and len(need.parts) > 1:
                self.give_back(need)
                parts = need.apart()
                served += parts
                limits += [self.serve(part) for part in parts]
            else:
                served.append(need)
                limits.append(limit)
        return served, limits

    def serve(self, need: Need) -> int:
        """Takes what is there first, and gives the day by which all of it is to be taken."""
        left, first, count = self.left, self.first, len(self.left)
        while first < count and left[first] <= 0:
            first += 1
        self.first = first
        self._take(need, range(first, count))
        return self._limit(need)

    def serve_late(self, need: Need, limit: int) -> None:
        """Gives back what a need took and takes the latest that is there by a day."""
        takes, coming = need.takes, bisect_right(self.comes, limit)
        if self._has_all(need) and not self._any_left(min(takes), coming):
            return
        before = dict(takes)
        self.give_back(need)
        self._take_late(need, coming, limit)
        if sum(takes.values()) < sum(before.values()) * (1 - TOLERANCE):
            self._put_back(need, before)

    def exchange(self, need: Need, others: Sequence[Need]) -> None:
        """What a need lacks it gets from those who may have what is left in its place, in time."""
        lacking = need.quantity - sum(need.takes.values())
        if lacking <= need.quantity * TOLERANCE or not any(self.left):
            return
        until = self._until(need, need.day)
        for other in others:
            limit = self._limit(other)
            for own in list(other.takes):
                if other is need or not self._suits(own, need, until):
                    continue
                wanted = self._in_pieces(own, min(lacking, other.takes[own]))
                moved = wanted - self._in_its_place(other, own, wanted, limit)
                if moved > 0:
                    self._move(need, own, moved)
                    lacking -= moved

    def serve_sooner(self, need: Need) -> None:
        """Takes what is there first of what nobody wants and of what the need has."""
        if self._has_all(need) and not self._any_left(self.first, max(need.takes)):
            return
        before = dict(need.takes)
        latest = self._limit(need)
        self.give_back(need)
        limit = self.serve(need)
        got, had = sum(need.takes.values()), sum(before.values())
        if got < had * (1 - TOLERANCE) or limit > latest:
            self._put_back(need, before)

    def give_back(self, need: Need) -> None:
        """Puts back all that a need took."""
        for place, quantity in need.takes.items():
            self.left[place] += quantity
            if place < self.first:
                self.first = place
        need.takes.clear()

    def _take_late(self, need: Need, coming: int, limit: int) -> None:
        """Takes the latest of the supplies that come by a day; coming: how many do."""
        self._take(need, range(coming - 1, self.first - 1, -1))

    def _has_all(self, need: Need) -> bool:
        """Whether a need has all of its quantity, so that it gains by other supplies alone."""
        takes = need.takes
        return bool(takes) and sum(takes.values()) >= need.quantity * (1 - TOLERANCE)

    def _suits(self, place: int, need: Need, until: int) -> bool:
        """Whether a supply may serve a need."""
        return True

    def _until(self, need: Need, day: int) -> int:
        """How long what is taken on a day must last."""
        return need.until

    def _limit(self, need: Need) -> int:
        """The later of the day of a need and the day on which it has all that it took."""
        return max(need.day, self.comes[max(need.takes)]) if need.takes else need.day

    def _any_left(self, first: int, beyond: int) -> bool:
        """Whether anything is left of the supplies from one to before another."""
        left, least = self.left, self.least
        for place in range(first, beyond):  # noqa: SIM110 - many are looked at, most in vain
            if left[place] > least[place]:
                return True
        return False

    def _in_pieces(self, place: int, quantity: float) -> float:
        """As much of a supply as can change hands: of counted pieces in stock a whole number."""
        if self.counted[place]:
            return float(floor(quantity * (1 + TOLERANCE)))
        return quantity

    def _in_its_place(self, other: Need, own: int, quantity: float, limit: int) -> float:
        """Takes so much of a supply from a need and gives it what is left instead, by a day; what
        of the quantity there is nothing for."""
        until = self._until(other, limit)
        for place in range(bisect_right(self.comes, limit)):
            if quantity <= 0 or own not in other.takes:
                break
            if place != own and self._may(place, other, until):
                moved = self._in_pieces(place, min(self.left[place], quantity))
                if moved > 0:
                    self._move(other, place, moved)
                    self._back(other, own, moved)
                    quantity -= moved
        return quantity

    def _may(self, place: int, need: Need, until: int) -> bool:
        """Whether something is left of a supply that may serve a need."""
        return self.left[place] > self.least[place] and self._suits(place, need, until)

    def _put_back(self, need: Need, before: dict[int, float]) -> None:
        """Gives a need what it had before."""
        self.give_back(need)
        for place, quantity in before.items():
            self._move(need, place, quantity)

    def _take(self, need: Need, places: Iterable[int]) -> None:
        """Takes what is wanted from supplies, those in front first."""
        wanted, enough = need.quantity, need.quantity * TOLERANCE
        left, least, takes = self.left, self.least, need.takes
        for place in places:
            there = left[place]
            if there <= least[place]:
                continue
            whole = self._whole_of(need, place, wanted) if self.counted[place] else wanted
            quantity = min(there, whole)
            if quantity > enough:
                left[place] = there - quantity
                takes[place] = takes.get(place, 0.0) + quantity
                if quantity > wanted:
                    self._less_of_orders(need, quantity - wanted)
                wanted -= quantity
                if wanted <= enough:
                    return

    def _whole_of(self, need: Need, place: int, wanted: float) -> float:
        """Of counted pieces in stock a whole number, where orders give the less for it."""
        ordered = sum(
            quantity for own, quantity in need.takes.items() if not self.supplies[own].is_stock
        )
        whole = float(ceil(wanted * (1 - TOLERANCE)))
        return whole if whole - wanted <= ordered else wanted

    def _less_of_orders(self, need: Need, surplus: float) -> None:
        """Puts back what a need took from orders and does not need any more."""
        for own in [own for own in need.takes if not self.supplies[own].is_stock]:
            if surplus <= 0:
                return
            back = min(surplus, need.takes[own])
            self._back(need, own, back)
            surplus -= back

    def _move(self, need: Need, place: int, quantity: float) -> None:
        """Gives a need so much of a supply."""
        self.left[place] -= quantity
        need.takes[place] = need.takes.get(place, 0.0) + quantity

    def _back(self, need: Need, place: int, quantity: float) -> None:
        """Takes so much of a supply back from a need; from then on others may have it."""
        self.left[place] += quantity
        self.first = min(self.first, place)
        need.takes[place] -= quantity
        if need.takes[place] <= need.quantity * TOLERANCE:
            del need.takes[place]
