"""The opening position: what a shop that has run for years would have in stock and in work.

For each item, needs that come too early for a new order are covered: the earliest ones from stock,
the others by open orders. What an open order's structure takes late becomes its allocation.
"""

from dataclasses import dataclass, field
from datetime import date
from math import ceil
from random import Random

from sample_parts.model import Allocation, Item, OpenOrder, Sample
from sample_parts.planner import Daily, Shop, lot_size, plan_orders
from sample_parts.stores import stock_rows

OPEN_ORDER_PREFIX = {"make": "WO", "print": "PR", "buy": "PO", "kit": "KO"}
# What is left of items that another one replaces.
LEFT_OVER = {"0098415": 86.0, "HW154": 140.0}
# The workshop's own numbers of the first open orders.
FIRST_NUMBERS = {"WO": 4118, "PR": 2230, "PO": 7304, "KO": 310}

FIRM = ("KEST",)  # suppliers that allot what they make: days and quantities are fixed


@dataclass
class Opening:
    """Fills stock, open orders and allocations while the plan is worked out."""

    sample: Sample
    random: Random
    numbers: dict[str, int] = field(default_factory=lambda: dict(FIRST_NUMBERS))

    def supply_of(self, shop: Shop, code: str, serial: str, needs: Daily) -> Daily:
        """Create the rows of one item, and return what they supply by day."""
        item = self.sample.items[code]
        supply = [0.0] * len(needs)
        if code in LEFT_OVER:
            supply[0] = LEFT_OVER[code]
            self.sample.stock += stock_rows(item, supply[0], "", self.random)
        elif item.source != "phantom":
            self._cover(shop, item, serial, needs, supply)
        return supply

    def _cover(self, shop: Shop, item: Item, serial: str, needs: Daily, supply: Daily) -> None:
        """Cover all needs that a new order would be too late for."""
        reach = min((item.lead_days or 0) + (item.safety_days or 0), len(needs))
        early = [(day, need) for day, need in enumerate(needs[:reach]) if need]
        if serial:
            in_hand_until = 2
        else:
            share = self.random.uniform(0.3, 0.6) if item.source == "buy" else 0.2
            in_hand_until = ceil(reach * share)
        held = sum(need for day, need in early if day < in_hand_until)
        kept = self._rounded(item, held, serial, sum(needs))
        if kept:
            self.sample.stock += stock_rows(item, kept, serial, self.random)
            supply[0] += kept
        spare = kept - held - (item.safety_stock or 0)
        for day, need in _grouped(item, [row for row in early if row[0] >= in_hand_until]):
            wanted = need - spare
            spare = 0.0
            if wanted > 1e-9:
                spare = self._open(shop, item, serial, day, wanted, supply) - wanted
            else:
                spare = -wanted

    def _rounded(self, item: Item, held: float, serial: str, all_needs: float) -> float:
        """A stock that covers what is held, the safety stock and a natural rest."""
        if serial:
            return held
        kept = held + (item.safety_stock or 0.0)
        if item.source == "buy" and item.cover_days:
            kept += all_needs * self.random.uniform(0.02, 0.09)
        elif item.source in ("make", "print") and (item.cover_days or self.random.random() < 0.3):
            kept += self.random.choice((0, 1, 1, 2)) if item.process != "bond" else 0
        if item.unit == "pc":
            return float(ceil(kept - 1e-9))
        return ceil(kept * 10 - 1e-6) / 10

    def _open(
        self, shop: Shop, item: Item, serial: str, day: int, wanted: float, supply: Daily
    ) -> float:
        """Add an open order due in time for a need; its expected good quantity."""
        share = shop.good_share(item)
        quantity = lot_size(item, wanted / share)
        earlier = self.random.choice((0, 0, 0, 1, 2)) if not serial else 0
        due = max(1, day - (item.safety_days or 0) - earlier)
        prefix = OPEN_ORDER_PREFIX[item.source]
        self.numbers[prefix] += self.random.choice((1, 1, 1, 2))
        number = f"{prefix}-{self.numbers[prefix]}"
        self.sample.open_orders.append(
            OpenOrder(
                number,
                item.item,
                quantity,
                shop.days[due],
                serial,
                item.supplier,
                hours_left=_hours_left(item, due),
                firm="yes" if item.supplier in FIRM else "",
            )
        )
        supply[due] += quantity * share
        self._allocate(shop, number, item, serial, due, quantity)
        return quantity * share

    def _allocate(
        self, shop: Shop, number: str, item: Item, serial: str, due: int, quantity: float
    ) -> None:
        """Add as allocations what an open order takes only after the plan's start."""
        start = due - (item.lead_days or 0)
        for line in shop.active_lines(item.item, serial, max(0, start)):
            day = min(start + (line.offset_days or 0), due)
            if start >= 0 or day < 1 or line.per == "order":
                continue
            lacking = round(shop.quantity_of(line, quantity), 4)
            of = serial if line.child in shop.specific else ""
            self.sample.allocations.append(
                Allocation(number, line.child, lacking, shop.days[day], of)
            )
            shop.add_need(line.child, serial, day, lacking)


def _grouped(item: Item, early: list[tuple[int, float]]) -> list[tuple[int, float]]:
    """Needs that one open order serves: those of a cover period, else those of one day."""
    groups: list[tuple[int, float]] = []
    for day, need in early:
        if groups and day < groups[-1][0] + (item.cover_days or 1):
            groups[-1] = (groups[-1][0], groups[-1][1] + need)
        else:
            groups.append((day, need))
    return groups


def add_opening(sample: Sample, random: Random) -> None:
    """Fill stock, open orders and allocations so that nothing is late to begin with."""
    opening = Opening(sample, random)
    plan_orders(Shop(sample), opening.supply_of)
    sample.open_orders.sort(key=_by_due_date)
    sample.stock.sort(key=lambda row: (row.location, row.item, row.lot))


def _by_due_date(order: OpenOrder) -> tuple[date, str]:
    """The order in which open orders are listed."""
    return order.due_date, order.order


def _hours_left(item: Item, due: int) -> float | None:
    """What is left to do on an airframe in final assembly; of all else everything counts."""
    if item.process != "final-assembly":
        return None
    return round((item.hours_each or 0.0) * min(1.0, due / item.lead_days))
