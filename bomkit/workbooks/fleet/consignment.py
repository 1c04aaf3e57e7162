"""The consignment lists: all that leaves on one day for one consignee who has several orders."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from typing import Any

from bomkit.words import common
from bomkit.words.fleet import packing as said
from bomkit.workbooks.fleet.consignees import Consignee, Promise, leaving_together
from bomkit.workbooks.fleet.file_names import free_name
from bomkit.workbooks.fleet.lines_of_a_box import (
    ROW,
    dangerous_goods,
    described,
    noted,
    packed_lines,
    packing_rows,
    signature_lines,
    stock_in_words,
    total_lines,
    when_it_comes,
)
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
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

_HEADS = said.CONSIGNMENT_COLUMNS
_FORM = ListForm(
    {
        "loaded": Column(_HEADS["loaded"], 8, "head_centre"),
        "order": Column(_HEADS["order"], 12),
        "position": Column(_HEADS["position"], 5),
        "part": Column(_HEADS["part"], 12),
        "description": Column(_HEADS["description"], 28),
        "quantity": Column(_HEADS["quantity"], 9, "head_right"),
        "unit": Column(_HEADS["unit"], 5),
        "lot": Column(_HEADS["lot"], 11),
        "use_by": Column(_HEADS["use_by"], 11),
        "mass": Column(_HEADS["mass"], 9, "head_right"),
        "value": Column(_HEADS["value"], 10, "head_right"),
        "words": Column(_HEADS["words"], 30),
        "box": Column(_HEADS["box"], 8),
        "serial": Column(_HEADS["serial"], 13),
        "certificate": Column(_HEADS["certificate"], 13),
        "core": Column(_HEADS["core"], 7, "head_centre"),
    }
)
_BARE: dict[str, Cell] = dict.fromkeys(_HEADS, BLANK)


def consignment_books(report: Report, taken: Iterable[str]) -> dict[str, Book]:
    """A workbook for each consignee and day on which two or more orders leave for him.

    By a name that may be that of a file, and is none of those taken.
    """
    books: dict[str, Book] = {}
    for (consignee, day), promises in sorted(leaving_together(report).items()):
        name = free_name(consignee[0] or consignee[1], [*taken, *books], f"-{day}")
        books[name] = report.book([_sheet(report, consignee, day, promises)])
    return books


def _sheet(
    report: Report, consignee: Consignee, day: dt.date, promises: Sequence[Promise]
) -> Sheet:
    """The list of one consignment."""
    rows = [row for promise in promises for row in packing_rows(report, promise)]
    return Sheet(
        name=said.SHEET_CONSIGNMENT,
        title=said.CONSIGNMENT_TITLE.format(
            consignee=consignee[0] or consignee[1], date=f"{day:%a %d %b %Y}"
        ),
        subtitle=report.subtitle(),
        columns=_FORM.columns,
        lines=[
            *_order_lines(report, promises),
            *packed_lines(rows, _FORM, partial(_part_line, report)),
            *total_lines(_FORM, rows, said.CONSIGNMENT_WHOLE, "description"),
            *signature_lines(_FORM, "part", "unit", ("description", "lot")),
        ],
        cautions=(said.PACK_CAUTION, *dangerous_goods(rows)),
        notes=(
            common.BETWEEN.join(_addressed(consignee, day, promises)),
            said.CONSIGNMENT_NOTE,
            common.NOT_STATED,
        ),
        filtered=False,
        heading_height=38,
    )


def _addressed(consignee: Consignee, day: dt.date, promises: Iterable[Promise]) -> Iterator[str]:
    """To whom it goes, when, and which orders it holds."""
    customer, base = consignee
    if customer:
        yield said.PACK_CUSTOMER.format(customer=customer)
    if base:
        yield said.PACK_BASE.format(base=base)
    yield said.CONSIGNMENT_LEAVES.format(date=f"{day:%a %d %b %Y}")
    orders = list(dict.fromkeys(promise["order"] for promise in promises))
    yield said.CONSIGNMENT_ORDERS.format(count=len(orders), orders=", ".join(orders))


def _order_lines(report: Report, promises: Iterable[Promise]) -> Iterator[Line]:
    """Which orders it holds, a box to tick for each."""
    yield _FORM.section(said.CONSIGNED)
    for promise in promises:
        item = report.items[promise["item"]]
        late = said.PACK_LATE.format(days=promise["late_days"]) if promise["late_days"] else ""
        words = common.BETWEEN.join(
            filter(
                None,
                (
                    said.PACK_TO.format(serial=promise["serial"]) if promise["serial"] else "",
                    said.URGENCY[promise["urgency"]],
                    said.PACK_WANTED.format(date=f"{promise['need_date']:%a %d %b %Y}"),
                    late,
                ),
            )
        )
        cells = _BARE | {
            "loaded": (common.BOX, "tick"),
            "order": text(promise["order"], "strong"),
            "part": text(promise["item"], "strong"),
            "description": text(item["description"], "wrapped"),
            "quantity": quantity(promise["quantity"], item["unit"], "strong_"),
            "unit": (item["unit"], "unit"),
            "words": (words, "late_wrapped" if late else "wrapped"),
        }
        yield _FORM.line(cells, _height(item["description"], words))


def _height(description: str, words: str) -> float:
    """The height of a line with these words."""
    wrapped = (description, _FORM.width("description")), (words, _FORM.width("words"))
    return height_for(*wrapped) or ROW


def _part_line(report: Report, row: Mapping[str, Any]) -> Line:
    """One lot that is packed, or one quantity that is still to come."""
    words, look = stock_in_words(report, row)
    lot: Cell = text(row["lot"])
    use_by: Cell = (row["expires"], "year_date") if row["expires"] else BLANK
    if row["state"] != "take":
        lot, use_by, look = text(row["supply"], "faint"), BLANK, "to_do_words"
        words = "; ".join((when_it_comes(report, row), words))
    words = noted(row, words)
    cells = _BARE | {
        "loaded": (common.BOX, "tick"),
        "order": text(row["order"]),
        "position": text(row["position"], "faint"),
        "part": text(row["part"], "strong"),
        "description": text(described(row), "wrapped"),
        "quantity": quantity(row["quantity"], row["unit"], "strong_"),
        "unit": (row["unit"], "unit"),
        "lot": lot,
        "use_by": use_by,
        "mass": _of_each(row, "mass_g", 1000, "mass"),
        "value": _of_each(row, "cost", 1, "money"),
        "words": text(words, look),
        **dict.fromkeys(("box", "serial", "certificate"), ("", "pen")),
        "core": (common.BOX, "tick"),
    }
    return _FORM.line(cells, _height(described(row), words))


def _of_each(row: Mapping[str, Any], name: str, parts: int, look: str) -> Cell:
    """What the quantity weighs or is worth; nothing where that is not stated."""
    return BLANK if row[name] is None else (round(row[name] * row["quantity"] / parts, 6), look)
