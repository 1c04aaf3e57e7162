"""Stock that nobody in the line needs before it can be bought or made again.

Looked at is the plan without routine spares and forecasts. Of an item, S(d) is what there is and
comes up to day d (stock, less what expires, and open orders), C(d) what airframes, grounded
aircraft, work in hand and lots begun need up to it. The item's reach is the number of days after
which anything taken today can be there again, ordered anew from the bottom of its structure: lead
and safety days along the longest chain below it, and below the item itself cover days as well, as
an order there may be begun sooner for needs that come later. What may be taken on day t without
anybody waiting is

    min over t <= d < t + reach of S(d) - C(d), less safety stock and what is promised already.

Needs after the reach are met by orders that this taking moves, and all of these are still in time.
"""

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

import polars as pl

from bomkit.planning.netting.flows import plan_flows
from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.netting.orders import planned_orders
from bomkit.planning.network import Network
from bomkit.planning.pegging.peg import RANKS, Pegged, peg
from bomkit.planning.structure.levels import longest_chains

FIRM = RANKS["airframe"]  # whoever ranks behind must not take from the line
Who = tuple[str, str, str]  # demand, kind, serial it is meant for
Need = tuple[int, float, Who]  # day, quantity


@dataclass(frozen=True)
class Harm:
    """Who would wait for how many days for an item that is taken."""

    demand: str
    kind: str
    day: int  # on which it is needed
    days: int


@dataclass
class Balance:
    """One key: S and the open orders in it by day, the line's needs in serving order, its days.

    promised: what has been taken and is no longer there; kept: day from which, and how much, for
    those who wait; handed: demands that have got theirs, and so need nothing any more.
    """

    supply: list[float]
    receipts: list[float]
    needs: list[Need]
    safety_stock: float
    reach: int
    anew: int  # days after which it can be there if it is ordered today
    promised: float = 0.0
    kept: list[tuple[int, float]] = field(default_factory=list)
    handed: set[Who] = field(default_factory=set)

    def free(self, own: Who) -> float:
        """What may be taken today by a demand."""
        return max(0.0, min(self._room(own)[: max(1, self.reach)]))

    def earliest(self, quantity: float, own: Who, fit: float) -> int:
        """The first day on which a quantity may be taken; at the latest as if ordered today.

        fit: how much of the stock there is the demand could have at all.
        """
        least = least_ahead(self._room(own), max(1, self.reach))
        enough = quantity * (1 - TOLERANCE)
        for day in range(min(self.anew, len(least))):
            if least[day] >= enough and fit + self.receipts[day] >= enough:
                return day
        return self.anew

    def comes(self, quantity: float, fit: float) -> int:
        """The first day on which there is as much, whoever needs it; at the latest as if ordered
        today."""
        for day in range(min(self.anew, len(self.supply))):
            if fit + self.receipts[day] >= quantity * (1 - TOLERANCE):
                return day
        return self.anew

    def harms(self, quantity: float, own: Who) -> Iterator[Harm]:
        """Whose needs would be left open if a quantity were taken today, the first ones first."""
        cumulative = 0.0
        for day, needed, who in self.needs:
            if who == own or who in self.handed or day >= self.anew:
                continue
            cumulative += needed
            left = self.supply[day] - self.promised - quantity
            if cumulative > left + cumulative * TOLERANCE:
                yield Harm(*who[:2], day, self._waits(cumulative + quantity, day))

    def _waits(self, wanted: float, day: int) -> int:
        """How many days a need of a day waits until so much has come, or is there anew."""
        for later in range(day, min(self.anew, len(self.supply))):
            if self.supply[later] - self.promised >= wanted * (1 - TOLERANCE):
                return later - day
        return self.anew - day

    def _room(self, own: Who) -> list[float]:
        """S - C by day, less safety stock and what is promised and kept."""
        change = [0.0] * len(self.supply)
        for day, quantity, who in self.needs:
            if who != own and who not in self.handed:
                change[day] += quantity
        for day, quantity in self.kept:
            if day < len(change):
                change[day] += quantity
        gone = self.safety_stock + self.promised
        room = []
        for supplied, needed in zip(self.supply, change, strict=True):
            gone += needed
            room.append(supplied - gone)
        return room


def least_ahead(values: list[float], window: int) -> list[float]:
    """For each place the least value from it on, over a window, in one pass from the end."""
    found = [0.0] * len(values)
    rising: deque[int] = deque()  # places ahead whose values rise, the least one last
    for place in range(len(values) - 1, -1, -1):
        while rising and values[rising[0]] >= values[place]:
            rising.popleft()
        rising.appendleft(place)
        if rising[-1] >= place + window:
            rising.pop()
        found[place] = values[rising[-1]]
    return found


def balances(network: Network, keys: set[int]) -> dict[int, Balance]:
    """The balance of each of some keys, in the plan without routine spares and forecasts."""
    firm = [kind for kind, rank in RANKS.items() if rank <= FIRM]
    line = replace(network, demands=network.demands.filter(pl.col("kind").is_in(firm)))
    flows = plan_flows(line)
    pegged = peg(line, flows, planned_orders(line, flows))
    wanted = pl.Series(sorted(keys), dtype=pl.Int64)
    supplied, received = _by_day(flows.supply, wanted), _by_day(flows.receipts, wanted)
    needs = _needs(pegged, wanted)
    nothing = [0.0] * network.axis.count
    about = {item: row for item, *row in _reaches(network).iter_rows()}
    return {
        key: Balance(
            supplied.get(key, nothing),
            received.get(key, nothing),
            needs.get(key, []),
            *about[key // network.serial_count],
        )
        for key in wanted
    }


def _by_day(flow: pl.DataFrame, keys: pl.Series) -> dict[int, list[float]]:
    """The running sums of a flow by day, for some keys."""
    days = [name for name in flow.columns if name != "key"]
    found = {}
    for key, *values in (
        flow.filter(pl.col("key").is_in(keys.implode())).select("key", *days).rows()
    ):
        total, sums = 0.0, []
        for value in values:
            total += value
            sums.append(total)
        found[key] = sums
    return found


def _needs(pegged: Pegged, keys: pl.Series) -> dict[int, list[Need]]:
    """The needs of some keys in serving order."""
    names: Mapping[int, Who] = {
        number: (demand, kind, whose)
        for number, demand, kind, whose in pegged.demands.select(
            "demand_id", "demand", "kind", "whose"
        ).iter_rows()
    }
    chosen = pegged.needs.filter(pl.col("key").is_in(keys.implode()))
    found: dict[int, list[Need]] = {}
    for key, day, quantity, demand in chosen.select(
        "key", "day", "quantity", "demand_id"
    ).iter_rows():
        found.setdefault(key, []).append((day, quantity, names[demand]))
    return found


def _reaches(network: Network) -> pl.DataFrame:
    """item_id, safety_stock, reach, anew of every item."""
    items = network.items
    links = network.lines.select(parent="parent_id", child="child_id")

    def chain(days: pl.Expr, name: str) -> pl.DataFrame:
        numbered = items.select(item="item_id", days=days, level="level")
        return (
            longest_chains(numbered, links).select("total", item_id="item").rename({"total": name})
        )

    early = network.lines.group_by(item_id="parent_id").agg(
        early=(-pl.col("offset")).clip(0).max()  # a component wanted before its order starts
    )
    items = items.join(early, on="item_id", how="left").with_columns(pl.col("early").fill_null(0))
    own = pl.col("lead") + pl.col("safety") + pl.col("early")
    return (
        items.select("item_id", "safety_stock", own_cover=pl.col("cover") - 1)
        .join(chain(own + pl.col("cover") - 1, "reach"), on="item_id")
        .join(chain(own, "anew"), on="item_id")
        .select("item_id", "safety_stock", pl.col("reach") - pl.col("own_cover"), "anew")
    )
