"""A plan in which every need is served, with the allocation that says by what."""

from collections.abc import Callable
from dataclasses import dataclass

import polars as pl

from bomkit.planning.forecast.graph import NEVER
from bomkit.planning.forecast.tables import pegs_table
from bomkit.planning.network import Network, Tables
from bomkit.planning.pegging.covering import covered
from bomkit.planning.pegging.peg import Pegged, peg
from bomkit.planning.shop_plan import ShopPlan, Turn, last_turn, told
from bomkit.planning.shops.moulds.days_without_mould import gaps_of, without_mould
from bomkit.planning.shops.moulds.worn import MOULD, mould_report
from bomkit.planning.stores import Stores, allocated

Tell = Callable[[str], None]


@dataclass(frozen=True)
class Wear:
    """report: the moulds, as mould_report gives them; gaps: by mould the days without it; again: by
    order that lacks its mould the day on which one is there for it."""

    report: pl.DataFrame
    gaps: dict[str, range]
    again: dict[str, int]


@dataclass(frozen=True)
class Given:
    """For whom everything of a plan is; by_plan: if all comes on the plan's own days; stores: with
    what it was made from, if wanted."""

    pegged: Pegged
    by_plan: Pegged
    wear: Wear
    stores: Stores | None


def allotted(
    network: Network, tables: Tables, pull_weeks: int, stores: bool, tell: Tell
) -> tuple[ShopPlan, Given]:
    """Plans, and again where some need is served by nothing, until each is or a bound is reached.

    stores: whether supplies are given out by the days that the forecast has for them.
    """

    def shops(asked: Network) -> Turn:
        return last_turn(asked, tables, pull_weeks, lambda words: tell(f"planning: {words}"))

    def given(plan: Turn) -> Given:
        tell("finding out for whom everything is")
        return _given(plan, tables, stores)

    turn, found = covered(network, shops, given)
    return told(turn, tables), found


def _given(plan: Turn, tables: Tables, stores: bool) -> Given:
    """Pegs a plan, and forecasts it if wanted."""
    if not stores:
        pegged = peg(plan.network, plan.flows, plan.orders, tables)
        return Given(pegged, pegged, _wear(plan, tables, pegged), None)
    found: list[Wear] = []

    def bounds(first: Pegged) -> dict[str, int]:
        found.append(_wear(plan, tables, first))
        return found[0].again

    by_days = allocated(plan.network, tables, plan.flows, plan.orders, bounds)
    return Given(by_days.pegged, by_days.by_plan, found[0], by_days)


def _wear(plan: Turn, tables: Tables, pegged: Pegged) -> Wear:
    """The moulds with when they are worn, the days without them, and who waits for one."""
    mould_pegs = pegs_table(plan.network, pegged.of(MOULD), plan.orders, None)
    report = mould_report(plan.network, plan.worn, mould_pegs, plan.orders)
    late = dict(report.select("mould", "late_days").iter_rows())
    gaps = gaps_of(plan.network, plan.worn, late)
    lacking = without_mould(plan.orders, tables["moulds"], gaps)
    count = plan.network.axis.count
    again = {order: day if day < count else NEVER for order, day in lacking.items()}
    return Wear(report, gaps, again)
