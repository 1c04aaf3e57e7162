"""The pick lists of a week: a sheet for each order that starts, in the order of locations."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.units import WHOLE_UNITS
from bomkit.words import common, shortages, weekly
from bomkit.workbooks.report import FIGURES, Report, iso_week
from bomkit.workbooks.shortages.shortages import start_line, state_words
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Line,
    Sheet,
    in_a_sentence,
    list_columns,
    quantity,
    text,
)
from bomkit.workbooks.writing.sheet_names import sheet_names
from bomkit.workbooks.writing.style import height_for

_CONTENTS_WIDTHS = (11.5, 11, 14, 31, 15, 11.5, 10, 34, 24)
_WIDTHS = (7, 22, 14, 12, 14, 35, 9, 10, 5, 11, 24)


def picks_book(report: Report, week: str) -> Book:
    """What to hand out in a week: an overview with the state of each order, then its sheet."""
    starting = report.ready.filter(iso_week("start_date") == week).sort("start_date", "order")
    names = sheet_names(starting["order"].to_list(), taken=[weekly.PICKS_TITLE])
    parts = _parts(report, starting)
    orders = {row["order"]: row for row in _orders(report, starting).iter_rows(named=True)}
    sheets = [_contents(report, week, starting, names)]
    sheets += [
        _pick_sheet(report, week, row | orders[row["order"]], parts.get(row["order"], []), names)
        for row in starting.iter_rows(named=True)
    ]
    return report.book(sheets)


def _orders(report: Report, starting: pl.DataFrame) -> pl.DataFrame:
    """The orders themselves: order, quantity, unit."""
    return report.orders.join(starting.select("order"), on="order", how="semi").select(
        "order", "quantity", "unit"
    )


def _parts(report: Report, starting: pl.DataFrame) -> dict[str, list[dict[str, Any]]]:
    """For each order its components by location and lot, what is not there last.

    A row for each lot: item, serial, supply_kind, supply, location, quantity, need_date, comes,
    late_days, expires.
    """
    expires = (
        report.tables["stock"]
        .group_by("item", "location", supply="lot")
        .agg(expires=pl.col("expires").min())
    )
    there = pl.col("supply_kind") == "stock"
    drawn = (
        report.pegs.join(starting.select(from_order="order"), on="from_order", how="semi")
        .filter(pl.col("supply_kind") != "passed on")
        .group_by("from_order", "item", "serial", "supply_kind", "supply", "location", "comes")
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            pl.col("late_days").max(),
        )
        .join(expires, on=["item", "location", "supply"], how="left")
        .join(_replacing(report), on=["from_order", "item"], how="left")
        .join(report.overdue, on=["item", "supply", "supply_kind"], how="left")
        .with_columns(pl.col("replaces").fill_null(""))
        .sort(
            "from_order",
            ~there,
            "location",
            "item",
            pl.col("expires").fill_null(pl.date(9999, 12, 31)),
            "supply",
            "serial",
            "comes",
        )
    )
    found: dict[str, list[dict[str, Any]]] = {}
    for row in _in_whole_pieces(report, drawn).iter_rows(named=True):
        found.setdefault(row["from_order"], []).append(row)
    for parts in found.values():
        parts.sort(key=lambda part: by_number(part["location"]))  # shelf 2 before shelf 11
        parts.sort(key=lambda part: part["supply_kind"] != "stock")
    return found


def _replacing(report: Report) -> pl.DataFrame:
    """Which orders get a new item in place of an old one: from_order, item, replaces."""
    old = report.pegs.filter(pl.col("supply_kind") == "passed on").select("from_order", old="item")
    return (
        report.tables["replacements"]
        .select("old", item="new")
        .join(old, on="old")
        .group_by("from_order", "item")
        .agg(replaces=pl.col("old").unique().sort().str.join(", "))
    )


def _in_whole_pieces(report: Report, drawn: pl.DataFrame) -> pl.DataFrame:
    """Pieces as people can take them: the parts of a need rounded along their running sum.

    Shares of a piece arise where an earlier order draws on what is expected good of another one.
    """
    of_need = ["from_order", "item", "serial"]
    pieces = report.tables["items"].filter(pl.col("unit").is_in(WHOLE_UNITS))["item"]
    up_to = pl.col("quantity").cum_sum().over(of_need)
    whole = (up_to + 0.5 - 1e-6).floor()
    before = whole.shift(1, fill_value=0.0).over(of_need)
    counted = pl.col("item").is_in(pieces.implode())
    return drawn.with_columns(
        quantity=pl.when(counted).then(whole - before).otherwise("quantity")
    ).filter(pl.col("quantity") > 0)


def by_number(location: str) -> list[tuple[int, str]]:
    """What sorts locations as people do: numbers in them by value."""
    return [
        (int(part), "") if part.isdecimal() else (-1, part) for part in re.split(r"(\d+)", location)
    ]


def _contents(report: Report, week: str, starting: pl.DataFrame, names: Mapping[str, str]) -> Sheet:
    """A line for each order with its state, leading to its sheet."""
    lines = [start_line(report, row, names[row["order"]]) for row in starting.iter_rows(named=True)]
    return Sheet(
        name=weekly.PICKS_TITLE,
        title=weekly.PICKS_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(weekly.PICKS_COLUMNS, _CONTENTS_WIDTHS),
        lines=lines or [Line([(weekly.NOTHING_STARTS_IN.format(week=week), "plain")])],
        notes=(weekly.PICKS_NOTE, *shortages.STATES_NOTES),
        filtered=bool(lines),
        frozen_columns=2,
    )


def _pick_sheet(
    report: Report,
    week: str,
    order: Mapping[str, Any],
    parts: list[dict[str, Any]],
    names: Mapping[str, str],
) -> Sheet:
    """What to hand out for one order."""
    lines = [_part_line(report, part, order) for part in parts]
    if not lines:
        lines = [Line([(weekly.PICK_NOTHING, "plain")])]
    whom = report.for_whom.get(order["order"], "")
    return Sheet(
        name=names[order["order"]],
        title=weekly.PICK_TITLE.format(order=order["order"], item=order["item"]),
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(weekly.PICK_COLUMNS, _WIDTHS, right=[7], centre=[0]),
        lines=[*lines, *_signatures()],
        cautions=(weekly.PICK_CAUTION,),
        notes=(
            common.BETWEEN.join(filter(None, _heading(report, order, whom))),
            weekly.PICK_NOTE,
            f"{common.NOT_STATED} {common.PLAN_NUMBERS}",
        ),
        filtered=False,
    )


def _heading(report: Report, order: Mapping[str, Any], whom: str) -> Iterator[str]:
    """What the order makes, from when to when, for whom, and whether all is there."""
    yield weekly.PICK_HEAD.format(
        quantity=in_a_sentence(order["quantity"]),
        unit=order["unit"],
        description=report.items[order["item"]]["description"] or order["item"],
    )
    yield weekly.PICK_START.format(date=report.day(order["start_date"]))
    yield weekly.PICK_FOR.format(whom=whom) if whom else ""
    state = state_words(order)
    if order["can_start"] > order["start_date"]:
        can_start = weekly.PICK_CAN_START.format(date=report.day(order["can_start"]))
        state = f"{state}, {can_start}"
    yield state


def _described(item: Mapping[str, Any]) -> str:
    """What a component is, with what must be minded when it is given out."""
    marks = {"primary": common.PRIMARY, "tooling": common.MUST_COME_BACK}
    mark = marks.get(item["structure_class"], "")
    return "; ".join(filter(None, (item["description"], mark, item["hazard"])))


def _part_line(report: Report, part: Mapping[str, Any], order: Mapping[str, Any]) -> Line:
    """One lot to take, or one component that is not there, as high as its description needs."""
    described = _described(report.items[part["item"]])
    return Line(
        _part_cells(report, part, order, described), height_for((described, _WIDTHS[5])) or 20
    )


def _part_cells(
    report: Report, part: Mapping[str, Any], order: Mapping[str, Any], described: str
) -> list[Cell]:
    """The cells of that line."""
    item = report.items[part["item"]]
    shared: list[Cell] = [
        text(part["item"], "strong"),
        text(described, "wrapped"),
        text(part["serial"]),
        quantity(part["quantity"], item["unit"], "strong_"),
        (item["unit"], "unit"),
        (part["need_date"], "date"),
    ]
    instead = weekly.PICK_INSTEAD.format(item=part["replaces"]) if part["replaces"] else ""
    if part["supply_kind"] == "stock":
        use_by: Cell = (part["expires"], "year_date") if part["expires"] else BLANK
        place = text(part["location"] or weekly.IN_STORES, "strong")
        spoiled = part["expires"] is not None and part["expires"] < order["can_start"]
        note = "; ".join(filter(None, (weekly.PICK_EXPIRES if spoiled else "", instead)))
        look = "late_entry" if spoiled else "entry"
        return [(common.BOX, "tick"), place, text(part["supply"]), use_by, *shared, (note, look)]
    late = part["late_days"] > 0
    mark = weekly.LATE_MARK if late else weekly.IN_TIME_MARK
    day = report.day(part["comes"]) if part["comes"] else ""
    comes = weekly.PICK_COMES.format(mark=mark, date=day) if day else weekly.PICK_NEVER
    if part["overdue"] is not None:
        since = shortages.OVERDUE_SINCE.format(date=report.day(part["overdue"]))
        late, comes = True, f"{shortages.OVERDUE_STATE}, {since}"
    source = weekly.PICK_FROM.format(supply=part["supply"]) if part["supply"] else ""
    note = "; ".join(filter(None, (comes, instead)))
    return [
        (common.BOX, "tick"),
        (weekly.NOT_IN_STORES, "late_words" if late else "to_do_words"),
        text(source, "faint"),
        BLANK,
        *shared,
        (note, "late_entry" if late else "to_do_entry"),
    ]


def _signatures() -> Iterator[Line]:
    """Where the storekeeper signs."""
    yield Line([], height=10)
    name, date = weekly.PICK_SIGN
    yield Line(
        [None, (name, "plain"), ("", "entry"), ("", "entry"), (date, "plain_right"), ("", "entry")],
        height=24,
    )
