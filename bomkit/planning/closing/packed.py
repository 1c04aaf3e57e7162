"""Spares orders: what was packed, and what left the house."""

import datetime as dt
from dataclasses import dataclass, field

import polars as pl

from bomkit.planning.closing.ledger import Ledger, Row, tidy
from bomkit.planning.closing.taken_from_stock import Taking, take
from bomkit.units import TOLERANCE
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import amount

_ORDER_LINE = ("order", "item", "serial", "need_date")
PICKED, GOOD, SENT = "picked", "good", "sent"


@dataclass
class Box:
    """One line of a spares order with what was packed for it.

    parts: component to what it takes in all; lacks: component to what is not packed.
    """

    order: Row
    parts: dict[str, float]
    lacks: dict[str, float]
    entries: list[Row] = field(default_factory=list)
    left_on: dt.date | None = None

    @property
    def of_itself(self) -> bool:
        """Whether what is packed is the item ordered, not what a kit contains."""
        return list(self.parts) == [self.order["item"]]

    @property
    def that_left(self) -> Row:
        """The first line that says when the box left; there must be one."""
        return next(entry for entry in self.entries if entry["left_on"] is not None)

    @property
    def whole(self) -> bool:
        return not any(self.lacks.values())


def book_packing(ledger: Ledger) -> None:
    """Takes what was packed from stock; boxes that left shrink their orders.

    A box that was packed in part is an order in work that lacks the rest; one that left so leaves
    what it lacks on order. What is packed and has not left lies in stock.
    """
    boxes: dict[tuple[object, ...], Box] = {}
    for entry in ledger.week.filled("packed"):
        key = tuple(entry[name] for name in _ORDER_LINE)
        box = boxes.get(key) or _box(ledger, entry)
        if box is None or entry["component"] not in box.parts:
            ledger.refuse(entry, "component", said.NO_SUCH_SPARES_ORDER)
            continue
        boxes[key] = box
        _check_leaving(ledger, entry, box)
        if ledger.countable(entry, entry["component"], ["packed"]):
            _pack(ledger, entry, box)
    for box in boxes.values():
        if not any(entry["packed"] for entry in box.entries):
            if box.left_on is not None:
                ledger.refuse(box.that_left, "left_on", said.LEFT_EMPTY)
        elif box.of_itself:
            _send_item(ledger, box)
        else:
            _send_kit(ledger, box)
    orders = ledger.rows["spares_orders"]
    ledger.rows["spares_orders"] = [row for row in orders if row["quantity"] > 0]


def _box(ledger: Ledger, entry: Row) -> Box | None:
    """The line of a spares order that an entry names, with what goes into its box."""
    for row in ledger.rows["spares_orders"]:
        if all(row[name] == entry[name] for name in _ORDER_LINE):
            lines = _packing(ledger, entry).group_by("part").agg(pl.col("quantity").sum())
            parts = dict(lines.sort("part").iter_rows())
            return Box(row, parts, dict(parts))
    return None


def _packing(ledger: Ledger, entry: Row) -> pl.DataFrame:
    """The lines of the packing list for what an entry names."""
    named = [pl.col(name) == entry[name] for name in _ORDER_LINE]
    return ledger.week.results["packing"].filter(*named)


def _check_leaving(ledger: Ledger, entry: Row, box: Box) -> None:
    """Notes on which day the box left; says where that can't be so."""
    box.entries.append(entry)
    left = entry["left_on"]
    if left is None:
        return
    if left > ledger.week.ends:
        ledger.refuse(entry, "left_on", said.NOT_YET.format(last=ledger.week.ends))
    elif box.left_on not in (None, left):
        ledger.refuse(entry, "left_on", said.TWO_LEAVING_DAYS)
    elif box.left_on is None:
        ledger.note_if_before(entry, "left_on")
    box.left_on = left


def _pack(ledger: Ledger, entry: Row, box: Box) -> None:
    """One line of a packing list; what is packed and stays in the house is not taken yet."""
    part, packed = entry["component"], entry["packed"] or 0.0
    if entry["packed"] is None and entry["batch"]:
        ledger.refuse(entry, "packed", said.NEEDS_NUMBER)
    if packed > box.lacks[part] * (1 + TOLERANCE):
        words = said.MORE_PACKED.format(quantity=amount(box.parts[part]))
        ledger.refuse(entry, "packed", words)
        return
    box.lacks[part] = tidy(box.lacks[part] - packed, box.parts[part])


def _take(ledger: Ledger, box: Box) -> None:
    """Takes what was packed from the lots written down, else from those that the list named."""
    for entry in box.entries:
        left, part = entry["packed"] or 0.0, entry["component"]
        listed = _packing(ledger, entry).filter(pl.col("part") == part, pl.col("state") == "take")
        if entry["line"] is not None:
            own = [pl.col(name) == entry[name] for name in ("line", "location")]
            listed = listed.filter(*own, pl.col("lot") == entry["listed_lot"])
        rows = list(listed.iter_rows(named=True)) or [{"lot": "", "location": "", "quantity": left}]
        for row in rows:
            last = row is rows[-1] or bool(entry["batch"])
            quantity = left if last else min(left, row["quantity"])
            if quantity:
                where = row["lot"], entry["batch"], row["location"], [box.order["serial"]]
                take(ledger, entry, "packed", "batch", Taking(part, quantity, *where))
            left -= quantity


def _packed(box: Box, part: str) -> float:
    return tidy(box.parts[part] - box.lacks[part])


def _send_item(ledger: Ledger, box: Box) -> None:
    """A box of the item itself."""
    item = box.order["item"]
    if box.left_on is None:
        ledger.note(box.entries[0], "packed", said.NOT_LEFT)
        return
    _take(ledger, box)
    ledger.log.append((item, SENT, _packed(box, item)))
    box.order["quantity"] = tidy(box.lacks[item], box.parts[item])


def _send_kit(ledger: Ledger, box: Box) -> None:
    """A box of a kit: gone, ready, or begun."""
    _take(ledger, box)
    gone = box.left_on is not None
    for part in box.parts:
        ledger.log.append((part, SENT if gone else PICKED, _packed(box, part)))
    if gone:
        _leave_rest_on_order(ledger, box)
    elif box.whole:
        _put_ready(ledger, box)
    else:
        _begin_box(ledger, box)


def _leave_rest_on_order(ledger: Ledger, box: Box) -> None:
    """What a box left without stays on order, part by part."""
    order = dict(box.order)
    box.order["quantity"] = 0.0
    for part, lacks in box.lacks.items():
        if lacks:
            words = said.LEFT_WITHOUT.format(lacks=amount(lacks), item=part)
            ledger.note(box.that_left, "left_on", words)
            ledger.rows["spares_orders"].append({**order, "item": part, "quantity": lacks})


def _put_ready(ledger: Ledger, box: Box) -> None:
    """A box that is packed and has not left lies in stock."""
    order = box.order
    place = said.PLACE_PACKED.format(order=order["order"])
    own = {name: order[name] for name in ("item", "serial", "quantity")}
    ledger.put({**own, "location": place})
    ledger.log.append((order["item"], GOOD, order["quantity"]))
    ledger.note(box.entries[0], "packed", said.BOX_READY.format(item=order["item"]))


def _begin_box(ledger: Ledger, box: Box) -> None:
    """A box that is packed in part is in work, and lacks the rest."""
    order = box.order
    name = said.BOX_NAME.format(week=ledger.week.name, order=order["order"])
    own = {name: order[name] for name in ("item", "serial", "quantity")}
    row = {"order": name, "due_date": order["need_date"], **own}
    row |= {"supplier": "", "firm": "no", "hours_left": None}
    if any(other["order"] == name and other["item"] == order["item"] for other in _open(ledger)):
        ledger.refuse(box.entries[0], "order", said.NAME_TAKEN.format(name=name))
        return
    _open(ledger).append(row)
    ledger.note(box.entries[0], "packed", said.BOX_BEGUN.format(name=name))
    for part, lacks in box.lacks.items():
        if lacks:
            lack = {"order": name, "item": part, "quantity": lacks}
            lack |= {"need_date": order["need_date"], "serial": order["serial"]}
            ledger.rows["allocations"].append(lack)


def _open(ledger: Ledger) -> list[Row]:
    return ledger.rows["open_orders"]
