"""How far the work above a part may be pulled forward before the part is late or bought again."""

from collections.abc import Iterable, Mapping

import polars as pl

from bomkit.planning.netting.flows import Flows
from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.network import Network

Limits = Mapping[int, int]  # by item_id the day before which none of its orders is to start
NO_LIMITS: Limits = {}


def new_limits(
    network: Network, before: Flows, after: Flows, moved: Iterable[int], known: Limits
) -> dict[int, int]:
    """What the pulled plan shows to be wrong with it, as limits beyond those known; {}: nothing.

    before, after: the plan as it was and pulled; moved: item_ids of what was pulled.
    - More of a part is late than was: what is above it starts when the longest chain of lead times
      below it has passed, at the soonest.
    - More of a part is started than was, beyond what lots round up: needs were pulled to before the
      receipts that were to serve them. What is above it starts when it can use the last of these,
      at the soonest.
    """
    found: dict[int, int] = {}
    late = _later_than(_late_quantities(network, before), _late_quantities(network, after))
    if late:
        chains = longest_chains(network)
        items = {key // network.serial_count for key in late}
        found = {item: chains[item] for item in _distances(network, items)}
    for part, day in _bought_again(network, before, after).items():
        for item, distance in _distances(network, {part}).items():
            found[item] = max(found.get(item, 0), day + distance)
    pulled = set(moved)
    return {
        item: day for item, day in found.items() if item in pulled and day > known.get(item, -1)
    }


def longest_chains(network: Network) -> dict[int, int]:
    """By item_id the working days that lead and safety times below it add up to at most."""
    below: dict[int, list[tuple[int, int]]] = {}
    for parent, child, sooner in _sooner(network):
        below.setdefault(parent, []).append((child, sooner))
    ordered = network.items.sort("level", descending=True)
    own = _own_days(network)
    chains: dict[int, int] = {}
    for item in ordered["item_id"]:
        chains[item] = max(
            (own[child] + chains[child] + sooner for child, sooner in below.get(item, ())),
            default=0,
        )
    return chains


def _distances(network: Network, parts: set[int]) -> dict[int, int]:
    """By item_id of all that is above some parts the working days from their use to its start."""
    above: dict[int, list[tuple[int, int]]] = {}
    for parent, child, sooner in _sooner(network):
        above.setdefault(child, []).append((parent, sooner))
    own = _own_days(network)
    usable = dict.fromkeys(parts, 0)
    found: dict[int, int] = {}
    for item in network.items.sort("level", descending=True)["item_id"]:  # the lowest first
        if item in found:
            usable[item] = max(usable.get(item, 0), found[item] + own[item])
        for parent, sooner in above.get(item, ()) if item in usable else ():
            found[parent] = max(found.get(parent, 0), usable[item] + sooner)
    return found


def _sooner(network: Network) -> list[tuple[int, int, int]]:
    """Parent, child and the working days by which the line asks for it before the start."""
    lines = network.lines.select("parent_id", "child_id", -pl.col("offset").clip(upper_bound=0))
    return lines.unique().rows()


def _own_days(network: Network) -> dict[int, int]:
    """By item_id the working days from start to use."""
    days = pl.col("lead") + pl.col("safety")
    return dict(network.items.select("item_id", days).iter_rows())


def _bought_again(network: Network, before: Flows, after: Flows) -> dict[int, int]:
    """By item_id the last day of a receipt, of what pulling leaves over more than lots round up."""
    rules = network.items.select(
        "item_id",
        lot=pl.max_horizontal("minimum", "multiple", pl.col("whole").cast(pl.Float64))
        * pl.col("good"),
    )
    both = (
        _totals(after)
        .join(_totals(before), on="key", suffix="_before")
        .with_columns(item_id=pl.col("key") // network.serial_count)
        .join(rules, on="item_id")
    )
    more = pl.col("left") - pl.col("left_before")
    # where nothing was to start, nothing was rounded up
    rounding = pl.when(pl.col("good_before") > 0).then("lot").otherwise(0.0)
    slack = TOLERANCE * (1 + pl.col("gross"))
    again = both.filter(
        (pl.col("good") > pl.col("good_before") + slack)
        & (more > slack)
        & (more > rounding - slack)
        & (pl.col("last_receipt") >= 0)
    )
    return dict(again.group_by("item_id").agg(pl.col("last_receipt").max()).iter_rows())


def _totals(flows: Flows) -> pl.DataFrame:
    """By key over the horizon: gross, good (of orders), left (in the end) and last_receipt (the
    day; -1: none)."""
    days = flows.gross.columns[1:]
    total = pl.sum_horizontal(days)
    last = pl.max_horizontal(pl.when(pl.col(day) > 0).then(int(day)).otherwise(-1) for day in days)
    return (
        flows.gross.select("key", gross=total)
        .join(flows.good.select("key", good=total), on="key")
        .join(flows.supply.select("key", supply=total), on="key")
        .join(flows.receipts.select("key", last_receipt=last), on="key")
        .with_columns(left=pl.col("supply") + pl.col("good") - pl.col("gross"))
    )


def _late_quantities(network: Network, flows: Flows) -> dict[int, float]:
    """By key how much of its orders starts too late."""
    started = flows.started()
    timed = started.with_columns(item_id=pl.col("key") // network.serial_count).join(
        network.items.select("item_id", ahead=pl.col("lead") + pl.col("safety")), on="item_id"
    )
    late = timed.filter(pl.col("usable") < pl.col("ahead"))
    return dict(late.group_by("key").agg(pl.col("quantity").sort().sum()).iter_rows())


def _later_than(before: dict[int, float], after: dict[int, float]) -> list[int]:
    """The keys of which more starts too late than before."""
    return [key for key, late in after.items() if late > before.get(key, 0.0) * (1 + 1e-9)]
