"""Which resource gives way first as the rate rises, at what rate, and what one more of it buys."""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import count

import numpy as np
import polars as pl

from bomkit.planning.levelling.resources import Resource, Resources, shop_resources
from bomkit.planning.netting.netted_plan import Flows, plan_flows
from bomkit.planning.rates.rates import Window, stretched
from bomkit.planning.tables_as_numbers.network import Skeleton, fleshed_out, skeleton_of
from bomkit.tables.schema import Tables
from bomkit.units import TOLERANCE
from bomkit.words.progress import Tell

EXACTNESS = 0.05  # airframes a month
HIGHEST = 64.0  # airframes a month; beyond it nothing is looked for
HOURS_OF_ONE_MORE = 40.0  # what one more pair of hands gives a process in a week
_MOST_GUESSES = 6  # three are common; after these each try halves what is left


@dataclass(frozen=True)
class Limit:
    """The highest rate that fits, to within EXACTNESS, and what gives way just above it.

    resource: None where nothing gives way up to HIGHEST. share: of its capacity that the rate just
    above takes on average.
    """

    per_month: float
    resource: Resource | None
    share: float = 0.0


@dataclass(frozen=True)
class RateLimit:
    """The limit, and the limit with one more of what gives way (None where nothing does)."""

    first: Limit
    one_more: Limit | None
    added: str = ""  # what one more is


class Loads:
    """The average load of every resource at any rate; each rate is planned once."""

    def __init__(self, tables: Tables, window: Window, tell: Tell) -> None:
        """Plans nothing yet."""
        self.tables, self.window, self.tell = tables, window, tell
        self.known: dict[float, dict[str, float]] = {}

    @cached_property
    def _skeleton(self) -> Skeleton:
        """What the networks of all rates share."""
        return skeleton_of(stretched(self.tables, 1.0, self.window))

    @cached_property
    def _resources(self) -> Resources:
        """The resources, with what there is of each at any rate."""
        return shop_resources(self._skeleton, self.tables)

    def at(self, per_month: float) -> dict[str, float]:
        """By the name of each resource what is asked of it in an average week."""
        if per_month not in self.known:
            self.tell(f"planning {per_month:.2f} a month")
            at_rate = stretched(self.tables, per_month, self.window)
            flows = plan_flows(fleshed_out(self._skeleton, at_rate))
            self.known[per_month] = _asked(flows, self._resources, self.window)
        return self.known[per_month]

    def there(self, tables: Tables) -> dict[str, tuple[Resource, float]]:
        """By the key of each resource what there is of it in an average week of the window.

        tables: the same, maybe with more in the shops.
        """
        resources = shop_resources(self._skeleton, tables)
        weights = self.window.weights
        return {
            resource.key: (resource, _averaged(by_week, weights))
            for resource, by_week in zip(resources.all, resources.capacity, strict=True)
        }


def rate_limit(tables: Tables, window: Window, tell: Tell) -> RateLimit:
    """The rate at which the first resource gives way, and how far one more of it would carry.

    A resource gives way where its average load over the steady weeks is above its average
    capacity: no levelling helps then. Found by trying rates, with a whole plan for each.
    """
    loads = Loads(tables, window, tell)
    first = find_limit(loads.at, loads.there(tables))
    if first.resource is None:
        return RateLimit(first, None)
    more, added = with_one_more(tables, first.resource)
    further = find_limit(loads.at, loads.there(more), first.per_month)
    return RateLimit(first, further, added)


def find_limit(
    loads_at: Callable[[float], Mapping[str, float]],
    capacities: Mapping[str, tuple[Resource, float]],
    fits: float = 0.0,
) -> Limit:
    """The highest rate at which no load is above its capacity.

    loads_at: loads by name at a rate, growing with it; fits: a rate that is known to fit.
    Loads grow nearly as the rate does, so each rate that is tried is the one at which what was
    fullest at the last one would be full; where that leads on for too long, the middle one.
    """

    rates = _rates_looked_at(fits)
    low, high = 0, len(rates)  # the places of a rate that fits and of one that does not
    rate = fits or 1.0
    for tries in count():
        share, _ = _fullest(loads_at(rate), capacities)
        place = bisect_left(rates, rate)
        fitting = place == 0 or share <= 1 + TOLERANCE
        low, high = (place, high) if fitting else (low, place)
        if high - low == 1:
            break
        guess = rate / share if share > 0 else HIGHEST
        rate = rates[_next_tried(rates, low, high, guess if tries < _MOST_GUESSES else None)]
    if high == len(rates):
        return Limit(rates[low], None)
    share, name = _fullest(loads_at(rates[high]), capacities)
    return Limit(rates[low], capacities[name][0], share)


def _fullest(
    loads: Mapping[str, float], capacities: Mapping[str, tuple[Resource, float]]
) -> tuple[float, str]:
    """The greatest share of its capacity that any resource takes, and the name of that one."""
    shares = [
        (_share(loads.get(name, 0.0), capacity), name) for name, (_, capacity) in capacities.items()
    ]
    return max(shares, default=(0.0, ""))


def _rates_looked_at(fits: float) -> list[float]:
    """The rates among which the limit is looked for, ascending, from one that fits on: doubled up
    to the highest, and what is between halved until neighbours are within EXACTNESS."""
    rates, low, high = [fits], fits, max(1.0, 1.25 * fits)
    while low < HIGHEST:
        parts = 2 ** max(0, math.ceil(math.log2((high - low) / EXACTNESS)))
        rates += [low + (high - low) * part / parts for part in range(1, parts + 1)]
        low, high = high, min(2 * high, HIGHEST)
    return rates


def _next_tried(rates: Sequence[float], low: int, high: int, guess: float | None) -> int:
    """The place of the rate to try next, between one that fits and one that does not.

    guess: about the limit; where it falls next to a known rate, the one beside that is tried.
    """
    if guess is None:
        return (low + high) // 2
    return min(max(bisect_right(rates, guess) - 1, low + 1), high - 1)


def _share(load: float, capacity: float) -> float:
    """What a load takes of a capacity; what there is nothing of can't take anything."""
    if capacity > 0:
        return load / capacity
    return float("inf") if load > 0 else 0.0


def with_one_more(tables: Tables, resource: Resource) -> tuple[dict[str, pl.DataFrame], str]:
    """The tables with one more printer or mould, or 40 hours more a week, and what that is."""
    if resource.kind == "printer":
        own = pl.col("kind").is_in(list(resource.members))
        kind = tables["printers"].filter(own).sort("hours_per_week", "kind")["kind"][-1]
        more = _counted_up(tables["printers"], pl.col("kind") == kind)
        return {**tables, "printers": more}, kind
    if resource.kind == "mould":
        moulds = tables["moulds"].filter(pl.col("item") == resource.name)
        mould = moulds.sort("pulls_per_week", "mould")["mould"][-1]
        more = _counted_up(tables["moulds"], pl.col("mould") == mould)
        return {**tables, "moulds": more}, mould
    hours = pl.when(pl.col("process") == resource.name).then(HOURS_OF_ONE_MORE).otherwise(0.0)
    more = tables["processes"].with_columns(pl.col("hours_per_week") + hours)
    return {**tables, "processes": more}, resource.name


def _counted_up(rows: pl.DataFrame, chosen: pl.Expr) -> pl.DataFrame:
    return rows.with_columns(count=pl.col("count") + chosen.cast(pl.Int64))


def _asked(flows: Flows, resources: Resources, window: Window) -> dict[str, float]:
    """By the key of each resource what the orders that start in an average week ask of it."""
    weights = window.weights
    of_day = np.array([weights[week] for week in resources.week_of])
    using = np.zeros(len(flows.structure.rules.good), np.bool_)
    using[np.flatnonzero(np.isin(flows.structure.item_id, list(resources.uses)))] = True
    rows = np.flatnonzero(using)
    row, usable = np.nonzero(flows.quantities.starts[rows])
    start = np.maximum(0, usable - flows.structure.rules.ahead[rows][row])
    quantity = flows.quantities.starts[rows[row], usable]
    item = flows.structure.item_id[rows][row]
    units = np.bincount(item, quantity * of_day[start]).tolist()
    orders = np.bincount(item, of_day[start]).tolist()
    asked: dict[str, float] = {}
    for number, own in sorted(resources.uses.items()):
        if number < len(orders) and orders[number] > 0:
            for use in own:
                key = resources.all[use.resource].key
                taken = use.each * units[number] + use.once * orders[number]
                asked[key] = asked.get(key, 0.0) + taken
    return asked


def _averaged(by_week: Sequence[float], weights: Sequence[float]) -> float:
    """The average of what there is in each week."""
    return sum(each * weight for each, weight in zip(by_week, weights, strict=False))
