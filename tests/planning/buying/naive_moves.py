"""The moves of open orders, day by day and order by order, in plain Python from the rules alone.

It judges the real ones and shares nothing with them but the naive planner's account of each item.
"""

from datetime import date
from typing import NamedTuple

from tests.naive_planner import (
    NaivePlanner,
    exceeds,
    number_in,
    required_date_in,
    running_total,
    started_quantity,
    text_in,
)
from tests.random_tables import Row, Tables

Order = tuple[int, str, date, str, Row]  # day, name, due, own serial, row


class NaiveMove(NamedTuple):
    """One move as the result table has it, without who gains."""

    order: str
    item: str
    serial: str
    kind: str
    due_date: date
    right_date: date | None
    days: int
    quantity: float
    right_quantity: float
    value: float | None
    meant_for: str


def naive_moves(tables: Tables, move_days: int, move_share: float) -> list[NaiveMove]:
    """Every move of every open order within the horizon."""
    planner = NaivePlanner(tables)
    groups: dict[tuple[str, str], list[Order]] = {}
    for row in tables.get("open_orders", []):
        due = required_date_in(row, "due_date")
        day = planner.axis.receipt_day(due)
        if day is not None:
            item, own = text_in(row, "item"), text_in(row, "serial")
            serial = own if item in planner.serial_specific else ""
            order = (day, text_in(row, "order"), due, own, row)
            groups.setdefault((item, serial), []).append(order)
    found = []
    for key, orders in groups.items():
        orders.sort(key=lambda each: each[:4])
        found += moves_of(planner, key, orders, move_days, move_share)
    return sorted(
        found, key=lambda move: (move.due_date, move.order, move.item, move.meant_for, move.kind)
    )


def passes(planner: NaivePlanner, name: str) -> bool:
    """Tell whether an item is a phantom or replaced: its own rules do not count then."""
    return name in planner.successor or text_in(planner.items[name], "source") == "phantom"


def needed_beyond_stock(planner: NaivePlanner, key: tuple[str, str]) -> list[float]:
    """N(t): the largest of C(s) + safety stock - U(s) for s up to t."""
    account = planner.account(*key)
    needed, stock = running_total(account.gross), account.stock()
    without = passes(planner, key[0]) or key[0] in planner.serial_specific
    safety = 0.0 if without else number_in(planner.items[key[0]], "safety_stock")
    lacking = [need + safety - there for need, there in zip(needed, stock, strict=True)]
    return [max(lacking[: day + 1]) for day in range(len(lacking))]


def moves_of(
    planner: NaivePlanner,
    key: tuple[str, str],
    orders: list[Order],
    move_days: int,
    move_share: float,
) -> list[NaiveMove]:
    """The moves of the open orders of one item, of one serial if it is serial-specific."""
    item, good, axis = planner.items[key[0]], planner.good_rate(key[0]), planner.axis.days
    beyond = needed_beyond_stock(planner, key)
    safety_days = 0 if passes(planner, key[0]) else int(number_in(item, "safety_days"))
    rules: Row = {"unit": item["unit"]} if passes(planner, key[0]) else item
    covered, found = 0.0, []
    for day, order, due, own, row in orders:
        quantity, firm = number_in(row, "quantity"), text_in(row, "firm", "no") == "yes"
        kinds: list[tuple[str, date | None, int, float]] = []
        first = next(
            (t for t, n in enumerate(beyond) if exceeds(n, covered, max(n, covered))), None
        )
        right = None if first is None else max(0, first - safety_days)
        on = None if right is None else axis[right]
        days = 0 if right is None else day - right
        if due < axis[0]:
            kinds.append(("overdue", on, days, quantity))
        if first is None or right is None:
            if not firm:
                kinds.append(("not needed", None, 0, 0.0))
        else:
            if day > first:
                kinds.append(("sooner", on, days, quantity))
            elif right - day > move_days and not firm:
                kinds.append(("later", on, days, quantity))
            after = covered + quantity * good
            if not firm and exceeds(after, beyond[-1], after):
                enough = min(quantity, started_quantity(rules, beyond[-1] - covered, good))
                if exceeds(quantity - enough, move_share * quantity, quantity):
                    kinds.append(("less", due, 0, enough))
        covered += quantity * good
        cost = item.get("cost")
        for kind, on_day, by, enough in kinds:
            moved = quantity - enough if kind == "less" else quantity
            value = None if cost is None else moved * float(str(cost))
            found.append(
                NaiveMove(order, *key, kind, due, on_day, by, quantity, enough, value, own)
            )
    return found
