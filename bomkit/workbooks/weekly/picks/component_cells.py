"""What every list says of the components that stores hand out."""

import datetime as dt
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from bomkit.words import common, shortages
from bomkit.words.weekly import picks as pick_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.picks.handed_out import Picks
from bomkit.workbooks.writing.sheet import Line, in_a_sentence

_DAY_HEIGHT = 20.0


def is_there(part: Mapping[str, Any]) -> bool:
    """Whether a component lies in stores."""
    return bool(part["supply_kind"] == "stock")


def spoils(part: Mapping[str, Any], order: Mapping[str, Any]) -> bool:
    """Whether a lot expires before the order that takes it can start."""
    expires, start = part["expires"], order["can_start"]
    return expires is not None and (start is None or expires < start)


def described(item: Mapping[str, Any]) -> str:
    """What a component is, with what must be minded when it is given out."""
    return "; ".join(filter(None, (item["description"], *marks(item))))


def marks(item: Mapping[str, Any]) -> tuple[str, ...]:
    """What must be minded when a component is given out."""
    return _marks(item["structure_class"], item["hazard"])


@cache
def _marks(structure_class: str, hazard: str) -> tuple[str, ...]:
    words = {"primary": common.PRIMARY, "tooling": common.MUST_COME_BACK}
    return tuple(filter(None, (words.get(structure_class), hazard)))


def coming(report: Report, part: Mapping[str, Any]) -> tuple[str, bool]:
    """When a component that is not there comes, in words, and whether that is too late."""
    late = part["late_days"] > 0
    if part["overdue"] is not None:
        since = shortages.OVERDUE_SINCE.format(date=report.day(part["overdue"]))
        return f"{shortages.OVERDUE_STATE}, {since}", True
    if not part["comes"]:
        return pick_words.PICK_NEVER, late
    mark = work_words.LATE_MARK if late else work_words.IN_TIME_MARK
    return pick_words.PICK_COMES.format(mark=mark, date=report.day(part["comes"])), late


def made(report: Report, order: Mapping[str, Any]) -> str:
    """What an order makes, in words."""
    return pick_words.PICK_HEAD.format(
        quantity=in_a_sentence(order["quantity"]),
        unit=order["unit"],
        description=report.items[order["item"]]["description"] or order["item"],
    )


def named(part: Mapping[str, Any]) -> str:
    """A component, with the serial number that it is made for."""
    if not part["serial"]:
        return str(part["item"])
    return pick_words.OF_SERIAL.format(item=part["item"], serial=part["serial"])


def about_need(report: Report, part: Mapping[str, Any], order: Mapping[str, Any]) -> Iterator[str]:
    """What must be known about a component of one order: another day, a last day, an old item."""
    if part["need_date"] != order["start_date"]:
        yield pick_words.NEEDED_ON.format(date=report.day(part["need_date"]))
    if is_there(part) and spoils(part, order):
        yield pick_words.PICK_EXPIRES
    if part["replaces"]:
        yield pick_words.PICK_INSTEAD.format(item=part["replaces"])


def day_line(form: ListForm, picks: Picks, about: str, beside: str) -> Line:
    """The heading of a day in a list; beside: the column beside the longest name of a day."""
    day = picks.orders[0]["start_date"]
    return form.section(f"{day:%A %d %B}", {beside: (about, "section_note")}, _DAY_HEIGHT)


def day_box(order: Mapping[str, Any]) -> str:
    """A box to tick, and the day, which tells on every page for when a row is."""
    return _box_of(order["start_date"])


@cache
def _box_of(day: dt.date) -> str:
    return f"{common.BOX} {day:%a}"
