"""When what phantoms and replaced items hand down can be there: with the last of what is in it."""

import numpy as np
import polars as pl

from bomkit.planning.network import Network
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.pegging.supplies import PASSED_ON

_WHO = ("from_id", "demand_id")


def with_passed_on(network: Network, pegged: Pegged, arrivals: pl.Series) -> pl.Series:
    """The days on which supplies arrive, by row of pegged.supplies, for what is passed on as well.

    It is as late as the latest of what whoever it is for needs of its components in its place, and
    not before the day that the plan has.
    """
    passing = pegged.supplies.with_row_index("at").filter(pl.col("kind") == PASSED_ON)
    if passing.is_empty():
        return arrivals
    levels = network.items.select("item_id", "level")
    item = pl.col("key") // network.serial_count
    passing = passing.select("at", "key", item_id=item).join(levels, on="item_id")
    inside = network.lines.select(item_id="parent_id", child="child_id").unique()
    days = arrivals.to_numpy().copy()
    pegs = pegged.pegs.filter(pl.col("supply_id").is_not_null()).with_columns(child=item)
    for level in sorted(passing["level"].unique(), reverse=True):
        own = passing.filter(pl.col("level") == level).join(inside, on="item_id")
        asked = own.join(
            pegs.select("supply_id", *_WHO, needed="day"), left_on="at", right_on="supply_id"
        )
        taken = asked.join(pegs.select("child", *_WHO, "day", "supply_id"), on=["child", *_WHO])
        taken = taken.filter(pl.col("day") >= pl.col("needed"))
        if taken.is_empty():
            continue
        lag = (taken["day"] - taken["needed"]).to_numpy()
        day = days[taken["supply_id"].to_numpy()] - lag
        np.maximum.at(days, taken["at"].to_numpy(), day)
    return pl.Series(arrivals.name, days)
