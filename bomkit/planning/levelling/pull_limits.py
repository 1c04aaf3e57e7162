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
    - On any day more is needed of a part than can be there by then, and that was not so before:
      what is above it starts when the longest chain of lead times below it has passed, at the
      soonest.
    - More of a part is started than was, beyond what lots round up: needs were pulled to before the
      receipts that were to serve them. What is above it starts when it can use the last of these,
      at the soonest.
    """
    found: dict[int, int] = {}
    late = _lacking_sooner(network, before, after)
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


def _lacking_sooner(network: Network, before: Flows, after: Flows) -> list[int]:
    """The keys of which on some day more lacks than did: needs that come before what serves them.

    Needs are compared, not what is started: a lot that is late anyway would hide what waits for it.
    """
    keys = after.gross["key"]
    known = keys.to_frame().join(before.gross.select("key"), on="key", how="semi")["key"]
    new = keys.filter(~keys.is_in(known.implode()))
    was, now = _lacking(network, before, known), _lacking(network, after, known)
    more = _any_more(was, now, known)
    nothing = [pl.zeros(len(new), eager=True)] * network.axis.count
    return [*more, *_any_more(nothing, _lacking(network, after, new), new)]


def _any_more(was: list[pl.Series], now: list[pl.Series], keys: pl.Series) -> list[int]:
    """The keys for which some day has more now than it had."""
    found = pl.repeat(False, len(keys), dtype=pl.Boolean, eager=True)
    for earlier, later in zip(was, now, strict=True):
        found |= later > earlier * (1 + TOLERANCE) + TOLERANCE
    return keys.filter(found).to_list()


def _lacking(network: Network, flows: Flows, keys: pl.Series) -> list[pl.Series]:
    """By day what is needed of each key by then beyond what can be there: stock, open orders, and
    what is planned as soon as its lead time has passed."""
    days = flows.gross.columns[1:]
    gross, supply, good = (
        keys.to_frame().join(frame, on="key", how="left", maintain_order="left")
        for frame in (flows.gross, flows.supply, flows.good)
    )
    leads = network.items.select("item_id", "lead")
    lead = keys.to_frame("key").select(item_id=pl.col("key") // network.serial_count)
    lead_of = lead.join(leads, on="item_id", how="left", maintain_order="left")["lead"]
    short = pl.zeros(len(keys), eager=True)
    made = pl.zeros(len(keys), eager=True)
    found = []
    for day in days:
        short = short + gross[day] - supply[day]
        made = made + good[day]
        found.append((short - made * (lead_of <= int(day))).clip(0.0))
    return found
