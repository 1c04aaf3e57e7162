"""The make and print workbooks of a week: orders to start, each with what it draws."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import polars as pl

from bomkit.words import common, overview
from bomkit.words.weekly import printing as print_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.overview.moulds import week_moulds_sheet
from bomkit.workbooks.report import Report, shop
from bomkit.workbooks.weekly.asking import ask_shops_sheet
from bomkit.workbooks.weekly.printing.plates import has_plates, plate_sheets
from bomkit.workbooks.weekly.work_lines import (
    WORK_AND_PLACES,
    WORK_FORM,
    component_lines,
    order_line,
)
from bomkit.workbooks.weekly.work_of_week import work_of
from bomkit.workbooks.writing.sheet import Book, Cell, Line, Link, Sheet
from bomkit.workbooks.writing.sheet_names import sheet_names

_SHORT = 75  # lines, of two pages or so: lists that are longer have a sheet of their own


def make_book(report: Report, week: str) -> Book:
    """What to lay up, bond, paint, assemble and pack in a week, process by process."""
    orders = work_of(report, week, ["make", "kit"]).with_columns(group=shop())
    first, *lists = _work_sheets(report, week, orders, "make")
    asked = _asked(report, week, ["make", "kit"], [first, *lists])
    taken = [sheet.name for sheet in [first, *asked, *lists]]
    name = sheet_names([overview.SHEET_MOULDS], taken)[overview.SHEET_MOULDS]
    return report.book([first, *asked, *week_moulds_sheet(report, week, name), *lists])


def print_book(report: Report, week: str) -> Book:
    """What to print in a week, material by material."""
    orders = work_of(report, week, ["print"]).with_columns(group="material")
    first, *lists = _work_sheets(report, week, orders, "print")
    asked = _asked(report, week, ["print"], [first, *lists])
    plates = plate_sheets(report, week, taken=[sheet.name for sheet in [first, *asked, *lists]])
    return report.book([first, *asked, *plates, *lists])


def _asked(
    report: Report, week: str, sources: Sequence[str], lists: Sequence[Sheet]
) -> list[Sheet]:
    """What to ask for of orders in work, by a name that no list has."""
    others = [sheet.name for sheet in lists]
    return [
        replace(sheet, name=sheet_names([sheet.name], others)[sheet.name])
        for sheet in ask_shops_sheet(report, week, sources)
    ]


def _work_sheets(report: Report, week: str, orders: pl.DataFrame, kind: str) -> list[Sheet]:
    """A sheet with all short lists, one below the other, then one for each long list."""
    on_plates = kind == "print" and has_plates(report)
    groups: dict[str, list[Line]] = {}
    for order in orders.iter_rows(named=True):
        groups.setdefault(order["group"], []).extend(_order_lines(report, order, on_plates))
    title = work_words.MAKE_CONTENTS if kind == "make" else work_words.PRINT_CONTENTS
    long = {group: lines for group, lines in sorted(groups.items()) if len(lines) > _SHORT}
    names = sheet_names(list(long), taken=[title])
    first: list[Line] = []
    for row in _counted_by_group(orders).iter_rows(named=True):
        first.append(_band(row, names.get(row["group"], "")))
        first += [] if row["group"] in long else groups[row["group"]]
    if not first:
        nothing = work_words.NO_ORDERS.format(kind=common.SOURCES[kind], week=week)
        first = [WORK_FORM.sentence(nothing)]
    of_group = work_words.MAKE_TITLE if kind == "make" else work_words.PRINT_TITLE
    return [
        _sheet(report, week, (title, title), kind, first),
        *(
            _sheet(report, week, (names[group], of_group.format(group=group)), kind, lines)
            for group, lines in long.items()
        ),
    ]


def _counted_by_group(orders: pl.DataFrame) -> pl.DataFrame:
    """For each group: orders, late (of them), in_work, hours, first (start), last (due)."""
    starting = ~pl.col("in_work")
    return (
        orders.group_by("group")
        .agg(
            starting.sum().alias("orders"),
            (pl.col("late_days") > 0).sum().alias("late"),
            pl.col("in_work").sum(),
            pl.col("hours").filter(starting).sum().round(6),
            pl.col("start_date").min().alias("first"),
            pl.col("due_date").max().alias("last"),
        )
        .sort("group")
    )


def _band(row: Mapping[str, Any], sheet: str) -> Line:
    """The heading of a group: its name, leading to its sheet if it has one, counts and days."""
    told = [
        work_words.COUNT_OF_ORDERS.format(count=row["orders"])
        if row["orders"] != 1
        else work_words.ONE_ORDER
    ]
    told += [work_words.COUNT_LATE.format(count=row["late"])] if row["late"] else []
    told += [work_words.COUNT_IN_WORK.format(count=row["in_work"])] if row["in_work"] else []
    told += [work_words.HOURS_OF_GROUP.format(hours=row["hours"])] if row["hours"] else []
    told.append(work_words.LAST_DUE.format(date=f"{row['last']:%a %d %b}"))
    cells: dict[str, Cell] = {}
    if sheet:
        told.append(work_words.ON_ITS_SHEET.format(sheet=sheet))
        cells["done"] = (Link(row["group"], sheet), "section_link")
    cells[WORK_FORM.beside(row["group"])] = (", ".join(told), "section_note")
    return WORK_FORM.section(row["group"], cells, 18)


def _order_lines(report: Report, order: Mapping[str, Any], on_plates: bool) -> Iterator[Line]:
    """An order, and if it is to be started and stands on no pick list its components."""
    yield order_line(report, order, order["in_work"] or not on_plates)
    if report["ready"].is_empty() and not order["in_work"]:
        yield from component_lines(report, order["order"])


def _sheet(
    report: Report, week: str, named: tuple[str, str], kind: str, lines: Sequence[Line]
) -> Sheet:
    """A list of orders; named: the name and the title of its sheet."""
    listed = report["ready"].is_empty()
    notes = [work_words.WORK_NOTE, work_words.TAKES_NOTE if listed else work_words.ON_CARTS_NOTE]
    if kind == "print" and has_plates(report):
        notes.append(work_words.FILL_IN_PLATES.format(sheet=print_words.PLATE_SHEETS[0]))
    name, title = named
    form = WORK_AND_PLACES if listed else WORK_FORM
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=form.columns,
        lines=lines,
        cautions=(work_words.WORK_CAUTION if kind == "make" else work_words.PRINT_CAUTION,),
        notes=(" ".join([*notes, common.PLAN_NUMBERS]),),
        frozen_columns=3,
        entries=form.entries,
    )
