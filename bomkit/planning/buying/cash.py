"""When what is bought is paid, by week and currency; currencies are never added up."""

import polars as pl

from bomkit.planning.buying.buy_lines import currencies, price_breaks
from bomkit.planning.buying.offers import present_offer
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.results.buying import CASH
from bomkit.tables.schema import Tables
from bomkit.tables.weeks import iso_weeks


def cash_by_week(network: Network, tables: Tables, lines: pl.DataFrame) -> pl.DataFrame:
    """The columns of the result table cash; lines: as buy_lines gives them.

    What arrives on a day is paid payment_days calendar days later. Committed is what is on order,
    at the price that its supplier asks today, or else the item's cost; what is overdue counts as
    arriving on the first day. What has no price is left out.
    """
    terms = dict(tables["suppliers"].select("supplier", "payment_days").iter_rows())
    planned = lines.select("supplier", "currency", "value", date="arrives", kind=pl.lit("planned"))
    paid = pl.concat([_on_order(network, tables), planned]).drop_nulls("value")
    days = pl.col("supplier").replace_strict(terms, default=0, return_dtype=pl.Int64).fill_null(0)
    paid = paid.with_columns(date=pl.col("date") + pl.duration(days=days))
    return (
        paid.with_columns(week=iso_weeks(paid["date"]))
        .group_by("week", "currency")
        .agg(
            committed=pl.col("value").filter(pl.col("kind") == "committed").sum().round(4),
            planned=pl.col("value").filter(pl.col("kind") == "planned").sum().round(4),
        )
        .sort("week", "currency")
        .select(CASH.column_names)
    )


def _on_order(network: Network, tables: Tables) -> pl.DataFrame:
    """Open orders of bought items: supplier, currency, value, date (of arrival), kind."""
    money, lists = currencies(tables), price_breaks(tables)
    first = network.axis.dates[0]
    rows = []
    about = tables["items"].select("item", "source", "cost", usual="supplier")
    bought = tables["open_orders"].join(about, on="item", maintain_order="left")
    for row in bought.filter(pl.col("source") == "buy").iter_rows(named=True):
        supplier = row["supplier"] or row["usual"]
        asked = [each for each in lists.get(row["item"], ()) if each.supplier == supplier]
        currency = money.get(supplier, "")
        offer = present_offer(row["quantity"], first, asked, currency)
        price = row["cost"] if offer is None else offer.price
        currency = currency if offer is None else offer.currency
        value = None if price is None else row["quantity"] * price
        rows.append((supplier, currency, value, max(row["due_date"], first), "committed"))
    frame = pl.DataFrame(rows, schema=_PAYMENT, orient="row")
    day = network.axis.receipts(frame["date"])["day"]
    known = day < len(network.axis.dates)
    return frame.with_columns(date=network.axis.on(day).zip_with(known, frame["date"]))


_PAYMENT = {
    "supplier": pl.String,
    "currency": pl.String,
    "value": pl.Float64,
    "date": pl.Date,
    "kind": pl.String,
}
