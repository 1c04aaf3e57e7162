"""What was picked for orders, and what those that have begun still lack."""

import datetime as dt
import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

import polars as pl

from bomkit.planning.closing.ledger import Ledger, Row, tidy
from bomkit.planning.closing.taken_from_stock import Taking, take
from bomkit.planning.closing.worked import Worked, begin_late, planned_work
from bomkit.planning.workdays import workdays_of
from bomkit.words.did_you_mean import nearest
from bomkit.words.problems import closing as said
from bomkit.words.problems.figures import amount

_WHOLE = 1 - 1e-6  # less than a piece is a rounding of shares


@dataclass
class Lack:
    """What an order takes of a component (for one serial), and what it lacks once all is booked."""

    item: str
    serial: str
    need: float
    lacks: float
    day: dt.date


@dataclass(frozen=True)
class _Known:
    """What the run says of all orders, looked up once.

    taken: by planned order what it takes; lacked: by order in work what it lacked, the first needed
    in front; waste: the largest that a line plans for each component.
    """

    taken: Mapping[str, list[Lack]]
    lacked: Mapping[str, list[Lack]]
    waste: Mapping[str, float]


def book_picks(ledger: Ledger, worked: Mapping[str, Worked]) -> None:
    """Takes what was picked from stock; what begun orders lack becomes their allocations."""
    known = _known(ledger)
    lacking = {name: _components(ledger, known, name, each) for name, each in worked.items()}
    planned = planned_work(ledger)
    open_orders = {row["order"] for row in ledger.week.inputs["open_orders"].iter_rows(named=True)}
    served = _serials_served(ledger)
    for entry in ledger.week.filled("picked"):
        if entry["picked"] is None:
            ledger.refuse(entry, "picked", said.NEEDS_NUMBER)
        if not entry["picked"]:
            continue
        name = entry["order"]
        missing = _not_named(entry)
        if missing:
            ledger.refuse(entry, *missing)
            continue
        if name not in planned and name not in open_orders:
            hint = nearest(name, [*planned, *open_orders]) or said.RESTORE
            ledger.refuse(entry, "order", said.NO_ORDER_OF_THAT_NAME.format(hint=hint))
            continue
        if name not in lacking and name not in planned:
            lacking[name] = _allocated(ledger, known, name)
        if name in planned and name not in worked:
            continue  # what is wrong with the order was said
        _pick(ledger, entry, lacking[name], served.get(name, ()))
    for name, lacks in lacking.items():
        _settle(ledger, known, name, worked.get(name), lacks)


def _not_named(entry: Row) -> tuple[str, str] | None:
    """The column that a pick besides the lists leaves empty, and what to write there."""
    if not entry["order"]:
        return "order", said.ORDER_OF_PICK_MISSING
    return None if entry["item"] else ("item", said.COMPONENT_MISSING)


def _known(ledger: Ledger) -> _Known:
    """What the pegs and the structure of the run say; of phantoms and replaced items what goes in
    counts."""
    needs = (
        ledger.week.results["pegs"]
        .filter(pl.col("supply_kind") != "passed on")
        .select("need", "from_order", "item", "serial", "quantity", day="need_date")
    )
    of_orders = (
        needs.filter(pl.col("from_order") != "")
        .group_by("from_order", "item", "serial")
        .agg(pl.col("quantity").sum(), pl.col("day").min())
        .sort("item", "serial")
    )
    outside = (
        needs.filter(pl.col("from_order") == "")
        .group_by("need", "item", "serial", "day")
        .agg(pl.col("quantity").sum().round(9))
        .sort("day", "item", "serial")
    )
    lines = ledger.week.inputs["structure"].group_by("child").agg(pl.col("waste").max())
    return _Known(
        _by_order(of_orders.rename({"from_order": "order"})),
        _by_order(outside.rename({"need": "order"})),
        dict(lines.with_columns(pl.col("waste").fill_null(0.0)).iter_rows()),
    )


def _by_order(needs: pl.DataFrame) -> dict[str, list[Lack]]:
    """What each order needs, nothing of it there yet, in the order of the rows."""
    lacks: dict[str, list[Lack]] = {}
    columns = ("order", "item", "serial", "quantity", "day")
    for order, item, serial, need, day in needs.select(columns).iter_rows():
        lacks.setdefault(order, []).append(Lack(item, serial, need, need, day))
    return lacks


def _components(ledger: Ledger, known: _Known, name: str, worked: Worked) -> list[Lack]:
    """What an order takes: of a planned one what its needs say, else what it lacked so far."""
    if worked.planned is None:
        return _allocated(ledger, known, worked.name)
    share = worked.share
    return [
        replace(each, need=each.need * share, lacks=each.need * share)
        for each in known.taken.get(name, [])
    ]


def _allocated(ledger: Ledger, known: _Known, name: str) -> list[Lack]:
    """What an order in work lacks, the first needed in front; of phantoms what is in them."""
    own = [row for row in ledger.rows["allocations"] if row["order"] == name]
    if not own:
        return []
    ends = workdays_of(ledger.week.inputs).end
    beyond = [row for row in own if row["need_date"] >= ends]  # the plan leaves them out
    return [
        *(replace(each) for each in known.lacked.get(name, [])),
        *(
            Lack(row["item"], row["serial"], row["quantity"], row["quantity"], row["need_date"])
            for row in beyond
        ),
    ]


def _serials_served(ledger: Ledger) -> dict[str, set[str]]:
    """Whose stock may go into an order, by the order's name: the serials that it serves."""
    pegs = ledger.week.results["pegs"].select("need", "serial", "demand_serial").unique()
    served: dict[str, set[str]] = {}
    for need, *serials in pegs.iter_rows():
        served.setdefault(need, set()).update(filter(None, serials))
    for row in ledger.rows["open_orders"]:
        served.setdefault(row["order"], set()).add(row["serial"])
    return served


def _pick(ledger: Ledger, entry: Row, lacking: list[Lack], serials: Collection[str]) -> None:
    """One row of a pick list."""
    whom = [entry["serial"]] if entry["serial"] else list(serials)
    fits = [lack for lack in lacking if lack.item == entry["item"]]
    fits.sort(key=lambda lack: lack.serial != entry["serial"])
    if not fits:
        ledger.refuse(entry, "item", said.NO_SUCH_COMPONENT.format(order=entry["order"]))
        return
    if not ledger.countable(entry, entry["item"], ["picked"]):
        return
    lot, listed, place = entry["lot"], entry["listed_lot"], entry["location"]
    taking = Taking(entry["item"], entry["picked"], listed, lot, place, whom)
    if not take(ledger, entry, "picked", "lot", taking):
        return
    left = entry["picked"]
    for lack in fits:
        given = min(left, lack.lacks)
        lack.lacks, left = tidy(lack.lacks - given, lack.need), left - given
        if given and lack.lacks <= ledger.printed(lack.item):
            lack.lacks = 0.0  # people write down what the list shows
    if left > _UNUSED * sum(lack.need for lack in fits):
        ledger.note(entry, "picked", said.MORE_THAN_NEEDED.format(beyond=amount(left)))


def _settle(
    ledger: Ledger, known: _Known, name: str, worked: Worked | None, lacking: list[Lack]
) -> None:
    """Writes down what an order lacks, unless it is finished; says where that can't be so."""
    order = worked.name if worked else name
    others = [row for row in ledger.rows["allocations"] if row["order"] != order]
    rest = worked.rest if worked else 1.0
    for lack in lacking:
        if worked and rest < 1:
            _finished_without(ledger, worked, lack, known.waste.get(lack.item, 0.0))
        still = lack.lacks if ledger.is_whole(lack.item) else min(lack.lacks, lack.need * rest)
        if rest and still:
            others.append(
                {
                    "order": order,
                    "item": lack.item,
                    "quantity": tidy(still),
                    "need_date": lack.day,
                    "serial": lack.serial,
                }
            )
    ledger.rows["allocations"] = [row for row in others if row["quantity"] > 0]
    if worked and worked.planned and all(row["order"] != order for row in others):
        begin_late(ledger, worked)


def _finished_without(ledger: Ledger, worked: Worked, lack: Lack, waste: float) -> None:
    """Says where more is finished than what was picked can have made; waste: what may be saved."""
    if (worked.entry["order"], lack.item) in ledger.week.unread:
        return  # what is wrong with the cell was said
    beyond = lack.lacks - lack.need * (waste + worked.rest)
    column = "good" if worked.entry["good"] else "scrapped"
    words = {"lacks": amount(beyond), "unit": ledger.unit(lack.item), "item": lack.item}
    if not ledger.is_whole(lack.item):
        if beyond > lack.need * _UNUSED:
            ledger.note(worked.entry, column, said.FINISHED_WITHOUT.format(**words))
    elif beyond >= _WHOLE:
        words["lacks"] = amount(math.ceil(beyond - 1e-6))
        ledger.refuse(worked.entry, column, said.NOT_PICKED.format(**words))


_UNUSED = 0.1  # of what is measured, so much less is not remarkable
