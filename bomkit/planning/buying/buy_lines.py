"""Every planned order of a bought item with whom to order from, at what price, and what else."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.planning.buying.offers import Advice, Break, Offer, Wish, advised
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.results.buying import BUY_LINES
from bomkit.tables.schema import Tables

_FIGURES = 12


def buy_lines(network: Network, tables: Tables, orders: pl.DataFrame) -> pl.DataFrame:
    """The columns of the result table buy_lines, a row for each planned order of a bought item.

    orders: as planned_orders gives them. Items without a row in prices have one offer: that of
    their supplier at their cost, with their own lead time.
    """
    bought = orders.filter(pl.col("source") == "buy").with_row_index("place")
    listed = _by_price_lists(network, tables, bought)
    usual = _usual(tables, bought.join(listed, on="place", how="anti"))
    return (
        pl.concat([usual, listed], how="diagonal")
        .sort("place")
        .select(
            pl.col(column.name).fill_null("") if column.dtype == pl.String() else column.name
            for column in BUY_LINES.columns
        )
        .with_columns(pl.col(pl.Float64).round_sig_figs(_FIGURES))
    )


def _by_price_lists(network: Network, tables: Tables, bought: pl.DataFrame) -> pl.DataFrame:
    """The orders of which a price list says something, each with its place."""
    offers = price_breaks(tables)
    money = currencies(tables)
    suppliers = dict(tables["items"].select("item", "supplier").iter_rows())
    rules = network.items.select("item", "lead", "multiple", "whole").rows_by_key(
        "item", named=True
    )
    rows = []
    for order in bought.filter(pl.col("item").is_in(list(offers))).iter_rows(named=True):
        rule = rules[order["item"]][0]
        wish = Wish(
            order["quantity"],
            order["start_date"],
            rule["lead"] - order["late_days"],
            rule["multiple"],
            rule["whole"],
        )
        usual = money.get(suppliers[order["item"]], "")
        advice = advised(wish, offers[order["item"]], usual)
        if advice:
            known = {name: order[name] for name in ("place", "order", "item")}
            rows.append(known | _told(network, order, advice))
    return pl.DataFrame(rows, schema={"place": bought["place"].dtype, **BUY_LINES.schema})


def currencies(tables: Tables) -> dict[str, str]:
    """The currency of each supplier."""
    return dict(tables["suppliers"].select("supplier", "currency").iter_rows())


def price_breaks(tables: Tables) -> dict[str, list[Break]]:
    """The price list of each item that has one, with what empty cells mean filled in."""
    money = currencies(tables)
    leads = dict(tables["items"].select("item", "lead_days").iter_rows())
    breaks: dict[str, list[Break]] = {}
    for row in tables["prices"].iter_rows(named=True):
        lead = leads[row["item"]] or 0 if row["lead_days"] is None else row["lead_days"]
        currency = row["currency"] or money.get(row["supplier"], "")
        breaks.setdefault(row["item"], []).append(
            Break(
                row["supplier"],
                row["from_quantity"],
                row["price"],
                currency,
                lead,
                row["valid_to"],
            )
        )
    return breaks


def _told(network: Network, order: Mapping[str, Any], advice: Advice) -> dict[str, Any]:
    """What the price list advises for an order."""
    best = advice.best
    line = {
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
    return line | _larger(advice.larger) | _faster(advice)


def _larger(offer: Offer | None) -> dict[str, Any]:
    """A larger quantity that costs less in total, if there is one."""
    if offer is None:
        return {}
    return {
        "larger_supplier": offer.supplier,
        "larger_quantity": offer.quantity,
        "larger_value": offer.total,
    }


def _faster(advice: Advice) -> dict[str, Any]:
    """Who comes first where the best offer is late, if anybody does."""
    offer = advice.faster
    if offer is None:
        return {}
    return {
        "faster_supplier": offer.supplier,
        "faster_days": advice.best.lead - offer.lead,
        "faster_value": offer.total,
        "faster_currency": offer.currency,
        "faster_extra": advice.extra,
    }


def _usual(tables: Tables, orders: pl.DataFrame) -> pl.DataFrame:
    """Orders from their items' own suppliers at the items' cost, each with its place."""
    about = tables["items"].select("item", "supplier", "lead_days", price="cost")
    return (
        orders.select("place", "order", "item", "quantity", "arrives", "late_days")
        .join(about, on="item", how="left")
        .join(tables["suppliers"].select("supplier", "currency"), on="supplier", how="left")
        .with_columns(value=pl.col("quantity") * pl.col("price"))
    )
