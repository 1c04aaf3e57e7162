"""How many of each part the fleet uses in a year: from stated rates, else from what was issued."""

from collections.abc import Sequence
from dataclasses import dataclass

import polars as pl

from bomkit.planning.structure.fitted_items import all_links, contained_items, mentioned_items
from bomkit.planning.structure.options_and_serials import serial_specific_items
from bomkit.planning.structure.replaced import newest_items
from bomkit.planning.workdays import DAYS_IN_YEAR
from bomkit.tables.schema import Tables

# why a part is left out
IN_MEASURE, PASSED_ON, CONFIGURED, NOBODY = "measure", "phantom", "specific", "nobody"


@dataclass(frozen=True)
class Use:
    """parts: item, aircraft (how many have it), yearly, source (usage or issues), by item.
    left_out: item, reason. assumed: serials whose hours were not stated."""

    parts: pl.DataFrame
    left_out: pl.DataFrame
    assumed: list[str]


def yearly_use(tables: Tables, serials: Sequence[str] = ()) -> Use:
    """Pieces that the fleet, or only the aircraft named, use in a year.

    A rate counts for every aircraft whose configuration contains the part: per_1000_hours x its
    hours_per_year / 1000, or per_year. A part that no structure of an aircraft mentions, such as a
    kit, counts for all of them. Without a rate: all quantities issued, divided by the years from
    the first issue of any part to the plan's start, at least one; of some aircraft only, their
    share by hours. What was used of a replaced item counts for the one that takes its place.
    An aircraft without hours_per_year is taken to fly as much as the others do on the average.
    """
    newest = newest_items(tables)
    asked = pl.concat([_rates(tables["usage"], newest), _issued(tables, newest)], how="diagonal")
    wanted = asked.group_by("item").agg(pl.col("per_1000_hours", "per_year", "issued").max())
    fleet = _flown(tables["fleet"])
    left_out = left_out_parts(tables, wanted["item"])
    held = _holders(tables, fleet, wanted.join(left_out, on="item", how="anti"))
    chosen = pl.col("serial").is_in(list(serials) or fleet["serial"].to_list())
    summed = _summed(held, chosen).filter(pl.col("aircraft") > 0)
    parts = summed.join(wanted, on="item").sort("item")
    unheld = wanted.join(left_out, on="item", how="anti").join(parts, on="item", how="anti")
    return Use(
        _in_a_year(parts),
        pl.concat([left_out, unheld.select("item", reason=pl.lit(NOBODY))]).sort("item"),
        fleet.filter(pl.col("assumed") & chosen)["serial"].to_list(),
    )


def _in_a_year(parts: pl.DataFrame) -> pl.DataFrame:
    """What is used of parts by their rates, else of what was issued: item, aircraft, yearly,
    source."""
    rated = pl.col("per_1000_hours").is_not_null()
    stated = pl.col("per_1000_hours") * pl.col("hours") / 1000 + (
        pl.col("per_year") * pl.col("aircraft")
    )
    return parts.select(
        "item",
        "aircraft",
        yearly=pl.when(rated).then(stated).otherwise(pl.col("issued") * pl.col("share")),
        source=pl.when(rated).then(pl.lit("usage")).otherwise(pl.lit("issues")),
    )


def _rates(usage: pl.DataFrame, newest: pl.DataFrame) -> pl.DataFrame:
    """Rates by newest item: its own, or else those of the items it replaced, added up."""
    rates = usage.join(newest, on="item").with_columns(own=pl.col("item") == pl.col("newest"))
    return (
        rates.filter(pl.col("own") | ~pl.col("own").any().over("newest"))
        .group_by(item="newest")
        .agg(pl.col("per_1000_hours", "per_year").sort().sum())
    )


def _issued(tables: Tables, newest: pl.DataFrame) -> pl.DataFrame:
    """What was issued in a year, by newest item: item, issued."""
    start = tables["plan"]["start"][0]
    past = tables["issues"].filter(pl.col("date") < start)
    first = past["date"].min()
    days = (start - first).days if first is not None else 0
    years = max(1.0, days / DAYS_IN_YEAR)
    return (
        past.join(newest, on="item")
        .group_by(item="newest")
        .agg(issued=pl.col("quantity").sort().sum() / years)
    )


def _flown(fleet: pl.DataFrame) -> pl.DataFrame:
    """The fleet with hours (a year, filled in where not stated) and whether they are assumed."""
    usual = pl.col("hours_per_year").mean().fill_null(0.0)
    return fleet.select(
        "serial",
        "item",
        "options",
        hours=pl.col("hours_per_year").fill_null(usual),
        assumed=pl.col("hours_per_year").is_null(),
    )


def left_out_parts(tables: Tables, wanted: pl.Series) -> pl.DataFrame:
    """The parts that cannot be kept as pieces for everybody: item, reason."""
    specific = serial_specific_items(tables["structure"], tables["build_plan"])
    reason = (
        pl.when(pl.col("source") == "phantom")
        .then(pl.lit(PASSED_ON))
        .when(pl.col("unit") != "pc")
        .then(pl.lit(IN_MEASURE))
        .when(pl.col("item").is_in(specific.implode()))
        .then(pl.lit(CONFIGURED))
    )
    return (
        tables["items"]
        .filter(pl.col("item").is_in(wanted.implode()))
        .select("item", reason=reason)
        .drop_nulls()
    )


def _holders(tables: Tables, fleet: pl.DataFrame, wanted: pl.DataFrame) -> pl.DataFrame:
    """Which aircraft have which of the parts: item, serial, hours."""
    links = all_links(tables)
    tops = pl.concat([fleet["item"], tables["build_plan"]["item"]])
    loose = wanted.filter(~pl.col("item").is_in(mentioned_items(links, tops).implode()))
    within = contained_items(links, fleet.select("serial", "item", "options")).join(
        wanted, on="item", how="semi"
    )
    everywhere = loose.select("item").join(fleet.select("serial"), how="cross")
    return pl.concat([within.select("item", "serial"), everywhere]).join(
        fleet.select("serial", "hours"), on="serial"
    )


def _summed(held: pl.DataFrame, chosen: pl.Expr) -> pl.DataFrame:
    """By part how many of the chosen aircraft have it, their hours, and their share of them."""
    return (
        held.group_by("item")
        .agg(
            aircraft=chosen.sum(),
            hours=pl.col("hours").filter(chosen).sort().sum(),
            all_hours=pl.col("hours").sort().sum(),
            all_aircraft=pl.len(),
        )
        .select(
            "item",
            "aircraft",
            "hours",
            share=pl.when(pl.col("all_hours") > 0)
            .then(pl.col("hours") / pl.col("all_hours"))
            .otherwise(pl.col("aircraft") / pl.col("all_aircraft")),
        )
    )
