"""What the buy list says beside its lines: cheaper, faster, and what fills up an order."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.units import TOLERANCE
from bomkit.words import common
from bomkit.words.weekly import buying as buy_words
from bomkit.workbooks.report import Report


def advice_on(order: Mapping[str, Any]) -> Iterator[str]:
    """Sentences about one order: the columns of buy_lines, with to_order, quantity and unit."""
    unit, currency = order["unit"], order["currency"]
    if order["lots"]:
        yield buy_words.BY_COST[order["lots"]]
    if order["to_order"] > order["quantity"] * (1 + TOLERANCE):
        yield buy_words.LEAST_SOLD.format(planned=order["quantity"], unit=unit)
    if order["larger_quantity"] is not None:
        yield buy_words.LARGER.format(
            quantity=order["larger_quantity"],
            unit=unit,
            supplier=order["larger_supplier"],
            value=_money(order["larger_value"], currency),
            less=_money(order["value"] - order["larger_value"], currency),
        )
    if order["faster_days"] is not None:
        extra = order["faster_extra"]
        cost = _money(order["faster_value"], order["faster_currency"])
        more = (
            buy_words.NOT_COMPARED.format(value=cost)
            if extra is None
            else buy_words.EXTRA.format(value=_money(extra, currency))
        )
        days = common.working_days(order["faster_days"])
        yield buy_words.FASTER.format(supplier=order["faster_supplier"], days=days, cost=more)
    if order["elsewhere"]:
        yield buy_words.ELSEWHERE.format(offers=order["elsewhere"])


def to_add(
    report: Report, week: str, group: pl.DataFrame, about: Mapping[str, Any]
) -> Iterator[str]:
    """Which later orders of a supplier fill up what stays below its order minimum.

    group: the orders of the week; about: the supplier's row.
    """
    least, currency = about["order_minimum"], about.get("currency") or ""
    short = 0.0 if least is None else least - sums_by_currency(group).get(currency, 0.0)
    if short <= TOLERANCE or group["value"].null_count():
        return
    later = report.fill_ups.get((week, group["supplier"][0]))
    if later is None:
        yield buy_words.NOTHING_TO_ADD
        return
    added = [
        buy_words.ADDED.format(
            order=row["order"], item=row["item"], value=_money(row["value"], currency)
        )
        for row in later.iter_rows(named=True)
    ]
    orders = common.first_few(added, _MOST_NAMED)
    yield buy_words.TO_ADD.format(short=_money(short, currency), orders=orders)


_MOST_NAMED = 4


def sums_by_currency(group: pl.DataFrame) -> dict[str, float]:
    """The value of the lines in each currency."""
    sums: dict[str, float] = {}
    for currency, value in zip(group["currency"], group["value"], strict=True):
        if value is not None:
            sums[currency] = sums.get(currency, 0.0) + value
    return {currency: round(sums[currency], 4) for currency in sorted(sums)}


def _money(value: float, currency: str) -> str:
    """An amount in words."""
    return f"{value:,.2f} {currency}".strip()
