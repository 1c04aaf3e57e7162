"""What a week gives of hours and pulls: closed days take their part of it."""

from typing import TypeVar

import polars as pl

from bomkit.planning.workdays import WORKING_DAYS_IN_WEEK

Amount = TypeVar("Amount", float, pl.Expr)


def in_open_days(per_week: Amount, days: int | Amount) -> Amount:
    """What so many worked days give of what there is in a week of all working days."""
    return per_week * days / WORKING_DAYS_IN_WEEK
