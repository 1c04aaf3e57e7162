"""The tables as they would be if every proposed move of an open order were agreed."""

from collections.abc import Callable, Mapping

import polars as pl

from bomkit.planning.buying.as_moved import as_agreed, open_moves
from bomkit.planning.buying.moves import Thresholds, proposed_moves
from bomkit.planning.network import build_network
from bomkit.planning.shop_plan import last_turn
from bomkit.words.screens import asides

_MOST_ROUNDS = 12  # what is planned below a moved order moves too, a level further each time


def as_moved(
    tables: Mapping[str, pl.DataFrame],
    foreseen: pl.DataFrame | None,
    pull_weeks: int,
    least: Thresholds,
    tell: Callable[[str], None],
) -> tuple[dict[str, pl.DataFrame], tuple[str, ...]]:
    """The tables with every move agreed, and a sentence that says how many.

    Planned again until nothing more is proposed for orders that are not firm; the sentence says
    so if that does not come to an end. foreseen: as build_network takes it.
    """
    moved, count = dict(tables), 0
    for number in range(1, _MOST_ROUNDS + 1):
        tell(f"moving open orders, round {number}")
        plan = last_turn(build_network(moved, foreseen), moved, pull_weeks, lambda words: None)
        proposed = proposed_moves(plan.network, plan.flows, moved["items"], least)
        moves = open_moves(proposed, moved["open_orders"])
        if moves.is_empty():
            return moved, (asides.AS_MOVED.format(count=count),)
        count += len(moves)
        moved = as_agreed(moved, moves)
    return moved, (asides.AS_MOVED_UNSETTLED.format(count=count),)
