"""What the workbooks are made from: the frames of a finished plan and what stands on every page."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import polars as pl

from bomkit.tables.results.finished_plan import FinishedPlan
from bomkit.units import WHOLE_UNITS
from bomkit.words import common as common_words
from bomkit.workbooks.compare import Comparison
from bomkit.workbooks.of_pegs import drawn_components, late_components
from bomkit.workbooks.writing.sheet import Book, Sheet

_MOST_NAMED = 3  # as many as fit into two lines of a list


def iso_week(column: str) -> pl.Expr:
    """The ISO 8601 week of a date column, as 2026-W49, by the ISO week-year."""
    return pl.col(column).dt.strftime("%G-W%V")


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
    is other than in an earlier run, if asked for.
    """

    run_id: str
    start: dt.date
    title: str
    plan: FinishedPlan
    asides: tuple[str, ...]
    changed: Comparison | None

    def __getitem__(self, table: str) -> pl.DataFrame:
        """A result table by its name."""
        return self.plan.results[table]

    @property
    def tables(self) -> Mapping[str, pl.DataFrame]:
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
        return iso_week("start_date").is_in(self.list_weeks)

    def book(self, sheets: list[Sheet]) -> Book:
        """A workbook of this run."""
        return Book(sheets, self.run_id, self.title, self.start)

    def day(self, date: dt.date) -> str:
        """A day in words, with its year where that is not the year in which the plan begins."""
        return f"{date:%a %d %b %Y}" if date.year != self.start.year else f"{date:%a %d %b}"

    def subtitle(self, *more: str) -> str:
        """What stands below every title."""
        made = common_words.PLAN_FROM.format(date=self.start.strftime("%d %b %Y"))
        return common_words.BETWEEN.join([*more, made, common_words.RUN.format(run_id=self.run_id)])

    @cached_property
    def items(self) -> dict[str, dict[str, Any]]:
        """Every item's row by its name."""
        rows = self.tables["items"].iter_rows(named=True)
        return {row["item"]: row for row in rows}

    @cached_property
    def for_whom(self) -> dict[str, str]:
        """For each order on a sheet the airframes, spares orders and stock it is for, in words."""
        return {order: _listed(parts) for order, parts in self.named_for.items()}

    @cached_property
    def named_for(self) -> dict[str, list[str]]:
        """The same one by one, those that need it first going first.

        On a sheet are orders that start in the release weeks and those that start too late.
        """
        shown = self["orders"].filter(self.released | (pl.col("late_days") > 0))
        counted = (
            self["pegs"]
            .filter(pl.col("supply_kind") == "planned order")
            .filter(pl.col("demand_kind") != "stock")
            .join(shown.select(supply="order"), on="supply", how="semi")
            .group_by("supply", "item", "demand", "demand_kind")
            .agg(pl.col("quantity").sum(), first=pl.col("need_date").min())
            .sort("supply", "first", "demand")
        )
        words: dict[str, list[str]] = {}
        for order, item, demand, kind, quantity, _ in counted.iter_rows():
            whole = self.items[item]["unit"] in WHOLE_UNITS
            words.setdefault(order, []).append(_who(demand, kind, quantity, whole))
        beyond = (
            shown.join(
                counted.group_by("supply").agg(pl.col("quantity").sum().alias("asked")),
                left_on="order",
                right_on="supply",
                how="left",
            )
            .select("order", "unit", over=pl.col("expected_good") - pl.col("asked").fill_null(0.0))
            .filter(pl.col("over") > 1e-6)
        )
        for order, unit, quantity in beyond.sort("order").iter_rows():
            words.setdefault(order, []).append(_who("", "stock", quantity, unit in WHOLE_UNITS))
        return words

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
    def proposals(self) -> dict[tuple[str, str], list[dict[str, Any]]]:
        """What could stand in for a late item, by item and serial."""
        found: dict[tuple[str, str], list[dict[str, Any]]] = {}
        for row in self["stand_ins"].iter_rows(named=True):
            found.setdefault((row["item"], row["serial"]), []).append(row)
        return found

    @cached_property
    def late_components(self) -> dict[str, list[tuple[str, str, str]]]:
        """For each order the items, serials and supplies too late for it, the latest first."""
        return late_components(self["pegs"])

    @cached_property
    def components(self) -> dict[str, list[dict[str, Any]]]:
        """For each order that starts in the release weeks the components it draws from stores."""
        return drawn_components(self["pegs"], self["orders"].filter(self.released))


def demand_in_words(demand: str, kind: str) -> str:
    """A demand by its name and kind, as every list calls it."""
    return common_words.DEMAND_KINDS[kind].format(demand=demand)


def _who(demand: str, kind: str, quantity: float, whole: bool) -> str:
    """One demand in words, with how much in round figures if it is more than one."""
    name = demand_in_words(demand, kind)
    amount = f"{quantity:,.0f}" if whole or quantity >= 100 else f"{quantity:.2g}"
    return name if quantity < 1 or amount == "1" else f"{name} × {amount}"


def _listed(parts: list[str]) -> str:
    """The first few of a list, and how many more there are."""
    if len(parts) <= _MOST_NAMED + 1:
        return ", ".join(parts)
    more = common_words.AND_MORE.format(count=len(parts) - _MOST_NAMED)
    return f"{', '.join(parts[:_MOST_NAMED])} {more}"
