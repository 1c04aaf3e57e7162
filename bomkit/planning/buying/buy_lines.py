"""Every planned order of a bought item with whom to order from, at what price, and what else."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.planning.buying.offers import Advice, Break, Wish, advised
from bomkit.planning.network import Network
from bomkit.tables.results.buying import BUY_LINES
from bomkit.tables.schema import Tables

_FIGURES = 12


def buy_lines(network: Network, tables: Tables, orders: pl.DataFrame) -> pl.DataFrame:
    """The columns of the result table buy_lines, a row for each planned order of a bought item.

    orders: as planned_orders gives them. Items without a row in prices have one offer: that of
    their supplier at their cost, with their own lead time.
    """
    offers = price_breaks(tables)
    items = {row["item"]: row for row in tables["items"].iter_rows(named=True)}
    rules = network.items.select("item", "lead", "multiple", "whole").rows_by_key(
        "item", named=True
    )
    money = currencies(tables)
    rows = []
    for order in orders.filter(pl.col("source") == "buy").iter_rows(named=True):
        about, rule = items[order["item"]], rules[order["item"]][0]
        usual = money.get(about["supplier"], "")
        wish = Wish(
            order["quantity"],
            order["start_date"],
            rule["lead"] - order["late_days"],
            rule["multiple"],
            rule["whole"],
        )
        advice = advised(wish, offers.get(order["item"], ()), usual)
        line = _told(network, order, advice) if advice else _usual(order, about, usual)
        rows.append({"order": order["order"], "item": order["item"], **line})
    return pl.DataFrame(rows, schema=BUY_LINES.schema).with_columns(
        pl.col(pl.Float64).round_sig_figs(_FIGURES)
    )


def currencies(tables: Tables) -> dict[str, str]:
    """The currency of each supplier."""
    return dict(tables["suppliers"].select("supplier", "currency").iter_rows())


def price_breaks(tables: Tables) -> dict[str, list[Break]]:
    """The price list of each item that has one, with what empty cells mean filled in."""
    money = currencies(tables)
    leads = dict(tables["items"].select("item", "lead_days").iter_rows())
    found: dict[str, list[Break]] = {}
    for row in tables["prices"].iter_rows(named=True):
        lead = leads[row["item"]] or 0 if row["lead_days"] is None else row["lead_days"]
        currency = row["currency"] or money.get(row["supplier"], "")
        found.setdefault(row["item"], []).append(
            Break(
                row["supplier"],
                row["from_quantity"],
                row["price"],
                currency,
                lead,
                row["valid_to"],
            )
        )
    return found


def _told(network: Network, order: Mapping[str, Any], advice: Advice) -> dict[str, Any]:
    """What the price list advises for an order."""
    best, larger, faster = advice.best, advice.larger, advice.faster
    told = {
        "supplier": best.supplier,
        "quantity": best.quantity,
        "price": best.price,
        "currency": best.currency,
        "value": best.total,
        "lead_days": best.lead,
        "arrives": network.axis.date(order["start"] + best.lead),
        "late_days": advice.late,
        "elsewhere": "; ".join(
            f"{each.supplier} {each.total:,.2f} {each.currency}" for each in advice.abroad
        ),
    }
    if larger:
        told |= {
            "larger_supplier": larger.supplier,
            "larger_quantity": larger.quantity,
            "larger_value": larger.total,
        }
    if faster:
        told |= {
            "faster_supplier": faster.supplier,
            "faster_days": best.lead - faster.lead,
            "faster_value": faster.total,
            "faster_currency": faster.currency,
            "faster_extra": advice.extra,
        }
    return _filled(told)


def _usual(order: Mapping[str, Any], about: Mapping[str, Any], currency: str) -> dict[str, Any]:
    """An order from the item's own supplier at the item's cost."""
    cost, quantity = about["cost"], order["quantity"]
    arrives: dt.date = order["arrives"]
    return _filled(
        {
            "supplier": about["supplier"],
            "quantity": quantity,
            "price": cost,
            "currency": currency,
            "value": None if cost is None else quantity * cost,
            "lead_days": about["lead_days"],
            "arrives": arrives,
            "late_days": order["late_days"],
        }
    )


def _filled(told: Mapping[str, Any]) -> dict[str, Any]:
    """The row with a value for every column: words empty, numbers missing."""
    empty = {
        column.name: "" if column.dtype == pl.String() else None for column in BUY_LINES.columns
    }
    return {
        **{name: value for name, value in empty.items() if name not in ("order", "item")},
        **told,
    }
