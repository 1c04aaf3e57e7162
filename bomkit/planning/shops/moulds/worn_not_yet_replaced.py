"""The days on which a worn mould is gone and the one that takes its place is not there yet."""

from collections.abc import Mapping

import polars as pl

from bomkit.planning.lead_chains import days_below
from bomkit.planning.shops.moulds.pulls_left import run_down, that_wear
from bomkit.planning.tables_as_numbers.network import Network


def without_mould(
    orders: pl.DataFrame, moulds: pl.DataFrame, gaps: Mapping[str, range]
) -> dict[str, int]:
    """By order the day on which a replacement is there again, of orders that start before it
    without a mould.

    gaps: by worn mould the days without it, as gaps_of gives them.
    """
    again = days_without_any(moulds, gaps)
    _, beyond = run_down(orders, that_wear(moulds))
    return {
        order: again[item].stop
        for order, item, start in beyond
        if item in again and start < again[item].stop
    }


def days_without_any(moulds: pl.DataFrame, gaps: Mapping[str, range]) -> dict[str, range]:
    """By item the days on which all of its moulds are worn and none is replaced yet."""
    without = {}
    for item, names in moulds.group_by("item", maintain_order=True).agg("mould").iter_rows():
        own = [gaps[name] for name in names if name in gaps]
        if len(own) == len(names):
            without[item] = range(max(g.start for g in own), min(g.stop for g in own))
    return {item: days for item, days in without.items() if days}


def gaps_of(network: Network, worn: pl.DataFrame, late: Mapping[str, int]) -> dict[str, range]:
    """By mould the days without it: from when it is worn until its replacement is there.

    late: by mould the working days by which that comes too late; for good without a replacement.
    """
    rows = worn.filter(pl.col("day").is_not_null()).select("mould", "replacement", "day").rows()
    count = network.axis.count
    return {
        mould: range(day, min(count, day + late.get(mould, 0)) if replacement else count)
        for mould, replacement, day in rows
    }


def soonest_late(network: Network, worn: pl.DataFrame) -> dict[str, int]:
    """By mould the days by which its replacement comes too late if nothing for it is there yet."""
    chains = days_below(network)
    own = network.items.select("item", "item_id", pl.col("lead") + pl.col("safety")).rows()
    ready = {item: chains[number] + days for item, number, days in own}
    wanted = worn.filter(pl.col("day").is_not_null() & (pl.col("replacement") != ""))
    rows = wanted.select("mould", "replacement", "day").rows()
    return {mould: max(0, ready[new] - day) for mould, new, day in rows}
