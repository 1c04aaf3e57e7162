"""A plan in which every need is served, with the allocation that says by what."""

from dataclasses import dataclass, replace

import polars as pl

from bomkit.planning.allocation import Stores, allocated
from bomkit.planning.allocation_by_forecast import Made
from bomkit.planning.forecast.peg_tables import pegs_table
from bomkit.planning.orders_for_unserved_needs import NOTHING_LACKS, Making, covered
from bomkit.planning.pegging.peg import Pegged, peg_next
from bomkit.planning.shop_plan import ShopPlan, Turn, last_turn, told
from bomkit.planning.shops.moulds.replacement_moulds import MOULD, mould_report
from bomkit.planning.shops.moulds.worn_not_yet_replaced import gaps_of, without_mould
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.schema import Tables
from bomkit.tables.shared_columns import NEVER
from bomkit.words.progress import Tell


@dataclass(frozen=True)
class Wear:
    """report: the moulds, as mould_report gives them; gaps: by mould the days without it; again: by
    order that lacks its mould the day on which one is there for it."""

    report: pl.DataFrame
    gaps: dict[str, range]
    again: dict[str, int]


@dataclass(frozen=True)
class Given:
    """For whom everything of a plan is; stores: with what it was made from, if wanted.

    left_to_plan: what another plan would plan more or less of, as covered gives it.
    """

    pegged: Pegged
    wear: Wear
    stores: Stores | None
    left_to_plan: pl.DataFrame


def allotted(
    network: Network, tables: Tables, pull_weeks: int, stores: bool, tell: Tell
) -> tuple[ShopPlan, Given]:
    """Plans, and again where some need is served by nothing, until each is or a bound is reached.

    stores: whether supplies are given out by the days that the forecast has for them.
    """

    def plan(asked: Network, last: Turn | None) -> Turn:
        return last_turn(asked, tables, pull_weeks, lambda words: tell(f"planning: {words}"), last)

    def pegs(turn: Turn, last: Pegged | None) -> Pegged:
        tell("finding out for whom everything is")
        return peg_next(turn.network, turn.flows, turn.orders, tables, last)

    def settle(turn: Turn, pegged: Pegged) -> Given:
        worn = _wear(turn, tables, pegged)
        if not stores:
            return Given(pegged, worn, None, NOTHING_LACKS)
        by_days = allocated(Made(turn.network, tables, turn.flows, turn.orders, worn.again), pegged)
        return Given(by_days.pegged, worn, by_days, NOTHING_LACKS)

    turn, given, left_to_plan = covered(network, Making(plan, pegs, settle))
    return told(turn, tables, given.wear.gaps), replace(given, left_to_plan=left_to_plan)


def _wear(plan: Turn, tables: Tables, pegged: Pegged) -> Wear:
    """The moulds with when they are worn, the days without them, and who waits for one."""
    mould_pegs = pegs_table(plan.network, pegged, pegged.of(MOULD), plan.orders, None)
    report = mould_report(plan.network, plan.worn, mould_pegs, plan.orders)
    late = dict(report.select("mould", "late_days").iter_rows())
    gaps = gaps_of(plan.network, plan.worn, late)
    lacking = without_mould(plan.orders, tables["moulds"], gaps)
    count = plan.network.axis.count
    again = {order: day if day < count else NEVER for order, day in lacking.items()}
    return Wear(report, gaps, again)
