"""The cart list of a day: order by order all that belongs on its cart, in few lines."""

import datetime as dt
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from bomkit.units import WHOLE_UNITS
from bomkit.words import common, shortages, weekly
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.shortages import state_words
from bomkit.workbooks.weekly.picks_parts import (
    Picks,
    about_need,
    coming,
    is_there,
    made,
    marks,
    named,
    spoils,
)
from bomkit.workbooks.weekly.picks_sheets import order_state
from bomkit.workbooks.writing.heights import height_of
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Cell,
    Line,
    Sheet,
    in_a_sentence,
    list_columns,
    text,
    to_fill,
)

_WIDTHS = (3, 9.8, 32, 101, 7)
_SHOWS = (1,)
_CONTENTS = 3
_FIXED_SPACE = "\u00a0"  # a line never ends within one component
_BETWEEN = "  "
_NEAR = dt.timedelta(days=60)  # a last day of use beyond it stands on the round alone
_MOST_PARTS = 60  # in one row, which could not be higher


def cart_sheet(report: Report, picks: Picks, name: str, title: str) -> Sheet:
    """What goes onto the carts of the orders that start on one day."""
    several = _lots_apart(picks)
    lines = [line for order in picks.orders for line in _order_lines(report, picks, order, several)]
    dangerous = _dangerous(report, picks)
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=list_columns(
            weekly.CART_COLUMNS, _WIDTHS, centre=[0], fills={4: "waits"}, shows=_SHOWS
        ),
        lines=lines,
        cautions=(weekly.PICK_CAUTION, *([dangerous] if dangerous else [])),
        notes=(
            f"{weekly.CART_NOTE} {weekly.CART_FRAMED} {common.NOT_STATED} {common.PLAN_NUMBERS}",
        ),
        filtered=False,
        entries="left_out",
    )


def _lots_apart(picks: Picks) -> set[tuple[str, str]]:
    """Items, with their serial numbers, of which a day takes more than one lot."""
    lots: dict[tuple[str, str], set[str]] = {}
    for order in picks.orders:
        for part in filter(is_there, picks.of(order)):
            lots.setdefault((part["item"], part["serial"]), set()).add(part["supply"])
    return {item for item, named in lots.items() if len(named) > 1}


def _dangerous(report: Report, picks: Picks) -> str:
    """What of the components of a day is dangerous goods, and of which kind."""
    items = sorted({part["item"] for order in picks.orders for part in picks.of(order)})
    kinds = [
        weekly.CART_DANGER.format(item=item, hazard=report.items[item]["hazard"])
        for item in items
        if report.items[item]["hazard"]
    ]
    return weekly.CART_DANGERS.format(kinds="; ".join(kinds)) if kinds else ""


def _order_lines(
    report: Report, picks: Picks, order: Mapping[str, Any], several: Collection[tuple[str, str]]
) -> Iterator[Line]:
    """One order: what is there, below it what comes in time and what comes late."""
    cells = _order_cells(report, order)
    key: Sequence[object] = [order["order"], order["start_date"]]
    for words, look in _contents(report, picks.of(order), order, several):
        waits = to_fill("left_out", "waits") if key else BLANK
        row = [*cells, (words, look), waits]
        yield Line(row, height_of(row, _WIDTHS), key)
        cells, key = [BLANK] * len(cells), ()


def _order_cells(report: Report, order: Mapping[str, Any]) -> list[Cell]:
    """A box to tick, the order, what it makes, and how it stands where something is lacking."""
    what = weekly.CART_MAKES.format(item=order["item"], made=made(report, order))
    complete = state_words(order) == shortages.STATES["complete"]
    told = what if complete else f"{what}; {order_state(report, order)}"
    late = order["state"] != "complete"
    return [
        (common.BOX, "centre"),
        text(order["order"], "strong_wrapped"),
        text(told, "late_wrapped" if late else "wrapped"),
    ]


def _contents(
    report: Report,
    parts: Sequence[Mapping[str, Any]],
    order: Mapping[str, Any],
    several: Collection[tuple[str, str]],
) -> Iterator[tuple[str, str]]:
    """The components in words and their look: those in stores, those in time, those too late."""
    if not parts:
        yield weekly.PICK_NOTHING, "faint_wrapped"
    there = [part for part in parts if is_there(part)]
    spoiled = [part for part in there if spoils(part, order)]
    absent = [part for part in parts if not is_there(part)]
    late = [part for part in absent if coming(report, part)[1]]
    for listed, look in (
        ([part for part in there if part not in spoiled], "wrapped"),
        (spoiled, "late_wrapped"),
        ([part for part in absent if part not in late], "to_do_words"),
        (late, "late_wrapped"),
    ):
        for first in range(0, len(listed), _MOST_PARTS):
            told = (
                _told(report, part, order, (part["item"], part["serial"]) in several)
                for part in listed[first : first + _MOST_PARTS]
            )
            yield _BETWEEN.join(words.replace(" ", _FIXED_SPACE) for words in told), look


def _told(report: Report, part: Mapping[str, Any], order: Mapping[str, Any], with_lot: bool) -> str:
    """One component with its quantity and all that must be minded; with_lot: and its lot."""
    item = report.items[part["item"]]
    words = weekly.CART_PIECES if item["unit"] in WHOLE_UNITS else weekly.CART_PART
    marked = f"{weekly.DANGER}{named(part)}" if item["hazard"] else named(part)
    what = words.format(quantity=in_a_sentence(part["quantity"]), unit=item["unit"], item=marked)
    about = [*_source(report, part, order, with_lot), *about_need(report, part, order)]
    told = "; ".join([*about, *(words for words in marks(item) if words != item["hazard"])])
    box = f"{common.BOX} " if is_there(part) else ""
    return f"{box}{what} ({told})" if told else f"{box}{what}"


def _source(
    report: Report, part: Mapping[str, Any], order: Mapping[str, Any], with_lot: bool
) -> Iterator[str]:
    """The lot, and its last day of use if that is near; or when it comes, and from where."""
    if not is_there(part):
        yield coming(report, part)[0]
        if part["supply"]:
            yield weekly.PICK_FROM.format(supply=part["supply"])
        return
    if part["supply"] and with_lot:
        yield weekly.CART_LOT.format(lot=part["supply"])
    if part["expires"] is not None and part["expires"] < order["start_date"] + _NEAR:
        yield weekly.CART_USE_BY.format(date=f"{part['expires']:%d %b %Y}")
