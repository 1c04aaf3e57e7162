"""The order in which places of stock stand in a list: as people number them."""

import re
from functools import cache
from itertools import groupby

import polars as pl


def by_place(drawn: pl.DataFrame) -> pl.DataFrame:
    """The rows of each order and day by their place, shelf 2 before shelf 11."""
    places = sorted(drawn["location"].unique().to_list(), key=by_number)
    ranks = {
        place: rank
        for rank, (_, alike) in enumerate(groupby(places, key=by_number))
        for place in alike
    }
    rank = pl.col("location").replace_strict(ranks, return_dtype=pl.Int64)
    return drawn.sort("from_order", "day", rank, maintain_order=True)


@cache
def by_number(location: str) -> list[tuple[int, str]]:
    """What sorts locations as people do: numbers in them by value."""
    return [
        (int(part), "") if part.isdecimal() else (-1, part) for part in re.split(r"(\d+)", location)
    ]
