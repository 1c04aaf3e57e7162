"""The levelled plan: work pulled forward where a week holds more than there is room for.

Each level is levelled after it is netted and before it is exploded, so that what an order needs is
asked for as much earlier as the order itself starts. The levels share the resources: what stands
higher up takes its room first, as it has the least choice of weeks.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import polars as pl

from bomkit.planning.levelling.held_for_parts import NO_LIMITS, Finder, Limits
from bomkit.planning.levelling.independent_resources import Group, parted
from bomkit.planning.levelling.pull_windows import Orders, Rules, Windows, order_rules
from bomkit.planning.levelling.pulled_again import ForwardFlows
from bomkit.planning.levelling.resources import Resources
from bomkit.planning.levelling.room import Placed
from bomkit.planning.netting.arrays import Floats, Ints
from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.words.progress import Tell, silent

_MOST_TURNS = 30  # each but the last finds a key that is late, or bought again; three are common

MOVES = {
    "key": pl.Int64,
    "quantity": pl.Float64,
    "usable_before": pl.Int64,
    "usable": pl.Int64,
}


@dataclass(frozen=True)
class LevelledPlan:
    """flows: of the levelled plan; moves: key, quantity, usable_before and usable (days); held:
    by item_id the day before which it was not pulled to start, for the sake of what it needs;
    settled: whether nothing was left to be tried; groups: what the next plan may go on from."""

    flows: Flows
    moves: pl.DataFrame
    held: Limits
    settled: bool
    groups: Sequence[Group] = ()


def level_plan(
    network: Network,
    before: Flows,
    resources: Resources,
    items: pl.DataFrame,
    weeks: int,
    tell: Tell = silent,
    last: LevelledPlan | None = None,
) -> LevelledPlan:
    """The plan with work pulled forward by at most some weeks.

    before: the plan as it is; items: the input table; last: a plan of nearly the same, whose limits
    are held from the start.
    Pulling an order forward must not make any component late that was not, nor start more of one
    than before. Where it would, what is above it gets a limit, and all is planned again; where
    that comes to no end within its bound, nothing is pulled.
    """
    held, known = (last.held, last.groups) if last else (NO_LIMITS, ())
    leveller = Leveller(order_rules(network, resources, items, weeks), resources, before, known)
    finder, plans = Finder(network, before), ForwardFlows(network, before)
    for _ in range(_MOST_TURNS):
        leveller.begin(held)
        flows = plans.next(leveller.pulled, tell)
        limits = finder.new_limits(flows, held)
        if not limits:
            moves = pl.DataFrame(leveller.moves, schema=MOVES, orient="row")
            return LevelledPlan(flows, moves, held, leveller.settled, leveller.groups)
        held = {**held, **limits}
    return LevelledPlan(before, pl.DataFrame(schema=MOVES), held, settled=False)


class Leveller:
    """Pulls the orders of one level after the other forward; remembers the room and the moves."""

    def __init__(
        self, rules: Rules, resources: Resources, before: Flows, known: Sequence[Group] = ()
    ) -> None:
        """before: the plan as it is; known: groups of another plan, taken where they are the same.

        Such a group goes on from the last turn of that plan, in which mostly the same was asked.
        """
        self.rules = rules
        self.groups = [
            next(
                (group for group in known if group.levels_as(part, resources.week_of, rules)), None
            )
            or Group(part, resources.week_of, rules)
            for part in parted(resources)
        ]
        self.group_of = np.zeros(len(rules.ahead), np.int64)
        for number, group in enumerate(self.groups):
            self.group_of[list(group.uses)] = number
        self.week_of = np.array(resources.week_of, np.int64)
        rows = before.structure.by_key
        self.before = rules.orders(before.structure.keys[rows], before.quantities.starts[rows])
        self.begin(NO_LIMITS)

    def begin(self, held: Limits) -> None:
        """Begins with nothing moved; held: by item_id the day before which none is to start.

        What of the plan as it is can't move keeps its room from the start, so that nothing from
        higher up is pulled into a week that is above capacity anyway.
        """
        self.held = held
        self.moves: list[tuple[int, float, int, int]] = []
        windows = self.rules.windows(self.before, held)
        stuck = self.week_of[windows.earliest] == self.week_of[windows.start]
        own = self._by_group(self.before.among(stuck), windows.among(stuck))
        for group, orders, earliest in own:
            group.begin(orders, earliest)

    @property
    def settled(self) -> bool:
        """Whether giving way came to rest everywhere."""
        return all(group.settled for group in self.groups)

    def pulled(self, keys: Ints, starts: Floats) -> None:
        """Moves what does not fit of a level's starts, keys by usable days, to earlier days."""
        every = self.rules.orders(keys, starts)
        moved: list[Placed] = []
        for group, orders, windows in self._by_group(every, self.rules.windows(every, self.held)):
            moved += group.pulled(keys, orders, windows)
        self._remember(moved)
        _move(keys, starts, moved, self._usable_after_start)

    def _by_group(
        self, orders: Orders, windows: Windows
    ) -> Iterator[tuple[Group, Orders, Windows]]:
        """Every group with its own orders."""
        group_of = self.group_of[orders.items]
        for number, group in enumerate(self.groups):
            own = group_of == number
            yield group, orders.among(own), windows.among(own)

    def _usable_after_start(self, key: int) -> int:
        return int(self.rules.ahead[self.rules.keys.item(key)])

    def _remember(self, moved: list[Placed]) -> None:
        for placed in moved:
            key, ahead = placed.task.key, self._usable_after_start(placed.task.key)
            was = placed.task.start + ahead
            self.moves.append((key, placed.quantity, was, placed.start + ahead))


def _move(keys: Ints, starts: Floats, moved: list[Placed], ahead: Callable[[int], int]) -> None:
    """Moves quantities from one usable day to another, in place; keys ascending."""
    changes: dict[tuple[int, int], float] = {}
    rows = np.searchsorted(keys, [placed.task.key for placed in moved]).tolist()
    for row, placed in zip(rows, moved, strict=True):
        to_use = ahead(placed.task.key)
        for start, sign in ((placed.task.start, -1), (placed.start, 1)):
            place = row, start + to_use
            changes[place] = changes.get(place, 0.0) + sign * placed.quantity
    for place, change in changes.items():
        starts[place] = _clean(starts[place] + change, change)


def _clean(left: float, change: float) -> float:
    """What is left of a quantity; 0 where only arithmetic left something."""
    return left if abs(left) > abs(change) * 1e-12 else 0.0
