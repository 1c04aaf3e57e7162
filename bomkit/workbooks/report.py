"""What the workbooks are made from: the frames of a finished plan and what stands on every page."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

import polars as pl

from bomkit.tables.results.finished_plan import FinishedPlan
from bomkit.tables.schema import Tables
from bomkit.tables.weeks import in_weeks
from bomkit.words import common as common_words
from bomkit.workbooks.compare import Comparison
from bomkit.workbooks.for_whom import Named, named_for
from bomkit.workbooks.pegs_of_orders import drawn_components, first_served, late_components
from bomkit.workbooks.rows_by_columns import partitions, rows_by
from bomkit.workbooks.writing.sheet import Book, Sheet

SPARES_KEY = ("order", "item", "serial", "need_date")  # tells the rows of spares orders apart


@cache
def _in_words(date: dt.date, with_year: bool) -> str:
    """A day in words; few days stand on all sheets."""
    return f"{date:%a %d %b %Y}" if with_year else f"{date:%a %d %b}"


def shop() -> pl.Expr:
    """Where something is made, in words: its process, packing, or that it has none."""
    return (
        pl.when(pl.col("process") != "")
        .then("process")
        .when(pl.col("source") == "kit")
        .then(pl.lit(common_words.PACKING))
        .otherwise(pl.lit(common_words.NO_PROCESS))
    )


@dataclass(frozen=True)
class Report:
    """A finished plan for people, with what stands on every page.

    asides: what the reader should know, such as what is overdue or past the horizon; changed: what
    is other than in an earlier run, if asked for; unsettled: those of asides on what came to no
    rest, for whoever does not show all of them.
    """

    run_id: str
    start: dt.date
    title: str
    plan: FinishedPlan
    asides: tuple[str, ...]
    changed: Comparison | None
    unsettled: tuple[str, ...] = ()

    def __getitem__(self, table: str) -> pl.DataFrame:
        """A result table by its name."""
        return self.plan.results[table]

    @property
    def tables(self) -> Tables:
        """The input tables by name."""
        return self.plan.tables

    @property
    def weeks(self) -> list[str]:
        """Every ISO week of the horizon."""
        return self.plan.weeks

    @property
    def list_weeks(self) -> list[str]:
        """Those with lists."""
        return self.plan.list_weeks

    @property
    def released(self) -> pl.Expr:
        """Whether an order starts in the release weeks."""
        return in_weeks("start_date", *self.list_weeks)

    def book(self, sheets: list[Sheet]) -> Book:
        """A workbook of this run."""
        return Book(sheets, self.run_id, self.title, self.start)

    def day(self, date: dt.date | None) -> str:
        """A day in words, with its year where that is not the year in which the plan begins; or
        that there is none."""
        if date is None:
            return common_words.NO_DATE
        return _in_words(date, date.year != self.start.year)

    def subtitle(self, *more: str) -> str:
        """What stands below every title."""
        made = common_words.PLAN_FROM.format(date=self.start.strftime("%d %b %Y"))
        return common_words.BETWEEN.join([*more, made, common_words.RUN.format(run_id=self.run_id)])

    @cached_property
    def left_out(self) -> list[str]:
        """The airframes and spares orders that are wanted past the horizon, the soonest first."""
        end = self.start + dt.timedelta(weeks=len(self.weeks))
        wanted = [
            self.tables["build_plan"].select(name="serial", day="ready_date"),
            self.tables["spares_orders"].select(name="order", day="need_date"),
        ]
        beyond = pl.concat(wanted).filter(pl.col("day") >= end).sort("day", "name")
        return beyond["name"].unique(maintain_order=True).to_list()

    @cached_property
    def items(self) -> dict[str, dict[str, Any]]:
        """Every item's row by its name."""
        rows = self.tables["items"].iter_rows(named=True)
        return {row["item"]: row for row in rows}

    @cached_property
    def for_whom(self) -> dict[str, str]:
        """For each order on a sheet the airframes, spares orders and stock it is for, in words."""
        return {order: whom.listed() for order, whom in self.named_for.items()}

    @cached_property
    def named_for(self) -> Mapping[str, Named]:
        """The same one by one, those that need it first going first.

        On a sheet are orders that start in the release weeks and those that start too late.
        """
        shown = self["orders"].filter(self.released | (pl.col("late_days") > 0))
        return named_for(self["pegs"], shown.select("order", "unit", "expected_good"))

    @cached_property
    def overdue(self) -> pl.DataFrame:
        """Open orders that were due before the plan's first day, to be joined to pegs: item,
        supply, supply_kind, overdue (since when)."""
        late = self.tables["open_orders"].filter(pl.col("due_date") < self.start)
        return (
            late.group_by("item", supply="order")
            .agg(overdue=pl.col("due_date").min())
            .with_columns(supply_kind=pl.lit("open order"))
        )

    @cached_property
    def proposals(self) -> Mapping[tuple[object, ...], list[dict[str, Any]]]:
        """What could stand in for a late item, by item and serial."""
        return rows_by(self["stand_ins"], "item", "serial")

    @cached_property
    def late_components(self) -> dict[str, list[tuple[str, str, str]]]:
        """For each order the items, serials and supplies too late for it, the latest first."""
        return late_components(self["pegs"])

    @cached_property
    def handed_out(self) -> pl.DataFrame:
        """The pegs of orders that start in the release weeks with day, on which they do."""
        days = self["ready"].filter(self.released).select(from_order="order", day="start_date")
        return self["pegs"].join(days, on="from_order", how="inner", maintain_order="left")

    @cached_property
    def lacking_in_work(self) -> pl.DataFrame:
        """The same of what orders in work lack, needed on its day or at once."""
        own = (pl.col("demand_kind") == "in work") & (pl.col("from_order") == "")
        day = pl.max_horizontal("need_date", pl.lit(self.start))
        return self["pegs"].filter(own).with_columns(from_order="need", day=day)

    @cached_property
    def replacing(self) -> pl.DataFrame:
        """Which orders get a new item in place of an old one: from_order, item, replaces."""
        passed = pl.col("supply_kind") == "passed on"
        old = self["pegs"].filter(passed).select("from_order", old="item")
        return (
            self.tables["replacements"]
            .select("old", item="new")
            .join(old, on="old")
            .group_by("from_order", "item")
            .agg(replaces=pl.col("old").unique().sort().str.join(", "))
        )

    @cached_property
    def last_days(self) -> pl.DataFrame:
        """Until when each lot may be used: item, location, supply, expires."""
        lots = self.tables["stock"].group_by("item", "location", supply="lot")
        return lots.agg(expires=pl.col("expires").min())

    @cached_property
    def first_served(self) -> Mapping[tuple[str, str, str], str]:
        """By open order, item and serial of the item the demand that needs it first."""
        return first_served(self["pegs"])

    @cached_property
    def promised(self) -> Mapping[str, list[dict[str, Any]]]:
        """By spares order the rows of what is promised for it."""
        return {
            str(order): rows.rows(named=True)
            for (order,), rows in partitions(self["promises"], "order").items()
        }

    @cached_property
    def packed(self) -> Mapping[tuple[object, ...], list[dict[str, Any]]]:
        """By row of a spares order what to pack for it, or to wait for."""
        return rows_by(self["packing"], *SPARES_KEY)

    @cached_property
    def spares_asked(self) -> Mapping[tuple[object, ...], dict[str, Any]]:
        """The rows of spares orders by what tells them apart."""
        rows = self.tables["spares_orders"].iter_rows(named=True)
        return {tuple(row[name] for name in SPARES_KEY): row for row in rows}

    @cached_property
    def chains(self) -> Mapping[tuple[object, ...], pl.DataFrame]:
        """By demand and its kind the chain that sets its date."""
        return partitions(self["pacing"], "demand", "demand_kind")

    @cached_property
    def fill_ups(self) -> Mapping[tuple[object, ...], pl.DataFrame]:
        """By week and supplier the later orders that make up its order minimum."""
        return partitions(self.plan.to_add, "week", "supplier")

    @cached_property
    def components(self) -> dict[str, list[dict[str, Any]]]:
        """For each order that starts in the release weeks the components it draws from stores."""
        return drawn_components(self["pegs"], self["orders"].filter(self.released))
