"""One plan as arrays: level by level from the top, every row netted and its orders exploded."""

from dataclasses import dataclass

import numpy as np

from bomkit.planning.netting.arrays import Flags, Floats, Ints
from bomkit.planning.netting.compiled_structure import Structure
from bomkit.planning.netting.expiring_lots import left_over, lot_uses
from bomkit.planning.netting.explode import add_needs, move_to_needs
from bomkit.planning.netting.lot_sizes.rows_by_cost import least_cost_starts
from bomkit.planning.netting.net import Beside, Running, planned_starts
from bomkit.planning.netting.supply_by_day import Supplied
from bomkit.planning.netting.too_much import refuse_too_much
from bomkit.words.progress import Tell, silent

_AT_ONCE = 4096  # rows that are netted together: few enough to stay near the processor


@dataclass(frozen=True)
class Quantities:
    """Of all rows of the structure by days: gross, and starts by usable day.

    supply: of the rows that have any, on their days; counted: the same as netting counts it; used:
    of each expiring lot, what it can serve; proven: rows whose lots cost the least there is.
    """

    gross: Floats
    starts: Floats
    supply: Floats
    counted: Floats
    used: Floats
    proven: Flags


def planned_quantities(
    structure: Structure,
    beside: Supplied,
    tell: Tell = silent,
) -> Quantities:
    """Nets and explodes every level; `tell` is given a word on each level for a progress line."""
    size = (len(structure.keys), beside.days)
    plan = Quantities(
        gross=np.zeros(size),
        starts=np.zeros(size),
        supply=beside.by_day(),
        counted=beside.by_day(structure.rules.lead),
        used=np.zeros(len(beside.expiring)),
        proven=np.zeros(size[0], np.bool_),
    )
    beside.outside.added_to(plan.gross)
    asked = np.zeros((structure.sources, beside.days))
    with np.errstate(over="ignore", invalid="ignore"):  # what is beyond counting is refused
        for number, level in enumerate(structure.levels):
            tell(f"level {number + 1} of {len(structure.levels)}")
            add_needs(asked, plan.gross, level.fans)
            _net(structure, beside, plan, number)
            move_to_needs(plan.starts, asked, level.asks)
    return plan


def _net(structure: Structure, beside: Supplied, plan: Quantities, number: int) -> None:
    """Nets the rows of one level."""
    level = structure.levels[number]
    refuse_too_much(structure, plan.gross, slice(level.first, level.last))
    known = beside_level(structure, beside, plan, number)
    for first in range(level.first, level.last, _AT_ONCE):
        last = min(level.last, first + _AT_ONCE)
        plan.starts[first:last] = planned_starts(
            structure.rules.of(slice(first, last)),
            plan.gross[first:last],
            known.within(first, last),
        ).T
    rows = level.first + np.flatnonzero(structure.rules.least_cost[level.first : level.last])
    _net_by_cost(structure, plan, rows, known)


def net_some(structure: Structure, plan: Quantities, rows: Ints, known: Beside) -> None:
    """Nets some rows of one level, ascending; known: what stands beside that level."""
    if len(rows):
        refuse_too_much(structure, plan.gross, rows)
        rules = structure.rules.of(rows)
        plan.starts[rows] = planned_starts(rules, plan.gross[rows], known.among(rows)).T
        _net_by_cost(structure, plan, rows[rules.least_cost], known)


def _net_by_cost(structure: Structure, plan: Quantities, rows: Ints, known: Beside) -> None:
    """Nets rows whose lots are chosen by what they cost."""
    if len(rows):
        plan.starts[rows], plan.proven[rows] = least_cost_starts(
            structure.rules.of(rows), plan.gross[rows], known.among(rows)
        )


def beside_level(structure: Structure, beside: Supplied, plan: Quantities, number: int) -> Beside:
    """What stands beside the gross requirements of a level; takes out of its supply what expires
    unused."""
    level = structure.levels[number]
    lost = _served_from_lots(beside, plan, number)
    low, high = np.searchsorted(beside.rows, (level.first, level.last))
    there = Running(beside.rows[low:high], np.cumsum(plan.counted[low:high], axis=1))
    return Beside(there, lost, beside.least)


def _served_from_lots(beside: Supplied, plan: Quantities, number: int) -> Running:
    """Takes what expires unused out of a level's supply; returns what is lost, below zero."""
    rows = [np.zeros(0, np.int64)]
    losses = [np.zeros((0, beside.days))]
    for lots in beside.lots[number]:
        own = lot_uses(lots, np.cumsum(plan.gross[lots.rows], axis=1))
        plan.used[lots.place] = own
        lost = left_over(lots, own, beside.days)
        places = np.searchsorted(beside.rows, lots.rows)
        plan.supply[places] += lost
        plan.counted[places] += lost
        rows.append(lots.rows)
        losses.append(np.cumsum(np.minimum(plan.counted[places], 0), axis=1))
    together = np.concatenate(rows)
    order = np.argsort(together)
    return Running(together[order], np.concatenate(losses)[order])
