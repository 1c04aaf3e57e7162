"""Which later orders to place with the orders of a week that stay below what a supplier accepts."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

import polars as pl

from bomkit.tables.schema import Tables
from bomkit.tables.weeks import iso_weeks
from bomkit.units import TOLERANCE

Row = tuple[str, str, str, str, float, int]
FILL_UPS = {
    "week": pl.String,
    "supplier": pl.String,
    "order": pl.String,
    "item": pl.String,
    "value": pl.Float64,
    "days": pl.Int64,
}


def fill_ups(
    tables: Tables, orders: pl.DataFrame, lines: pl.DataFrame, weeks: list[str]
) -> pl.DataFrame:
    """Week, supplier, order, item, value and days (calendar days placed earlier) of what is added.

    orders: as planned_orders gives them; lines: as buy_lines. Only orders in the supplier's own
    currency count, and nothing is said where a line of the week has no price. An order is added
    once, to the first week that lacks it.
    """
    asking = tables["suppliers"].filter(pl.col("order_minimum").is_not_null()).sort("supplier")
    priced = lines.filter(pl.col("supplier").is_in(asking["supplier"].implode())).join(
        orders.select("order", "start_date"), on="order", maintain_order="left"
    )
    priced = priced.with_columns(week=iso_weeks(priced["start_date"]))
    by_supplier: dict[str, list[_Line]] = {}
    for supplier, *line in priced.select("supplier", *_Line._fields).iter_rows():
        by_supplier.setdefault(supplier, []).append(_Line(*line))
    rows: list[Row] = []
    for about in asking.iter_rows(named=True):
        rows += _of_supplier(by_supplier.get(about["supplier"], []), about, weeks)
    return pl.DataFrame(rows, schema=FILL_UPS, orient="row")


class _Line(NamedTuple):
    """A planned purchase with its week, as far as it matters here."""

    order: str
    item: str
    week: str
    start_date: dt.date
    value: float | None
    currency: str


def _of_supplier(own: list[_Line], about: Mapping[str, Any], weeks: list[str]) -> Iterator[Row]:
    """What is added to the orders of one supplier; about: its row."""
    gone: set[str] = set()
    currency = about["currency"]
    items = {line.order: line.item for line in own}
    for week in weeks:
        left = [line for line in own if line.order not in gone]
        there = [line for line in left if line.week == week]
        if not there or any(line.value is None for line in there):
            continue
        short = about["order_minimum"] - sum(
            line.value or 0.0 for line in there if line.currency == currency
        )
        first = min(line.start_date for line in there)
        later = [
            Later(line.order, line.value, (line.start_date - first).days)
            for line in left
            if line.week > week and line.currency == currency and line.value
        ]
        for each in to_bring_forward(later, short):
            gone.add(each.order)
            yield (week, about["supplier"], each.order, items[each.order], each.value, each.days)


@dataclass(frozen=True)
class Later:
    """A later order of the same supplier."""

    order: str
    value: float
    days: int  # calendar days by which it would be placed earlier

    @property
    def holding(self) -> float:
        """Its holding cost but for the rate, which is the same for all: value x days."""
        return self.value * self.days


def to_bring_forward(later: Iterable[Later], short_of: float) -> list[Later]:
    """The later orders that together make up what an order is short of, cheapest holding first.

    Empty where even all of them are not enough.
    """
    chosen: list[Later] = []
    missing = short_of
    for each in sorted(later, key=lambda one: (one.holding, one.days, one.order)):
        if missing <= short_of * TOLERANCE:
            break
        chosen.append(each)
        missing -= each.value
    return chosen if missing <= short_of * TOLERANCE else []
