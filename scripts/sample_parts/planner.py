"""A small planner in plain Python: it tells which stock and open orders a running shop would have.

It follows the planning rules of the project (netting with scrap, lots and cover; explosion with
waste, offsets and effectivity), one item after the other from the top of the structure down.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from bomkit.planning.structure.options_and_serials import CONDITIONS, fits, option_names
from bomkit.units import UNITS
from sample_parts.frames import levels, serial_specific
from sample_parts.model import Item, Line, Sample
from sample_parts.plan import HORIZON_WEEKS, START

Key = tuple[str, str]  # item, serial ("" for a common item)
Daily = list[float]  # a quantity for each working day
TOLERANCE = 1e-9


@dataclass(frozen=True)
class Planned:
    """One planned order, by working days."""

    item: str
    serial: str
    start: int
    due: int
    quantity: float
    late_days: int


class Shop:
    """A sample's structure and calendar, made ready for planning."""

    def __init__(self, sample: Sample) -> None:
        """Work out levels, working days, scrap rates and each serial's options."""
        self.sample = sample
        closed = {day.date for day in sample.calendar}
        every = [START + timedelta(days=number) for number in range(7 * HORIZON_WEEKS)]
        self.days = [day for day in every if day.weekday() < 5 and day not in closed]
        self.level = levels(sample)
        self.specific = serial_specific(sample)
        self.options = {
            row.serial: option_names(row.options) for row in (*sample.fleet, *sample.build_plan)
        }
        self.scrap = {process.process: process.scrap_rate for process in sample.processes}
        self.successor = {row.old: row.new for row in sample.replacements}
        self.needs: dict[Key, Daily] = {}

    def need_day(self, day: date) -> int:
        """The last working day up to a date; day 0 if that is past."""
        return max(0, bisect_right(self.days, day) - 1)

    def receipt_day(self, day: date) -> int:
        """The first working day from a date on."""
        return bisect_left(self.days, day)

    def good_share(self, item: Item) -> float:
        """Share of what is started that is expected good."""
        own = item.scrap_rate
        return 1 - (self.scrap.get(item.process, 0.0) if own is None else own)

    def add_need(self, item: str, serial: str, day: int, quantity: float) -> None:
        """Add a gross requirement."""
        key = (item, serial if item in self.specific else "")
        self.needs.setdefault(key, [0.0] * len(self.days))[day] += quantity

    def quantity_of(self, line: Line, started: float) -> float:
        """What one order asks of a line's child, in the child's unit."""
        own = self.sample.items[line.child].unit
        factor = UNITS[line.unit or own][1] / UNITS[own][1]
        each = 1.0 if line.per == "order" else started
        return each * line.quantity * factor / (1 - (line.waste or 0.0))

    def active_lines(self, item: str, serial: str, start: int) -> list[Line]:
        """The lines that an order of the item has when it starts on that day."""
        day = self.days[start]
        return [
            line
            for line in self.sample.lines_of.get(item, [])
            if (not line.from_date or line.from_date <= day)
            and (not line.to_date or line.to_date >= day)
            and self._fitted(line, serial)
        ]

    def _fitted(self, line: Line, serial: str) -> bool:
        """Whether a serial number has the line, by its options and its number."""
        condition = tuple(getattr(line, name) for name in CONDITIONS)
        return not any(condition) or fits(condition, serial, self.options[serial])


Supplying = Callable[[Shop, str, str, Daily], Daily]


def plan_orders(shop: Shop, supply_of: Supplying) -> list[Planned]:
    """All planned orders, level by level, with the supply that `supply_of` finds for each item."""
    _add_outside_needs(shop)
    planned: list[Planned] = []
    for code in sorted(shop.sample.items, key=lambda code: (shop.level[code], code)):
        item = shop.sample.items[code]
        if item.safety_stock or any(row.item == code for row in shop.sample.stock):
            shop.needs.setdefault((code, ""), [0.0] * len(shop.days))
        for _, serial in sorted(key for key in shop.needs if key[0] == code):
            needs = shop.needs[code, serial]
            supply = supply_of(shop, code, serial, needs)
            if item.source == "phantom" or code in shop.successor:
                _pass_on(shop, item, serial, _uncovered(needs, supply))
            else:
                planned += _ordered(shop, item, serial, needs, supply)
    return planned


def _add_outside_needs(shop: Shop) -> None:
    """Add what the build plan, spares orders and existing allocations ask for."""
    shop.needs.clear()
    sample = shop.sample
    for airframe in sample.build_plan:
        shop.add_need(airframe.item, airframe.serial, shop.need_day(airframe.ready_date), 1)
    for row in (*sample.spares_orders, *sample.allocations):
        shop.add_need(row.item, row.serial, shop.need_day(row.need_date), row.quantity)


def _uncovered(needs: Daily, supply: Daily) -> Daily:
    """What supply leaves uncovered of each day's needs, carried forward."""
    left, lacking, given = [], 0.0, 0.0
    for need, receipt in zip(needs, supply, strict=True):
        lacking += need - receipt
        left.append(max(0.0, lacking - given))
        given += left[-1]
    return left


def _pass_on(shop: Shop, item: Item, serial: str, left: Daily) -> None:
    """Ask the successor of a replaced item, or the children of a phantom, on the same day."""
    for day, quantity in enumerate(left):
        if not quantity:
            continue
        if item.item in shop.successor:
            shop.add_need(shop.successor[item.item], serial, day, quantity)
            continue
        for line in shop.active_lines(item.item, serial, day):
            shop.add_need(line.child, serial, day, shop.quantity_of(line, quantity))


def _ordered(shop: Shop, item: Item, serial: str, needs: Daily, supply: Daily) -> list[Planned]:
    """Net one item, and explode the orders that are planned for it."""
    orders = []
    lead, safety = item.lead_days or 0, item.safety_days or 0
    for day, started in _net(shop, item, needs, supply):
        start = max(0, day - safety - lead)
        late = max(0, lead + safety - day)
        due = max(0, day - safety)
        orders.append(Planned(item.item, serial, start, due, started, late))
        for line in shop.active_lines(item.item, serial, start):
            need = max(0, min(start + (line.offset_days or 0), due))
            shop.add_need(line.child, serial, need, shop.quantity_of(line, started))
    return orders


def _net(shop: Shop, item: Item, needs: Daily, supply: Daily) -> list[tuple[int, float]]:
    """The day each order is to be usable, and the quantity started."""
    lacking, level = [], item.safety_stock or 0.0
    for need, receipt in zip(needs, supply, strict=True):
        level += need - receipt
        lacking.append(level)
    share, planned, orders = shop.good_share(item), 0.0, []
    cover = max(1, min(item.cover_days or 1, item.longest_cover_days or len(needs)))
    for day, short in enumerate(lacking):
        if short <= planned + TOLERANCE * max(1.0, abs(planned)):
            continue
        started = lot_size(item, (max(lacking[day : day + cover]) - planned) / share)
        planned += started * share
        orders.append((day, started))
    return orders


def lot_size(item: Item, wanted: float) -> float:
    """A wanted quantity raised to the minimum and rounded up to the multiple and whole pieces."""
    quantity = max(wanted, item.minimum or 0.0)
    if item.multiple:
        quantity = ceil(quantity / item.multiple - TOLERANCE) * item.multiple
    return float(ceil(quantity - TOLERANCE)) if item.unit == "pc" else quantity
