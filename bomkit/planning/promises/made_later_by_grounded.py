"""Whom a grounded order makes later: all is given out again without it, and the days compared."""

import polars as pl

from bomkit.planning.allocation_by_forecast import Made, Turn, later_than
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.promises.packing import GROUNDED
from bomkit.tables.shared_columns import NEVER

_MOST_GROUNDED = 20  # orders for each of which all is given out again without it

Harm = tuple[str, str, int | None]  # demand, kind, working days later; none: it has no date then
NOBODY: Harm = ("", "", 0)


def without_grounded(made: Made, turn: Turn) -> dict[str, Pegged]:
    """By grounded order the same allocation without it."""
    grounded = turn.pegged.demands.filter(pl.col("kind") == GROUNDED)
    orders = grounded["demand"].unique().sort().head(_MOST_GROUNDED)
    return {
        order: without(made, turn, grounded.filter(pl.col("demand") == order)["demand_id"])
        for order in orders
    }


def without(made: Made, turn: Turn, left_out: pl.Series) -> Pegged:
    """The same allocation without some demands, by number."""
    return made.pegged(turn.counted_on, turn.pegged, left_out)


def made_later(made: Made, turn: Turn, demands: pl.DataFrame, spared: Pegged) -> Harm:
    """Whom a grounded order makes later the most, and by how many days, as Harm says.

    demands: of the forecast; spared: the allocation without the order.
    """
    later = (
        later_than(made.graph(spared, turn.graph), demands)
        .filter(pl.col("late_days") > 0)
        .join(turn.pegged.demands, on="demand_id")
        .sort("days", "rank", "date", "demand", descending=[True, False, False, False])
    )
    if later.is_empty():
        return NOBODY
    worst = later.row(0, named=True)
    days = min(worst["days"], worst["late_days"]) if worst["end"] < NEVER else None
    return (worst["demand"], worst["kind"], days)
