"""What is left of each supply of one planning key while one need after the other is served."""

from collections.abc import Iterable, Sequence
from math import ceil, floor

from bomkit.planning.pegging.needs import LASTS, NOBODY, Need, Supply
from bomkit.planning.tolerance import TOLERANCE

_MOST_TURNS = 4  # what is served later needs lots that last longer, and so may be served later


class Counter:
    """What is left of each supply while one need after the other is served."""

    def __init__(self, supplies: Sequence[Supply], ordinals: Sequence[int], pieces: bool) -> None:
        self.supplies, self.ordinals = supplies, ordinals
        self.counted = [pieces and supply.is_stock for supply in supplies]  # in whole pieces
        self.least = [supply.quantity * TOLERANCE for supply in supplies]  # no more is nothing
        self.left = [supply.quantity for supply in supplies]
        self.comes = [supply.comes for supply in supplies]
        stock = [supply for supply in supplies if supply.is_stock]
        self.plain = all(supply.last == LASTS and supply.kept_for == NOBODY for supply in stock)
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
        until = need.until
        for _ in range(_MOST_TURNS):
            self._take(need, self._in_line(need.whose), until)
            limit = max([need.day, *(self.comes[place] for place in need.takes)])
            wanted = max(until, self._until(need, limit))
            if wanted == until or all(self.supplies[p].last >= wanted for p in need.takes):
                break
            until = wanted
            self.give_back(need)
        return limit

    def serve_late(self, need: Need, limit: int) -> None:
        """Gives back what a need took and takes the latest that is there by a day."""
        if self._has_all(need) and not self._any_left(min(need.takes), len(self.left), limit):
            return
        before = dict(need.takes)
        self.give_back(need)
        until = max(need.until, self._until(need, limit))
        coming = (p for p in self._in_line(need.whose, last=True) if self.comes[p] <= limit)
        self._take(need, coming, until)
        if sum(need.takes.values()) < sum(before.values()) * (1 - TOLERANCE):
            self._put_back(need, before)

    def exchange(self, need: Need, others: Sequence[Need]) -> None:
        """What a need lacks it gets from those who may have what is left in its place, in time."""
        lacking = need.quantity - sum(need.takes.values())
        if lacking <= need.quantity * TOLERANCE or not any(self.left):
            return
        until = max(need.until, self._until(need, need.day))
        for other in others:
            limit = max([other.day, *(self.comes[place] for place in other.takes)])
            for own in list(other.takes):
                if other is need or not self._suits(own, need, until):
                    continue
                wanted = self._in_pieces(own, min(lacking, other.takes[own]))
                moved = wanted - self._in_its_place(other, own, wanted, limit)
                if moved > 0:
                    self._move(need, own, moved)
                    lacking -= moved

    def _in_pieces(self, place: int, quantity: float) -> float:
        """As much of a supply as can change hands: of counted pieces in stock a whole number."""
        if self.counted[place]:
            return float(floor(quantity * (1 + TOLERANCE)))
        return quantity

    def _in_its_place(self, other: Need, own: int, quantity: float, limit: int) -> float:
        """Takes so much of a supply from a need and gives it what is left instead, by a day; what
        of the quantity there is nothing for."""
        until = max(other.until, self._until(other, limit))
        for place in range(len(self.supplies)):
            if quantity <= 0 or own not in other.takes:
                break
            if place != own and self.comes[place] <= limit and self._may(place, other, until):
                moved = self._in_pieces(place, min(self.left[place], quantity))
                if moved > 0:
                    self._move(other, place, moved)
                    self._back(other, own, moved)
                    quantity -= moved
        return quantity

    def serve_sooner(self, need: Need) -> None:
        """Takes what is there first of what nobody wants and of what the need has."""
        if self._has_all(need) and not self._any_left(self.first, max(need.takes), None):
            return
        before = dict(need.takes)
        latest = max((self.comes[place] for place in before), default=0)
        self.give_back(need)
        limit = self.serve(need)
        got, had = sum(need.takes.values()), sum(before.values())
        if got < had * (1 - TOLERANCE) or limit > max(need.day, latest):
            self._put_back(need, before)

    def _has_all(self, need: Need) -> bool:
        """Whether a need has all of its quantity, of supplies that are taken just as they come."""
        enough = need.quantity * (1 - TOLERANCE)
        return self.plain and bool(need.takes) and sum(need.takes.values()) >= enough

    def _any_left(self, first: int, beyond: int, limit: int | None) -> bool:
        """Whether anything is left of some supplies, of those that come by a day (None: any)."""
        return any(
            self.left[place] > self.least[place]
            for place in range(first, beyond)
            if limit is None or self.comes[place] <= limit
        )

    def give_back(self, need: Need) -> None:
        """Puts back all that a need took."""
        for place in list(need.takes):
            self._back(need, place, need.takes[place])

    def _put_back(self, need: Need, before: dict[int, float]) -> None:
        """Gives a need what it had before."""
        self.give_back(need)
        for place, quantity in before.items():
            self._move(need, place, quantity)

    def _until(self, need: Need, day: int) -> int:
        """How long what is taken on a day must last."""
        return self.ordinals[min(max(day, need.day), len(self.ordinals) - 1)] + need.shelf

    def _take(self, need: Need, places: Iterable[int], until: int) -> None:
        """Takes what is wanted from supplies, those in front first."""
        wanted = need.quantity
        enough = wanted * TOLERANCE
        for place in places:
            if self.left[place] > self.least[place] and self._suits(place, need, until):
                whole = self._whole_of(need, place, wanted) if self.counted[place] else wanted
                quantity = min(self.left[place], whole)
                if quantity > enough:
                    self._move(need, place, quantity)
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

    def _may(self, place: int, need: Need, until: int) -> bool:
        """Whether something is left of a supply that may serve a need."""
        return self.left[place] > self.least[place] and self._suits(place, need, until)

    def _suits(self, place: int, need: Need, until: int) -> bool:
        """Whether a supply may serve a need."""
        supply = self.supplies[place]
        return supply.last >= until and supply.kept_for in (NOBODY, need.whose)

    def _in_line(self, whose: int, last: bool = False) -> Iterable[int]:
        """The supplies in the order in which they are taken, or what comes and expires last first;
        of stock what is kept for the serial goes before."""
        count = len(self.supplies)
        if self.plain:
            while self.first < count and self.left[self.first] <= 0:
                self.first += 1
            return range(count - 1, self.first - 1, -1) if last else range(self.first, count)
        places = range(count - 1, -1, -1) if last else range(count)
        own = {p for p in places if self.supplies[p].kept_for == whose != NOBODY}
        if not own:
            return places
        if last:
            coming = [p for p in places if not self.supplies[p].is_stock]
            stock = [p for p in places if self.supplies[p].is_stock]
            return [*coming, *sorted(stock, key=lambda place: place not in own)]
        return sorted(places, key=lambda place: place not in own)
