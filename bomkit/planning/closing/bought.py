"""Purchases: what was ordered, answered and delivered."""

import datetime as dt

from bomkit.planning.closing.ledger import LIKELY_A_SLIP, Ledger, Row, tidy
from bomkit.units import TOLERANCE
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import amount

_MUCH_MORE = 1.1  # beyond this share of the order a delivery is rather a slip of the pen
_FAR_AHEAD = dt.timedelta(days=731)  # two years; from then on likely a slip as well


def book_answers(ledger: Ledger) -> None:
    """Open orders get their new day and quantity, or are called off with what they lack."""
    for entry in ledger.week.filled("answered"):
        order = ledger.open_order(entry)
        if order is None:
            ledger.refuse(entry, "order", said.NOT_ON_ORDER)
        elif _sensible(ledger, entry):
            _change(ledger, entry, order)


def _sensible(ledger: Ledger, entry: Row) -> bool:
    """Whether an answer can be booked; says why not."""
    change = entry["new_date"] is not None or entry["new_quantity"] is not None
    if entry["cancelled"] == "yes" and change:
        ledger.refuse(entry, "cancelled", said.CALLED_OFF_OR_NOT)
        return False
    if entry["new_date"] is not None and entry["new_date"] < ledger.week.start:
        ledger.refuse(entry, "new_date", said.BEFORE_THE_WEEK.format(start=ledger.week.start))
        return False
    if entry["new_quantity"] == 0:
        ledger.refuse(entry, "new_quantity", said.NOTHING_LEFT)
        return False
    return ledger.countable(entry, entry["item"], ["new_quantity"])


def _change(ledger: Ledger, entry: Row, order: Row) -> None:
    if entry["cancelled"] == "yes":
        close(ledger, order)
        return
    _note_far_ahead(ledger, entry, "new_date")
    was = {"quantity": amount(order["quantity"]), "unit": ledger.unit(entry["item"])}
    if (entry["new_quantity"] or 0) > LIKELY_A_SLIP * order["quantity"]:
        ledger.note(entry, "new_quantity", said.MUCH_MORE_ANSWERED.format(**was))
    if entry["new_date"] is not None:
        order["was"] = {"due_date": order["due_date"]}
        order["due_date"] = entry["new_date"]
    if entry["new_quantity"] is not None:
        order["quantity"] = entry["new_quantity"]


def _note_far_ahead(ledger: Ledger, entry: Row, column: str) -> None:
    """Says of a day that it is so far ahead that a figure may have slipped in."""
    start = ledger.week.start
    if entry[column] is not None and entry[column] > start + _FAR_AHEAD:
        ledger.note(entry, column, said.FAR_AHEAD.format(start=start))


def close(ledger: Ledger, order: Row) -> None:
    """Removes an open order, and what it lacks if no other row bears its number."""
    ledger.rows["open_orders"] = [row for row in ledger.rows["open_orders"] if row is not order]
    if all(row["order"] != order["order"] for row in ledger.rows["open_orders"]):
        lacking = ledger.rows["allocations"]
        ledger.rows["allocations"] = [row for row in lacking if row["order"] != order["order"]]


def book_orders_placed(ledger: Ledger) -> None:
    """Planned purchases that were ordered become open orders."""
    planned = {row["order"]: row for row in ledger.week.results["orders"].iter_rows(named=True)}
    lines = {row["order"]: row for row in ledger.week.results["buy_lines"].iter_rows(named=True)}
    taken = {row["order"] for row in ledger.week.inputs["open_orders"].iter_rows(named=True)}
    suppliers: dict[str, str] = {}
    for entry in ledger.week.filled("ordered"):
        plan, line = planned.get(entry["plan_order"]), lines.get(entry["plan_order"])
        supplier = str((line or {}).get("supplier", ""))
        if plan is None or line is None or _other(plan, entry):
            ledger.refuse(entry, "plan_order", said.NOT_IN_PLAN)
        elif not entry["order"]:
            ledger.refuse(entry, "order", said.ORDER_NUMBER_MISSING)
        elif entry["order"] in taken:
            ledger.refuse(entry, "order", said.ORDER_NUMBER_TAKEN)
        elif suppliers.setdefault(entry["order"], supplier) != supplier:
            other = suppliers[entry["order"]]
            ledger.refuse(entry, "order", said.TWO_SUPPLIERS.format(other=other))
        elif entry["promised"] is not None and entry["promised"] < ledger.week.start:
            words = said.BEFORE_THE_WEEK.format(start=ledger.week.start)
            ledger.refuse(entry, "promised", words)
        elif entry["quantity"] == 0:
            ledger.refuse(entry, "quantity", said.NEEDS_AMOUNT)
        elif ledger.countable(entry, entry["item"], ["quantity"]):
            _place(ledger, entry, plan, line)


def _other(plan: Row, entry: Row) -> bool:
    """Whether an entry names another item or serial than its row of the plan."""
    return any(plan[name] != entry[name] for name in ("item", "serial"))


def _place(ledger: Ledger, entry: Row, plan: Row, line: Row) -> None:
    """An order placed; lines of one number, item and day are one open order."""
    quantity = line["quantity"] if entry["quantity"] is None else entry["quantity"]
    if quantity > LIKELY_A_SLIP * line["quantity"]:
        asked = {"planned": amount(line["quantity"]), "unit": ledger.unit(entry["item"])}
        ledger.note(entry, "quantity", said.MUCH_MORE_ORDERED.format(**asked))
    _note_far_ahead(ledger, entry, "promised")
    due = entry["promised"] or max(plan["due_date"], line["arrives"])
    row = {"order": entry["order"], "item": plan["item"], "serial": plan["serial"], "due_date": due}
    same = ledger.open_order(row)
    if same is not None:
        same["quantity"] = tidy(same["quantity"] + quantity)
        return
    supplier = line["supplier"]
    row |= {"quantity": quantity, "supplier": supplier, "firm": "no", "hours_left": None}
    ledger.rows["open_orders"].append(row)


def book_arrivals(ledger: Ledger) -> None:
    """What was delivered lies in stock; what was refused goes back and is still owed."""
    for entry in ledger.week.filled("arrived"):
        order = ledger.open_order(entry)
        if entry["arrived"] is None:
            ledger.refuse(entry, "arrived", said.NEEDS_NUMBER)
        elif order is None:
            ledger.refuse(entry, "order", said.NOT_ON_ORDER)
        elif (entry["rejected"] or 0) > entry["arrived"]:
            words = said.MORE_REJECTED.format(arrived=amount(entry["arrived"]))
            ledger.refuse(entry, "rejected", words)
        elif ledger.countable(entry, entry["item"], ["arrived", "rejected"]):
            _take_in(ledger, entry, order)


def _take_in(ledger: Ledger, entry: Row, order: Row) -> None:
    accepted = tidy(entry["arrived"] - (entry["rejected"] or 0), entry["arrived"])
    on_order = order["quantity"]
    if accepted > on_order * _MUCH_MORE:
        words = said.MUCH_MORE_ARRIVED.format(quantity=amount(on_order))
        ledger.refuse(entry, "arrived", words)
        return
    if accepted > on_order * (1 + TOLERANCE):
        ledger.note(entry, "arrived", said.MORE_ARRIVED.format(quantity=amount(on_order)))
    if entry["rejected"]:
        ledger.note(entry, "rejected", said.STILL_OWED)
    if accepted:
        _note_shelf_life(ledger, entry)
        _put_away(ledger, entry, order["serial"], accepted)
        _write_down(ledger, order, accepted)
    order["quantity"] = tidy(max(0.0, on_order - accepted), on_order)
    if not order["quantity"]:
        close(ledger, order)


def _note_shelf_life(ledger: Ledger, entry: Row) -> None:
    """What must be known about the last day of use of what came."""
    if entry["use_by"] is not None and entry["use_by"] < ledger.week.start:
        ledger.note(entry, "use_by", said.PAST_ITS_DAY)
    lasting = any(row["item"] == entry["item"] and row["expires"] for row in ledger.stock)
    if entry["use_by"] is None and lasting:
        ledger.note(entry, "use_by", said.NO_LAST_DAY.format(item=entry["item"]))


def _put_away(ledger: Ledger, entry: Row, serial: str, accepted: float) -> None:
    ledger.put(
        {
            "item": entry["item"],
            "serial": serial,
            "quantity": accepted,
            "location": entry["place"] or ledger.places.get(entry["item"], ""),
            "lot": entry["lot"],
            "expires": entry["use_by"],
        }
    )


def _write_down(ledger: Ledger, order: Row, accepted: float) -> None:
    """A line of the log of arrivals, by which suppliers are judged."""
    ledger.rows["arrivals_log"].append(
        {
            "order": order["order"],
            "item": order["item"],
            "supplier": order["supplier"],
            "promised": order["due_date"],
            "arrived": ledger.week.last,
            "quantity": accepted,
        }
    )
