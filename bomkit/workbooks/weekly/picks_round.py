"""The round of a day: place by place what to bring out in total, and what goes to which order."""

import datetime as dt
import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from bomkit.words import common, weekly
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.picks_parts import (
    Picks,
    about_need,
    by_number,
    coming,
    described,
    is_there,
    named,
    spoils,
)
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Cell,
    Line,
    Sheet,
    all_to_fill,
    in_a_sentence,
    list_columns,
    quantity,
    section,
    text,
)
from bomkit.workbooks.writing.style import USUAL_HEIGHT, height_for

_WIDTHS = (4, 20, 14, 30, 11, 10.5, 9, 4.5, 45, 9, 11)
_PLACE, _DESCRIPTION, _GOES_TO = 1, 3, 8
_FILLS = {9: "picked", 10: "lot"}
_SHOWS = (1, 2, 4)
_MOST_ORDERS = 60  # in one row, which could not be higher

Part = tuple[Mapping[str, Any], Mapping[str, Any]]  # a component, and the order that takes it


def round_sheet(report: Report, picks: Picks, name: str, title: str) -> Sheet:
    """What is to be brought out on one day, for all orders that start then.

    What lies in stores, and below it what comes within the week, to be picked when it is there.
    """
    lines = [line for group in _by_lot(picks) for line in _lot_lines(report, group)]
    to_come = [line for group in _to_come(picks) for line in _lot_lines(report, group)]
    lines = lines or [Line([(weekly.ROUND_NOTHING, "plain")])]
    if to_come:
        lines += [Line(section(weekly.ROUND_TO_COME, len(_WIDTHS)), 24), *to_come]
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=list_columns(
            weekly.ROUND_COLUMNS, _WIDTHS, right=[6], centre=[0], fills=_FILLS, shows=_SHOWS
        ),
        lines=lines,
        cautions=(weekly.PICK_CAUTION,),
        notes=(
            weekly.ROUND_NOTE,
            f"{weekly.ROUND_FRAMED} {common.NOT_STATED} {common.PLAN_NUMBERS}",
        ),
        filtered=False,
        entries="brought_out",
    )


def _by_lot(picks: Picks) -> list[list[Part]]:
    """What lies in stores for all orders, what is of one lot together, by place."""
    groups: dict[tuple[str, ...], list[Part]] = {}
    for order in picks.orders:
        for part in filter(is_there, picks.of(order)):
            lot = part["item"], part["serial"], part["supply"], part["location"]
            groups.setdefault(lot, []).append((part, order))
    return sorted(groups.values(), key=lambda group: _place(group[0][0]))


def _to_come(picks: Picks) -> list[list[Part]]:
    """What is not there and comes within the week, one item and serial together, by day."""
    groups: dict[tuple[str, ...], list[Part]] = {}
    for order in picks.orders:
        day = order["start_date"]
        ends = day + dt.timedelta(days=6 - day.weekday())
        for part in picks.of(order):
            if not is_there(part) and part["comes"] and part["comes"] <= ends:
                groups.setdefault((part["item"], part["serial"]), []).append((part, order))
    for group in groups.values():
        group.sort(key=lambda each: each[0]["comes"])
    return sorted(groups.values(), key=lambda group: (group[0][0]["comes"], group[0][0]["item"]))


def _place(part: Mapping[str, Any]) -> tuple[Any, ...]:
    """What sorts a round: by place, shelf 2 before shelf 11, then by item and last day of use."""
    lot = part["item"], part["serial"], str(part["expires"] or "9"), part["supply"]
    return (by_number(part["location"]), *lot)


def _lot_lines(report: Report, group: Sequence[Part]) -> Iterator[Line]:
    """What to take of one lot in total, and for whom; more lines where that is too many."""
    words = described(report.items[group[0][0]["item"]])
    cells = _total_cells(report, group, words)
    told = [_goes(report, part, order) for part, order in group]
    key: Sequence[object] = _key(group)
    look = "late_wrapped" if any(spoils(part, order) for part, order in group) else "wrapped"
    for first in range(0, len(told), _MOST_ORDERS):
        goes = ", ".join(told[first : first + _MOST_ORDERS])
        place = str((cells[_PLACE] or ("",))[0]), _WIDTHS[_PLACE]
        height = height_for((goes, _WIDTHS[_GOES_TO]), (words, _WIDTHS[_DESCRIPTION]), place)
        filled = all_to_fill("brought_out", _FILLS.values(), bool(key))
        yield Line([*cells, (goes, look), *filled], height or USUAL_HEIGHT, key)
        cells, key = [BLANK] * len(cells), ()


def _key(group: Sequence[Part]) -> Sequence[object]:
    """What a line is when it is filled in: the lot, and the orders that it goes to."""
    part = group[0][0]
    goes = [
        [order["order"], each["quantity"], each["need_date"].isoformat()] for each, order in group
    ]
    lies = (part["location"], part["supply"]) if is_there(part) else (weekly.NOT_IN_STORES, "")
    return part["item"], part["serial"], *lies, json.dumps(goes)


def _goes(report: Report, part: Mapping[str, Any], order: Mapping[str, Any]) -> str:
    """What goes to one order, and what must be known about it."""
    told = weekly.GOES_TO.format(order=order["order"], quantity=in_a_sentence(part["quantity"]))
    about = "; ".join(about_need(report, part, order))
    return f"{told} ({about})" if about else told


def _total_cells(report: Report, group: Sequence[Part], words: str) -> list[Cell]:
    """A box to tick, place, component, lot and total."""
    part = group[0][0]
    unit = report.items[part["item"]]["unit"]
    total = round(sum(part["quantity"] for part, _ in group), 9)
    use_by: Cell = (part["expires"], "year_date") if part["expires"] else BLANK
    comes, late = coming(report, part)
    place = text(part["location"] or weekly.IN_STORES, "strong")
    if not is_there(part):
        place = (comes, "late_wrapped" if late else "to_do_words")
    return [
        (common.BOX, "centre"),
        place,
        text(named(part), "strong"),
        text(words, "wrapped"),
        text(part["supply"] if is_there(part) else ""),
        use_by,
        quantity(total, unit, "strong_"),
        (unit, "unit"),
    ]
