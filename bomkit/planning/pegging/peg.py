"""Pegging: which supply serves which need, and so for which airframe or spares order it is.

From the top down: within each planning row needs take supplies as `allocate` says, and an order's
components are then needed for those whom the order serves. Orders, supplies and demands go by
number here: there may be millions of pegs.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import (
    NO_ROW,
    Flags,
    Ints,
    Rows,
    at_places,
    ints,
    one_after_other,
)
from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.pegging.asked_and_offered import Ground, ground
from bomkit.planning.pegging.demands_served import Apart
from bomkit.planning.pegging.matching import Matching
from bomkit.planning.pegging.must_last import Foreseen, Lasting
from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.planning.pegging.reused_pegs import (
    NOTHING_SERVED,
    Served,
    TakingOver,
    carried,
    same_asked,
)
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables

NOTHING = "none"  # the supply of a need that nothing serves
_NO_SUPPLY = pl.Series([None], dtype=pl.UInt32)


@dataclass(frozen=True)
class Pegged:
    """demands: demand_id, demand, kind, whose (serial it is meant for), date, rank.

    supplies: as all_supplies gives them, supply_id their row number. ground, levels, comes,
    lasting, without: what another allocation of the plan can take over.
    """

    demands: pl.DataFrame
    supplies: pl.DataFrame
    ground: Ground
    levels: tuple[Served, ...]
    comes: Ints
    lasting: Lasting
    without: frozenset[int]

    @cached_property
    def by_order(self) -> pl.DataFrame:
        """The pegs, what an order takes of a plain item for all whom it serves as one (demand_id:
        who is served first): the columns of a need, and supply_id (null: nothing serves it)."""
        return _with_supplies(self.rows_by_order)

    @cached_property
    def rows_by_order(self) -> Rows:
        """The same as arrays, NO_ROW where nothing serves it."""
        return one_after_other([each.pegs for each in self.levels])

    @property
    def needs(self) -> pl.DataFrame:
        """The needs, of every demand: key, day, quantity, from_id (row number of the planned order
        that asks, or OUTSIDE), demand_id, asked_id (row of spares_orders, or OUTSIDE), leaves (the
        house), rank."""
        return pl.DataFrame(dict(self._apart.needs()))

    @cached_property
    def pegs(self) -> pl.DataFrame:
        """The pegs of every demand: the columns of needs and supply_id."""
        return _with_supplies(self._apart.pegs())

    @cached_property
    def _apart(self) -> Apart:
        """Needs and pegs, told apart by demand."""
        return Apart(self.ground, self.levels, self._every_item(), self._orders(True))

    def of_items(self, items: Flags) -> pl.DataFrame:
        """The pegs of some items, told apart by demand."""
        apart = Apart(self.ground, self.levels, items, self._orders(True))
        return _with_supplies(apart.pegs())

    def of(self, kind: str) -> pl.DataFrame:
        """The pegs of one kind of demand, told apart."""
        own = pl.col("demand_id").is_in(
            self.demands.filter(pl.col("kind") == kind)["demand_id"].implode()
        )
        orders = self._orders(False)
        serving = self.supplies["order_id"].gather(self.by_order.filter(own)["supply_id"])
        orders[ints(serving.drop_nulls())] = True
        orders[OUTSIDE] = True
        apart = Apart(self.ground, self.levels, self._every_item(), orders)
        return _with_supplies(apart.pegs()).filter(own)

    def _every_item(self) -> Flags:
        return np.ones(len(self.ground.levels), np.bool_)

    def _orders(self, chosen: bool) -> Flags:
        """A flag for each planned order, and for what no order asks for."""
        return np.full(len(self.ground.started) + 1, chosen)

    def told(self, pegs: pl.DataFrame, *columns: str) -> pl.DataFrame:
        """Pegs with these columns of their supplies; kind is NOTHING where there is none."""
        place = pegs["supply_id"]
        beside = {name: self.supplies[name][place] for name in columns}
        if "kind" in beside:
            beside["kind"] = beside["kind"].fill_null(NOTHING)
        return pegs.with_columns(**beside)


def peg(
    network: Network,
    flows: Flows,
    orders: pl.DataFrame,
    tables: Tables | None = None,
    foreseen: Foreseen | None = None,
    without: Collection[int] = (),
    known: Pegged | None = None,
) -> Pegged:
    """Pegs every need, level by level, passing on to components for whom each order is.

    tables: for what spares orders say of shelf life. foreseen: when supplies come, if not as the
    plan has it. without: numbers of demands that are left out; what is planned for them stays.
    known: another allocation of the same plan; what is asked and offered as there is served so.
    """
    stands = known.ground if known else ground(network, flows, orders, tables)
    matching = Matching(stands, foreseen)
    left_out = frozenset(without)
    over = _taking_over(matching, known, left_out)
    return _pegged(over, known.levels if known else (), left_out)


def peg_next(
    network: Network, flows: Flows, orders: pl.DataFrame, tables: Tables, last: Pegged | None
) -> Pegged:
    """The pegs of a plan by its own days; last: those of the plan before, if there is one, which is
    the same but for some orders."""
    stands = ground(network, flows, orders, tables)
    matching = Matching(stands)
    if last is None or not same_asked(last.ground, stands):
        return _pegged(_taking_over(matching, None, frozenset()), (), frozenset())
    levels, others = carried(last.levels, last.ground, stands)
    return _pegged(TakingOver(matching, others, np.zeros_like(others)), levels, frozenset())


def _pegged(over: TakingOver, before: Sequence[Served], left_out: frozenset[int]) -> Pegged:
    """Level after level what serves what; before: the levels of another allocation, if any."""
    stands = over.matching.ground
    asked, levels = [_without(stands.outside, left_out)], list[Served]()
    for level in range(int(stands.levels.max(initial=0)) + 1):
        known = before[level] if before else NOTHING_SERVED
        levels.append(over.served(level, asked, known))
        asked.append(levels[-1].handed)
    return Pegged(
        demands=stands.demands,
        supplies=stands.supplies,
        ground=stands,
        levels=tuple(levels),
        comes=over.matching.comes,
        lasting=over.matching.choosing.lasting,
        without=left_out,
    )


def _without(outside: Rows, left_out: Collection[int]) -> Rows:
    """The needs from outside without those of some demands."""
    return at_places(outside, ~np.isin(outside["demand_id"], list(left_out)))


def _taking_over(matching: Matching, known: Pegged | None, left_out: frozenset[int]) -> TakingOver:
    """Takes over from another allocation what is not otherwise from the start: what comes on
    another day, may serve another need, or is left out."""
    stands = matching.ground
    every: Flags = np.ones(stands.key_count, np.bool_)
    if known is None:
        return TakingOver(matching, every, every)
    moved, touched = ~every, ~every
    if matching.comes is not known.comes:
        moved = stands.keys_of(matching.comes != known.comes)
        for level in known.levels:
            moved |= matching.choosing.lasts_otherwise(level.needs, known.lasting)
    differ = np.isin(stands.outside["demand_id"], list(left_out ^ known.without))
    touched[stands.outside["key"][differ]] = True
    return TakingOver(matching, moved, touched)


def _with_supplies(pegs: Rows) -> pl.DataFrame:
    """The pegs as a frame, null for no supply."""
    supply = pegs["supply_id"]
    served = pl.Series(supply != NO_ROW)
    number = pl.Series(np.maximum(supply, 0).astype(np.uint32)).zip_with(served, _NO_SUPPLY)
    return pl.DataFrame({**pegs, "supply_id": number})
