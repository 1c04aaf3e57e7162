"""What the workbooks are made from: the frames of a finished plan and what stands on every page."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import polars as pl

from bomkit.units import WHOLE_UNITS
from bomkit.words import common as common_words
from bomkit.workbooks.compare import Comparison
from bomkit.workbooks.of_pegs import drawn_components, late_components
from bomkit.workbooks.writing.sheet import Book, Sheet

_MOST_NAMED = 3  # as many as fit into two lines of a list


def iso_week(column: str) -> pl.Expr:
    """The ISO 8601 week of a date column, as 2026-W49, by the ISO week-year."""
    return pl.col(column).dt.strftime("%G-W%V")


@dataclass(frozen=True)
class Prints:
    """What the printers do.

    plates: as in RESULTS, with start_date and due_date (the first of any order on it);
    loads: kind, week, hours, capacity, plates, fewest; reslicing: item, kind, newer_kind, hours,
    week, week_hours.
    """

    plates: pl.DataFrame
    loads: pl.DataFrame
    reslicing: pl.DataFrame


@dataclass(frozen=True)
class Levelling:
    """What was pulled forward.

    moves: item, serial, quantity, start_before, start, days; value: week, value (on hand), added.
    """

    weeks: int  # at most so many weeks
    moves: pl.DataFrame
    value: pl.DataFrame


@dataclass(frozen=True)
class Moulds:
    """What the moulds do.

    wear: mould, item, replacement, count, pulls_left, pulls (planned), runs_out, start_by,
    late_days; pulls: item, week, pulls, capacity; lacking: by order that starts without a mould
    the day on which one is there again (None: nobody knows).
    """

    wear: pl.DataFrame
    pulls: pl.DataFrame
    lacking: Mapping[str, dt.date | None]


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
    """A finished plan for people.

    tables: the input tables; orders, projection, needs, pegs (and from_order), forecast, pacing,
    ready, promises, packing, moves, buy_lines, cash: as in RESULTS; stand_ins: item, serial,
    kind, stand_in, quantity, locations, expires, note; to_add: week, supplier, order, item, value,
    days (later orders that make up order minimums); loads: process, week, hours_before (levelling),
    hours, capacity; shop_loads: as in RESULTS; weeks: every ISO week of the horizon.
    """

    run_id: str
    start: dt.date
    title: str
    tables: Mapping[str, pl.DataFrame]
    orders: pl.DataFrame
    projection: pl.DataFrame
    needs: pl.DataFrame
    pegs: pl.DataFrame
    forecast: pl.DataFrame
    pacing: pl.DataFrame
    ready: pl.DataFrame
    stand_ins: pl.DataFrame
    promises: pl.DataFrame
    packing: pl.DataFrame
    moves: pl.DataFrame
    relief: pl.DataFrame  # supplier, demand, saved: working days, if it brings all as asked for
    deliverers: pl.DataFrame  # order, item, by: who delivers an open order that says so
    usual_places: Mapping[str, str]  # by item
    buy_lines: pl.DataFrame
    cash: pl.DataFrame
    to_add: pl.DataFrame
    loads: pl.DataFrame
    shop_loads: pl.DataFrame
    weeks: list[str]
    list_weeks: list[str]
    asides: tuple[str, ...]  # what the reader should know: overdue, past the horizon
    inspections: pl.DataFrame  # serial, item, due_date, cause, quantity, note
    inspections_planned: bool  # whether they are in the plan, as forecast demand
    prints: Prints
    levelling: Levelling | None  # none: orders stand where netting puts them
    moulds: Moulds
    changed: Comparison | None  # what is other than in an earlier run, if asked for

    @property
    def plates(self) -> pl.DataFrame:
        """What is printed on which plate."""
        return self.prints.plates

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
        shown = self.orders.filter(self.released | (pl.col("late_days") > 0))
        counted = (
            self.pegs.filter(pl.col("supply_kind") == "planned order")
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
        for row in self.stand_ins.iter_rows(named=True):
            found.setdefault((row["item"], row["serial"]), []).append(row)
        return found

    @cached_property
    def late_components(self) -> dict[str, list[tuple[str, str, str]]]:
        """For each order the items, serials and supplies too late for it, the latest first."""
        return late_components(self.pegs)

    @cached_property
    def components(self) -> dict[str, list[dict[str, Any]]]:
        """For each order that starts in the release weeks the components it draws from stores."""
        return drawn_components(self.pegs, self.orders.filter(self.released))


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
