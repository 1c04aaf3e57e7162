"""The levelled plan: work pulled forward where a week holds more than there is room for.

Each level is levelled after it is netted and before it is exploded, so that what an order needs is
asked for as much earlier as the order itself starts. The levels share the resources: what stands
higher up takes its room first, as it has the least choice of weeks.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import polars as pl

from bomkit.planning.levelling.level import levelled
from bomkit.planning.levelling.pull_limits import NO_LIMITS, Limits, new_limits
from bomkit.planning.levelling.resources import Resources
from bomkit.planning.levelling.room import Placed, Room, Task
from bomkit.planning.netting.arrays import Floats, Ints
from bomkit.planning.netting.flows import Flows, plan_flows
from bomkit.planning.network import Network

_NEVER = 10**9
_MOST_TURNS = 30  # each finds at least one limit more; three are common

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
    settled: whether nothing was left to be tried."""

    flows: Flows
    moves: pl.DataFrame
    held: Limits
    settled: bool = True


def level_plan(
    network: Network,
    before: Flows,
    resources: Resources,
    items: pl.DataFrame,
    weeks: int,
    tell: Callable[[str], None] = lambda words: None,
    held: Limits = NO_LIMITS,
) -> LevelledPlan:
    """The plan with work pulled forward by at most some weeks.

    before: the plan as it is; items: the input table; held: limits from the start.
    Pulling an order forward must not make any component late that was not, nor start more of one
    than before. Where it would, what is above it gets a limit, and all is planned again; where
    that comes to no end within its bound, nothing is pulled.
    """
    for _ in range(_MOST_TURNS):
        leveller = Leveller(network, resources, items, weeks, held, before)
        flows = plan_flows(network, tell, leveller.pulled, before.structure)
        limits = new_limits(network, before, flows, leveller.moved, held)
        if not limits:
            moves = pl.DataFrame(leveller.moves, schema=MOVES, orient="row")
            return LevelledPlan(flows, moves, held, leveller.room.settled)
        held = {**held, **limits}
    return LevelledPlan(before, pl.DataFrame(schema=MOVES), held, settled=False)


class Leveller:
    """Pulls the orders of one level after the other forward; remembers the room and the moves."""

    def __init__(
        self,
        network: Network,
        resources: Resources,
        items: pl.DataFrame,
        weeks: int,
        held: Limits,
        before: Flows,
    ) -> None:
        """held: by item_id the day before which its orders are not to be pulled to start.

        before: the plan as it is. What of it can't move keeps its room from the start,
        so that nothing from higher up is pulled into a week that is above capacity anyway.
        """
        self.network, self.resources = network, resources
        self.serial_count = network.serial_count
        self.room = Room(resources.week_of, resources.capacity)
        self.first_of_window = _window_starts(network, weeks)
        self.no_sooner = held
        self.items = _rules(network, resources, items)
        self.moves: list[tuple[int, float, int, int]] = []
        self.moved: set[int] = set()
        self.waiting: dict[int, list[Task]] = {}
        rows = before.structure.by_key
        for task in self._tasks(before.structure.keys[rows], before.quantities.starts[rows]):
            if resources.week_of[task.earliest] == resources.week_of[task.start]:
                self.room.take(task, task.quantity, task.start)
                self.waiting.setdefault(task.key, []).append(task)

    def pulled(self, keys: Ints, starts: Floats) -> None:
        """Moves what does not fit of a level's starts, keys by usable days, to earlier days."""
        for key in keys.tolist():
            for task in self.waiting.pop(key, ()):
                self.room.take(task, -task.quantity, task.start)
        placed = levelled(self._tasks(keys, starts), self.room)
        moved = [part for part in placed if part.start < part.task.start]
        self._remember(moved)
        _move(keys, starts, moved, self._usable_after_start)

    def _tasks(self, keys: Ints, starts: Floats) -> list[Task]:
        """The orders among some starts that use a resource, by key and day."""
        users = np.array(list(self.resources.uses), np.int64)
        using = np.flatnonzero(np.isin(keys // self.serial_count, users))
        row, usable = np.nonzero(starts[using])
        orders = (keys[using[row]], usable, starts[using[row], usable])
        return [
            self._task(*order)
            for order in zip(*(column.tolist() for column in orders), strict=True)
        ]

    def _task(self, key: int, usable: int, quantity: float) -> Task:
        """An order as a task: how far it may move, and into what it may be split."""
        item = key // self.serial_count
        rule = self.items[item]
        start = max(0, usable - rule.ahead)
        earliest = max(self.first_of_window[start], start - rule.keeps)
        if item in self.no_sooner:
            earliest = max(earliest, self.no_sooner[item])
        closed = self.resources.closed.get(item, range(0))
        if closed and start >= closed.start:
            earliest = start if start < closed.stop else max(earliest, closed.stop)
        if usable < rule.ahead:
            earliest = start  # late already, and due as it is
        length = max(1, max(0, usable - rule.safety) - start)
        uses = self.resources.uses[item]
        earliest = min(start, earliest)
        return Task(key, start, length, quantity, earliest, uses, rule.step, rule.minimum)

    def _usable_after_start(self, key: int) -> int:
        return self.items[key // self.serial_count].ahead

    def _remember(self, moved: list[Placed]) -> None:
        for placed in moved:
            key, ahead = placed.task.key, self._usable_after_start(placed.task.key)
            was = placed.task.start + ahead
            self.moves.append((key, placed.quantity, was, placed.start + ahead))
            self.moved.add(key // self.serial_count)


@dataclass(frozen=True)
class _Rule:
    """What levelling knows of an item: working days from start to use, and what may be done."""

    ahead: int  # lead and safety days
    safety: int
    keeps: int  # working days that it may wait longer than planned
    step: float  # what its orders can be split in; 0: not at all
    minimum: float


def _rules(network: Network, resources: Resources, items: pl.DataFrame) -> dict[int, _Rule]:
    """The rules of the items that use a resource. Pieces split into whole ones or multiples."""
    shelf = items.select("item", "longest_cover_days")
    rows = network.items.join(shelf, on="item").filter(
        pl.col("item_id").is_in(pl.Series(list(resources.uses), dtype=pl.Int64).implode())
    )
    return {
        row["item_id"]: _Rule(
            ahead=row["lead"] + row["safety"],
            safety=row["safety"],
            keeps=_NEVER
            if row["longest_cover_days"] is None
            else max(0, row["longest_cover_days"] - row["cover"]),
            step=(row["multiple"] or 1.0) if row["whole"] and row["multiple"] % 1 == 0 else 0.0,
            minimum=row["minimum"],
        )
        for row in rows.iter_rows(named=True)
    }


def _window_starts(network: Network, weeks: int) -> list[int]:
    """For each day the first working day of the week that many calendar weeks before its own."""
    dates = network.axis.dates.head(network.axis.count)
    mondays = dates.dt.truncate("1w").dt.offset_by(f"-{7 * weeks}d")
    return network.axis.working_days_before(mondays).to_list()


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
