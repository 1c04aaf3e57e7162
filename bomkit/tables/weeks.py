"""The ISO 8601 weeks, by the ISO week-year, that name weeks in tables, sheets and folders."""

import datetime as dt

import polars as pl

_FORM = "%G-W%V"  # 2026-W53 for 2027-01-01


def week_of(day: dt.date) -> str:
    """The week in which a day lies."""
    return day.strftime(_FORM)


def iso_weeks(dates: pl.Series) -> pl.Series:
    """The week of each date."""
    return dates.dt.strftime(_FORM)


def iso_week(column: str) -> pl.Expr:
    """The week of a date column."""
    return pl.col(column).dt.strftime(_FORM)


def monday_of(week: str) -> dt.date:
    """The day with which a week begins."""
    return dt.datetime.strptime(f"{week}-1", f"{_FORM}-%u").date()


def in_weeks(column: str, *weeks: str) -> pl.Expr:
    """Whether a date column lies in some of these weeks; faster than comparing their names."""
    mondays = [monday_of(week) for week in weeks]
    days = [pl.col(column).is_between(monday, monday + dt.timedelta(days=6)) for monday in mondays]
    return pl.any_horizontal(days) if days else pl.lit(False)
