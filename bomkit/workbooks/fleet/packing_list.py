"""The packing workbooks: what goes into the box of each spares order."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import Any

import polars as pl

from bomkit.words import common, weekly
from bomkit.words import fleet as said
from bomkit.workbooks.fleet.file_names import free_name
from bomkit.workbooks.report import Report, demand_in_words
from bomkit.workbooks.shortages.missing import in_words
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
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
from bomkit.workbooks.writing.sheet_names import sheet_names

_WIDTHS = (5, 5, 12, 24, 9, 5, 15, 11, 11, 8, 11, 11, 7.5, 8, 8, 24, 12, 12, 7)
_WORDS = 15  # the place of the column in words
_RIGHT = (4, 12, 13, 14)
_FILLS = {9: "packed", 10: "batch", 11: "left_on"}
_SHOWS = (1, 2, 7)


def kit_books(report: Report) -> dict[str, Book]:
    """A workbook for each spares order, by a name that may be that of a file."""
    names: dict[str, Book] = {}
    for order in report.promises["order"].unique().sort():
        names[free_name(order, names)] = packing_book(report, order)
    return names


def packing_book(report: Report, order: str) -> Book:
    """What to pack for one spares order: a sheet for each row of it."""
    rows = report.promises.filter(pl.col("order") == order)
    given = [f"{order} {row['item']}" for row in rows.iter_rows(named=True)]
    numbered = [f"{number} {name}" if given.count(name) > 1 else name
                for number, name in enumerate(given, 1)]  # fmt: skip
    names = sheet_names(numbered)
    return report.book(
        [
            _packing_sheet(report, row, names[name])
            for row, name in zip(rows.iter_rows(named=True), numbered, strict=True)
        ]
    )


def _packing_sheet(report: Report, promise: Mapping[str, Any], name: str) -> Sheet:
    """The packing list of one row of a spares order."""
    asked = asked_for(report, promise)
    rows = packing_rows(report, promise)
    return Sheet(
        name=name,
        title=said.PACK_TITLE.format(order=promise["order"], item=promise["item"]),
        subtitle=report.subtitle(),
        columns=list_columns(
            said.PACK_COLUMNS, _WIDTHS, _RIGHT, [0, len(_WIDTHS) - 1], fills=_FILLS, shows=_SHOWS
        ),
        lines=[
            *packed_lines(rows, len(_WIDTHS), partial(_line, report)),
            *_totals(rows),
            *_signatures(),
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


def packing_rows(report: Report, promise: Mapping[str, Any]) -> pl.DataFrame:
    """What to pack, or to wait for, of one row of a spares order, and what each part is."""
    return (
        report.packing.filter(
            (pl.col("order") == promise["order"])
            & (pl.col("item") == promise["item"])
            & (pl.col("serial") == promise["serial"])
            & (pl.col("need_date") == promise["need_date"])
        )
        .join(_about(report), on="part", how="left", maintain_order="left")
        .with_columns(who=_waiting_in_words())
    )


def asked_for(report: Report, promise: Mapping[str, Any]) -> dict[str, Any]:
    """The row of spares_orders behind a promise."""
    rows = report.tables["spares_orders"]
    for name in ("order", "item", "serial", "need_date"):
        rows = rows.filter(pl.col(name) == promise[name])
    return rows.row(0, named=True)


def _about(report: Report) -> pl.DataFrame:
    """What the items say about each part."""
    return report.tables["items"].select("description", "unit", "mass_g", "cost", part="item")


def _waiting_in_words() -> pl.Expr:
    """Who would wait, in words."""
    return in_words("waiting", "waiting_kind")


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
    if promise["later_days"]:
        who = demand_in_words(promise["later"], promise["later_kind"])
        yield said.PACK_MAKES_LATER.format(who=who, days=promise["later_days"])


def packed_lines(
    rows: pl.DataFrame, columns: int, line: Callable[[Mapping[str, Any]], Line]
) -> Iterator[Line]:
    """What to pack now, dangerous goods apart, then what to wait for.

    columns: of the list; line: what makes the line of a row of the table packing.
    """
    take = pl.col("state") == "take"
    harmless = pl.col("hazard") == ""
    parts = (
        (said.PACK_NOW, "", rows.filter(take & harmless)),
        (said.PACK_HAZARD, said.HAZARD_CAUTION, rows.filter(take & ~harmless)),
        (said.PACK_WAIT, "", rows.filter(~take)),
    )
    if rows.filter(take).is_empty():
        yield Line([(said.PACK_NOTHING_YET, "plain")], height=20)
    for heading, caution, chosen in parts:
        if chosen.is_empty():
            continue
        yield Line(section(heading, columns), 24)
        if caution:
            yield Line([(caution, "caution")])
        yield from map(line, chosen.iter_rows(named=True))


def dangerous_goods(rows: pl.DataFrame) -> Iterator[str]:
    """What dangerous goods the whole holds, if any."""
    goods = rows.filter(pl.col("hazard") != "").select("part", "hazard").unique().sort("part")
    if len(goods):
        named = "; ".join(f"{part}: {hazard}" for part, hazard in goods.iter_rows())
        yield said.PACK_DANGEROUS.format(goods=named)


def _line(report: Report, row: Mapping[str, Any]) -> Line:
    """One lot to pack, or one quantity to wait for."""
    words, look = stock_in_words(report, row)
    instead = weekly.PICK_INSTEAD.format(item=row["replaces"]) if row["replaces"] else ""
    described = " ".join(filter(None, (row["description"], row["hazard"])))
    mass = None if row["mass_g"] is None else row["mass_g"] * row["quantity"] / 1000
    value = None if row["cost"] is None else row["cost"] * row["quantity"]
    take = row["state"] == "take"
    where: list[Cell]
    if take:
        use_by: Cell = (row["expires"], "year_date") if row["expires"] else BLANK
        place = text(row["location"] or weekly.IN_STORES, "strong")
        where = [place, text(row["lot"]), use_by]
    else:
        comes = row["can_take"]
        when = said.PACK_FROM.format(date=report.day(comes)) if comes else said.PACK_NEVER
        where = [(when, "to_do_words"), text(row["supply"], "faint"), BLANK]
    cells: list[Cell] = [
        (common.BOX, "tick"),
        text(row["position"], "faint"),
        text(row["part"], "strong"),
        text(described, "wrapped"),
        quantity(row["quantity"], row["unit"], "strong_"),
        (row["unit"], "unit"),
        *where,
        *all_to_fill("packed", _FILLS.values()),
        BLANK if row["mass_g"] is None else (row["mass_g"], "tenths"),
        BLANK if mass is None else (round(mass, 6), "mass"),
        BLANK if value is None else (round(value, 4), "money"),
        text("; ".join(filter(None, (words, instead, row["note"]))), look),
        ("", "pen"),
        ("", "pen"),
        (common.BOX, "tick"),
    ]
    height = height_for((described, _WIDTHS[3]), (words + row["note"], _WIDTHS[_WORDS])) or 20
    return Line(cells, height, _key(row))


def _key(row: Mapping[str, Any]) -> Sequence[object]:
    """What a line is when it is filled in; of what is not there what brings it, for the place."""
    coming = f"{weekly.NOT_IN_STORES}, {row['supply']} {row['can_take'] or ''}"
    lies = (row["lot"], row["location"]) if row["state"] == "take" else ("", coming)
    of_order = (row[name] for name in ("order", "item", "serial", "need_date"))
    return [*of_order, row["part"], row["line"], *lies]


def stock_in_words(report: Report, row: Mapping[str, Any]) -> tuple[str, str]:
    """Whether what is taken is free, from whom it is, or why it has to wait; and the style."""
    if row["state"] == "take":
        if row["waiting"]:
            taken = said.PACK_TAKEN.format(
                who=row["who"], days=row["waiting_days"], date=report.day(row["free_from"])
            )
            return taken, "late_wrapped"
        return said.PACK_FREE, "faint_wrapped"
    if row["in_stock"] <= 0:
        return said.PACK_NOT_THERE, "faint_wrapped"
    if row["waiting"]:
        spoken = said.PACK_SPOKEN.format(
            free=in_a_sentence(row["free"]),
            stock=in_a_sentence(row["in_stock"]),
            who=row["who"],
            days=row["waiting_days"],
        )
        return spoken, "to_do_words"
    words = said.PACK_PARTLY.format(
        free=in_a_sentence(row["free"]), stock=in_a_sentence(row["in_stock"])
    )
    return words, "to_do_words"


def _totals(rows: pl.DataFrame) -> Iterator[Line]:
    """Mass and value of what is to pack now and of the whole, and what has no mass stated."""
    take = pl.col("state") == "take"
    for heading, chosen in (
        (said.PACK_TOTAL, rows.filter(take)),
        (said.PACK_WHOLE, rows),
    ):
        mass = float((chosen["mass_g"] * chosen["quantity"]).sum()) / 1000
        value = float((chosen["cost"] * chosen["quantity"]).sum())
        cells = section(heading, len(_WIDTHS))
        cells[13] = (round(mass, 6), "section_mass")
        cells[14] = (round(value, 4), "section_right")
        unweighed = chosen.filter(pl.col("mass_g").is_null())["part"].unique().sort()
        if len(unweighed):
            told = said.PACK_UNWEIGHED.format(items=", ".join(unweighed))
            cells[4] = (told, "section_note")
        yield Line(cells, height=24)


def _signatures() -> Iterator[Line]:
    """Where packer and checker sign."""
    yield Line([], height=10)
    packer, checker, date = said.PACK_SIGN
    for name in (packer, checker):
        yield Line(
            [None, None, (name, "plain"), ("", "pen"), None, None, (date, "plain_right"),
             ("", "pen"), ("", "pen")],
            height=26,
        )  # fmt: skip
