"""The make and print workbooks of a week: orders to start, each with what it draws."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import polars as pl

from bomkit.words import common, overview, weekly
from bomkit.workbooks.overview.moulds import week_moulds_sheet
from bomkit.workbooks.report import Report, shop
from bomkit.workbooks.weekly.asking import ask_shops_sheet
from bomkit.workbooks.weekly.in_work import work_of
from bomkit.workbooks.weekly.plates import has_plates, plate_sheets
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Column,
    Line,
    Link,
    Sheet,
    expected,
    in_a_sentence,
    list_columns,
    quantity,
    section,
    text,
    to_fill,
)
from bomkit.workbooks.writing.sheet_names import sheet_names
from bomkit.workbooks.writing.style import WRITING_HEIGHT, height_for

_WIDTHS = (5.5, 11, 13, 29, 8, 9, 8.5, 10.5, 4.5, 11, 11, 24, 8, 8, 9)
_PLACE_COLUMN = 11
_RIGHT = (5, 6, 7)  # start, good, allowance
_FILLS = {12: "begun", 13: "good", 14: "scrapped"}
_SHOWS = (1, 2, 4, 10)
_KEY = ("order", "item", "serial", "due_date")


def make_book(report: Report, week: str) -> Book:
    """What to lay up, bond, paint, assemble and pack in a week, a sheet for each process."""
    orders = work_of(report, week, ["make", "kit"]).with_columns(group=shop())
    contents, *lists = _work_book(report, week, orders, "make").sheets
    taken = [sheet.name for sheet in [contents, *lists]]
    name = sheet_names([overview.SHEET_MOULDS], taken)[overview.SHEET_MOULDS]
    asked = _asked(report, week, ["make", "kit"], lists)
    return report.book([contents, *asked, *week_moulds_sheet(report, week, name), *lists])


def print_book(report: Report, week: str) -> Book:
    """What to print in a week, a sheet for each material."""
    orders = work_of(report, week, ["print"]).with_columns(group="material")
    contents, *lists = _work_book(report, week, orders, "print").sheets
    plates = plate_sheets(report, week, taken=[sheet.name for sheet in [contents, *lists]])
    return report.book([contents, *_asked(report, week, ["print"], lists), *plates, *lists])


def _asked(
    report: Report, week: str, sources: Sequence[str], lists: Sequence[Sheet]
) -> list[Sheet]:
    """What to ask for of orders in work, by a name that no list has."""
    others = [sheet.name for sheet in lists]
    return [
        replace(sheet, name=sheet_names([sheet.name], others)[sheet.name])
        for sheet in ask_shops_sheet(report, week, sources)
    ]


def _work_book(report: Report, week: str, orders: pl.DataFrame, kind: str) -> Book:
    """A contents sheet and one sheet a group."""
    groups = orders.partition_by("group", as_dict=True)
    names = sheet_names([str(key[0]) for key in sorted(groups)], taken=[common.CONTENTS])
    sheets = [_contents(report, week, orders, names, kind)]
    sheets += [
        _group_sheet(report, week, groups[key], names[str(key[0])], kind) for key in sorted(groups)
    ]
    return report.book(sheets)


def _contents(
    report: Report, week: str, orders: pl.DataFrame, names: dict[str, str], kind: str
) -> Sheet:
    """The groups with their counts, hours and days; one sentence where there is nothing to do."""
    heading = weekly.MAKE_HEADING if kind == "make" else weekly.PRINT_HEADING
    lines = [
        Line(_group_cells(row, names[row["group"]]), height=20)
        for row in _counted_by_group(orders).iter_rows(named=True)
    ]
    if not lines:
        lines = [Line([(weekly.NO_ORDERS.format(kind=common.SOURCES[kind], week=week), "plain")])]
    orders_head, late_head, begun_head, hours_head, first_head, last_head = weekly.GROUP_COLUMNS
    return Sheet(
        name=common.CONTENTS,
        title=weekly.MAKE_CONTENTS if kind == "make" else weekly.PRINT_CONTENTS,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=(
            Column(heading, 34),
            Column(orders_head, 12, "head_right"),
            Column(late_head, 14, "head_right"),
            Column(begun_head, 12, "head_right"),
            Column(hours_head, 12, "head_right"),
            Column(first_head, 22),
            Column(last_head, 22),
        ),
        lines=lines,
        cautions=(weekly.WORK_CAUTION if kind == "make" else weekly.PRINT_CAUTION,),
        notes=(common.PLAN_NUMBERS,),
        filtered=False,
    )


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


def _group_cells(row: Mapping[str, Any], sheet: str) -> list[Cell]:
    """The row of one group on the contents sheet."""
    return [
        (Link(row["group"], sheet), "link"),
        (row["orders"], "pieces"),
        (row["late"], "late_pieces" if row["late"] else "pieces"),
        (row["in_work"], "pieces"),
        (row["hours"], "hours"),
        (row["first"], "full_date") if row["first"] else BLANK,
        (row["last"], "full_date"),
    ]


def _group_sheet(report: Report, week: str, orders: pl.DataFrame, name: str, kind: str) -> Sheet:
    """What is in work of one process or material, then its orders, each with its components."""
    title = weekly.MAKE_TITLE if kind == "make" else weekly.PRINT_TITLE
    begun, starting = orders.filter("in_work"), orders.filter(~pl.col("in_work"))
    on_plates = kind == "print" and has_plates(report)
    lines: list[Line] = []
    if len(begun):
        lines.append(Line(section(weekly.IN_WORK, len(_WIDTHS)), height=22))
        lines += [_order_line(report, order, True) for order in begun.iter_rows(named=True)]
        lines.append(Line(section(weekly.TO_START_NOW, len(_WIDTHS)), height=22))
    listed = report.ready.is_empty()  # else they stand on the pick lists
    for order in starting.iter_rows(named=True):
        lines.append(_order_line(report, order, not on_plates))
        lines += _component_lines(report, order["order"]) if listed else []
    caution = weekly.WORK_CAUTION if kind == "make" else weekly.PRINT_CAUTION
    notes = [weekly.WORK_NOTE, weekly.TAKES_NOTE if listed else weekly.ON_CARTS_NOTE]
    notes.append(common.PLAN_NUMBERS)
    if on_plates:
        notes.insert(2, weekly.FILL_IN_PLATES.format(sheet=weekly.PLATE_SHEETS[0]))
    return Sheet(
        name=name,
        title=title.format(group=orders["group"][0]),
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(
            weekly.WORK_COLUMNS.values(), _WIDTHS, _RIGHT, [0], fills=_FILLS, shows=_SHOWS
        ),
        lines=lines,
        cautions=(caution,),
        notes=notes,
        frozen_columns=3,
        entries="worked",
    )


def _order_line(report: Report, order: Mapping[str, Any], filled_in: bool) -> Line:
    """The row of one order; filled_in: whether what was done is filled in here."""
    cells, begun = _order_cells(report, order), order["in_work"]
    higher = height_for((_for(report, order), _WIDTHS[_PLACE_COLUMN])) or 0
    filled = ("good", "scrapped") if begun else tuple(_FILLS.values())
    cells += [
        to_fill("worked", column) if filled_in and column in filled else BLANK
        for column in _FILLS.values()
    ]
    key = tuple(order[name] for name in _KEY) if filled_in else ()
    return Line(cells, max(WRITING_HEIGHT, higher), key)


def _component_lines(report: Report, order: str) -> Iterator[Line]:
    """Below an order what it takes from stock."""
    for component in report.components.get(order, []):
        cells = _component_cells(report, order, component)
        yield Line(cells, height=WRITING_HEIGHT if _needs_two_lines(cells) else None)


def _order_cells(report: Report, order: Mapping[str, Any]) -> list[Cell]:
    """The row of one order to start."""
    unit, started, good = order["unit"], order["quantity"], order["expected_good"]
    allowance = None if good is None else round(started - good, 9)  # 2 - 1.6 is meant as 0.4
    class_word = {"primary": common.PRIMARY, "tooling": common.TOOLING}.get(
        order["structure_class"]
    )
    described = f"{order['description']} ({class_word})" if class_word else order["description"]
    marks = any(_marks(report, order))
    return [
        (common.BOX, "tick"),
        text(order["order"], "strong_wrapped"),
        text(order["item"], "strong"),
        text(described, "wrapped"),
        text(order["serial"], "strong"),
        quantity(started, unit, "strong_"),
        BLANK if good is None else expected(good, unit),
        BLANK if allowance is None else expected(allowance, unit),
        (unit, "unit"),
        (order["start_date"], "strong_date") if order["start_date"] else BLANK,
        (order["due_date"], "date"),
        text(_for(report, order), "late_wrapped" if marks else "wrapped"),
    ]


def _for(report: Report, order: Mapping[str, Any]) -> str:
    """What is wrong with an order, and for whom it is."""
    whom = report.for_whom.get(order["order"], "")
    lots = weekly.BY_COST.get(order["lots"] or "", "")
    return "; ".join(filter(None, [*_marks(report, order), whom, lots]))


def _marks(report: Report, order: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with an order: that it starts too late, or without a mould."""
    if order["late_days"]:
        yield common.LATE.format(days=order["late_days"])
    if order["order"] in report.moulds.lacking:
        again = report.moulds.lacking[order["order"]]
        date = f"{again:%d %b %Y}" if again else ""
        yield weekly.NO_MOULD.format(date=date) if again else weekly.NO_MOULD_AT_ALL


def _component_cells(report: Report, order: str, component: Mapping[str, Any]) -> list[Cell]:
    """The row of one component to pick from stock for an order."""
    item = report.items[component["item"]]
    return [
        (common.BOX, "centre"),
        (order, "faint"),
        (component["item"], "indented"),
        text(item["description"], "faint"),
        text(component["serial"], "faint"),
        quantity(component["quantity"], item["unit"]),
        BLANK,
        BLANK,
        (item["unit"], "unit"),
        (component["need_date"], "faint_date"),
        BLANK,
        _whereabouts(report, component, item["unit"]),
        *[BLANK] * len(_FILLS),
    ]


def _needs_two_lines(cells: Sequence[Cell]) -> bool:
    """Whether the words on where a component lies are too long for one line."""
    words = cells[_PLACE_COLUMN]
    return words is not None and len(str(words[0])) > _WIDTHS[_PLACE_COLUMN] + 7


def _whereabouts(report: Report, component: Mapping[str, Any], unit: str) -> Cell:
    """Where a component lies, or when it comes."""
    places = ", ".join(sorted(component["places"])) or weekly.IN_STORES
    coming, lacking = component["coming"], component["quantity"] - component["here"]
    if coming is None:
        return (places, "faint_wrapped")
    date, late = report.day(coming), component["late_days"] > 0
    mark, look = (
        (weekly.LATE_MARK, "late_wrapped") if late else (weekly.IN_TIME_MARK, "to_do_words")
    )
    if component["here"] <= 0:
        return (weekly.NOT_THERE.format(mark=mark, date=date), look)
    words = weekly.PARTLY_THERE.format(
        places=places, mark=mark, quantity=in_a_sentence(lacking), unit=unit, date=date
    )
    return (words, look)
