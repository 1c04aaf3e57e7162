"""Whether so many parts are to be printed that their plates could not be laid out any more."""

import polars as pl

from bomkit.planning.netting.netted_plan import Flows
from bomkit.planning.netting.too_much import TooMuch
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.columns_and_rules.shops_and_calendar import MOST_PLATES
from bomkit.tables.schema import Tables


class TooManyPlates(TooMuch):
    """Raised where printed parts fill more plates than can be laid out; names the first item."""


def refuse_too_many_plates(network: Network, flows: Flows, tables: Tables) -> None:
    """Raises TooManyPlates where the parts of a plan, each item by itself, ask for too many.

    It is the item with the most plates that is named.
    """
    pieces = flows.started.group_by("key").agg(pieces=pl.col("quantity").sort().sum())
    plates = (
        network.named(pieces)
        .join(_most_of_a_plate(tables), on="item")
        .group_by("item")
        .agg(plates=(pl.col("pieces") * pl.col("share")).sort().sum())
        .sort("plates", "item", descending=[True, False])
    )
    if (plates["plates"].sum() or 0.0) > MOST_PLATES:
        raise TooManyPlates(plates["item"][0])


def _most_of_a_plate(tables: Tables) -> pl.DataFrame:
    """By item the share of a plate that a part takes, on the kind of printer where it is most."""
    prints = tables["prints"].with_columns(kind=pl.col("printers").str.split(" ")).explode("kind")
    return (
        prints.join(tables["printers"].select("kind", "plate_parts", "plate_hours"), on="kind")
        .filter((pl.col("hours") <= pl.col("plate_hours")).fill_null(True))
        .group_by("item")
        .agg(
            share=pl.max_horizontal(
                pl.coalesce("plate_share", 1 / pl.col("per_plate")),
                pl.col("hours") / pl.col("plate_hours"),
                1 / pl.col("plate_parts"),
            ).max()
        )
    )
