"""Pegging: which supply serves which need, and so for which airframe or spares order it is.

From the top down: within each planning row needs take supplies as `allocate` says, and an order's
components are then needed for those whom the order serves. Orders, supplies and demands go by
number here: there may be millions of pegs.
"""

from collections.abc import Collection
from dataclasses import dataclass, replace

import polars as pl

from bomkit.planning.netting.flows import Flows, timed_lines
from bomkit.planning.network import Network, Tables
from bomkit.planning.pegging.demands import asking, outside_needs, spares_rows
from bomkit.planning.pegging.lasting import Foreseen
from bomkit.planning.pegging.matching import Matching
from bomkit.planning.pegging.served import Served, served
from bomkit.planning.pegging.shares import component_needs, portions, told_apart
from bomkit.planning.pegging.supplies import all_supplies

NOTHING = "none"  # the supply of a need that nothing serves


@dataclass(frozen=True)
class Pegged:
    """demands: demand_id, demand, kind, whose (serial it is meant for), date, rank.

    supplies: as all_supplies gives them, supply_id their row number. needs: key, day, quantity,
    from_id (row number of the planned order that asks, or OUTSIDE), demand_id, asked_id (row of
    spares_orders, or OUTSIDE), leaves (the house), rank. pegs: the columns of needs and supply_id
    (null: nothing serves it). levels, comes: what another allocation can take over.
    """

    demands: pl.DataFrame
    supplies: pl.DataFrame
    needs: pl.DataFrame
    pegs: pl.DataFrame
    levels: tuple[Served, ...]
    comes: pl.Series

    def of(self, kind: str) -> "Pegged":
        """The same with the pegs of one kind of demand alone."""
        own = self.demands.filter(pl.col("kind") == kind)["demand_id"]
        return replace(self, pegs=self.pegs.filter(pl.col("demand_id").is_in(own.implode())))

    def moved(self, supplies: pl.DataFrame, comes: pl.Series) -> pl.Series:
        """The keys of which a supply comes on another day than here, or which may spoil, as how
        long they must last hangs on who begins when."""
        if comes is self.comes:
            return supplies["key"].clear()
        return supplies.filter((comes != self.comes) | pl.col("expires").is_not_null())["key"]

    def told(self, *columns: str) -> pl.DataFrame:
        """The pegs with these columns of their supplies; kind is NOTHING where there is none."""
        place = self.pegs["supply_id"]
        beside = {name: self.supplies[name].gather(place) for name in columns}
        if "kind" in beside:
            beside["kind"] = beside["kind"].fill_null(NOTHING)
        return self.pegs.with_columns(**beside)


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
    demands = asking(network)
    lines = timed_lines(network)
    supplies = all_supplies(network, flows, orders)
    matching = Matching(network, demands, supplies, spares_rows(tables), foreseen)
    first = outside_needs(network, demands, tables)
    pending = [first.filter(~pl.col("demand_id").is_in(list(without)))]
    moved = known.moved(supplies, matching.comes) if known else supplies["key"]
    levels: list[Served] = []
    for level in range(int(network.items["level"].max() or 0) + 1):  # type: ignore[arg-type]
        items = network.items.filter(pl.col("level") == level)["item_id"]
        here = pl.col("key").floordiv(network.serial_count).is_in(items.implode())
        now = pl.col("level") == level
        asked = matching.in_line(pl.concat([part.filter(now) for part in pending]))
        before = known.levels[level] if known else None
        levels.append(served(matching, asked, supplies.filter(here), before, moved))
        own = lines.filter(pl.col("parent_level") == level)
        found = pl.concat([levels[-1].pegs, levels[-1].left])
        shares = portions(network, found, supplies, orders)
        shares = told_apart(shares, own, network.serial_count)
        pending.append(component_needs(network, shares, own))
    needs = pl.concat([each.needs for each in levels])
    pegs = pl.concat([each.pegs for each in levels])
    return Pegged(demands, supplies, needs, pegs, tuple(levels), matching.comes)
