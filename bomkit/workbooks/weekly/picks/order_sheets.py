"""A sheet for each order that starts in a week: what to take, in the order of locations."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from bomkit.words import common, shortages
from bomkit.words.weekly import picks as pick_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.shortages import START_FORM, start_line, state_words
from bomkit.workbooks.weekly.picks.component_cells import (
    coming,
    described,
    is_there,
    made,
    spoils,
)
from bomkit.workbooks.weekly.picks.handed_out import Picks, picks_of
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Column,
    Line,
    Sheet,
    quantity,
    text,
)
from bomkit.workbooks.writing.sheet_names import sheet_names

_HEADS = pick_words.PICK_COLUMNS
_FORM = ListForm(
    {
        "picked": Column(_HEADS["picked"], 7, "head_centre"),
        "location": Column(_HEADS["location"], 22),
        "lot": Column(_HEADS["lot"], 14),
        "use_by": Column(_HEADS["use_by"], 12),
        "component": Column(_HEADS["component"], 14),
        "description": Column(_HEADS["description"], 35),
        "serial": Column(_HEADS["serial"], 9),
        "quantity": Column(_HEADS["quantity"], 10, "head_right"),
        "unit": Column(_HEADS["unit"], 5),
        "needed_on": Column(_HEADS["needed_on"], 11),
        "note": Column(_HEADS["note"], 24),
    }
)


def pick_sheets_book(report: Report, week: str) -> Book:
    """An overview with the state of each order, then its sheet."""
    picks = picks_of(report, week, in_work=False)
    names = sheet_names(
        [order["order"] for order in picks.orders], taken=[pick_words.PICK_SHEETS_TITLE]
    )
    sheets = [_contents(report, week, picks, names)]
    for order in picks.orders:
        parts = picks.of(order)
        sheets.append(_pick_sheet(report, week, order, parts, names[order["order"]]))
    return report.book(sheets)


def _contents(report: Report, week: str, picks: Picks, names: Mapping[str, str]) -> Sheet:
    """A line for each order with its state, leading to its sheet."""
    lines = [start_line(report, order, names[order["order"]]) for order in picks.orders]
    return Sheet(
        name=pick_words.PICK_SHEETS_TITLE,
        title=pick_words.PICK_SHEETS_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=START_FORM.columns,
        lines=lines or [START_FORM.sentence(pick_words.NOTHING_STARTS_IN.format(week=week))],
        notes=(pick_words.PICK_SHEETS_NOTE, *shortages.STATES_NOTES),
        filtered=bool(lines),
        frozen_columns=2,
    )


def _pick_sheet(
    report: Report,
    week: str,
    order: Mapping[str, Any],
    parts: Sequence[Mapping[str, Any]],
    name: str,
) -> Sheet:
    """What to hand out for one order."""
    lines = [_part_line(report, part, order) for part in parts]
    if not lines:
        lines = [_FORM.sentence(pick_words.PICK_NOTHING)]
    whom = report.for_whom.get(order["order"], "")
    return Sheet(
        name=name,
        title=pick_words.PICK_TITLE.format(order=order["order"], item=order["item"]),
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=[*lines, *signatures()],
        cautions=(pick_words.PICK_CAUTION,),
        notes=(
            common.BETWEEN.join(filter(None, _heading(report, order, whom))),
            pick_words.PICK_NOTE,
            f"{common.NOT_STATED} {common.PLAN_NUMBERS}",
        ),
        filtered=False,
    )


def _heading(report: Report, order: Mapping[str, Any], whom: str) -> Iterator[str]:
    """What the order makes, from when to when, for whom, and whether all is there."""
    yield made(report, order)
    yield pick_words.PICK_START.format(date=report.day(order["start_date"]))
    yield pick_words.PICK_FOR.format(whom=whom) if whom else ""
    yield order_state(report, order)


def order_state(report: Report, order: Mapping[str, Any]) -> str:
    """The state of an order in words, and when it can start if that is later."""
    state = state_words(order)
    if order["can_start"] is None:
        return f"{state}, {common.NO_DATE}"
    if order["can_start"] <= order["start_date"]:
        return state
    can_start = pick_words.PICK_CAN_START.format(date=report.day(order["can_start"]))
    return f"{state}, {can_start}"


def _part_line(report: Report, part: Mapping[str, Any], order: Mapping[str, Any]) -> Line:
    """One lot to take, or one component that is not there, as high as its description needs."""
    words = described(report.items[part["item"]])
    height = height_for((words, _FORM.width("description"))) or 20
    return _FORM.line(_part_cells(report, part, order, words), height)


def _part_cells(
    report: Report, part: Mapping[str, Any], order: Mapping[str, Any], words: str
) -> dict[str, Cell]:
    """The cells of that line."""
    shared = _shared_cells(report, part, words)
    instead = pick_words.PICK_INSTEAD.format(item=part["replaces"]) if part["replaces"] else ""
    if is_there(part):
        use_by: Cell = (part["expires"], "year_date") if part["expires"] else BLANK
        spoiled = spoils(part, order)
        note = "; ".join(filter(None, (pick_words.PICK_EXPIRES if spoiled else "", instead)))
        return {
            **shared,
            "location": text(part["location"] or work_words.IN_STORES, "strong_wrapped"),
            "lot": text(part["supply"]),
            "use_by": use_by,
            "note": (note, "late_pen" if spoiled else "pen"),
        }
    comes, late = coming(report, part)
    source = pick_words.PICK_FROM.format(supply=part["supply"]) if part["supply"] else ""
    note = "; ".join(filter(None, (comes, instead)))
    return {
        **shared,
        "location": (pick_words.NOT_IN_STORES, "late_words" if late else "to_do_words"),
        "lot": text(source, "faint"),
        "use_by": BLANK,
        "note": (note, "late_pen" if late else "to_do_pen"),
    }


def _shared_cells(report: Report, part: Mapping[str, Any], words: str) -> dict[str, Cell]:
    """What is said of a part whether it is there or not."""
    unit = report.items[part["item"]]["unit"]
    return {
        "picked": (common.BOX, "tick"),
        "component": text(part["item"], "strong_wrapped"),
        "description": text(words, "wrapped"),
        "serial": text(part["serial"]),
        "quantity": quantity(part["quantity"], unit, "strong_"),
        "unit": (unit, "unit"),
        "needed_on": (part["need_date"], "date"),
    }


def signatures() -> Iterator[Line]:
    """Where the storekeeper signs."""
    yield _FORM.line({}, height=10)
    name, date = pick_words.PICK_SIGN
    cells: dict[str, Cell] = {
        "location": (name, "plain"),
        "lot": ("", "pen"),
        "use_by": ("", "pen"),
        "component": (date, "plain_right"),
        "description": ("", "pen"),
    }
    yield _FORM.line(cells, height=24)
