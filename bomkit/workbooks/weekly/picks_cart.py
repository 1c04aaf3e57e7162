"""The cart list of a day: order by order all that belongs on its cart, in few lines."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from bomkit.words import common, weekly
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.shortages import STATE_STYLES
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
from bomkit.workbooks.writing.style import USUAL_HEIGHT, height_for

_WIDTHS = (4, 11, 36, 16, 92, 7)
_SHOWS = (1,)
_FIXED_SPACE = "\u00a0"  # a line never ends within one component
_BETWEEN = "   "
_NEAR = dt.timedelta(days=60)  # a last day of use beyond it stands on the round alone
_MOST_PARTS = 60  # in one row, which could not be higher


def cart_sheet(report: Report, picks: Picks, name: str, title: str) -> Sheet:
    """What goes onto the carts of the orders that start on one day."""
    lines = [line for order in picks.orders for line in _order_lines(report, picks, order)]
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=list_columns(
            weekly.CART_COLUMNS, _WIDTHS, centre=[0], fills={5: "waits"}, shows=_SHOWS
        ),
        lines=lines,
        cautions=(weekly.PICK_CAUTION,),
        notes=(weekly.CART_NOTE, f"{weekly.CART_FRAMED} {common.NOT_STATED} {common.PLAN_NUMBERS}"),
        filtered=False,
        entries="left_out",
    )


def _order_lines(report: Report, picks: Picks, order: Mapping[str, Any]) -> Iterator[Line]:
    """One order: what is there, below it what comes in time and what comes late."""
    cells = _order_cells(report, order)
    key: Sequence[object] = [order["order"], order["start_date"]]
    for words, look in _contents(report, picks.of(order), order):
        held = [(words, _WIDTHS[4])]
        held += [(str(cell[0]), width) for cell, width in zip(cells, _WIDTHS, strict=False) if cell]
        waits = to_fill("left_out", "waits") if key else BLANK
        yield Line([*cells, (words, look), waits], height_for(*held) or USUAL_HEIGHT, key)
        cells, key = [BLANK] * len(cells), ()


def _order_cells(report: Report, order: Mapping[str, Any]) -> list[Cell]:
    """A box to tick, the order, what it makes for whom, and whether all is there."""
    whom = report.for_whom.get(order["order"], "")
    what = weekly.CART_MAKES.format(item=order["item"], made=made(report, order))
    named = weekly.PICK_FOR.format(whom=whom) if whom else ""
    return [
        (common.BOX, "centre"),
        text(order["order"], "strong"),
        text("; ".join(filter(None, (what, named))), "wrapped"),
        (order_state(report, order), STATE_STYLES[order["state"]] + "_state"),
    ]


def _contents(
    report: Report, parts: Sequence[Mapping[str, Any]], order: Mapping[str, Any]
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
            told = (_told(report, part, order) for part in listed[first : first + _MOST_PARTS])
            yield _BETWEEN.join(words.replace(" ", _FIXED_SPACE) for words in told), look


def _told(report: Report, part: Mapping[str, Any], order: Mapping[str, Any]) -> str:
    """One component with its quantity, lot and all that must be minded."""
    item = report.items[part["item"]]
    what = weekly.CART_PART.format(
        quantity=in_a_sentence(part["quantity"]), unit=item["unit"], item=named(part)
    )
    about = "; ".join(
        [*_source(report, part, order), *about_need(report, part, order), *marks(item)]
    )
    box = f"{common.BOX} " if is_there(part) else ""
    return f"{box}{what} ({about})" if about else f"{box}{what}"


def _source(report: Report, part: Mapping[str, Any], order: Mapping[str, Any]) -> Iterator[str]:
    """The lot, with its last day of use if that is near; or when it comes, and from where."""
    if not is_there(part):
        yield coming(report, part)[0]
        if part["supply"]:
            yield weekly.PICK_FROM.format(supply=part["supply"])
        return
    if part["supply"]:
        yield weekly.CART_LOT.format(lot=part["supply"])
    if part["expires"] is not None and part["expires"] < order["start_date"] + _NEAR:
        yield weekly.CART_USE_BY.format(date=f"{part['expires']:%d %b %Y}")
