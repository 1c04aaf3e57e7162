"""The consignment lists: all that leaves on one day for one consignee who has several orders."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from typing import Any

import polars as pl

from bomkit.words import common, weekly
from bomkit.words import fleet as said
from bomkit.workbooks.fleet.consignees import Consignee, Promise, leaving_together
from bomkit.workbooks.fleet.file_names import free_name
from bomkit.workbooks.fleet.packing_list import (
    dangerous_goods,
    packed_lines,
    packing_rows,
    stock_in_words,
)
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Line,
    Sheet,
    list_columns,
    quantity,
    text,
)

_WIDTHS = {
    "loaded": 8,
    "order": 12,
    "position": 5,
    "part": 12,
    "description": 28,
    "quantity": 9,
    "unit": 5,
    "lot": 11,
    "use_by": 11,
    "mass": 9,
    "value": 10,
    "words": 30,
    "box": 8,
    "serial": 13,
    "certificate": 13,
    "core": 7,
}
_KEYS = list(_WIDTHS)
_BARE: dict[str, Cell] = dict.fromkeys(_KEYS, BLANK)
_RIGHT = [_KEYS.index(key) for key in ("quantity", "mass", "value")]
_TICKED = [_KEYS.index(key) for key in ("loaded", "core")]


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
    rows = pl.concat([packing_rows(report, promise) for promise in promises])
    heads = [said.CONSIGNMENT_COLUMNS[key] for key in _KEYS]
    return Sheet(
        name=said.SHEET_CONSIGNMENT,
        title=said.CONSIGNMENT_TITLE.format(
            consignee=consignee[0] or consignee[1], date=f"{day:%a %d %b %Y}"
        ),
        subtitle=report.subtitle(),
        columns=list_columns(heads, list(_WIDTHS.values()), _RIGHT, _TICKED),
        lines=[
            *_order_lines(report, promises),
            *packed_lines(rows, len(_WIDTHS), partial(_part_line, report)),
            *_totals(rows),
            *_signatures(),
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
    yield _heading(said.CONSIGNED)
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
        yield _line(
            _BARE
            | {
                "loaded": (common.BOX, "tick"),
                "order": text(promise["order"], "strong"),
                "part": text(promise["item"], "strong"),
                "description": text(item["description"], "wrapped"),
                "quantity": quantity(promise["quantity"], item["unit"], "strong_"),
                "unit": (item["unit"], "unit"),
                "words": (words, "late_wrapped" if late else "wrapped"),
            },
            height_for((item["description"], _WIDTHS["description"]), (words, _WIDTHS["words"])),
        )


def _part_line(report: Report, row: Mapping[str, Any]) -> Line:
    """One lot that is packed, or one quantity that is still to come."""
    words, look = stock_in_words(report, row)
    lot: Cell = text(row["lot"])
    use_by: Cell = (row["expires"], "year_date") if row["expires"] else BLANK
    if row["state"] != "take":
        comes = row["can_take"]
        when = said.PACK_FROM.format(date=report.day(comes)) if comes else said.PACK_NEVER
        lot, use_by, look = text(row["supply"], "faint"), BLANK, "to_do_words"
        words = "; ".join((when, words))
    instead = weekly.PICK_INSTEAD.format(item=row["replaces"]) if row["replaces"] else ""
    words = "; ".join(filter(None, (words, instead, row["note"])))
    described = " ".join(filter(None, (row["description"], row["hazard"])))
    cells: dict[str, Cell] = {
        "loaded": (common.BOX, "tick"),
        "order": text(row["order"]),
        "position": text(row["position"], "faint"),
        "part": text(row["part"], "strong"),
        "description": text(described, "wrapped"),
        "quantity": quantity(row["quantity"], row["unit"], "strong_"),
        "unit": (row["unit"], "unit"),
        "lot": lot,
        "use_by": use_by,
        "mass": _of_each(row, "mass_g", 1000, "mass"),
        "value": _of_each(row, "cost", 1, "money"),
        "words": text(words, look),
        "box": ("", "pen"),
        "serial": ("", "pen"),
        "certificate": ("", "pen"),
        "core": (common.BOX, "tick"),
    }
    height = height_for((described, _WIDTHS["description"]), (words, _WIDTHS["words"]))
    return _line(cells, height)


def _of_each(row: Mapping[str, Any], name: str, parts: int, look: str) -> Cell:
    """What the quantity weighs or is worth; nothing where that is not stated."""
    return BLANK if row[name] is None else (round(row[name] * row["quantity"] / parts, 6), look)


def _totals(rows: pl.DataFrame) -> Iterator[Line]:
    """Mass and value of what can be packed by now and of the whole, and what has no mass stated."""
    for heading, chosen in (
        (said.PACK_TOTAL, rows.filter(pl.col("state") == "take")),
        (said.CONSIGNMENT_WHOLE, rows),
    ):
        unweighed = chosen.filter(pl.col("mass_g").is_null())["part"].unique().sort()
        told = said.PACK_UNWEIGHED.format(items=", ".join(unweighed)) if len(unweighed) else ""
        mass = float((chosen["mass_g"] * chosen["quantity"]).sum()) / 1000
        value = float((chosen["cost"] * chosen["quantity"]).sum())
        yield _heading(
            heading,
            {
                "description": (told, "section_note"),
                "mass": (round(mass, 6), "section_mass"),
                "value": (round(value, 4), "section_right"),
            },
        )


def _signatures() -> Iterator[Line]:
    """Where packer and checker sign."""
    yield Line([], height=10)
    packer, checker, date = said.PACK_SIGN
    for name in (packer, checker):
        yield _line(
            {
                "part": (name, "plain"),
                "description": ("", "pen"),
                "unit": (date, "plain_right"),
                "lot": ("", "pen"),
            },
            26,
        )


def _heading(words: str, more: Mapping[str, Cell] = {}) -> Line:
    """A line that begins a part of the list."""
    cells: dict[str, Cell] = {**dict.fromkeys(_KEYS, ("", "section_note")), **more}
    cells["loaded"] = (words, "section")
    return _line(cells, 24)


def _line(cells: Mapping[str, Cell], height: float | None) -> Line:
    return Line([cells.get(key) for key in _KEYS], height or 20)
