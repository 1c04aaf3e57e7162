"""Which resource gives way first as the rate rises, at what rate, and what one more of it buys."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import polars as pl

from bomkit.planning.levelling.resources import Resource, Resources, shop_resources
from bomkit.planning.netting.flows import plan_flows
from bomkit.planning.netting.orders import planned_orders
from bomkit.planning.network import build_network
from bomkit.planning.numbers.keys import Keys
from bomkit.planning.rates.rates import Tell, Window, stretched
from bomkit.planning.tolerance import TOLERANCE
from bomkit.tables.schema import Tables

EXACTNESS = 0.05  # airframes a month
HIGHEST = 64.0  # airframes a month; beyond it nothing is looked for
HOURS_OF_ONE_MORE = 40.0  # what one more pair of hands gives a process in a week


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

    def at(self, per_month: float) -> dict[str, float]:
        """By the name of each resource what is asked of it in an average week."""
        if per_month not in self.known:
            self.tell(f"planning {per_month:.2f} a month")
            at_rate = stretched(self.tables, per_month, self.window)
            network = build_network(at_rate)
            orders = planned_orders(network, plan_flows(network))
            resources = shop_resources(network, at_rate)
            self.known[per_month] = _asked(orders, resources, self.window, network.keys)
        return self.known[per_month]


def rate_limit(tables: Tables, window: Window, tell: Tell) -> RateLimit:
    """The rate at which the first resource gives way, and how far one more of it would carry.

    A resource gives way where its average load over the steady weeks is above its average
    capacity: no levelling helps then. Found by bisection over whole plans.
    """
    loads = Loads(tables, window, tell)
    first = find_limit(loads.at, capacities(tables, window))
    if first.resource is None:
        return RateLimit(first, None)
    more, added = with_one_more(tables, first.resource)
    further = find_limit(loads.at, capacities(more, window), first.per_month)
    return RateLimit(first, further, added)


def find_limit(
    loads_at: Callable[[float], Mapping[str, float]],
    capacities: Mapping[str, tuple[Resource, float]],
    fits: float = 0.0,
) -> Limit:
    """The highest rate at which no load is above its capacity, by bisection.

    loads_at: loads by name at a rate, growing with it; fits: a rate that is known to fit.
    """

    def fullest(rate: float) -> tuple[float, str]:
        loads = loads_at(rate)
        shares = [
            (_share(loads.get(name, 0.0), capacity), name)
            for name, (_, capacity) in capacities.items()
        ]
        return max(shares, default=(0.0, ""))

    low, high = fits, max(1.0, 1.25 * fits)
    while fullest(high)[0] <= 1 + TOLERANCE:
        if high >= HIGHEST:
            return Limit(high, None)
        low, high = high, min(2 * high, HIGHEST)
    while high - low > EXACTNESS:
        middle = (low + high) / 2
        if fullest(middle)[0] <= 1 + TOLERANCE:
            low = middle
        else:
            high = middle
    share, name = fullest(high)
    return Limit(low, capacities[name][0], share)


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


def capacities(tables: Tables, window: Window) -> dict[str, tuple[Resource, float]]:
    """By the key of each resource what there is of it in an average week of the window."""
    network = build_network(stretched(tables, 1.0, window))
    resources = shop_resources(network, tables)
    return {
        resource.key: (resource, _averaged(by_week, window.weights))
        for resource, by_week in zip(resources.all, resources.capacity, strict=True)
    }


def _asked(
    orders: pl.DataFrame, resources: Resources, window: Window, keys: Keys
) -> dict[str, float]:
    """By the key of each resource what the orders that start in an average week ask of it."""
    uses = pl.DataFrame(
        [
            (item, use.resource, use.each, use.once)
            for item, own in sorted(resources.uses.items())
            for use in own
        ],
        schema={
            "item_id": pl.Int64,
            "resource": pl.Int64,
            "each": pl.Float64,
            "once": pl.Float64,
        },
        orient="row",
    )
    weights = pl.DataFrame(
        {"start": range(len(resources.week_of))}, schema={"start": pl.Int64}
    ).with_columns(weight=pl.Series([window.weights[week] for week in resources.week_of]))
    taken = pl.col("each") * pl.col("quantity") + pl.col("once")
    asked = (
        orders.select("quantity", "start", item_id=keys.item(pl.col("key")))
        .join(weights.filter(pl.col("weight") > 0), on="start")
        .join(uses, on="item_id")
        .group_by("resource")
        .agg(asked=(taken * pl.col("weight")).sort().sum())
    )
    return {resources.all[number].key: each for number, each in asked.iter_rows()}


def _averaged(by_week: Sequence[float], weights: Sequence[float]) -> float:
    """The average of what there is in each week."""
    return sum(each * weight for each, weight in zip(by_week, weights, strict=False))
