"""The axis of working days: dates to day numbers and back.

Day 0 is the first working day at or after the plan's start. Needs move to the working day before,
receipts to the working day after.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
import polars as pl

from bomkit.tables.schema import Tables
from bomkit.tables.weeks import iso_weeks

OVERDUE = "overdue"
PAST = "past"
WORKING_DAYS_IN_WEEK = 5
_DATE = "datetime64[D]"
DAYS_IN_YEAR = 365.25
WORKING_DAYS_IN_YEAR = WORKING_DAYS_IN_WEEK * 52.18


@dataclass(frozen=True)
class Workdays:
    """Working days of the horizon, and some beyond it for dates that are only shown."""

    start: dt.date
    end: dt.date  # first calendar day past the horizon
    dates: pl.Series  # Date, ascending: the horizon's working days, then those beyond
    count: int  # how many of them lie within the horizon

    def needs(self, dates: pl.Series) -> pl.DataFrame:
        """Day of each need with columns day, overdue, past: the last working day up to it."""
        return pl.DataFrame(
            {
                "day": (self.working_days_up_to(dates) - 1).clip(0),
                OVERDUE: dates < self.dates[0],
                PAST: dates >= self.end,
            }
        )

    def receipts(self, dates: pl.Series) -> pl.DataFrame:
        """Day of each receipt with columns day, overdue, past: the first working day from it on."""
        day = self.working_days_before(dates)
        return pl.DataFrame({"day": day, OVERDUE: dates < self.dates[0], PAST: day >= self.count})

    def last_uses(self, expires: pl.Series) -> pl.DataFrame:
        """Last working day of each expiry with columns day (-1 if expired before day 0), beyond."""
        day = self.working_days_up_to(expires) - 1
        return pl.DataFrame({"day": day, "beyond": expires >= self.end})

    def on(self, days: pl.Series) -> pl.Series:
        """The dates of day numbers (past the known days: the last known one)."""
        if days.null_count():
            return self.dates.gather(days.cast(pl.Int64).clip(0, len(self.dates) - 1))
        known = np.clip(days.to_numpy(), 0, len(self.dates) - 1).astype(np.int64)
        return pl.Series("date", self.dates.to_numpy()[known])

    def date(self, day: int) -> dt.date:
        """The date of one day number (past the known days: the last known one)."""
        date: dt.date = self.dates[min(max(day, 0), len(self.dates) - 1)]
        return date

    def late(self, wanted: dt.date, day: int) -> int:
        """Working days from when something is wanted to a day on which it is there; 0 if in time.

        Before the plan's first day every Monday to Friday counts, as its calendar need not go back.
        """
        first = self.dates[0]
        if wanted >= first:
            return max(0, day - int(self.working_days_up_to(pl.Series([wanted]))[0]) + 1)
        before = pl.date_range(wanted, first, "1d", closed="left", eager=True)
        return day + int((before.dt.weekday() <= 5).sum())

    def weeks(self) -> pl.Series:
        """The ISO 8601 week, as 2026-W49, of every working day of the horizon."""
        return self._weeks

    @cached_property
    def _weeks(self) -> pl.Series:
        """The same, worked out once."""
        return iso_weeks(self.dates.head(self.count))

    def open_days(self) -> dict[str, int]:
        """How many days are worked in each week of the horizon, in order."""
        counts = self._weeks.to_frame("week").group_by("week", maintain_order=True).len()
        return dict(counts.iter_rows())

    def working_days_before(self, dates: pl.Series) -> pl.Series:
        """How many known working days lie before each date; null where there is no date."""
        return self._places(dates, "left")

    def working_days_up_to(self, dates: pl.Series) -> pl.Series:
        """How many known working days lie before or on each date; null where there is no date."""
        return self._places(dates, "right")

    def _places(self, dates: pl.Series, side: Literal["left", "right"]) -> pl.Series:
        """Where each date would stand among the working days."""
        days = dates.cast(pl.Date).to_numpy()
        places = pl.Series(np.searchsorted(self.dates.to_numpy(), days, side).astype(np.int64))
        if not dates.null_count():
            return places
        return places.zip_with(dates.is_not_null(), pl.Series([None], dtype=pl.Int64))


def working_days(
    start: dt.date,
    weeks: int,
    closed: list[dt.date],
    beyond: int = 0,
    opened: Sequence[dt.date] = (),
) -> Workdays:
    """The axis of working days from start, and `beyond` days after its horizon.

    They are the Mondays to Fridays less closed days, and the Saturdays and Sundays that are open.
    """
    end = start + dt.timedelta(weeks=weeks)
    # 3/2 calendar days a working day and a year of closed days leave room for what is only shown
    last = end + dt.timedelta(days=beyond * 3 // 2 + 366)
    every = np.arange(np.datetime64(start), np.datetime64(last))
    works = np.is_busday(every, holidays=np.array(closed, _DATE))
    works |= np.isin(every, np.array(opened, _DATE))
    dates = every[works]
    within = int(np.searchsorted(dates, np.datetime64(end)))
    return Workdays(start, end, pl.Series("date", dates), within)


def workdays_of(tables: Tables, beyond: int = 0) -> Workdays:
    """The axis of a plan's settings and calendar: the input tables plan and calendar."""
    settings = tables["plan"].row(0, named=True)
    days = list(zip(tables["calendar"]["date"], tables["calendar"]["open"], strict=True))
    return working_days(
        settings["start"],
        settings["horizon_weeks"],
        [date for date, is_open in days if date is not None and is_open != "yes"],
        beyond,
        [date for date, is_open in days if date is not None and is_open == "yes"],
    )
