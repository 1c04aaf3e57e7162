"""Sentences on what the reader of a run should know before he looks at any list."""

from collections.abc import Iterator

import polars as pl

from bomkit.planning.every_need_served import Given
from bomkit.planning.orders_for_unserved_needs import MOST_PLANS, unserved
from bomkit.planning.planned_as_moved import Agreed
from bomkit.planning.shop_plan import ShopPlan, Turn
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.planning.whole_plan import WholePlan
from bomkit.units import TOLERANCE
from bomkit.words import common
from bomkit.words.screens import to_know_first as said

_MOST_NAMED = 5


def plan_asides(whole: WholePlan) -> Iterator[str]:
    """All of them but those of unsettled_asides."""
    network, plan = whole.shops.network, whole.finished
    if whole.agreed:
        yield agreed_aside(whole.agreed)
    yield from demand_asides(network)
    yield from inspections_aside(plan.results["inspections"], plan.choices.inspections)
    yield from shop_asides(whole.shops, plan.levelling.weeks if plan.levelling else 0)


def agreed_aside(agreed: Agreed) -> str:
    """A sentence on the moves that count as agreed."""
    words = said.AS_MOVED if agreed.settled else said.AS_MOVED_UNSETTLED
    return words.format(count=agreed.count)


def demand_asides(network: Network) -> tuple[str, ...]:
    """Sentences about what is overdue and what lies past the horizon; none where there is none."""
    counts = _counts(network)
    return tuple(
        words.format(
            needs=_named(counts[f"{when}_needs"], network.demands.filter(when)["demand"]),
            receipts=_named(counts[f"{when}_receipts"], network.receipts.filter(when)["order"]),
        )
        for when, words in (("overdue", said.OVERDUE), ("past", said.PAST_HORIZON))
        if counts[f"{when}_needs"] or counts[f"{when}_receipts"]
    )


def inspections_aside(inspections: pl.DataFrame, planned: bool) -> tuple[str, ...]:
    """A sentence that inspections are planned, where they are."""
    return (said.INSPECTED_ASIDE.format(count=len(inspections)),) if planned else ()


def shop_asides(plan: ShopPlan, pull_weeks: int) -> Iterator[str]:
    """Sentences on what was pulled forward, and on what has more to do than it can."""
    if pull_weeks:
        added = plan.value["added"]
        yield said.LEVELLED.format(
            count=len(plan.moves),
            weeks=pull_weeks,
            most=added.max() or 0.0,
            mean=added.mean() or 0.0,
        )
    over = plan.loads.filter(pl.col("hours") > pl.col("capacity") * (1 + TOLERANCE))
    beyond = over.sort("week", "process").select(
        "process", "week", pl.col("hours") - pl.col("capacity")
    )
    yield from _over(said.PROCESSES_OVER, said.PROCESSES_OVER_IN, beyond)
    over = plan.prints.overloads.sort("week", "kind")
    beyond = over.select("kind", "week", pl.col("hours") - pl.col("capacity"))
    yield from _over(said.PRINTERS_OVER, said.PRINTERS_OVER_IN, beyond)
    over = plan.pulls.filter(pl.col("pulls") > pl.col("capacity") * (1 + TOLERANCE))
    beyond = over.sort("week", "item").select("item", "week", pl.col("pulls") - pl.col("capacity"))
    yield from _over(said.MOULDS_OVER, said.MOULDS_OVER_IN, beyond)


def unsettled_asides(plan: ShopPlan | Turn, given: Given | None = None) -> Iterator[str]:
    """Sentences on what came to no rest within its bound, and on what nothing brings."""
    if not plan.level_settled:
        yield said.LEVEL_UNSETTLED
    if not plan.settled:
        yield said.MOULDS_UNSETTLED
    if given is not None:
        yield from allocation_asides(plan.network, given)


def allocation_asides(network: Network, given: Given) -> Iterator[str]:
    """Sentences on what nothing brings, and on what a third allocation could give otherwise."""
    lacking = network.named(unserved(given.pegged))["item"].unique().sort()
    if len(lacking):
        yield said.UNCOVERED.format(items=common.first_few(lacking.to_list(), _MOST_NAMED))
    waiting = network.named(given.left_to_plan)["item"].unique().sort()
    waiting = waiting.filter(~waiting.is_in(lacking.implode()))
    if len(waiting):
        named = common.first_few(waiting.to_list(), _MOST_NAMED)
        yield said.COVERED_LATE.format(count=MOST_PLANS, items=named)
    if given.stores and given.stores.turn.moved:
        yield said.ALLOCATION_MOVED.format(count=given.stores.turn.moved)


def _over(sentence: str, each: str, beyond: pl.DataFrame) -> Iterator[str]:
    """The first few of what is above capacity, if anything is; columns as the words name them."""
    if len(beyond):
        named = [each.format(**row) for row in beyond.iter_rows(named=True)]
        yield sentence.format(named=common.first_few(named, _MOST_NAMED, "; "))


def _counts(network: Network) -> dict[str, int]:
    """How many needs and open orders are overdue or past the horizon."""
    return {
        f"{when}_{what}": int(frame[when].sum())
        for what, frame in (("needs", network.demands), ("receipts", network.receipts))
        for when in ("overdue", "past")
    }


def _named(count: int, orders: pl.Series) -> str:
    """How many needs or open orders, and the names of the first few."""
    names = orders.unique().sort().head(5).to_list()
    return f"{count} ({', '.join(names)}{', ...' if count > len(names) else ''})" if count else "0"
