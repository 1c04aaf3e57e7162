"""What is printed after a week was taken back."""

import datetime as dt
from collections.abc import Iterator, Mapping

import polars as pl

from bomkit.words import account_of_week as said
from bomkit.words.problems.figures import more_or_less

MOST_DIFFERENCES = 20


def taken_back_lines(
    week: str, start: dt.date, account: pl.DataFrame, counts: Mapping[str, int]
) -> Iterator[str]:
    """What was filled in, what counts found, and when the next plan starts.

    account: the table account; counts: how many rows were filled in, by kind of entry.
    """
    listed = (
        f"{counts[kind]} {one if counts[kind] == 1 else several}"
        for kind, (one, several) in said.ENTRY_KINDS.items()
        if kind in counts
    )
    yield said.TAKEN_BACK.format(week=week, counts=", ".join(listed) or said.NOTHING_FILLED_IN)
    differences = account.filter(pl.col("counted") != 0).sort(
        pl.col("counted").abs(), descending=True
    )
    for row in differences.head(MOST_DIFFERENCES).iter_rows(named=True):
        yield said.DIFFERENCE_LINE.format(difference=more_or_less(row["counted"]), **row)
    if len(differences) > MOST_DIFFERENCES:
        yield said.MORE_DIFFERENCES.format(count=len(differences) - MOST_DIFFERENCES)
    yield said.NEXT_START.format(start=start)
