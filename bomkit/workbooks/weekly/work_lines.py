"""The lines of make and print lists: an order, and below it what it draws where nobody picks it."""

from collections.abc import Iterator, Mapping
from typing import Any

from bomkit.tables.shared_columns import NEVER
from bomkit.words import common
from bomkit.words.weekly import buying as buy_words
from bomkit.words.weekly import printing as print_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.heights import in_one_line
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Cell,
    Column,
    Line,
    expected,
    in_a_sentence,
    quantity,
    text,
)

_HEADS = work_words.WORK_COLUMNS
WORK_FORM = ListForm(
    {
        "done": Column(_HEADS["done"], 3, "head_centre"),
        "order": Column(_HEADS["order"], 10.8, shows=True),
        "item": Column(_HEADS["item"], 8.6, shows=True),
        "description": Column(_HEADS["description"], 41, shows=True),
        "start": Column(_HEADS["start"], 5.4, "head_right"),
        "good": Column(_HEADS["good"], 8.2, "head_right"),
        "unit": Column(_HEADS["unit"], 4.1),
        "start_date": Column(_HEADS["start_date"], 10.1),
        "due_date": Column(_HEADS["due_date"], 10.1, shows=True),
        "for": Column(_HEADS["for"], 27.4),
        "begun": Column(_HEADS["begun"], 6.6, fills="begun"),
        "good_made": Column(_HEADS["good_made"], 5.8, fills="good"),
        "scrapped": Column(_HEADS["scrapped"], 8.6, fills="scrapped"),
    },
    "worked",
)
WORK_AND_PLACES = WORK_FORM.headed("for", work_words.FOR_AND_WHERE)  # components stand below
_ONCE_BEGUN = ("good", "scrapped")
_KEY = ("order", "item", "serial", "due_date")


def order_line(report: Report, order: Mapping[str, Any], filled_in: bool) -> Line:
    """The row of one order; filled_in: whether what was done is filled in here."""
    filled = WORK_FORM.to_fill(filled_in, _ONCE_BEGUN if order["in_work"] else None)
    key = tuple(order[name] for name in _KEY) if filled_in else ()
    return WORK_FORM.row({**_order_cells(report, order), **filled}, key)


def component_lines(report: Report, order: str) -> Iterator[Line]:
    """Below an order what it takes from stock."""
    for component in report.components.get(order, []):
        yield WORK_FORM.row(_component_cells(report, order, component))


def _order_cells(report: Report, order: Mapping[str, Any]) -> dict[str, Cell]:
    """The row of one order to start."""
    unit, started, good = order["unit"], order["quantity"], order["expected_good"]
    class_word = {"primary": work_words.MARKED_PRIMARY, "tooling": common.TOOLING}.get(
        order["structure_class"]
    )
    described = f"{order['description']} ({class_word})" if class_word else order["description"]
    described = f"{described} · {order['serial']}" if order["serial"] else described
    marks = any(_marks(report, order))
    begun: Cell = (work_words.BEGUN_BEFORE, "faint")
    return {
        "done": (common.BOX, "tick"),
        "order": text(order["order"], "strong_wrapped"),
        "item": text(order["item"], "strong_wrapped"),
        "description": text(described, "wrapped"),
        "start": quantity(started, unit, "strong_"),
        "good": BLANK if good is None else expected(good, unit),
        "unit": (unit, "unit"),
        "start_date": begun if order["in_work"] else (order["start_date"], "date"),
        "due_date": (order["due_date"], "date"),
        "for": text(_for(report, order), "late_wrapped" if marks else "wrapped"),
    }


def _for(report: Report, order: Mapping[str, Any]) -> str:
    """What is wrong with an order, and for whom it is."""
    marks = "".join(f"{mark}; " for mark in _marks(report, order))
    whom = in_one_line(
        report.named_for.get(order["order"], []), WORK_FORM.width("for"), marks, bool(marks)
    )
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


def _component_cells(report: Report, order: str, component: Mapping[str, Any]) -> dict[str, Cell]:
    """The row of one component to pick from stock for an order."""
    item = report.items[component["item"]]
    described = " · ".join(filter(None, (item["description"], component["serial"])))
    return {
        "done": (common.BOX, "centre"),
        "order": (order, "faint"),
        "item": (component["item"], "indented"),
        "description": text(described, "faint_wrapped"),
        "start": quantity(component["quantity"], item["unit"]),
        "good": BLANK,
        "unit": (item["unit"], "unit"),
        "start_date": (component["need_date"], "faint_date"),
        "due_date": BLANK,
        "for": _whereabouts(report, component, item["unit"]),
        **WORK_FORM.to_fill(False),
    }


def _whereabouts(report: Report, component: Mapping[str, Any], unit: str) -> Cell:
    """Where a component lies, or when it comes."""
    places = ", ".join(sorted(component["places"])) or work_words.IN_STORES
    coming, lacking = component["coming"], component["quantity"] - component["here"]
    late, never = component["late_days"] > 0, component["late_days"] >= NEVER
    if coming is None and not never:
        return (places, "faint_wrapped")
    date = report.day(None if never else coming)
    mark, look = (
        (work_words.LATE_MARK, "late_wrapped") if late else (work_words.IN_TIME_MARK, "to_do_words")
    )
    if component["here"] <= 0:
        return (work_words.NOT_THERE.format(mark=mark, date=date), look)
    words = work_words.PARTLY_THERE.format(
        places=places, mark=mark, quantity=in_a_sentence(lacking), unit=unit, date=date
    )
    return (words, look)
