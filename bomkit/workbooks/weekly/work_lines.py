"""The lines of make and print lists: an order, and below it what it draws where nobody picks it."""

from collections.abc import Iterator, Mapping
from typing import Any

from bomkit.words import common
from bomkit.words.weekly import buying as buy_words
from bomkit.words.weekly import printing as print_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.heights import height_of, in_one_line
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Cell,
    Line,
    expected,
    in_a_sentence,
    quantity,
    text,
    to_fill,
)

WIDTHS = (3, 10.8, 8.6, 41, 5.4, 8.2, 4.1, 10.1, 10.1, 27.4, 6.6, 5.8, 8.6)
_FOR = 9
FILLS = {10: "begun", 11: "good", 12: "scrapped"}
_KEY = ("order", "item", "serial", "due_date")


def order_line(report: Report, order: Mapping[str, Any], filled_in: bool) -> Line:
    """The row of one order; filled_in: whether what was done is filled in here."""
    cells, begun = _order_cells(report, order), order["in_work"]
    filled = ("good", "scrapped") if begun else tuple(FILLS.values())
    cells += [
        to_fill("worked", column) if filled_in and column in filled else BLANK
        for column in FILLS.values()
    ]
    key = tuple(order[name] for name in _KEY) if filled_in else ()
    return Line(cells, height_of(cells, WIDTHS), key)


def component_lines(report: Report, order: str) -> Iterator[Line]:
    """Below an order what it takes from stock."""
    for component in report.components.get(order, []):
        cells = _component_cells(report, order, component)
        yield Line(cells, height_of(cells, WIDTHS))


def _order_cells(report: Report, order: Mapping[str, Any]) -> list[Cell]:
    """The row of one order to start."""
    unit, started, good = order["unit"], order["quantity"], order["expected_good"]
    class_word = {"primary": work_words.MARKED_PRIMARY, "tooling": common.TOOLING}.get(
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
        (work_words.BEGUN_BEFORE, "faint") if order["in_work"] else (order["start_date"], "date"),
        (order["due_date"], "date"),
        text(_for(report, order), "late_wrapped" if marks else "wrapped"),
    ]


def _for(report: Report, order: Mapping[str, Any]) -> str:
    """What is wrong with an order, and for whom it is."""
    marks = "".join(f"{mark}; " for mark in _marks(report, order))
    whom = in_one_line(report.named_for.get(order["order"], []), WIDTHS[_FOR], marks, bool(marks))
    lots = buy_words.BY_COST.get(order["lots"] or "", "")
    return "; ".join(filter(None, [marks.removesuffix("; "), whom, lots]))


def _marks(report: Report, order: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with an order: that it starts too late, or without a mould."""
    if order["late_days"]:
        yield common.LATE.format(days=order["late_days"])
    if order["order"] in report.plan.moulds.lacking:
        again = report.plan.moulds.lacking[order["order"]]
        date = f"{again:%d %b %Y}" if again else ""
        yield print_words.NO_MOULD.format(date=date) if again else print_words.NO_MOULD_AT_ALL


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
        *[BLANK] * len(FILLS),
    ]


def _whereabouts(report: Report, component: Mapping[str, Any], unit: str) -> Cell:
    """Where a component lies, or when it comes."""
    places = ", ".join(sorted(component["places"])) or work_words.IN_STORES
    coming, lacking = component["coming"], component["quantity"] - component["here"]
    if coming is None:
        return (places, "faint_wrapped")
    date, late = report.day(coming), component["late_days"] > 0
    mark, look = (
        (work_words.LATE_MARK, "late_wrapped") if late else (work_words.IN_TIME_MARK, "to_do_words")
    )
    if component["here"] <= 0:
        return (work_words.NOT_THERE.format(mark=mark, date=date), look)
    words = work_words.PARTLY_THERE.format(
        places=places, mark=mark, quantity=in_a_sentence(lacking), unit=unit, date=date
    )
    return (words, look)
