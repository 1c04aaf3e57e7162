"""The packing workbooks: what goes into the box of each spares order."""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import Any

from bomkit.words import common
from bomkit.words.fleet import packing as said
from bomkit.words.weekly import picks as pick_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.fleet.file_names import free_name
from bomkit.workbooks.fleet.lines_of_a_box import (
    ROW,
    asked_for,
    dangerous_goods,
    described,
    makes_later,
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
    in_a_sentence,
    quantity,
    text,
    to_fill,
)
from bomkit.workbooks.writing.sheet_names import sheet_names

_HEADS = said.PACK_COLUMNS
_FORM = ListForm(
    {
        "done": Column(_HEADS["done"], 5, "head_centre"),
        "position": Column(_HEADS["position"], 5, shows=True),
        "part": Column(_HEADS["part"], 12, shows=True),
        "description": Column(_HEADS["description"], 23),
        "quantity": Column(_HEADS["quantity"], 10, "head_right"),
        "unit": Column(_HEADS["unit"], 5),
        "location": Column(_HEADS["location"], 18),
        "lot": Column(_HEADS["lot"], 11, shows=True),
        "use_by": Column(_HEADS["use_by"], 11),
        "packed": Column(_HEADS["packed"], 8, fills="packed"),
        "batch": Column(_HEADS["batch"], 10, fills="batch"),
        "left_on": Column(_HEADS["left_on"], 10, fills="left_on"),
        "mass_each": Column(_HEADS["mass_each"], 8.6, "head_right"),
        "mass": Column(_HEADS["mass"], 8, "head_right"),
        "value": Column(_HEADS["value"], 8, "head_right"),
        "words": Column(_HEADS["words"], 24),
        "serial": Column(_HEADS["serial"], 12),
        "certificate": Column(_HEADS["certificate"], 12),
        "core": Column(_HEADS["core"], 8, "head_centre"),
    }
)


def kit_books(report: Report) -> dict[str, Book]:
    """A workbook for each spares order, by a name that may be that of a file."""
    names: dict[str, Book] = {}
    for order in sorted(report.promised):
        names[free_name(order, names)] = packing_book(report, order)
    return names


def packing_book(report: Report, order: str) -> Book:
    """What to pack for one spares order: a sheet for each row of it."""
    rows = report.promised.get(order, [])
    given = [f"{order} {row['item']}" for row in rows]
    numbered = [f"{number} {name}" if given.count(name) > 1 else name
                for number, name in enumerate(given, 1)]  # fmt: skip
    names = sheet_names(numbered)
    return report.book(
        [_packing_sheet(report, row, names[name]) for row, name in zip(rows, numbered, strict=True)]
    )


def _packing_sheet(report: Report, promise: Mapping[str, Any], name: str) -> Sheet:
    """The packing list of one row of a spares order."""
    asked = asked_for(report, promise)
    rows = packing_rows(report, promise)
    return Sheet(
        name=name,
        title=said.PACK_TITLE.format(order=promise["order"], item=promise["item"]),
        subtitle=report.subtitle(),
        columns=_FORM.columns,
        lines=[
            *packed_lines(rows, _FORM, partial(_line, report)),
            *total_lines(_FORM, rows, said.PACK_WHOLE, "quantity"),
            *signature_lines(_FORM, "part", "location", ("description", "lot", "use_by")),
        ],
        cautions=(said.PACK_CAUTION, *dangerous_goods(rows)),
        notes=(
            common.BETWEEN.join(filter(None, _consignee(report, promise, asked))),
            said.PACK_NOTE.format(days=asked["min_shelf_days"]),
            common.NOT_STATED,
        ),
        filtered=False,
        entries="packed",
    )


def _consignee(
    report: Report, promise: Mapping[str, Any], asked: Mapping[str, Any]
) -> Iterator[str]:
    """What it is, to whom it goes, and when it is wanted and can leave."""
    fleet = {row["serial"]: row for row in report.tables["fleet"].iter_rows(named=True)}
    item = report.items[promise["item"]]
    yield f"{in_a_sentence(promise['quantity'])} {item['unit']} {item['description']}".strip()
    if promise["serial"]:
        yield said.PACK_TO.format(serial=promise["serial"])
        base = fleet.get(promise["serial"], {}).get("base", "")
        yield said.PACK_BASE.format(base=base) if base else ""
    yield said.PACK_CUSTOMER.format(customer=asked["customer"]) if asked["customer"] else ""
    yield said.URGENCY[promise["urgency"]]
    yield said.PACK_WANTED.format(date=f"{promise['need_date']:%a %d %b %Y}")
    if promise["earliest_date"] is None:
        yield said.PACK_LEAVES_NEVER
        return
    yield said.PACK_LEAVES.format(date=f"{promise['earliest_date']:%a %d %b %Y}")
    yield said.PACK_LATE.format(days=promise["late_days"]) if promise["late_days"] else ""
    yield makes_later(promise)


def _line(report: Report, row: Mapping[str, Any]) -> Line:
    """One lot to pack, or one quantity to wait for."""
    words, look = stock_in_words(report, row)
    cells: dict[str, Cell] = {
        "done": (common.BOX, "tick"),
        "position": text(row["position"], "faint"),
        "part": text(row["part"], "strong"),
        "description": text(described(row), "wrapped"),
        "quantity": quantity(row["quantity"], row["unit"], "strong_"),
        "unit": (row["unit"], "unit"),
        **_where(report, row),
        **{column: to_fill("packed", column) for column in ("packed", "batch", "left_on")},
        **_mass_and_value(row),
        "words": text(noted(row, words), look),
        "serial": ("", "pen"),
        "certificate": ("", "pen"),
        "core": (common.BOX, "tick"),
    }
    height = height_for(
        (described(row), _FORM.width("description")),
        (words + row["note"], _FORM.width("words")),
        (row["location"], _FORM.width("location")),
    )
    return _FORM.line(cells, height or ROW, _key(row))


def _where(report: Report, row: Mapping[str, Any]) -> dict[str, Cell]:
    """Where it lies, in which lot, and until when it may be used; or when it comes, and by what."""
    if row["state"] == "take":
        return {
            "location": text(row["location"] or work_words.IN_STORES, "strong_wrapped"),
            "lot": text(row["lot"]),
            "use_by": (row["expires"], "year_date") if row["expires"] else BLANK,
        }
    return {
        "location": (when_it_comes(report, row), "to_do_words"),
        "lot": text(row["supply"], "faint"),
        "use_by": BLANK,
    }


def _mass_and_value(row: Mapping[str, Any]) -> dict[str, Cell]:
    """What one and all of it weigh and what that is worth; nothing where it is not stated."""
    cells: dict[str, Cell] = dict.fromkeys(("mass_each", "mass", "value"), BLANK)
    if row["mass_g"] is not None:
        cells["mass_each"] = (row["mass_g"], "tenths")
        cells["mass"] = (round(row["mass_g"] * row["quantity"] / 1000, 6), "mass")
    if row["cost"] is not None:
        cells["value"] = (round(row["cost"] * row["quantity"], 4), "money")
    return cells


def _key(row: Mapping[str, Any]) -> Sequence[object]:
    """What a line is when it is filled in; of what is not there what brings it, for the place."""
    coming = f"{pick_words.NOT_IN_STORES}, {row['supply']} {row['can_take'] or ''}"
    lies = (row["lot"], row["location"]) if row["state"] == "take" else ("", coming)
    of_order = (row[name] for name in ("order", "item", "serial", "need_date"))
    return [*of_order, row["part"], row["line"], *lies]
