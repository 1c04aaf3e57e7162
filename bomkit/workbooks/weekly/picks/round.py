"""The round of a day: place by place what to bring out in total for all orders."""

import datetime as dt
import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from bomkit.units import WHOLE_UNITS
from bomkit.words import common
from bomkit.words.weekly import picks as pick_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.picks.component_cells import (
    about_need,
    coming,
    day_box,
    day_line,
    described,
    is_there,
    named,
    spoils,
)
from bomkit.workbooks.weekly.picks.handed_out import Picks
from bomkit.workbooks.weekly.picks.order_of_places import by_number
from bomkit.workbooks.writing import letter_widths as letters
from bomkit.workbooks.writing.sheet import Cell, Column, Line, Sheet, in_a_sentence, quantity, text
from bomkit.workbooks.writing.style import BODY_SIZE

_SHARES_HEIGHT = 12.2
_HEADS = pick_words.ROUND_COLUMNS
_FORM = ListForm(
    {
        "day": Column(_HEADS["day"], 6.5),
        "location": Column(_HEADS["location"], 20.4, shows=True),
        "item": Column(_HEADS["item"], 8.2, shows=True),
        "description": Column(_HEADS["description"], 34, shows=True),
        "bring_out": Column(_HEADS["bring_out"], 8.4, "head_right"),
        "unit": Column(_HEADS["unit"], 4.1),
        "for": Column(_HEADS["for"], 9.6),
        "picked": Column(_HEADS["picked"], 6.1, fills="picked"),
        "other_lot": Column(_HEADS["other_lot"], 5.6, fills="lot"),
    },
    "brought_out",
)
_FIXED_SPACE, _BETWEEN = "\u00a0", "  "
_SHARES_ROOM = letters.room(sum(column.width for column in _FORM.columns[1:]))  # from location on

Part = tuple[Mapping[str, Any], Mapping[str, Any]]  # a component, and the order that takes it


def round_sheet(report: Report, week: str, days: Sequence[Picks]) -> Sheet:
    """What is to be brought out day by day, in total for all orders that start then.

    What lies in stores, and below it what comes within the week, to be picked when it is there; the
    latter is not printed, as the cart list names it order by order.
    """
    lines = [line for picks in days for line in _day_lines(report, picks)]
    to_come = [_lot_line(report, group) for picks in days for group in _to_come(picks)]
    lines = lines or [_FORM.sentence(pick_words.NOTHING_STARTS_IN.format(week=week))]
    printed = len(lines)
    if to_come:
        lines += [_FORM.section(pick_words.ROUND_TO_COME, height=20), *to_come]
    return Sheet(
        name=pick_words.ROUND_SHEET,
        title=pick_words.ROUND_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=lines,
        cautions=(pick_words.PICK_CAUTION,),
        notes=(
            f"{pick_words.ROUND_NOTE} {pick_words.ROUND_FRAMED} {common.NOT_STATED} "
            f"{common.PLAN_NUMBERS}",
        ),
        filtered=False,
        portrait=True,
        printed=printed,
        entries=_FORM.entries,
    )


def _day_lines(report: Report, picks: Picks) -> Iterator[Line]:
    """What lies in stores for the orders of a day, below the day."""
    lots = _by_lot(picks)
    about = pick_words.ROUND_LOTS.format(count=len(lots))
    yield day_line(_FORM, picks, about, "description")
    for group in lots:
        yield from _lot_lines(report, group)


def _by_lot(picks: Picks) -> list[list[Part]]:
    """What lies in stores for all orders, what is of one lot together, by place."""
    groups: dict[tuple[str, ...], list[Part]] = {}
    for order in picks.orders:
        for part in picks.there(order):
            lot = part["item"], part["serial"], part["supply"], part["location"]
            groups.setdefault(lot, []).append((part, order))
    return sorted(groups.values(), key=lambda group: _place(group[0][0]))


def _to_come(picks: Picks) -> list[list[Part]]:
    """What is not there and comes within the week, one item and serial together, by day."""
    groups: dict[tuple[str, ...], list[Part]] = {}
    for order in picks.orders:
        day = order["start_date"]
        ends = day + dt.timedelta(days=6 - day.weekday())
        for part in picks.absent(order):
            if part["comes"] and part["comes"] <= ends:
                groups.setdefault((part["item"], part["serial"]), []).append((part, order))
    return sorted(groups.values(), key=lambda group: (_first(group)["comes"], group[0][0]["item"]))


def _first(group: Sequence[Part]) -> Mapping[str, Any]:
    """What of it lies in stores or comes first."""
    return min((part for part, _ in group), key=lambda part: part["comes"] or dt.date.min)


def _place(part: Mapping[str, Any]) -> tuple[Any, ...]:
    """What sorts a round: by place, shelf 2 before shelf 11, then by item and last day of use."""
    lot = part["item"], part["serial"], str(part["expires"] or "9"), part["supply"]
    return (by_number(part["location"]), *lot)


def _lot_line(report: Report, group: Sequence[Part]) -> Line:
    """What to take of one lot in total."""
    return _FORM.row({**_total_cells(report, group), **_FORM.to_fill()}, _key(group))


def _lot_lines(report: Report, group: Sequence[Part]) -> Iterator[Line]:
    """The same, and below it how much each order gets of what is measured out to several."""
    yield _lot_line(report, group)
    if len(group) == 1 or report.items[group[0][0]["item"]]["unit"] in WHOLE_UNITS:
        return
    shares = _BETWEEN.join(share.replace(" ", _FIXED_SPACE) for share in _shares(group))
    words = pick_words.ROUND_SHARES.format(item=named(group[0][0]), shares=shares)
    for told in letters.in_lines(words, _SHARES_ROOM, BODY_SIZE):
        yield _FORM.line({"location": (told, "note")}, _SHARES_HEIGHT)


def _shares(group: Sequence[Part]) -> Iterator[str]:
    """How much each order gets; of names that begin like the one before, what is other."""
    known = ""
    for part, order in group:
        begins, dash, rest = order["order"].rpartition("-")
        name = f"{dash}{rest}" if begins and begins == known else order["order"]
        known = begins
        yield pick_words.ROUND_SHARE.format(order=name, quantity=in_a_sentence(part["quantity"]))


def _key(group: Sequence[Part]) -> Sequence[object]:
    """What a line is when it is filled in: the lot, and the orders that it goes to."""
    part = group[0][0]
    goes = [
        [order["order"], each["quantity"], each["need_date"].isoformat()] for each, order in group
    ]
    lies = (part["location"], part["supply"]) if is_there(part) else (pick_words.NOT_IN_STORES, "")
    return part["item"], part["serial"], *lies, json.dumps(goes)


def _total_cells(report: Report, group: Sequence[Part]) -> dict[str, Cell]:
    """A box to tick, place, component, lot, total, and the order or how many orders it is for."""
    (part, order), spoiled = group[0], any(spoils(*each) for each in group)
    unit = report.items[part["item"]]["unit"]
    total = round(sum(part["quantity"] for part, _ in group), 9)
    place = text(part["location"] or work_words.IN_STORES, "wrapped")
    if not is_there(part):
        comes, late = coming(report, _first(group))
        place = (comes, "late_wrapped" if late else "to_do_words")
    return {
        "day": (day_box(order), "text"),
        "location": place,
        "item": text(named(part), "strong_wrapped"),
        "description": text(_described(report, group), "late_wrapped" if spoiled else "wrapped"),
        "bring_out": quantity(total, unit, "strong_"),
        "unit": (unit, "unit"),
        "for": text(_for(group), "wrapped"),
    }


def _described(report: Report, group: Sequence[Part]) -> str:
    """What a lot is, and what must be minded when it is picked, of any of its orders."""
    part = group[0][0]
    told = [described(report.items[part["item"]])]
    if part["supply"] and is_there(part):
        told.append(pick_words.CART_LOT.format(lot=part["supply"]))
    if part["expires"]:
        told.append(pick_words.ROUND_USE_BY.format(date=f"{part['expires']:%d %b %Y}"))
    told += [about for each, order in group for about in about_need(report, each, order)]
    return "; ".join(dict.fromkeys(filter(None, told)))


def _for(group: Sequence[Part]) -> str:
    """The one order that gets all of it, or how many orders share it."""
    orders = list({order["order"]: None for _, order in group})
    return orders[0] if len(orders) == 1 else pick_words.ROUND_ORDERS.format(count=len(orders))
