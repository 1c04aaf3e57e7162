"""A slow and obvious planner: the planning rules, day by day and item by item, in plain Python.

It exists to judge the real planner, so it shares nothing with it. Docstrings quote the rule that
a function implements. Days are numbered on the axis of working days; day 0 is the first.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import NamedTuple

from tests.random_tables import Row, Tables, serial_specific_items

TOLERANCE = 1e-9

# unit -> (dimension, how many of the dimension's base unit one of it is)
UNITS: dict[str, tuple[str, float]] = {
    "pc": ("count", 1.0),
    "mm": ("length", 1.0),
    "cm": ("length", 10.0),
    "m": ("length", 1000.0),
    "m2": ("area", 1.0),
    "g": ("mass", 1.0),
    "kg": ("mass", 1000.0),
    "ml": ("volume", 1.0),
    "l": ("volume", 1000.0),
}


@dataclass(frozen=True)
class NaiveOrder:
    """One planned order; `quantity` is what is started, `expected_good` what should come of it."""

    item: str
    serial: str
    start_date: date
    due_date: date
    quantity: float
    expected_good: float
    late_days: int
    source: str


class NaiveWeek(NamedTuple):
    """What one item (of one serial, if serial-specific) sees in one ISO week."""

    item: str
    serial: str
    week: str
    gross: float
    receipts: float
    planned: float
    projected: float


# ---------------------------------------------------------------- cells


def text_in(row: Row, column: str, default: str = "") -> str:
    """Return the text of a cell; "empty cells mean the default"."""
    value = row.get(column)
    return default if value is None or value == "" else str(value)


def number_in(row: Row, column: str, default: float = 0.0) -> float:
    """Return the number of a cell; "empty cells mean the default"."""
    value = row.get(column)
    if value is None:
        return default
    if not isinstance(value, int | float):
        raise TypeError(f"{column} must be a number, not {value!r}")
    return float(value)


def whole_in(row: Row, column: str, default: int = 0) -> int:
    """Return the whole number of a cell, such as a count of days."""
    return int(number_in(row, column, default))


def date_in(row: Row, column: str) -> date | None:
    """Return the date of a cell, or None if the cell is empty."""
    value = row.get(column)
    if value is None or isinstance(value, date):
        return value
    raise TypeError(f"{column} must be a date, not {value!r}")


def required_date_in(row: Row, column: str) -> date:
    """Return the date of a cell that must not be empty."""
    value = date_in(row, column)
    if value is None:
        raise ValueError(f"{column} must have a date")
    return value


def names_in(row: Row, column: str) -> set[str]:
    """Return the names in a cell, separated by spaces, commas or semicolons."""
    return {name for name in re.split(r"[ ,;]+", text_in(row, column)) if name}


# ---------------------------------------------------------------- time


@dataclass(frozen=True)
class Axis:
    """The working days of the plan, and the first calendar day past its horizon."""

    days: tuple[date, ...]
    end: date

    def need_day(self, on: date) -> int | None:
        """Return the day of a need, None past the horizon.

        "A need on a non-working day moves to the last working day before it. What was needed
        before day 0 counts on day 0. What lies past the horizon is left out."
        """
        if on >= self.end:
            return None
        not_after = [number for number, day in enumerate(self.days) if day <= on]
        return not_after[-1] if not_after else 0

    def receipt_day(self, on: date) -> int | None:
        """Return the day of a receipt, None past the horizon.

        "A receipt moves to the first working day after it; due before day 0 counts on day 0."
        """
        if on >= self.end:
            return None
        not_before = [number for number, day in enumerate(self.days) if day >= on]
        return not_before[0] if not_before else None

    def last_usable_day(self, expires: date) -> int | None:
        """Return the last day of an expiring lot, None if it has expired by day 0.

        "Stock that expires on day e (on the last working day up to it)"; an expiry past the
        axis gives the last day, after which nothing can be lost.
        """
        not_after = [number for number, day in enumerate(self.days) if day <= expires]
        return not_after[-1] if not_after else None

    def numbers(self) -> range:
        """Return the numbers of the days: 0, 1, 2, ..."""
        return range(len(self.days))


def working_days(tables: Tables) -> Axis:
    """Return the axis of a plan.

    "Monday to Friday from `start` for `horizon_weeks` calendar weeks, less the closed days of
    `calendar`"; "`open`: yes makes a Saturday or Sunday a working day".
    """
    plan = tables["plan"][0]
    start = required_date_in(plan, "start")
    end = start + timedelta(days=7 * whole_in(plan, "horizon_weeks"))
    opens = {
        date_in(row, "date"): text_in(row, "open") == "yes" for row in tables.get("calendar", [])
    }
    days = []
    day = start
    while day < end:
        if opens.get(day, day.isoweekday() <= 5):
            days.append(day)
        day += timedelta(days=1)
    return Axis(tuple(days), end)


def week_name(day: date) -> str:
    """Return the ISO 8601 week of a day, "by the ISO week-year", such as 2026-W49."""
    year, week, _ = day.isocalendar()
    return f"{year}-W{week:02d}"


# ---------------------------------------------------------------- comparing and rounding


def exceeds(left: float, right: float, magnitude: float) -> bool:
    """Tell whether left > right; "comparisons use a relative tolerance of 1e-9"."""
    return left - right > TOLERANCE * magnitude


def round_up(quantity: float, step: float) -> float:
    """Round up to a multiple of `step`, forgiving a relative error of 1e-9."""
    steps = quantity / step
    nearest = round(steps)
    if nearest >= 1 and abs(steps - nearest) <= TOLERANCE * steps:
        return nearest * step
    return math.ceil(steps) * step


def started_quantity(item: Row, wanted: float, good_rate: float) -> float:
    """Return what must be started to get the wanted good quantity.

    "Started quantity = wanted / y, raised to `minimum`, then rounded up to a multiple of
    `multiple`; items counted in `pc` always to whole pieces."
    """
    started = max(wanted / good_rate, number_in(item, "minimum"))
    multiple = number_in(item, "multiple")
    if multiple > 0:
        started = round_up(started, multiple)
    if text_in(item, "unit") == "pc":
        started = round_up(started, 1.0)
    return started


def converted(quantity: float, from_unit: str, to_unit: str) -> float:
    """Convert between units of one dimension."""
    from_dimension, from_factor = UNITS[from_unit]
    to_dimension, to_factor = UNITS[to_unit]
    if from_dimension != to_dimension:
        raise ValueError(f"{from_unit} cannot be converted to {to_unit}")
    return quantity * from_factor / to_factor


def running_total(quantities: list[float]) -> list[float]:
    """Return the cumulative sums."""
    totals = []
    total = 0.0
    for quantity in quantities:
        total += quantity
        totals.append(total)
    return totals


# ---------------------------------------------------------------- structure


def levels(tables: Tables) -> dict[str, int]:
    """Return the low-level code of each item.

    "Its longest distance from the top, along structure lines and replacements; a loop is an
    error."
    """
    edges = [
        (text_in(line, "parent"), text_in(line, "child")) for line in tables.get("structure", [])
    ]
    edges += [(text_in(row, "old"), text_in(row, "new")) for row in tables.get("replacements", [])]
    level = {text_in(item, "item"): 0 for item in tables["items"]}
    for _ in range(len(level) + 1):
        changed = False
        for above, below in edges:
            if level[below] < level[above] + 1:
                level[below] = level[above] + 1
                changed = True
        if not changed:
            return level
    raise ValueError("the structure has a loop")


def split_serial(serial: str) -> tuple[str, int] | None:
    """Split a serial into its prefix and the number at its end, None if there is no number."""
    match = re.fullmatch(r"(.*?)([0-9]+)", serial)
    return (match[1], int(match[2])) if match else None


def serial_in_range(serial: str, first: str, last: str) -> bool:
    """Tell whether a serial lies in a range of which either end may be open ("").

    "`from_serial`/`to_serial` are inclusive and compare the number at the end of the serial
    (same prefix)."
    """
    parts = split_serial(serial)
    for limit, sign in ((first, 1), (last, -1)):
        if not limit:
            continue
        limit_parts = split_serial(limit)
        if parts is None or limit_parts is None or parts[0] != limit_parts[0]:
            return False
        if (parts[1] - limit_parts[1]) * sign < 0:
            return False
    return True


def line_is_active(line: Row, serial: str, options: set[str], on: date) -> bool:
    """Tell whether a line counts for a serial with its options on a date.

    "`with_option` lists options that must all be fitted, `without_option` options none of which
    may be"; "`from_date`/`to_date` (inclusive) compare the parent's order start date".
    """
    if not names_in(line, "with_option") <= options:
        return False
    if names_in(line, "without_option") & options:
        return False
    if not serial_in_range(serial, text_in(line, "from_serial"), text_in(line, "to_serial")):
        return False
    first = date_in(line, "from_date") or date.min
    last = date_in(line, "to_date") or date.max
    return first <= on <= last


def line_quantity(line: Row, parent_quantity: float) -> float:
    """Return what a line asks for, in the line's unit.

    "Started quantity x quantity / (1 - `waste`) (with `per` = `order`: quantity / (1 - waste)
    once per order, whatever its size)."
    """
    quantity = number_in(line, "quantity") / (1 - number_in(line, "waste"))
    if text_in(line, "per", "each") == "order":
        return quantity
    return parent_quantity * quantity


# ---------------------------------------------------------------- supply


def stock_by_day(lots: list[tuple[float, int | None]], needed: list[float]) -> list[float]:
    """Return what stock adds to S(t) on each day, from (quantity, last usable day) of each lot.

    "Taking lots by expiry, lot k serves u_k = min(q_k, max(0, C(e_k) - u_1 - ... - u_{k-1})) by
    day e_k, and what is left of it is lost after e_k. Expiring lots are used before lots without
    expiry." A last day of None means that the lot does not expire.
    """
    supply = [0.0 for _ in needed]
    expiring = sorted((last, quantity) for quantity, last in lots if last is not None)
    served_before = 0.0
    for last_day, quantity in expiring:
        served = min(quantity, max(0.0, needed[last_day] - served_before))
        served_before += served
        for day in range(len(needed)):
            supply[day] += quantity if day <= last_day else served
    lasting = sum(quantity for quantity, last in lots if last is None)
    return [quantity + lasting for quantity in supply]


@dataclass
class Account:
    """All that is known of one item (of one serial): quantities for each day of the axis."""

    gross: list[float]
    receipts: list[float]
    planned: list[float]
    lots: list[tuple[float, int | None]] = field(default_factory=list)

    def stock(self) -> list[float]:
        """Return what stock adds to S(t)."""
        return stock_by_day(self.lots, running_total(self.gross))

    def supply(self) -> list[float]:
        """Return usable stock plus open orders at their expected good quantity, on real days."""
        received = running_total(self.receipts)
        return [stock + receipt for stock, receipt in zip(self.stock(), received, strict=True)]

    def supply_within_reach(self, lead_days: int) -> list[float]:
        """Return S(t) as orders are planned by it.

        "An order placed today can't be there before day `lead_days`. In S(t), open orders count
        by day max(t, lead_days)."
        """
        received = running_total(self.receipts)
        last = len(received) - 1
        return [
            stock + received[min(max(day, lead_days), last)]
            for day, stock in enumerate(self.stock())
        ]

    def projected(self) -> list[float]:
        """Return what is on hand at the end of each day, S(t) + P(t) - C(t)."""
        planned = running_total(self.planned)
        needed = running_total(self.gross)
        balances = zip(self.supply(), planned, needed, strict=True)
        return [supply + plan - need for supply, plan, need in balances]

    def has_activity(self) -> bool:
        """Tell whether anything at all happens or lies here."""
        return bool(self.lots) or any(self.gross) or any(self.receipts) or any(self.planned)


# ---------------------------------------------------------------- the planner


class NaivePlanner:
    """Plans one set of tables; `orders` and `accounts` hold the result."""

    def __init__(self, tables: Tables) -> None:
        """Read the tables, plan every level from the top down."""
        self.tables = tables
        self.axis = working_days(tables)
        self.items = {text_in(item, "item"): item for item in tables["items"]}
        self.process_scrap = {
            text_in(row, "process"): number_in(row, "scrap_rate")
            for row in tables.get("processes", [])
        }
        self.successor = {
            text_in(row, "old"): text_in(row, "new") for row in tables.get("replacements", [])
        }
        self.options = {
            text_in(row, "serial"): names_in(row, "options")
            for row in [*tables.get("build_plan", []), *tables.get("fleet", [])]
        }
        self.serial_specific = serial_specific_items(tables)
        self.accounts: dict[tuple[str, str], Account] = {}
        self.orders: list[NaiveOrder] = []
        if self.axis.days:
            self.enter_outside_needs()
            self.enter_stock()
            self.enter_open_orders()
            self.plan_all_levels()

    def account(self, item: str, serial: str) -> Account:
        """Return the account of an item; common items have one for everybody, of serial "".

        "A serial-specific item is planned separately for each serial number. On a common item a
        serial only says for whom it is meant; netting ignores it."
        """
        if item not in self.serial_specific:
            serial = ""
        elif serial not in self.options:
            raise ValueError(f"{item} must name a serial of build_plan or fleet, not {serial!r}")
        nothing = [0.0 for _ in self.axis.days]
        empty = Account(list(nothing), list(nothing), list(nothing))
        return self.accounts.setdefault((item, serial), empty)

    def good_rate(self, item: str) -> float:
        """Return y: "y = 1 - scrap rate (the item's own, else its process's, else 0)"."""
        row = self.items[item]
        of_process = self.process_scrap.get(text_in(row, "process"), 0.0)
        return 1.0 - number_in(row, "scrap_rate", of_process)

    def outside_needs(self) -> Iterator[tuple[str, str, float, date]]:
        """Yield (item, serial, quantity, need date) of all that is asked from outside.

        "Each build-plan row is one piece." "`spares_orders` on their need date. `allocations`
        are what open make or print orders still lack."
        """
        for row in self.tables.get("build_plan", []):
            ready = required_date_in(row, "ready_date")
            yield text_in(row, "item"), text_in(row, "serial"), 1.0, ready
        for table in ("spares_orders", "allocations"):
            for row in self.tables.get(table, []):
                needed = required_date_in(row, "need_date")
                quantity = number_in(row, "quantity")
                yield text_in(row, "item"), text_in(row, "serial"), quantity, needed

    def enter_outside_needs(self) -> None:
        """Enter the gross requirements that come from outside the structure."""
        for item, serial, quantity, needed in self.outside_needs():
            day = self.axis.need_day(needed)
            if day is not None:
                self.account(item, serial).gross[day] += quantity

    def enter_stock(self) -> None:
        """Enter the lots on hand.

        "Stock of status other than `usable` is not netted. Expired stock is not netted."
        """
        for row in self.tables.get("stock", []):
            expires = date_in(row, "expires")
            last_day = None if expires is None else self.axis.last_usable_day(expires)
            has_expired = expires is not None and last_day is None
            if has_expired or text_in(row, "status", "usable") != "usable":
                continue
            lot = (number_in(row, "quantity"), last_day)
            self.account(text_in(row, "item"), text_in(row, "serial")).lots.append(lot)

    def enter_open_orders(self) -> None:
        """Enter "open orders at their expected good quantity (quantity x y)"."""
        for row in self.tables.get("open_orders", []):
            day = self.axis.receipt_day(required_date_in(row, "due_date"))
            if day is not None:
                item = text_in(row, "item")
                expected_good = number_in(row, "quantity") * self.good_rate(item)
                self.account(item, text_in(row, "serial")).receipts[day] += expected_good

    def plan_all_levels(self) -> None:
        """Plan each item after all that may ask for it: "from the top down"."""
        level = levels(self.tables)
        for item in sorted(self.items, key=lambda name: (level[name], name)):
            if item not in self.serial_specific:
                self.account(item, "")  # safety stock is wanted even where nobody asks
            for planned_item, serial in sorted(self.accounts):
                if planned_item == item:
                    self.plan_item(item, serial)

    def plan_item(self, item: str, serial: str) -> None:
        """Plan one item of one serial by the rule of its kind."""
        is_phantom = text_in(self.items[item], "source") == "phantom"
        if is_phantom or item in self.successor:
            self.pass_on(item, serial)
        else:
            self.plan_orders(item, serial)

    def pass_on(self, item: str, serial: str) -> None:
        """Net a phantom or a replaced item and hand on the rest.

        "Its stock is netted, the rest goes straight to its children on the same day."
        "Old stock and old open orders are used up first; what is still needed of the old item
        becomes a requirement for the new one on the same day."
        """
        account = self.account(item, serial)
        needed = running_total(account.gross)
        supply = account.supply_within_reach(0)
        passed = 0.0
        for day in self.axis.numbers():
            missing = needed[day] - supply[day]
            if exceeds(missing, passed, max(needed[day], supply[day], passed)):
                account.planned[day] = missing - passed
                passed = missing
                if item in self.successor:
                    self.ask_successor(item, serial, account.planned[day], day)
                else:
                    self.ask_children(item, serial, account.planned[day], day)

    def ask_successor(self, item: str, serial: str, quantity: float, day: int) -> None:
        """Ask the replacement, in its own unit, on the same day."""
        successor = self.successor[item]
        units = text_in(self.items[item], "unit"), text_in(self.items[successor], "unit")
        self.account(successor, serial).gross[day] += converted(quantity, *units)

    def ask_children(self, item: str, serial: str, quantity: float, day: int) -> None:
        """Ask the children of a phantom: on the same day, by the lines active on that day."""
        for line in self.active_lines(item, serial, day):
            self.ask_child(line, serial, quantity, day)

    def active_lines(self, item: str, serial: str, day: int) -> list[Row]:
        """Return the lines of an item that count for a serial on a day."""
        options = self.options.get(serial, set())
        on = self.axis.days[day]
        return [
            line
            for line in self.tables.get("structure", [])
            if text_in(line, "parent") == item and line_is_active(line, serial, options, on)
        ]

    def ask_child(self, line: Row, serial: str, parent_quantity: float, day: int) -> None:
        """Enter the requirement of one line, "converted to the child's unit"."""
        child = text_in(line, "child")
        child_unit = text_in(self.items[child], "unit")
        quantity = line_quantity(line, parent_quantity)
        in_child_unit = converted(quantity, text_in(line, "unit", child_unit), child_unit)
        self.account(child, serial).gross[day] += in_child_unit

    def plan_orders(self, item: str, serial: str) -> None:
        """Plan the orders of one item, day by day.

        "D(t) = C(t) + safety stock - S(t). For t = 0, 1, ...: if D(t) > P(t-1), one order is
        planned to be usable on day t. Wanted good = max of D over the days it covers, less
        P(t-1). P(t) = P(t-1) + started x y."
        """
        row = self.items[item]
        account = self.account(item, serial)
        good_rate = self.good_rate(item)
        supply = account.supply_within_reach(whole_in(row, "lead_days"))
        wanted = [need + number_in(row, "safety_stock") for need in running_total(account.gross)]
        missing = [want - have for want, have in zip(wanted, supply, strict=True)]
        if text_in(row, "lot_rule") == "least_cost":
            magnitudes = [max(pair) for pair in zip(wanted, supply, strict=True)]
            rate = number_in(self.tables["plan"][0], "holding_rate")
            lots = cheapest_lots(row, good_rate, rate, missing, magnitudes)
            for day, started in lots:
                account.planned[day] = started * good_rate
                self.place_order(item, serial, started, day)
            return
        planned = 0.0
        for day in self.axis.numbers():
            if exceeds(missing[day], planned, max(wanted[day], supply[day], planned)):
                covered = missing[day : day + covered_days(row, day)]
                started = started_quantity(row, max(covered) - planned, good_rate)
                planned += started * good_rate
                account.planned[day] = started * good_rate
                self.place_order(item, serial, started, day)

    def place_order(self, item: str, serial: str, started: float, usable_day: int) -> None:
        """Place one order that is usable on a day, and ask its children.

        "due = t - `safety_days`; start = due - `lead_days`; both in working days. A start before
        day 0 is set to day 0 and the order is *late by* that many days; a due day before day 0
        shows as day 0."
        """
        row = self.items[item]
        due = usable_day - whole_in(row, "safety_days")
        start = due - whole_in(row, "lead_days")
        shown_start, shown_due = max(0, start), max(0, due)
        order = NaiveOrder(
            item=item,
            serial=serial,
            start_date=self.axis.days[shown_start],
            due_date=self.axis.days[shown_due],
            quantity=started,
            expected_good=started * self.good_rate(item),
            late_days=max(0, -start),
            source=text_in(row, "source"),
        )
        self.orders.append(order)
        self.explode(order, shown_start, shown_due)

    def explode(self, order: NaiveOrder, start: int, due: int) -> None:
        """Ask the children of a planned order.

        "On the order's start day + `offset_days`, at latest on the order's due day and never
        before day 0."
        """
        for line in self.active_lines(order.item, order.serial, start):
            day = max(0, min(start + whole_in(line, "offset_days"), due))
            self.ask_child(line, order.serial, order.quantity, day)

    def weeks(self) -> list[NaiveWeek]:
        """Return the projection: each account with activity, each ISO week of the axis."""
        rows: list[NaiveWeek] = []
        for (item, serial), account in sorted(self.accounts.items()):
            if account.has_activity():
                rows.extend(self.weeks_of(item, serial, account))
        return rows

    def weeks_of(self, item: str, serial: str, account: Account) -> Iterator[NaiveWeek]:
        """Yield the projection of one account."""
        names = [week_name(day) for day in self.axis.days]
        projected = account.projected()
        for week in sorted(set(names)):
            numbers = [number for number in self.axis.numbers() if names[number] == week]
            yield NaiveWeek(
                item,
                serial,
                week,
                gross=sum(account.gross[number] for number in numbers),
                receipts=sum(account.receipts[number] for number in numbers),
                planned=sum(account.planned[number] for number in numbers),
                projected=projected[numbers[-1]],
            )


def covered_days(item: Row, usable_day: int) -> int:
    """Return how many working days an order covers that is usable on a day.

    "span is `cover_days` (at least 1, at most `longest_cover_days`), and for an order that is late
    (t < lead_days + safety_days) at least the days up to lead_days + safety_days - 1, again within
    `longest_cover_days`."
    """
    cover = max(1, whole_in(item, "cover_days", 1))
    in_time = whole_in(item, "lead_days") + whole_in(item, "safety_days")
    if usable_day < in_time:
        cover = max(cover, in_time - usable_day)
    return min(cover, whole_in(item, "longest_cover_days", cover))


def cheapest_lots(
    item: Row, good_rate: float, rate: float, missing: list[float], magnitudes: list[float]
) -> list[tuple[int, float]]:
    """Return usable day and started quantity of each order, all ways of covering days tried.

    "An order is usable on the first day on which more is needed than is planned, and covers the
    needs up to some day: at least `cover_days`, or while it is late; at most `longest_cover_days`.
    Each costs `order_cost`; what is planned and not needed yet costs its `cost` x `holding_rate` /
    (5 x 52.18) each working day. Of equally good ones those whose first order covers most."
    """
    holding = number_in(item, "cost") * rate / (5 * 52.18)
    days = len(missing)
    known: dict[tuple[int, float], tuple[float, list[tuple[int, float]]]] = {}

    def onward(day: int, planned: float) -> tuple[float, list[tuple[int, float]]]:
        while day < days and not exceeds(missing[day], planned, max(magnitudes[day], planned)):
            day += 1
        if day == days:
            return 0.0, []
        state = (day, round(planned, 7))
        if state not in known:
            least = covered_days(item, day)
            most = max(least, whole_in(item, "longest_cover_days", days - day + least))
            best = None
            for last in range(day + most - 1, day + least - 2, -1):
                wanted = max(missing[day : last + 1]) - planned
                started = started_quantity(item, wanted, good_rate)
                good = started * good_rate
                cost, orders = onward(day + 1, planned + good)
                cost += number_in(item, "order_cost") + holding * good * (days - day)
                if best is None or cost < best[0] - 1e-9 * abs(best[0]):
                    best = cost, [(day, started), *orders]
            assert best is not None
            known[state] = best
        return known[state]

    return onward(0, 0.0)[1]


def naive_orders(tables: Tables) -> list[NaiveOrder]:
    """Return the planned orders, sorted by item, serial, dates and quantity."""

    def position(order: NaiveOrder) -> tuple[str, str, date, date, float]:
        return order.item, order.serial, order.start_date, order.due_date, order.quantity

    return sorted(NaivePlanner(tables).orders, key=position)


def naive_projection(tables: Tables) -> list[NaiveWeek]:
    """Return the projection, sorted by item, serial and week."""
    return NaivePlanner(tables).weeks()
