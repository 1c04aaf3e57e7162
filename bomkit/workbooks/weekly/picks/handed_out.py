"""What stores hand out to the orders of a week, lot by lot, read off the pegs."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from operator import itemgetter
from typing import Any

import polars as pl

from bomkit.tables.weeks import in_weeks
from bomkit.units import WHOLE_UNITS
from bomkit.workbooks.pegs_of_orders import FIGURES
from bomkit.workbooks.report import Report
from bomkit.workbooks.rows_by_columns import rows_by
from bomkit.workbooks.weekly.picks.order_of_places import by_place

Part = dict[str, Any]
Parts = Mapping[tuple[str, dt.date], list[Part]]  # by order and day


@dataclass(frozen=True)
class Picks:
    """The orders that take something from stores in a week, and what.

    orders: rows of the table ready with quantity and unit, by start day and name, and of each day
    those in work that lack something; lying, to_come: by order and day what lies in stores, by
    location and lot, and what does not, each with item, serial, supply_kind, supply, location,
    quantity, need_date, comes, late_days, expires, replaces, overdue.
    """

    orders: list[dict[str, Any]]
    lying: Parts
    to_come: Parts

    def there(self, order: Mapping[str, Any]) -> list[Part]:
        """What an order takes on its day of what lies in stores."""
        return self.lying.get((order["order"], order["start_date"]), [])

    def absent(self, order: Mapping[str, Any]) -> list[Part]:
        """What it takes besides, which is still to come."""
        return self.to_come.get((order["order"], order["start_date"]), [])

    def of(self, order: Mapping[str, Any]) -> list[Part]:
        """All that it takes, what is not there last."""
        return [*self.there(order), *self.absent(order)]


def picks_of(report: Report, week: str, in_work: bool = True) -> Picks:
    """What stores hand out in a week; in_work: to orders that were begun before as well."""
    starting = report["ready"].filter(in_weeks("start_date", week))
    asked = report["orders"].filter(in_weeks("start_date", week))
    orders = starting.join(
        asked.select("order", "quantity", "unit"), on="order", how="left", maintain_order="left"
    )
    needs = report.handed_out.filter(in_weeks("day", week))
    if in_work:
        lacking = _lacking(report, week)
        needs = pl.concat([needs, lacking])
        orders = pl.concat([orders, _in_work(report, lacking)], how="diagonal_relaxed")
    orders = orders.sort("start_date", "order")
    drawn = by_place(_in_whole_pieces(report, _drawn(report, needs)))
    there = pl.col("supply_kind") == "stock"
    lying, to_come = (
        rows_by(drawn.filter(where), "from_order", "day") for where in (there, ~there)
    )
    return Picks(orders.rows(named=True), lying, to_come)


def _lacking(report: Report, week: str) -> pl.DataFrame:
    """The same of what orders in work lack and need in a week, or needed before."""
    return report.lacking_in_work.filter(in_weeks("day", week))


def _in_work(report: Report, lacking: pl.DataFrame) -> pl.DataFrame:
    """Orders in work that lack something, as those that start: a row for each day."""
    begun = report.tables["open_orders"].group_by("order", maintain_order=True).agg(
        pl.col("item", "serial").first(), pl.col("quantity").sum()
    )  # fmt: skip
    about = report.tables["items"].select("item", "unit", "source", "process")
    late = pl.col("late_days").max() > 0
    days = lacking.group_by(order="from_order", start_date="day").agg(
        state=pl.when(late).then(pl.lit("waiting")).otherwise(pl.lit("complete")),
        can_start=pl.max_horizontal(pl.col("comes").max(), pl.col("day").first()),
        coming=(pl.col("supply_kind") != "stock").sum().cast(pl.Int64),
    )
    return days.join(begun, on="order").join(about, on="item", how="left")


def of_one_day(picks: Picks) -> Iterator[Picks]:
    """The picks of each day on which orders start, in the order of days."""
    for _, orders in groupby(picks.orders, key=itemgetter("start_date")):
        yield replace(picks, orders=list(orders))


def _drawn(report: Report, needs: pl.DataFrame) -> pl.DataFrame:
    """What each order draws of each lot, with what is said of it, in the order of places."""
    there = pl.col("supply_kind") == "stock"
    return (
        needs.filter(pl.col("supply_kind") != "passed on")
        .group_by(
            "from_order", "day", "item", "serial", "supply_kind", "supply", "location", "comes"
        )
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            pl.col("late_days").max(),
        )
        .join(report.last_days, on=["item", "location", "supply"], how="left")
        .join(report.replacing, on=["from_order", "item"], how="left")
        .join(report.overdue, on=["item", "supply", "supply_kind"], how="left")
        .with_columns(pl.col("replaces").fill_null(""))
        .sort(
            *("from_order", "day", ~there, "location", "item"),
            pl.col("expires").fill_null(pl.date(9999, 12, 31)),
            *("supply", "serial", "comes"),
        )
    )


def _in_whole_pieces(report: Report, drawn: pl.DataFrame) -> pl.DataFrame:
    """Pieces as people can take them: the parts of a need rounded along their running sum.

    Shares of a piece arise where an earlier order draws on what is expected good of another one.
    """
    need = pl.struct("from_order", "day", "item", "serial").rank("dense")
    pieces = report.tables["items"].filter(pl.col("unit").is_in(WHOLE_UNITS))["item"]
    up_to = pl.col("quantity").cum_sum().over("need")
    goes_on = pl.col("need") == pl.col("need").shift(1)  # they stand one after the other
    before = pl.when(goes_on).then(pl.col("whole").shift(1)).otherwise(0.0)
    counted = pl.col("item").is_in(pieces.implode())
    return (
        drawn.with_row_index("place")
        .with_columns(need=need)
        .sort("need", "place")
        .with_columns(whole=(up_to + 0.5 - 1e-6).floor())
        .with_columns(
            quantity=pl.when(counted).then(pl.col("whole") - before).otherwise("quantity")
        )
        .filter(pl.col("quantity") > 0)
        .sort("place")
        .drop("place", "need", "whole")
    )
