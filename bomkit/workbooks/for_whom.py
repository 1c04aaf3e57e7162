"""For whom orders are, in words that are found when somebody reads them."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple, overload

import polars as pl

from bomkit.units import WHOLE_UNITS
from bomkit.words import common as common_words

_MOST_NAMED = 3  # as many as fit into two lines of a list


class Asked(NamedTuple):
    """What demands take of orders, each a list: demand, demand_kind, quantity, whole (counted)."""

    demand: list[str]
    demand_kind: list[str]
    quantity: list[float]
    whole: list[bool]


class Named(Sequence[str]):
    """For whom one order is, one by one; most lists show the first few alone."""

    def __init__(self, asked: Asked, places: range) -> None:
        self._asked, self._places = asked, places

    def __len__(self) -> int:
        return len(self._places)

    @overload
    def __getitem__(self, place: int) -> str: ...
    @overload
    def __getitem__(self, place: slice) -> list[str]: ...
    def __getitem__(self, place: int | slice) -> str | list[str]:
        named = self._places[place]
        return self._words(named) if isinstance(named, int) else list(map(self._words, named))

    def _words(self, place: int) -> str:
        """One demand in words, with how much in round figures if it is more than one."""
        asked, quantity = self._asked, self._asked.quantity[place]
        name = demand_in_words(asked.demand[place], asked.demand_kind[place])
        whole = asked.whole[place] or quantity >= 100
        amount = f"{quantity:,.0f}" if whole else f"{quantity:.2g}"
        return name if quantity < 1 or amount == "1" else f"{name} × {amount}"

    def listed(self) -> str:
        """The first few, and how many more there are."""
        most = _MOST_NAMED if len(self) > _MOST_NAMED + 1 else len(self)
        return common_words.first_few(self, most)


def named_for(pegs: pl.DataFrame, orders: pl.DataFrame) -> Mapping[str, Named]:
    """For each of these orders for whom it is, those that need it first going first; what is left
    over is for stock.

    orders: order, unit, expected_good.
    """
    asked = _asked(pegs, orders)
    columns = asked.select(
        "demand", "demand_kind", "quantity", whole=pl.col("unit").is_in(WHOLE_UNITS)
    )
    told = Asked(*(column.to_list() for column in columns))
    runs = asked["supply"].rle().struct.unnest()
    ends = runs["len"].cum_sum()
    return {
        order: Named(told, range(end - length, end))
        for order, length, end in zip(runs["value"], runs["len"], ends, strict=True)
    }


def _asked(pegs: pl.DataFrame, orders: pl.DataFrame) -> pl.DataFrame:
    """What demands, and stock, take of orders: supply, unit, demand, demand_kind, quantity, first;
    by supply, those that need it first going first."""
    columns = ("supply", "supply_kind", "demand", "demand_kind", "quantity", "need_date")
    counted = (
        pegs.select(columns)
        .filter((pl.col("supply_kind") == "planned order") & (pl.col("demand_kind") != "stock"))
        .join(orders.select("unit", supply="order"), on="supply", how="inner")
        .group_by("supply", "unit", "demand", "demand_kind")
        .agg(pl.col("quantity").sum(), first=pl.col("need_date").min())
    )
    taken = counted.group_by(order="supply").agg(taken=pl.col("quantity").sum())
    beyond = (
        orders.join(taken, on="order", how="left")
        .select(
            *("unit", pl.lit("").alias("demand"), pl.lit("stock").alias("demand_kind")),
            supply="order",
            quantity=pl.col("expected_good") - pl.col("taken").fill_null(0.0),
        )
        .filter(pl.col("quantity") > 1e-6)
    )
    return pl.concat([counted, beyond], how="diagonal").sort(
        "supply", "first", "demand", "demand_kind", nulls_last=True
    )


def demand_in_words(demand: str, kind: str) -> str:
    """A demand by its name and kind, as every list calls it."""
    return common_words.DEMAND_KINDS[kind].format(demand=demand)
