"""The buy workbook of a week: what to order from each supplier, late lines first."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.tables.weeks import in_weeks
from bomkit.words import common
from bomkit.words.weekly import buying as buy_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.weekly.asking import ask_suppliers_sheet
from bomkit.workbooks.weekly.buy_advice import advice_on, sums_by_currency, to_add
from bomkit.workbooks.writing.heights import in_one_line
from bomkit.workbooks.writing.sheet import BLANK, Book, Cell, Column, Line, Sheet, quantity, text

_HEADS = buy_words.BUY_COLUMNS
_FORM = ListForm(
    {
        "done": Column(_HEADS["done"], 3, "head_centre"),
        "order": Column(_HEADS["order"], 8.4, shows=True),
        "item": Column(_HEADS["item"], 8.4, shows=True),
        "description": Column(_HEADS["description"], 29.6),
        "quantity": Column(_HEADS["quantity"], 8.8, "head_right"),
        "unit": Column(_HEADS["unit"], 4.1),
        "order_by": Column(_HEADS["order_by"], 9.9),
        "needed": Column(_HEADS["needed"], 8.4),
        "cost": Column(_HEADS["cost"], 9.2, "head_right"),
        "value": Column(_HEADS["value"], 10.2, "head_right"),
        "for": Column(_HEADS["for"], 22.6),
        "number": Column(_HEADS["number"], 9, fills="order"),
        "ordered": Column(_HEADS["ordered"], 7.5, fills="quantity"),
        "promised": Column(_HEADS["promised"], 10.6, fills="promised"),
    },
    "ordered",
)


def buy_book(report: Report, week: str) -> Book:
    """What to order in a week, by supplier; suppliers with late lines first, then by name.

    In the first week what to ask suppliers for, if anything, stands in front of it.
    """
    orders = _ordering(report, week)
    suppliers = {row["supplier"]: row for row in report.tables["suppliers"].iter_rows(named=True)}
    lines: list[Line] = []
    for group in orders.partition_by("supplier", maintain_order=True):
        name = group["supplier"][0]
        about = suppliers.get(name, {"name": name, "email": "", "order_minimum": None})
        lines += _supplier_lines(report, week, group, about)
    if not lines:
        lines = [_FORM.sentence(work_words.NO_ORDERS.format(kind="buy", week=week))]
    sheet = Sheet(
        name=buy_words.BUY_TITLE,
        title=buy_words.BUY_TITLE,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=lines,
        cautions=(buy_words.BUY_CAUTION,),
        notes=(" ".join(_notes(report)),),
        filtered=len(orders) > 0,
        entries=_FORM.entries,
        frozen_columns=3,
    )
    return report.book([*ask_suppliers_sheet(report, week), sheet])


def _supplier_lines(
    report: Report, week: str, group: pl.DataFrame, about: Mapping[str, Any]
) -> Iterator[Line]:
    """What is ordered from one supplier, below its name; about: its row."""
    yield _supplier_line(group, about)
    yield from map(_aside, to_add(report, week, group, about))
    for order in group.iter_rows(named=True):
        key = order["order"], order["item"], order["serial"]
        yield _FORM.row(_order_cells(report, order), key)
        yield from map(_aside, advice_on(order))


def _notes(report: Report) -> Iterator[str]:
    """How the list is made; with a price list also how suppliers were chosen."""
    yield buy_words.BUY_NOTE
    yield buy_words.BUY_FRAMED
    if len(report.tables["prices"]):
        yield buy_words.PRICES_NOTE


def _aside(words: str) -> Line:
    """A sentence that belongs to the line above it."""
    return _FORM.line({"item": (words, "note")}, height=14)


def _ordering(report: Report, week: str) -> pl.DataFrame:
    """The buy orders of a week with supplier, cost and value in the order in which they stand."""
    about = report.tables["items"].select("item", "description")
    chosen = report["buy_lines"].drop("item").rename({"quantity": "to_order"})
    return (
        report["orders"]
        .filter((pl.col("source") == "buy") & in_weeks("start_date", week))
        .drop("late_days", "arrives")
        .join(about, on="item", maintain_order="left")
        .join(chosen, on="order", maintain_order="left")
        .with_columns(pl.col("value").round(4), worst=pl.col("late_days").max().over("supplier"))
        .sort(
            "worst",
            "supplier",
            "late_days",
            "start_date",
            "item",
            "order",
            descending=[True, False, True, False, False, False],
        )
    )


def _supplier_line(group: pl.DataFrame, about: Mapping[str, Any]) -> Line:
    """The heading row of one supplier: name, address, value and the least it accepts."""
    name = about["name"] or group["supplier"][0] or buy_words.NO_SUPPLIER
    currency = about.get("currency") or ""
    sums = sums_by_currency(group)
    unpriced = group["value"].null_count()
    least = about["order_minimum"]
    words = [about["email"] or ""]
    if least is not None:
        below = sums.get(currency, 0.0) < least and not unpriced
        told = buy_words.BELOW_MINIMUM if below else buy_words.ORDER_MINIMUM
        words.append(told.format(value=f"{least:,.0f}", currency=currency).strip())
    if unpriced:
        words.append(buy_words.UNPRICED.format(count=unpriced))
    if len(sums) > 1:
        words += [f"{value:,.2f} {name}".strip() for name, value in sums.items()]
    note = ", ".join(filter(None, words))
    cells: dict[str, Cell] = {_FORM.beside(name, "quantity"): (note, "section_note")}
    if len(sums) == 1:
        ((shown, value),) = sums.items()
        cells["value"] = (value, "section_right")
        cells["for"] = (shown, "section_note")
    return _FORM.section(name, cells, height=17.5)


def _order_cells(report: Report, order: Mapping[str, Any]) -> dict[str, Cell]:
    """The row of one order to place, with when it comes if that is late, and for whom it is."""
    late = order["late_days"]
    comes = buy_words.COMES_ON.format(date=f"{order['arrives']:%d %b %y}") if late else ""
    whom = in_one_line(report.named_for.get(order["order"], []), _FORM.width("for"), comes)
    order_by: Cell = (order["start_date"], "strong_brief_date")
    if late:  # at once, in any case
        order_by = (common.LATE.format(days=late), "late")
    return {
        "done": (common.BOX, "tick"),
        "order": (order["order"], "faint"),
        "item": text(order["item"], "strong_wrapped"),
        "description": text(order["description"], "wrapped"),
        "quantity": quantity(order["to_order"], order["unit"], "strong_"),
        "unit": (order["unit"], "unit"),
        "order_by": order_by,
        "needed": (order["due_date"], "brief_date"),
        "cost": BLANK if order["price"] is None else (order["price"], "money"),
        "value": BLANK if order["value"] is None else (order["value"], "money"),
        "for": text(f"{comes}{whom}", "wrapped"),
        **_FORM.to_fill(),
    }
