"""Stock that nobody in the line needs before it can be bought or made again.

Of an item, S(d) is what there is and comes up to day d (stock, less what expires, and open orders),
C(d) what airframes, grounded aircraft, work in hand and lots begun need up to it. Its reach is the
number of days after which anything taken today can be there again, ordered anew from the bottom of
its structure: lead and safety days along the longest chain below it, and below the item itself
cover days as well, as an order there may be begun sooner for needs that come later. What may be
taken on day t without anybody waiting is

    min over t <= d < t + reach of S(d) - C(d), less safety stock and what is promised already.

Needs after the reach are met by orders that this taking moves, and all of these are still in time.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import polars as pl

from bomkit.planning.levels import longest_chains
from bomkit.planning.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.planning.peg import RANKS, Pegged
from bomkit.planning.plan import Flows

FIRM = max(RANKS["airframe"], RANKS["grounded"])  # what routine orders must not take from
Need = tuple[int, float, int]  # day, quantity, demand_id


@dataclass(frozen=True)
class Harm:
    """Who would wait for how many days for an item that is taken."""

    demand_id: int
    day: int  # on which it is needed
    days: int


@dataclass
class Balance:
    """One key: S by day, the needs of the line in serving order, its days; and what is promised."""

    supply: list[float]
    needs: list[Need]
    safety_stock: float
    reach: int
    anew: int  # days after which it can be there if it is ordered today
    promised: float = 0.0

    def free(self, day: int, without: int) -> float:
        """What may be taken on a day; without: number of the demand that takes it."""
        needed = self.needed(without)
        last = min(len(self.supply), day + self.reach)
        if day >= last:
            return 0.0
        least = min(self.supply[d] - needed[d] for d in range(day, last))
        return max(0.0, least - self.safety_stock - self.promised)

    def earliest(self, quantity: float, without: int) -> int:
        """The first day on which a quantity may be taken; at the latest as if ordered today."""
        for day in range(min(self.anew, len(self.supply))):
            if self.free(day, without) >= quantity * (1 - TOLERANCE):
                return day
        return self.anew

    def comes(self, quantity: float) -> int:
        """The first day on which there is as much, whoever needs it; at the latest as if ordered
        today."""
        for day in range(min(self.anew, len(self.supply))):
            if self.supply[day] - self.promised >= quantity * (1 - TOLERANCE):
                return day
        return self.anew

    def harms(self, quantity: float, without: int) -> Iterator[Harm]:
        """Whose needs would be left open if a quantity were taken today, the first ones first."""
        cumulative = 0.0
        for day, needed, demand in self.needs:
            if demand == without or day >= self.anew:
                continue
            cumulative += needed
            left = self.supply[day] - self.promised - quantity
            if cumulative > left + abs(cumulative) * TOLERANCE:
                yield Harm(demand, day, self._waits(cumulative + quantity, day))

    def _waits(self, wanted: float, day: int) -> int:
        """How many days a need of a day waits until so much has come, or is there anew."""
        for later in range(day, len(self.supply)):
            if later >= self.anew:
                break
            if self.supply[later] - self.promised >= wanted * (1 - TOLERANCE):
                return later - day
        return self.anew - day

    def needed(self, without: int) -> list[float]:
        """C by day."""
        by_day = [0.0] * len(self.supply)
        for day, quantity, demand in self.needs:
            if demand != without:
                by_day[day] += quantity
        total = 0.0
        for day, quantity in enumerate(by_day):
            total += quantity
            by_day[day] = total
        return by_day


def balances(network: Network, flows: Flows, pegged: Pegged, keys: list[int]) -> dict[int, Balance]:
    """The balance of each of some keys."""
    wanted = pl.Series(sorted(set(keys)), dtype=pl.Int64)
    days = [str(day) for day in range(network.axis.count)]
    supplied = {
        key: _running(list(by_day))
        for key, *by_day in flows.supply.filter(pl.col("key").is_in(wanted.implode()))
        .select("key", *days)
        .iter_rows()
    }
    needs = _firm_needs(pegged, wanted)
    count = network.serial_count
    about = {
        item_id: row
        for item_id, *row in _reaches(network)
        .filter(pl.col("item_id").is_in((wanted // count).unique().implode()))
        .iter_rows()
    }
    return {
        key: Balance(supplied.get(key, [0.0] * len(days)), needs.get(key, []), *about[key // count])
        for key in wanted
    }


def _running(values: list[float]) -> list[float]:
    """The running sum."""
    total, sums = 0.0, []
    for value in values:
        total += value
        sums.append(total)
    return sums


def _firm_needs(pegged: Pegged, keys: pl.Series) -> dict[int, list[Need]]:
    """The needs that routine orders must not take from, in serving order, by key.

    What is for stock counts as firm: it belongs to lots that the line has begun.
    """
    firm = pegged.demands.filter((pl.col("rank") <= FIRM) | (pl.col("kind") == "stock"))
    chosen = pegged.needs.filter(pl.col("key").is_in(keys.implode())).join(
        firm.select("demand_id"), on="demand_id", how="semi", maintain_order="left"
    )
    found: dict[int, list[Need]] = {}
    for key, day, quantity, demand in chosen.select(
        "key", "day", "quantity", "demand_id"
    ).iter_rows():
        found.setdefault(key, []).append((day, quantity, demand))
    return found


def _reaches(network: Network) -> pl.DataFrame:
    """item_id, safety_stock, reach, anew of every item."""
    items = network.items
    links = network.lines.select(parent="parent_id", child="child_id")

    def chain(days: pl.Expr, name: str) -> pl.DataFrame:
        numbered = items.select(item="item_id", days=days, level="level")
        return (
            longest_chains(numbered, links)
            .select(item_id="item", total="total")
            .rename({"total": name})
        )

    own = pl.col("lead") + pl.col("safety")
    return (
        items.select("item_id", "safety_stock")
        .join(chain(own + pl.col("cover") - 1, "reach"), on="item_id")
        .join(chain(own, "anew"), on="item_id")
        .join(items.select("item_id", own_cover=pl.col("cover") - 1), on="item_id")
        .select("item_id", "safety_stock", pl.col("reach") - pl.col("own_cover"), "anew")
    )
