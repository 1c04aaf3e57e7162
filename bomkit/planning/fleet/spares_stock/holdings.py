"""How many of each part to hold for the fleet, and what a limited budget or mass buys best."""

from dataclasses import dataclass
from typing import Literal

import polars as pl

from bomkit.planning.fleet.spares_stock.best_next_piece import (
    Bought,
    assurance_path,
    best_purchases,
    purchases_in_order,
)
from bomkit.planning.fleet.spares_stock.inspections_in_stock import (
    NONE_FORESEEN,
    beside_use,
    foreseen_needs,
    most_at_once,
    with_due,
)
from bomkit.planning.fleet.spares_stock.resupply_and_stock import (
    present_stock,
    resupply_days,
    usable,
)
from bomkit.planning.fleet.spares_stock.stock_for_target import (
    at_stock,
    smallest_stocks,
    stock_levels,
)
from bomkit.planning.fleet.spares_stock.yearly_use import yearly_use
from bomkit.planning.workdays import DAYS_IN_YEAR, WORKING_DAYS_IN_YEAR
from bomkit.tables.schema import Tables

Measure = Literal["no-backorder", "fill-rate"]
MOST_PIECES = 10_000  # over the resupply time; beyond it single pieces mean nothing
# more reasons for which a part is left out
UNPRICED, UNWEIGHED, TOO_MANY = "unpriced", "unweighed", "too many"


@dataclass(frozen=True)
class Question:
    """What is asked: the target, the measure, and what limits the choice.

    days: calendar days of a tour, in the place of the resupply times. Without a limit every part
    gets what reaches the target by itself; a budget (cost) is spent on top of the stock there is, a
    mass is packed from nothing. inspections: whether what they take within the horizon counts too.
    """

    target: float
    measure: Measure = "no-backorder"
    limit: float | None = None
    limited_by: Literal["cost", "mass"] = "cost"
    serials: tuple[str, ...] = ()
    days: int | None = None
    inspections: bool = False

    @property
    def fill_rate(self) -> bool:
        """Whether the measure is the fill rate."""
        return self.measure == "fill-rate"

    @property
    def replaced(self) -> bool:
        """Whether what is used is ordered again; on a tour nothing is."""
        return self.days is None


@dataclass(frozen=True)
class Holdings:
    """parts: item, aircraft, yearly, source, resupply_days, mean, due (pieces that inspections take
    at most meanwhile), hold, chance, fill_rate, backorders (with that stock), stock (there now),
    gap, cost, value (of hold), to_buy (value of gap), mass_kg (of hold). left_out: item, reason.
    curve: spent, assurance; empty without prices.

    before, assurance: of the stock the choice starts from, and of what there is in the end, over
    all the parts. spent: cost or kg of the choice. needed: what the whole would take to reach the
    target, None where some part has no price.
    """

    question: Question
    parts: pl.DataFrame
    left_out: pl.DataFrame
    assumed: list[str]
    curve: pl.DataFrame
    before: float
    assurance: float
    spent: float
    short: float
    needed: float | None


def holdings(tables: Tables, question: Question, left: pl.DataFrame | None = None) -> Holdings:
    """The answer for checked tables with a fleet; see Holdings.

    left: item and quantity of what counts as there, in the place of all usable stock.
    """
    needs = NONE_FORESEEN
    if question.inspections:
        needs = foreseen_needs(tables, question.serials, by_calendar=not question.replaced)
    use = beside_use(yearly_use(tables, question.serials), needs, tables, question.serials)
    there = present_stock(tables, usable(tables) if left is None else left)
    about, left_out = _told_apart(_about(tables, use.parts, question, there, needs), question)
    failing = stock_levels(about.select("item", "mean"), replaced=question.replaced)
    levels = with_due(failing, about.select("item", "due"))
    priced = about.filter(pl.col("price").is_not_null())
    queue = purchases_in_order(levels, priced.select("item", "price", "base"))
    chosen = _chosen(question, levels, queue, priced)
    parts = _valued(about.join(chosen.held, on="item", maintain_order="left"), levels)
    path = assurance_path(queue, levels, priced, question.fill_rate)
    return Holdings(
        question,
        parts.drop("price", "base"),
        pl.concat([use.left_out, left_out]).sort("item"),
        use.assumed,
        path,
        _assurance(levels, about.select("item", held="base"), question),
        _assurance(levels, _together(parts, question), question),
        float(parts["to_buy" if question.limited_by == "cost" else "mass_kg"].sum()),
        chosen.short,
        _needed(path, question.target) if len(priced) == len(about) > 0 else None,
    )


def _needed(path: pl.DataFrame, target: float) -> float | None:
    """What is spent on the path of assurance until a target is reached; None if it never is."""
    reached = path.filter(pl.col("assurance") >= target)["spent"]
    return float(reached[0]) if len(reached) else None


def _chosen(
    question: Question, levels: pl.DataFrame, queue: pl.DataFrame, priced: pl.DataFrame
) -> Bought:
    """What to hold: the least that meets the target, or what the limit buys best."""
    if question.limit is None:
        return Bought(smallest_stocks(levels, question.target, question.fill_rate), 0.0)
    return best_purchases(queue, priced, question.limit)


def _told_apart(about: pl.DataFrame, question: Question) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The parts that can be answered for, and those that can't: item, reason."""
    unknown = pl.col("price").is_null() & (question.limit is not None)
    reason = (
        pl.when(pl.col("mean") + pl.col("due") > MOST_PIECES)
        .then(pl.lit(TOO_MANY))
        .when(unknown)
        .then(pl.lit(UNPRICED if question.limited_by == "cost" else UNWEIGHED))
    )
    with_reasons = about.with_columns(reason=reason)
    kept = with_reasons.filter(pl.col("reason").is_null()).drop("reason")
    return kept, with_reasons.select("item", "reason").drop_nulls()


def _about(
    tables: Tables,
    used: pl.DataFrame,
    question: Question,
    there: pl.DataFrame,
    needs: pl.DataFrame,
) -> pl.DataFrame:
    """The parts with resupply_days, mean, due, stock, cost, mass, price (what limits) and base."""
    cost_and_mass = tables["items"].select("item", "cost", mass=pl.col("mass_g") / 1000)
    years = (
        pl.col("resupply_days") / WORKING_DAYS_IN_YEAR
        if question.days is None
        else pl.lit(question.days / DAYS_IN_YEAR)
    )
    bought = question.limit is None or question.limited_by == "cost"
    timed = used.join(resupply_days(tables), on="item", maintain_order="left")
    span = pl.col("resupply_days") if question.days is None else pl.lit(question.days)
    return (
        timed.join(
            most_at_once(needs, timed.select("item", span=span)), on="item", maintain_order="left"
        )
        .join(there, on="item", how="left", maintain_order="left")
        .join(cost_and_mass, on="item", maintain_order="left")
        .with_columns(
            mean=pl.col("yearly") * years,
            stock=pl.col("stock").fill_null(0),
            price=pl.col(question.limited_by),
        )
        .with_columns(base=pl.col("stock") if bought else pl.lit(0, pl.Int64))
    )


def _valued(parts: pl.DataFrame, levels: pl.DataFrame) -> pl.DataFrame:
    """The parts with what their holding is good for, what is lacking, and what all of it costs."""
    stocks = at_stock(levels, parts.select("item", held="hold"))
    gap = (pl.col("hold") - pl.col("stock")).clip(0)
    return parts.with_columns(
        stocks.select("chance", "fill_rate", "backorders"),
        gap=gap,
        value=pl.col("hold") * pl.col("cost"),
        to_buy=gap * pl.col("cost"),
        mass_kg=pl.col("hold") * pl.col("mass"),
    ).select(
        *("item", "aircraft", "yearly", "source", "resupply_days", "mean", "due", "hold", "chance"),
        *("fill_rate", "backorders", "stock", "gap", "cost", "value", "to_buy", "mass_kg"),
        *("price", "base"),
    )


def _together(parts: pl.DataFrame, question: Question) -> pl.DataFrame:
    """What there is of each part in the end: item, held. Stock beyond the holding stays."""
    packed = question.limit is not None and question.limited_by == "mass"
    kept = pl.col("hold") if packed else pl.max_horizontal("hold", "stock")
    return parts.select("item", held=kept)


def _assurance(levels: pl.DataFrame, held: pl.DataFrame, question: Question) -> float:
    """Of all parts together: the chance that none is out, or the fill rate by demand."""
    stocks = at_stock(levels, held)
    if not question.fill_rate:
        return float(stocks["chance"].product()) if len(stocks) else 1.0
    asked = float(stocks["asked"].sum())
    return float(stocks["served"].sum()) / asked if asked else 1.0
