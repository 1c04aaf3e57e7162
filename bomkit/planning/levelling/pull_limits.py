"""How far the work above a part may be pulled forward before the part is late or bought again."""

from collections.abc import Iterable, Mapping

import numpy as np
import polars as pl

from bomkit.planning.lead_chains import asked_sooner, longest_chains, own_days
from bomkit.planning.netting.arrays import Floats, floats
from bomkit.planning.netting.flows import Flows
from bomkit.planning.network import Network
from bomkit.planning.tolerance import TOLERANCE

Limits = Mapping[int, int]  # by item_id the day before which none of its orders is to start
NO_LIMITS: Limits = {}


def new_limits(
    network: Network, before: Flows, after: Flows, moved: Iterable[int], known: Limits
) -> dict[int, int]:
    """What the pulled plan shows to be wrong with it, as limits beyond those known; {}: nothing.

    before, after: the plan as it was and pulled, of one structure; moved: item_ids of what was
    pulled.
    - On any day more is needed of a part than can be there by then, and that was not so before:
      what is above it starts when the longest chain of lead times below it has passed, at the
      soonest.
    - More of a part is started than was, beyond what lots round up: needs were pulled to before the
      receipts that were to serve them. What is above it starts when it can use the last of these,
      at the soonest.
    """
    found: dict[int, int] = {}
    items = _lacking_sooner(before, after)
    if items:
        chains = longest_chains(network)
        found = {item: chains[item] for item in _distances(network, items)}
    for part, day in _bought_again(network, before, after).items():
        for item, distance in _distances(network, {part}).items():
            found[item] = max(found.get(item, 0), day + distance)
    pulled = set(moved)
    return {
        item: day for item, day in found.items() if item in pulled and day > known.get(item, -1)
    }


def _distances(network: Network, parts: set[int]) -> dict[int, int]:
    """By item_id of all that is above some parts the working days from their use to its start."""
    above: dict[int, list[tuple[int, int]]] = {}
    for parent, child, sooner in asked_sooner(network):
        above.setdefault(child, []).append((parent, sooner))
    own = own_days(network)
    usable = dict.fromkeys(parts, 0)
    found: dict[int, int] = {}
    for item in network.items.sort("level", descending=True)["item_id"]:  # the lowest first
        if item in found:
            usable[item] = max(usable.get(item, 0), found[item] + own[item])
        for parent, sooner in above.get(item, ()) if item in usable else ():
            found[parent] = max(found.get(parent, 0), usable[item] + sooner)
    return found


def _bought_again(network: Network, before: Flows, after: Flows) -> dict[int, int]:
    """By item_id the last day of a receipt, of what pulling leaves over more than lots round up."""
    rules = network.items.select(
        lot=pl.max_horizontal("minimum", "multiple", pl.col("whole").cast(pl.Float64))
        * pl.col("good"),
    )
    item_id = after.structure.item_id
    good, good_before = (flows.good_by_row.sum(axis=1) for flows in (after, before))
    more = _left_over(after) - _left_over(before)
    # where nothing was to start, nothing was rounded up
    rounding = np.where(good_before > 0, floats(rules["lot"])[item_id], 0.0)
    slack = TOLERANCE * (1 + after.quantities.gross.sum(axis=1))
    received = after.receipts_by_row > 0
    again = (good > good_before + slack) & (more > slack) & (more > rounding - slack)
    found: dict[int, int] = {}
    for row in np.flatnonzero(again & received.any(axis=1)).tolist():
        last, item = int(np.flatnonzero(received[row])[-1]), int(item_id[row])
        found[item] = max(found.get(item, 0), last)
    return found


def _left_over(flows: Flows) -> Floats:
    """What is on hand of each row in the end."""
    balance = flows.supply_by_row + flows.good_by_row - flows.quantities.gross
    left: Floats = balance.sum(axis=1)
    return left


def _lacking_sooner(before: Flows, after: Flows) -> set[int]:
    """The item_ids of which on some day more lacks than did: needs before what serves them.

    Needs are compared, not what is started: a lot that is late anyway would hide what waits for it.
    """
    was, now = _lacking(before), _lacking(after)
    more = (now > was * (1 + TOLERANCE) + TOLERANCE).any(axis=1)
    return set(after.structure.item_id[more].tolist())


def _lacking(flows: Flows) -> Floats:
    """What is needed of each row by each day beyond what can be there: stock, open orders, and what
    is planned as soon as its lead time has passed."""
    short = np.cumsum(flows.quantities.gross - flows.supply_by_row, axis=1)
    made = np.cumsum(flows.good_by_row, axis=1)
    there = flows.structure.rules.lead[:, None] <= np.arange(short.shape[1])
    lacking: Floats = np.maximum(short - made * there, 0.0)
    return lacking
