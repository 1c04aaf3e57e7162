"""A plan with all that stands on it: what the workbooks and result tables are made from."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

import polars as pl

from bomkit.tables.schema import Tables


@dataclass(frozen=True)
class Choices:
    """What is chosen for a plan."""

    stores: bool = True  # the forecast, the shortages and the pick lists
    inspections: bool = False  # what the fleet's inspections take is planned as forecast demand
    level: bool = True  # work is pulled forward as pull_ahead_weeks says
    pick_sheets: bool = False  # besides rounds and cart lists, a pick sheet for each order
    as_moved: bool = False  # open orders come as the proposed moves would have them


USUAL = Choices()


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


@dataclass(frozen=True)
class FinishedPlan:
    """What planning gives.

    tables: the input tables that were planned; results: by name every table of RESULTS but
    planned_items, with its columns and others, and stand_ins: item, serial, kind, stand_in,
    quantity, locations, expires, note; relief: supplier, demand, saved (working days, if it brings
    all as asked for); deliverers: order, item, by (who delivers an open order that says so);
    to_add: week, supplier, order, item, value, days (later orders that make up order minimums);
    usual_places: by item; weeks: every ISO week of the horizon; list_weeks: those with lists;
    printers: kind, week, in_work, hours, capacity, plates, fewest; reslicing: item, kind,
    newer_kind, hours, week, week_hours; levelling: none where orders stand as netting puts them.
    """

    choices: Choices
    tables: Tables
    results: Tables
    relief: pl.DataFrame
    deliverers: pl.DataFrame
    to_add: pl.DataFrame
    usual_places: Mapping[str, str]
    weeks: list[str]
    list_weeks: list[str]
    printers: pl.DataFrame
    reslicing: pl.DataFrame
    levelling: Levelling | None
    moulds: Moulds
