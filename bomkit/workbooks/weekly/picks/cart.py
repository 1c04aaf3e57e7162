"""The cart list of a day: order by order all that belongs on its cart, in few lines."""

import datetime as dt
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from bomkit.units import WHOLE_UNITS
from bomkit.words import common, shortages
from bomkit.words.weekly import picks as pick_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.shortages import state_words
from bomkit.workbooks.weekly.picks.component_cells import (
    about_need,
    coming,
    day_box,
    day_line,
    marks,
    named,
    spoils,
)
from bomkit.workbooks.weekly.picks.handed_out import Picks
from bomkit.workbooks.weekly.picks.order_sheets import order_state
from bomkit.workbooks.writing.sheet import BLANK, Cell, Column, Line, Sheet, in_a_sentence, text

_HEADS = pick_words.CART_COLUMNS
_FORM = ListForm(
    {
        "day": Column(_HEADS["day"], 6.5),
        "order": Column(_HEADS["order"], 10.7, shows=True),
        "makes": Column(_HEADS["makes"], 32.8),
        "contents": Column(_HEADS["contents"], 98.5),
        "waits": Column(_HEADS["waits"], 6.4, fills="waits"),
    },
    "left_out",
)
_FIXED_SPACE = "\u00a0"  # a line never ends within one component
_MARKS = {common.PRIMARY: work_words.MARKED_PRIMARY}
_BETWEEN = " "  # each begins with a box
_NEAR = dt.timedelta(days=60)  # a last day of use beyond it stands on the round alone
_MOST_PARTS, _MOST_ABSENT = 60, 30  # in one row, which could not be higher


def cart_sheet(report: Report, week: str, days: Sequence[Picks]) -> Sheet:
    """What goes onto the carts of the orders of a week, by the day on which they start."""
    lines = [line for picks in days for line in _day_lines(report, picks)]
    dangerous = _dangerous(report, days)
    notes = (
        f"{pick_words.CART_NOTE} {pick_words.CART_FRAMED} {common.NOT_STATED} {common.PLAN_NUMBERS}"
    )
    return Sheet(
        name=pick_words.CART_SHEET,
        title=pick_words.CART_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=lines or [_FORM.sentence(pick_words.NOTHING_STARTS_IN.format(week=week))],
        cautions=(pick_words.PICK_CAUTION, *([dangerous] if dangerous else [])),
        notes=(notes, *shortages.STATES_NOTES),
        filtered=False,
        entries=_FORM.entries,
    )


def _day_lines(report: Report, picks: Picks) -> Iterator[Line]:
    """The orders of a day, below the day with how many there are and how they stand."""
    several = _lots_apart(picks)
    stand = Counter(state_words(order) for order in picks.orders)
    told = [f"{count} {state}" for state, count in sorted(stand.items())]
    yield day_line(_FORM, picks, ", ".join(told), "contents")
    for order in picks.orders:
        yield from _order_lines(report, picks, order, several)


def _lots_apart(picks: Picks) -> set[tuple[str, str]]:
    """Items, with their serial numbers, of which a day takes more than one lot."""
    lots: dict[tuple[str, str], set[str]] = {}
    for order in picks.orders:
        for part in picks.there(order):
            lots.setdefault((part["item"], part["serial"]), set()).add(part["supply"])
    return {item for item, named in lots.items() if len(named) > 1}


def _dangerous(report: Report, days: Sequence[Picks]) -> str:
    """What of the components is dangerous goods, and of which kind."""
    items = sorted(
        {part["item"] for picks in days for order in picks.orders for part in picks.of(order)}
    )
    kinds = [
        pick_words.CART_DANGER.format(item=item, hazard=report.items[item]["hazard"])
        for item in items
        if report.items[item]["hazard"]
    ]
    return pick_words.CART_DANGERS.format(kinds="; ".join(kinds)) if kinds else ""


def _order_lines(
    report: Report, picks: Picks, order: Mapping[str, Any], several: Collection[tuple[str, str]]
) -> Iterator[Line]:
    """One order: what is there, below it what comes in time and what comes late."""
    cells = {**_order_cells(report, order), **_FORM.to_fill()}
    key: Sequence[object] = [order["order"], order["start_date"]]
    for contents in _contents(report, picks, order, several):
        yield _FORM.row({**cells, "contents": contents}, key)
        cells, key = dict.fromkeys(cells, BLANK), ()


def _order_cells(report: Report, order: Mapping[str, Any]) -> dict[str, Cell]:
    """A box to tick, the order, what it makes, and how it stands where something is lacking."""
    item = report.items[order["item"]]
    what = pick_words.CART_MAKES.format(
        quantity=in_a_sentence(order["quantity"]),
        unit="" if order["unit"] in WHOLE_UNITS else f" {order['unit']}",
        item=named(order),
        description=item["description"] or order["item"],
    )
    late = order["state"] != "complete"
    told = f"{what}; {order_state(report, order)}" if late else what
    return {
        "day": (day_box(order), "text"),
        "order": text(order["order"], "strong_wrapped"),
        "makes": text(told, "late_wrapped" if late else "wrapped"),
    }


def _contents(
    report: Report,
    picks: Picks,
    order: Mapping[str, Any],
    several: Collection[tuple[str, str]],
) -> Iterator[tuple[str, str]]:
    """The components in words and their look: those in stores, those in time, those too late."""
    there, absent = picks.there(order), picks.absent(order)
    if not there and not absent:
        yield pick_words.PICK_NOTHING, "faint_wrapped"
    for listed, look in (
        ([part for part in there if not spoils(part, order)], "wrapped"),
        ([part for part in there if spoils(part, order)], "late_wrapped"),
    ):
        told = [_in_stores(report, part, order, several) for part in listed]
        for first in range(0, len(told), _MOST_PARTS):
            yield _BETWEEN.join(told[first : first + _MOST_PARTS]), look
    yield from _absent(report, absent, order)


def _absent(
    report: Report, parts: Sequence[Mapping[str, Any]], order: Mapping[str, Any]
) -> Iterator[tuple[str, str]]:
    """What is not there, by the day on which it comes: first what comes in time."""
    days: dict[tuple[bool, str], list[str]] = {}
    for part in sorted(parts, key=lambda part: part["comes"] or dt.date.max):
        when, late = coming(report, part)
        days.setdefault((late, when), []).append(_to_come(report, part, order))
    for (late, when), told in sorted(days.items(), key=lambda day: day[0][0]):
        for first in range(0, len(told), _MOST_ABSENT):
            listed = _BETWEEN.join(told[first : first + _MOST_ABSENT])
            words = pick_words.CART_TO_COME.format(when=when, parts=listed)
            yield words, "late_wrapped" if late else "to_do_words"


def _in_stores(
    report: Report,
    part: Mapping[str, Any],
    order: Mapping[str, Any],
    several: Collection[tuple[str, str]],
) -> str:
    """One component in stores: how many pieces, or that it is measured out, and what to mind."""
    item = report.items[part["item"]]
    pieces = item["unit"] in WHOLE_UNITS
    about: list[str] = []
    if part["supply"] and (part["item"], part["serial"]) in several:
        about.append(pick_words.CART_LOT.format(lot=part["supply"]))
    if part["expires"] is not None and part["expires"] < order["start_date"] + _NEAR:
        about.append(pick_words.CART_USE_BY.format(date=f"{part['expires']:%d %b %Y}"))
    what = _named(report, part) if not pieces else _counted(report, part, pick_words.CART_PIECES)
    return _boxed(report, part, order, what, about)


def _to_come(report: Report, part: Mapping[str, Any], order: Mapping[str, Any]) -> str:
    """One component that is not there, and where it comes from."""
    item = report.items[part["item"]]
    words = pick_words.CART_PIECES if item["unit"] in WHOLE_UNITS else pick_words.CART_PART
    source = [part["supply"]] if part["supply"] else []
    return _boxed(report, part, order, _counted(report, part, words), source)


def _counted(report: Report, part: Mapping[str, Any], words: str) -> str:
    quantity = in_a_sentence(part["quantity"])
    unit = report.items[part["item"]]["unit"]
    return words.format(quantity=quantity, unit=unit, item=_named(report, part))


def _named(report: Report, part: Mapping[str, Any]) -> str:
    """A component, marked where it is dangerous goods."""
    mark = pick_words.DANGER if report.items[part["item"]]["hazard"] else ""
    return f"{mark}{named(part)}"


def _boxed(
    report: Report,
    part: Mapping[str, Any],
    order: Mapping[str, Any],
    what: str,
    about: Sequence[str],
) -> str:
    """A box to tick, the component, and what must be minded; all of it stays in one line."""
    item = report.items[part["item"]]
    own = [_MARKS.get(words, words) for words in marks(item) if words != item["hazard"]]
    told = "; ".join([*about, *about_need(report, part, order), *own])
    words = f"{pick_words.CART_BOX} {what} ({told})" if told else f"{pick_words.CART_BOX} {what}"
    return words.replace(" ", _FIXED_SPACE)
