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
from bomkit.workbooks.writing.heights import beside, height_of, in_one_line
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
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

_WIDTHS = (3, 10.8, 8.6, 41, 5.4, 8.2, 4.1, 10.1, 10.1, 27.4, 6.6, 5.8, 8.6)
_FOR = 9
_RIGHT = (4, 5)  # start, good
_FILLS = {10: "begun", 11: "good", 12: "scrapped"}
_SHOWS = (1, 2, 3, 8)
_SHORT = 75  # lines, of two pages or so: lists that are longer have a sheet of their own
_KEY = ("order", "item", "serial", "due_date")


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
    groups = {
        str(key[0]): _group_lines(report, group, on_plates)
        for key, group in sorted(orders.partition_by("group", as_dict=True).items())
    }
    title = weekly.MAKE_CONTENTS if kind == "make" else weekly.PRINT_CONTENTS
    long = {group: lines for group, lines in groups.items() if len(lines) > _SHORT}
    names = sheet_names(list(long), taken=[title])
    first: list[Line] = []
    for row in _counted_by_group(orders).iter_rows(named=True):
        first.append(_band(row, names.get(row["group"], "")))
        first += [] if row["group"] in long else groups[row["group"]]
    if not first:
        first = [Line([(weekly.NO_ORDERS.format(kind=common.SOURCES[kind], week=week), "plain")])]
    of_group = weekly.MAKE_TITLE if kind == "make" else weekly.PRINT_TITLE
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
        weekly.COUNT_OF_ORDERS.format(count=row["orders"])
        if row["orders"] != 1
        else weekly.ONE_ORDER
    ]
    told += [weekly.COUNT_LATE.format(count=row["late"])] if row["late"] else []
    told += [weekly.COUNT_IN_WORK.format(count=row["in_work"])] if row["in_work"] else []
    told += [weekly.HOURS_OF_GROUP.format(hours=row["hours"])] if row["hours"] else []
    told.append(weekly.LAST_DUE.format(date=f"{row['last']:%a %d %b}"))
    cells = section(row["group"], len(_WIDTHS))
    if sheet:
        told.append(weekly.ON_ITS_SHEET.format(sheet=sheet))
        cells[0] = (Link(row["group"], sheet), "section_link")
    cells[beside(row["group"], "section", _WIDTHS)] = (", ".join(told), "section_note")
    return Line(cells, 18)


def _group_lines(report: Report, orders: pl.DataFrame, on_plates: bool) -> list[Line]:
    """What is in work of one process or material, then its orders, each with its components."""
    begun, starting = orders.filter("in_work"), orders.filter(~pl.col("in_work"))
    lines = [_order_line(report, order, True) for order in begun.iter_rows(named=True)]
    listed = report.ready.is_empty()  # else they stand on the pick lists
    for order in starting.iter_rows(named=True):
        lines.append(_order_line(report, order, not on_plates))
        lines += _component_lines(report, order["order"]) if listed else []
    return lines


def _sheet(
    report: Report, week: str, named: tuple[str, str], kind: str, lines: Sequence[Line]
) -> Sheet:
    """A list of orders; named: the name and the title of its sheet."""
    listed = report.ready.is_empty()
    notes = [weekly.WORK_NOTE, weekly.TAKES_NOTE if listed else weekly.ON_CARTS_NOTE]
    if kind == "print" and has_plates(report):
        notes.append(weekly.FILL_IN_PLATES.format(sheet=weekly.PLATE_SHEETS[0]))
    name, title = named
    headings = weekly.WORK_COLUMNS | ({"for": weekly.FOR_AND_WHERE} if listed else {})
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=list_columns(headings.values(), _WIDTHS, _RIGHT, [0], fills=_FILLS, shows=_SHOWS),
        lines=lines,
        cautions=(weekly.WORK_CAUTION if kind == "make" else weekly.PRINT_CAUTION,),
        notes=(" ".join([*notes, common.PLAN_NUMBERS]),),
        frozen_columns=3,
        entries="worked",
    )


def _order_line(report: Report, order: Mapping[str, Any], filled_in: bool) -> Line:
    """The row of one order; filled_in: whether what was done is filled in here."""
    cells, begun = _order_cells(report, order), order["in_work"]
    filled = ("good", "scrapped") if begun else tuple(_FILLS.values())
    cells += [
        to_fill("worked", column) if filled_in and column in filled else BLANK
        for column in _FILLS.values()
    ]
    key = tuple(order[name] for name in _KEY) if filled_in else ()
    return Line(cells, height_of(cells, _WIDTHS), key)


def _component_lines(report: Report, order: str) -> Iterator[Line]:
    """Below an order what it takes from stock."""
    for component in report.components.get(order, []):
        cells = _component_cells(report, order, component)
        yield Line(cells, height_of(cells, _WIDTHS))


def _order_cells(report: Report, order: Mapping[str, Any]) -> list[Cell]:
    """The row of one order to start."""
    unit, started, good = order["unit"], order["quantity"], order["expected_good"]
    class_word = {"primary": weekly.MARKED_PRIMARY, "tooling": common.TOOLING}.get(
        order["structure_class"]
    )
    described = f"{order['description']} ({class_word})" if class_word else order["description"]
    described = f"{described} · {order['serial']}" if order["serial"] else described
    marks = any(_marks(report, order))
    return [
        (common.BOX, "tick"),
        text(order["order"], "strong_wrapped"),
        text(order["item"], "strong_wrapped"),
        text(described, "wrapped"),
        quantity(started, unit, "strong_"),
        BLANK if good is None else expected(good, unit),
        (unit, "unit"),
        (weekly.BEGUN_BEFORE, "faint") if order["in_work"] else (order["start_date"], "date"),
        (order["due_date"], "date"),
        text(_for(report, order), "late_wrapped" if marks else "wrapped"),
    ]


def _for(report: Report, order: Mapping[str, Any]) -> str:
    """What is wrong with an order, and for whom it is."""
    marks = "".join(f"{mark}; " for mark in _marks(report, order))
    whom = in_one_line(report.named_for.get(order["order"], []), _WIDTHS[_FOR], marks, bool(marks))
    lots = weekly.BY_COST.get(order["lots"] or "", "")
    return "; ".join(filter(None, [marks.removesuffix("; "), whom, lots]))


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
        text(" · ".join(filter(None, (item["description"], component["serial"]))), "faint_wrapped"),
        quantity(component["quantity"], item["unit"]),
        BLANK,
        (item["unit"], "unit"),
        (component["need_date"], "faint_date"),
        BLANK,
        _whereabouts(report, component, item["unit"]),
        *[BLANK] * len(_FILLS),
    ]


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
