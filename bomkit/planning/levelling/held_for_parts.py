"""How far the work above a part may be pulled forward before the part is late or bought again."""

from collections.abc import Mapping
from functools import cached_property

import numpy as np
import polars as pl

from bomkit.planning.lead_chains import asked_sooner, days_below, own_days
from bomkit.planning.netting.arrays import Floats, Ints, floats
from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.units import TOLERANCE

Limits = Mapping[int, int]  # by item_id the day before which none of its orders is to start
NO_LIMITS: Limits = {}


class Finder:
    """Finds what pulling makes worse than a plan was without it, and holds it back."""

    def __init__(self, network: Network, before: Flows) -> None:
        """before: the plan as it was."""
        self._network, self._before = network, before

    def new_limits(self, after: Flows, known: Limits) -> dict[int, int]:
        """What the pulled plan shows to be wrong with it, as limits beyond those known; {}: none.

        after: the plan pulled, of the same structure. All that is above a part is held, pulled or
        not: else what is pulled in its place makes the part late the next time, and so on.
        - On any day more is needed of a part than can be there by then, and that was not so before:
          what is above it starts when the longest chain of lead times below it has passed, at the
          soonest.
        - More of a part is started than was, beyond what lots round up: needs were pulled to before
          the receipts that were to serve them. What is above it starts when it can use the last of
          these, at the soonest.
        """
        rows = _otherwise(self._before, after)
        was, now = _Account(self._before, rows), _Account(after, rows)
        limits: dict[int, int] = {}
        items = _lacking_sooner(was, now)
        if items:
            limits = {item: self._chains[item] for item in self._distances(items)}
        for part, day in self._bought_again(was, now).items():
            for item, distance in self._distances({part}).items():
                limits[item] = max(limits.get(item, 0), day + distance)
        return {item: day for item, day in limits.items() if day > known.get(item, -1)}

    @cached_property
    def _chains(self) -> dict[int, int]:
        return days_below(self._network)

    @cached_property
    def _above(self) -> dict[int, list[tuple[int, int]]]:
        """By item_id the items right above it, and the working days by which each asks sooner than
        its start."""
        above: dict[int, list[tuple[int, int]]] = {}
        for parent, child, sooner in asked_sooner(self._network):
            above.setdefault(child, []).append((parent, sooner))
        return above

    @cached_property
    def _own_days(self) -> dict[int, int]:
        return own_days(self._network)

    @cached_property
    def _upwards(self) -> list[int]:
        """The item_ids, the lowest first."""
        ids: list[int] = self._network.items.sort("level", descending=True)["item_id"].to_list()
        return ids

    @cached_property
    def _rounding(self) -> Floats:
        """By item_id what its lots round up, good."""
        lot = pl.max_horizontal("minimum", "multiple", pl.col("whole").cast(pl.Float64))
        return floats(self._network.items.select(lot * pl.col("good")).to_series())

    def _distances(self, parts: set[int]) -> dict[int, int]:
        """By item_id of all that is above some parts the working days from their use to its
        start."""
        usable = dict.fromkeys(parts, 0)
        distances: dict[int, int] = {}
        for item in self._upwards:
            if item in distances:
                usable[item] = max(usable.get(item, 0), distances[item] + self._own_days[item])
            for parent, sooner in self._above.get(item, ()) if item in usable else ():
                distances[parent] = max(distances.get(parent, 0), usable[item] + sooner)
        return distances

    def _bought_again(self, was: "_Account", now: "_Account") -> dict[int, int]:
        """By item_id the last day of a receipt, of what pulling leaves over more than lots round
        up."""
        good, good_before = now.good.sum(axis=1), was.good.sum(axis=1)
        more = now.left_over() - was.left_over()
        # where nothing was to start, nothing was rounded up
        rounding = np.where(good_before > 0, self._rounding[now.item_id], 0.0)
        slack = TOLERANCE * (1 + now.gross.sum(axis=1))
        again = (good > good_before + slack) & (more > slack) & (more > rounding - slack)
        last_days: dict[int, int] = {}
        for place in np.flatnonzero(again).tolist():
            days = np.flatnonzero(now.receipts[place] > 0)
            if len(days):
                item = int(now.item_id[place])
                last_days[item] = max(last_days.get(item, 0), int(days[-1]))
        return last_days


def _otherwise(before: Flows, after: Flows) -> Ints:
    """The rows of which something else is needed or started; what is there hangs on that alone."""
    differs = (before.quantities.gross != after.quantities.gross).any(axis=1)
    differs |= (before.quantities.starts != after.quantities.starts).any(axis=1)
    return np.flatnonzero(differs)


class _Account:
    """Of some rows of a plan what is needed, there and made, by days."""

    def __init__(self, flows: Flows, rows: Ints) -> None:
        """rows: of the structure."""
        structure = flows.structure
        self.item_id, self._lead = structure.item_id[rows], structure.rules.lead[rows]
        self.gross = flows.quantities.gross[rows]
        self.good = flows.quantities.starts[rows] * structure.rules.good[rows, None]
        self._supply = flows.supply_by_row[rows]
        self.receipts = flows.receipts_by_row[rows]

    def left_over(self) -> Floats:
        """What is on hand of each row in the end."""
        left: Floats = (self._supply + self.good - self.gross).sum(axis=1)
        return left

    def lacking(self) -> Floats:
        """What is needed of each row by each day beyond what can be there: stock, open orders, and
        what is planned as soon as its lead time has passed."""
        short = np.cumsum(self.gross - self._supply, axis=1)
        made = np.cumsum(self.good, axis=1)
        there = self._lead[:, None] <= np.arange(short.shape[1])
        lacking: Floats = np.maximum(short - made * there, 0.0)
        return lacking


def _lacking_sooner(was: _Account, now: _Account) -> set[int]:
    """The item_ids of which on some day more lacks than did: needs before what serves them.

    Needs are compared, not what is started: a lot that is late anyway would hide what waits for it.
    """
    more = (now.lacking() > was.lacking() * (1 + TOLERANCE) + TOLERANCE).any(axis=1)
    return set(now.item_id[more].tolist())
