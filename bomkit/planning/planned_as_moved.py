"""The tables as they would be if every proposed move of an open order were agreed."""

from dataclasses import dataclass

import polars as pl

from bomkit.planning.buying.as_moved import as_agreed, open_moves
from bomkit.planning.buying.moves import Thresholds, proposed_moves
from bomkit.planning.shop_plan import last_turn
from bomkit.planning.tables_as_numbers.network import build_network
from bomkit.tables.schema import Tables
from bomkit.words.progress import Tell, silent

_MOST_ROUNDS = 12  # what is planned below a moved order moves too, a level further each time


@dataclass(frozen=True)
class Agreed:
    """tables: with every move agreed; count: how many; settled: whether none was left."""

    tables: dict[str, pl.DataFrame]
    count: int
    settled: bool = True


def all_agreed(
    tables: Tables,
    foreseen: pl.DataFrame | None,
    pull_weeks: int,
    least: Thresholds,
    tell: Tell,
) -> Agreed:
    """Every move agreed, and planned again until nothing more is proposed for orders that are not
    firm, or a bound is reached. foreseen: as build_network takes it."""
    moved, count = dict(tables), 0
    for number in range(1, _MOST_ROUNDS + 1):
        tell(f"moving open orders, round {number}")
        plan = last_turn(build_network(moved, foreseen), moved, pull_weeks, silent)
        proposed = proposed_moves(plan.network, plan.flows, moved["items"], least)
        moves = open_moves(proposed, moved["open_orders"])
        if moves.is_empty():
            return Agreed(moved, count)
        count += len(moves)
        moved = as_agreed(moved, moves)
    return Agreed(moved, count, settled=False)
