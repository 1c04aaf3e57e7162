"""What the shops began and finished: orders in work, good pieces, scrap."""

from dataclasses import dataclass, replace

import polars as pl

from bomkit.planning.closing.bought import close
from bomkit.planning.closing.ledger import Ledger, Row, tidy
from bomkit.planning.workdays import workdays_of
from bomkit.units import TOLERANCE
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import amount

_FAR_MORE = 2  # times what was planned: rather a slip of the pen


@dataclass(frozen=True)
class Worked:
    """An order that was begun this week or before, and how it stands.

    name: as an open order; begun: how much was in work; share: that as a share of what the run
    planned (1 for an order that was in work before); rest: the share of it still in work;
    planned: its row of the plan, None if it was in work before.
    """

    name: str
    entry: Row
    begun: float
    share: float
    rest: float
    planned: Row | None


def book_work(ledger: Ledger) -> dict[str, Worked]:
    """Books what was begun and finished; the orders concerned, by the name that the lists use.

    An order for which something was picked has begun: all of it, where nothing else is said.
    """
    planned = planned_work(ledger)
    before = _in_work(ledger)
    orders: dict[str, Worked] = {}
    idle: dict[str, Row] = {}
    for entry in ledger.week.filled("worked"):
        plan = planned.get(entry["order"])
        if plan is not None and _agree(plan, entry):
            if _begun_at_all(entry):
                _keep(orders, _began(ledger, entry, plan))
            elif entry["begun"] == 0:
                idle[entry["order"]] = entry
        else:
            _keep(orders, _went_on(ledger, entry))
    for entry in ledger.week.filled("picked"):
        plan = planned.get(entry["order"])
        if plan is not None and entry["picked"] and entry["order"] not in orders:
            if entry["order"] in idle:
                ledger.note(idle[entry["order"]], "begun", said.BEGUN_AS_PICKED)
            silent = {**entry, "begun": None, "good": None, "scrapped": None}
            _keep(orders, _began(ledger, silent, plan), entry["order"])
    left = _in_work(ledger)
    return {
        name: each if each.planned else _of_all_rows(each, before[each.name], left[each.name])
        for name, each in orders.items()
    }


def _in_work(ledger: Ledger) -> dict[str, float]:
    """How much is on order by the number of the order; several rows may bear one."""
    sums: dict[str, float] = {}
    for row in ledger.rows["open_orders"]:
        sums[row["order"]] = sums.get(row["order"], 0.0) + row["quantity"]
    return sums


def _of_all_rows(worked: Worked, before: float, left: float) -> Worked:
    """An order in work with what is left of all rows that bear its number."""
    return replace(worked, begun=before, rest=left / before)


def planned_work(ledger: Ledger) -> dict[str, Row]:
    """The planned orders that a shop makes, prints or packs, by name."""
    orders = ledger.week.results["orders"].filter(pl.col("source") != "buy")
    return {row["order"]: row for row in orders.iter_rows(named=True)}


def begin_late(ledger: Ledger, worked: Worked) -> None:
    """An order that lacks nothing and could only be begun later is due as much later."""
    assert worked.planned is not None
    ready = ledger.week.results["ready"].filter(
        pl.col("order") == worked.planned["order"], pl.col("can_start") > pl.col("start_date")
    )
    for start, can_start in ready.select("start_date", "can_start").iter_rows():
        days = workdays_of(ledger.week.inputs).dates
        late = int(((days >= start) & (days < can_start)).sum())
        after = days.filter(days >= worked.planned["due_date"])
        for row in ledger.rows["open_orders"]:
            if row["order"] == worked.name and 0 < late < len(after):
                row["due_date"] = after[late]


def _keep(orders: dict[str, Worked], worked: Worked | None, name: str = "") -> None:
    if worked is not None:
        orders[name or worked.entry["order"]] = worked


def _agree(plan: Row, entry: Row) -> bool:
    return all(plan[name] == entry[name] for name in ("item", "serial", "due_date"))


def _begun_at_all(entry: Row) -> bool:
    return any(entry[name] for name in ("begun", "good", "scrapped"))


def _began(ledger: Ledger, entry: Row, plan: Row) -> Worked | None:
    """A planned order as one in work; None where what is filled in can't be so."""
    name = said.BOX_NAME.format(week=ledger.week.name, order=plan["order"])
    begun = plan["quantity"] if entry["begun"] is None else entry["begun"]
    if any(row["order"] == name for row in ledger.rows["open_orders"]):
        ledger.refuse(entry, "order", said.NAME_TAKEN.format(name=name))
        return None
    if not begun:
        ledger.refuse(entry, "begun", said.BEGUN_NOTHING)
        return None
    if begun > _FAR_MORE * plan["quantity"]:
        words = said.FAR_MORE_BEGUN.format(planned=amount(plan["quantity"]))
        ledger.refuse(entry, "begun", words)
        return None
    rest = _finished(ledger, entry, plan["item"], plan["serial"], begun)
    if rest is None:
        return None
    if rest:
        own = {name: plan[name] for name in ("item", "serial", "due_date")}
        row = {"order": name, **own, "quantity": rest}
        row |= {"supplier": "", "firm": "no", "hours_left": None}
        ledger.rows["open_orders"].append(row)
    return Worked(name, entry, begun, begun / plan["quantity"], rest / begun, plan)


def _went_on(ledger: Ledger, entry: Row) -> Worked | None:
    """An order that was in work before; None where what is filled in can't be so."""
    order = ledger.open_order(entry)
    if order is None:
        ledger.refuse(entry, "order", said.NO_SUCH_ORDER)
        return None
    if entry["begun"]:
        ledger.refuse(entry, "begun", said.BEGUN_ALREADY)
        return None
    begun = order["quantity"]
    rest = _finished(ledger, entry, order["item"], order["serial"], begun)
    if rest is None:
        return None
    order["quantity"] = rest
    if order["hours_left"] is not None:
        order["hours_left"] = tidy(order["hours_left"] * rest / begun)
    return Worked(order["order"], entry, begun, 1.0, rest / begun, None)


def _finished(ledger: Ledger, entry: Row, item: str, serial: str, begun: float) -> float | None:
    """Puts good pieces into stock and scrap into its log; what is still in work, None if wrong."""
    good, scrapped = entry["good"] or 0.0, entry["scrapped"] or 0.0
    if not ledger.countable(entry, item, ["begun", "good", "scrapped"]):
        return None
    if good + scrapped > begun * (1 + TOLERANCE):
        column = "good" if good else "scrapped"
        words = said.MORE_THAN_BEGUN.format(done=amount(good + scrapped), begun=amount(begun))
        ledger.refuse(entry, column, words)
        return None
    if good:
        place = ledger.places.get(item, "")
        ledger.put({"item": item, "serial": serial, "quantity": good, "location": place})
    if good + scrapped:
        _write_down(ledger, entry, item, good + scrapped)
    return tidy(begun - good - scrapped, begun)


def _write_down(ledger: Ledger, entry: Row, item: str, done: float) -> None:
    """A line of the scrap log: of what is finished, how much was scrapped."""
    plates = ledger.week.results["plates"].filter(pl.col("order") == entry["order"])
    named = plates.select("week", "plate").unique().sort("week", "plate")
    ledger.rows["scrap_log"].append(
        {
            "date": ledger.week.last,
            "item": item,
            "process": ledger.items[item]["process"],
            "plate": ", ".join(f"{week} {plate}" for week, plate in named.iter_rows()),
            "started": tidy(done),
            "scrapped": tidy(entry["scrapped"] or 0.0),
        }
    )


def close_finished(ledger: Ledger) -> None:
    """Removes the orders of which nothing is in work any more."""
    for row in [row for row in ledger.rows["open_orders"] if row["quantity"] <= 0]:
        close(ledger, row)
