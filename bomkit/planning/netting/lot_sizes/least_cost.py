"""Lots by cost: what an order costs against what holding costs, over the days with needs.

Without bounds this is the dynamic programme of Wagner and Whitin (Management Science 5(1), 1958,
89-96): in a plan of least cost an order is usable on a day with a need that nothing planned covers,
and covers the needs of some days from then on, if no day without a need is a cheaper one to order
on than the next with one. Orders keep that form under a minimum, a multiple and bounds on the days
they cover; whether the best of these is the least there is, the cost of the plan without those
bounds tells.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import inf

from bomkit.planning.netting.lot_sizes.scrap_and_lot_rules import rounded_up
from bomkit.units import TOLERANCE

_MOST_STATES = 200  # of different surplus at one need; beyond it the cheapest are followed
_NEVER = 10**9

Need = tuple[int, float]  # day, good quantity needed by then: rising
State = tuple[int, float]  # place of the first need not covered yet, good quantity planned so far


@dataclass(frozen=True)
class Sizes:
    """How an order is sized: good share, minimum, step (0: not rounded), whole pieces."""

    good: float
    minimum: float
    step: float
    whole: bool

    def started(self, wanted_good: float) -> float:
        """What is started for a wanted good quantity."""
        return rounded_up(max(wanted_good / self.good, self.minimum), self.step, self.whole)


@dataclass(frozen=True)
class Bounds:
    """Working days that an order covers: at least, and at most.

    in_time: an order that is usable on a day before it is late and covers all needs before it,
    within the most. If open, nothing but this bounds what an order covers.
    """

    least: int
    most: int
    in_time: int
    open: bool = False

    def last_days(self, usable: int) -> tuple[int, int]:
        """The first and the last of the days up to which an order of a day may cover needs."""
        limit = usable + self.most - 1
        late = min(self.in_time - 1, limit)
        if self.open:
            return max(usable, late), _NEVER
        return min(max(usable + self.least - 1, late), limit), limit


@dataclass(frozen=True)
class Lots:
    """Orders by the day on which they are usable, as quantities started, and what they cost."""

    started: dict[int, float]
    cost: float


@dataclass(frozen=True)
class Order:
    """One way to go on: what is started, what it costs, and what is then left to cover."""

    started: float
    cost: float
    then: State


@dataclass(frozen=True)
class Programme:
    """Needs to be served within some days; what an order costs, by its day; what holding a good
    unit costs a working day."""

    needs: Sequence[Need]
    days: int
    order_cost: Sequence[float]
    holding: float
    sizes: Sizes
    bounds: Bounds

    def least_cost(self) -> Lots:
        """The orders that serve all needs at the least cost.

        Of equally good ones those whose first order covers most, then the second, and so on. What
        is planned and not needed yet is held, to the end of the days.
        """
        ahead: dict[State, tuple[float, Order | None]] = {}
        for states in reversed(self._reached()):
            for state in states:
                ahead[state] = self._best(state, ahead)
        started, state = {}, (0, 0.0)
        cost, order = ahead[state]
        while order:
            started[self.needs[state[0]][0]] = order.started
            state = order.then
            order = ahead[state][1]
        return Lots(started, cost - self.holding * self._needed_days())

    def without_bounds(self) -> "Programme":
        """The same with whole pieces and lateness alone: no plan of these needs costs less."""
        sizes = replace(self.sizes, minimum=0.0, step=1.0 if self.sizes.whole else 0.0)
        return replace(self, sizes=sizes, bounds=replace(self.bounds, open=True))

    def _needed_days(self) -> float:
        """The sum over the days of what is needed by then: what is not held any more."""
        needs = [*self.needs, (self.days, 0.0)]
        return sum(quantity * (end - day) for (day, quantity), (end, _) in pairwise(needs))

    def _reached(self) -> list[list[State]]:
        """The states that can be come to, by place; of too many at one place the cheapest."""
        costs: list[dict[float, float]] = [{} for _ in range(len(self.needs) + 1)]
        costs[0][0.0] = 0.0
        kept = []
        for place, cost_of in enumerate(costs):
            cheapest = sorted(cost_of, key=lambda planned: (cost_of[planned], planned))
            cheapest = cheapest[:_MOST_STATES]
            kept.append([(place, planned) for planned in cheapest])
            for planned in cheapest:
                for order in self._orders((place, planned)):
                    then, cost = order.then, cost_of[planned] + order.cost
                    known = costs[then[0]].get(then[1], cost)
                    costs[then[0]][then[1]] = min(known, cost)
        return kept

    def _best(
        self, state: State, ahead: dict[State, tuple[float, Order | None]]
    ) -> tuple[float, Order | None]:
        """The least cost from a state on, and the order that leads to it."""
        if state[0] == len(self.needs):
            return 0.0, None
        best: tuple[float, Order | None] = (inf, None)
        for order in self._orders(state):
            if order.then in ahead:
                cost = order.cost + ahead[order.then][0]
                if cost <= best[0] + TOLERANCE * abs(cost):
                    best = cost, order
        return best

    def _orders(self, state: State) -> Iterator[Order]:
        """The orders that may follow, those that cover fewer needs first."""
        place, planned = state
        if place == len(self.needs):
            return
        day = self.needs[place][0]
        first, last = self.bounds.last_days(day)
        for covered in range(place, len(self.needs)):
            if self.needs[covered][0] > last:
                return
            ends = covered + 1 == len(self.needs) or self.needs[covered + 1][0] > first
            if ends:
                started = self.sizes.started(self.needs[covered][1] - planned)
                good = started * self.sizes.good
                cost = self.order_cost[day] + self.holding * good * (self.days - day)
                yield Order(started, cost, self._after(covered, planned + good))

    def _after(self, covered: int, planned: float) -> State:
        """The state once so much is planned: what goes beyond the needs covered serves the next."""
        place = covered + 1
        while place < len(self.needs) and self.needs[place][1] <= planned * (1 + TOLERANCE):
            place += 1
        return place, float(f"{planned:.15g}")  # sums by different ways meet again
