"""Pegging: which supply serves which need, and so for which airframe or spares order it is.

Within a planning row, needs stand in line by day and by priority, and supplies by the day on which
they can be used, as netting counts them. Laid side by side along their running sums, each stretch
where one need meets one supply is a peg.
"""

from dataclasses import dataclass

import polars as pl

from bomkit.planning.explode import DUE, START
from bomkit.planning.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.planning.plan import Flows, timed_lines
from bomkit.planning.supplies import PASSED_ON, PLANNED_ORDER, all_supplies

NOTHING = "none"  # the supply of a need that nothing serves
# On one day: grounded aircraft, then airframes and what is in work, routine spares, stock.
RANKS = {
    "grounded": 0,
    "airframe": 1,
    "in work": 1,
    "mould": 1,
    "several": 1,
    "routine": 2,
    "stock": 3,
}
FOR_STOCK = 0  # number of the demand that stands for lot sizes and safety stock
SEVERAL = 1  # number of the demand that stands for more of them than can be told apart
MOST_NEEDS = 4_000_000  # rows of needs that the orders of one level may give
_NEED = ("key", "day", "quantity", "from_order", "demand_id")


@dataclass(frozen=True)
class Pegged:
    """demands: demand_id, demand, kind, date, rank. needs: key, day, quantity, from_order,
    demand_id. pegs: those of the need and kind, supply (lot or order), location, usable (day)."""

    demands: pl.DataFrame
    needs: pl.DataFrame
    pegs: pl.DataFrame


def peg(network: Network, flows: Flows, orders: pl.DataFrame) -> Pegged:
    """Pegs every need, level by level, passing on to components for whom each order is."""
    demands = _demands(network)
    lines = timed_lines(network)
    supplies = all_supplies(network, flows, orders)
    pending = [_outside_needs(network, demands)]
    needs, pegs = [], []
    for level in range(int(network.items["level"].max() or 0) + 1):  # type: ignore[arg-type]
        items = network.items.filter(pl.col("level") == level)["item_id"]
        here = pl.col("key").floordiv(network.serial_count).is_in(items.implode())
        asked = _in_line(pl.concat([part.filter(here) for part in pending]), demands)
        found = _side_by_side(asked, supplies.filter(here))
        needs.append(asked)
        pegs.append(found.filter(pl.col("demand_id").is_not_null()))
        own = lines.filter(pl.col("parent_level") == level)
        portions = _told_apart(_portions(found, orders), own, network.serial_count)
        pending.append(_component_needs(network, portions, own))
    return Pegged(demands, pl.concat(needs), pl.concat(pegs))


def _demands(network: Network) -> pl.DataFrame:
    """Who asks from outside, numbered from 2; number 0 is stock and number 1 several of them."""
    asked = (
        network.demands.group_by("demand", "kind")
        .agg(pl.col("date").min())
        .sort("kind", "date", "demand")
    )
    collective = pl.DataFrame(
        {"demand": ["", "several"], "kind": ["stock", "several"], "date": [None, None]},
        schema=asked.schema,
    )
    return (
        pl.concat([collective, asked])
        .with_row_index("demand_id")
        .with_columns(pl.col("demand_id").cast(pl.Int64), rank=pl.col("kind").replace_strict(RANKS))
    )


def _outside_needs(network: Network, demands: pl.DataFrame) -> pl.DataFrame:
    """Demands within the horizon as needs."""
    return (
        network.demands.filter(~pl.col("past"))
        .join(demands.select("demand_id", "demand", "kind"), on=["demand", "kind"])
        .with_columns(from_order=pl.lit(""))
        .select(_NEED)
    )


def _in_line(needs: pl.DataFrame, demands: pl.DataFrame) -> pl.DataFrame:
    """The needs of one level, those alike added up, in the order in which they are served."""
    alike = needs.group_by("key", "day", "from_order", "demand_id").agg(
        pl.col("quantity").sort().sum()
    )
    return (
        alike.join(demands.rename({"kind": "demand_kind"}), on="demand_id")
        .sort("key", "day", "rank", "date", "demand", "from_order", "demand_id")
        .select(_NEED)
    )


def _side_by_side(needs: pl.DataFrame, supplies: pl.DataFrame) -> pl.DataFrame:
    """Needs and supplies laid along their running sums: a row for each stretch.

    Columns of the need (null: supply that nothing needs) and of the supply (kind NOTHING: a need
    that nothing serves) with the quantity of the stretch.
    """
    end = pl.col("quantity").cum_sum().over("key")
    asked = needs.with_row_index("need_row").with_columns(end=end)
    offered = supplies.with_row_index("supply_row").with_columns(end=end)
    marks = pl.concat(
        [
            asked.select("key", "end", "need_row", supply_row=pl.lit(None, pl.UInt32)),
            offered.select("key", "end", "supply_row", need_row=pl.lit(None, pl.UInt32)).select(
                "key", "end", "need_row", "supply_row"
            ),
        ]
    ).sort("key", "end", maintain_order=True)
    stretch = pl.col("end") - pl.col("end").shift(1, fill_value=0.0).over("key")
    met = marks.with_columns(
        pl.col("need_row", "supply_row").backward_fill().over("key"), quantity=stretch
    ).filter(pl.col("quantity") > pl.col("end") * TOLERANCE)
    return (
        met.drop("end")
        .join(asked.drop("quantity", "end", "key"), "need_row", "left", maintain_order="left")
        .join(
            offered.select("supply_row", "kind", "supply", "location", "usable"),
            "supply_row",
            "left",
            maintain_order="left",
        )
        .with_columns(pl.col("kind").fill_null(NOTHING), pl.col("supply", "location").fill_null(""))
        .drop("need_row", "supply_row")
    )


def _portions(found: pl.DataFrame, orders: pl.DataFrame) -> pl.DataFrame:
    """For whom each planned order and each thing passed on is: one row a share of it.

    Columns key, usable, quantity (of the whole that this share asks components for), share,
    from_order, demand_id. What an order makes beyond all needs is for stock.
    """
    ordered = found.filter(pl.col("kind") == PLANNED_ORDER)
    shares = (
        ordered.with_columns(pl.col("demand_id").fill_null(FOR_STOCK))
        .group_by("supply", "demand_id", maintain_order=True)
        .agg(pl.col("quantity").sum())
        .join(orders.select("key", "usable", supply="order", started="quantity"), on="supply")
        .with_columns(share=pl.col("quantity") / pl.col("quantity").sum().over("supply"))
        .select(
            "key",
            "usable",
            "share",
            quantity=pl.col("started") * pl.col("share"),
            from_order="supply",
            demand_id="demand_id",
        )
    )
    passed = (
        found.filter((pl.col("kind") == PASSED_ON) & pl.col("demand_id").is_not_null())
        .with_columns(share=pl.col("quantity") / pl.col("quantity").sum().over("key", "usable"))
        .select(shares.columns)
    )
    return pl.concat([shares, passed])


def _told_apart(portions: pl.DataFrame, lines: pl.DataFrame, serial_count: int) -> pl.DataFrame:
    """The portions, those of one order put together where all would give more needs than can be
    held: in a structure of a hundred thousand shared items every order serves every demand."""
    of_parent = lines.group_by("parent_id").len()
    parents = portions.select(parent_id=pl.col("key") // serial_count)
    if int(parents.join(of_parent, on="parent_id")["len"].sum()) <= MOST_NEEDS:
        return portions
    demand = pl.when(pl.len() == 1).then(pl.col("demand_id").first()).otherwise(SEVERAL)
    return (
        portions.group_by("key", "usable", "from_order", maintain_order=True)
        .agg(pl.col("share", "quantity").sum(), demand_id=demand.cast(pl.Int64))
        .select(portions.columns)
    )


def _component_needs(network: Network, portions: pl.DataFrame, lines: pl.DataFrame) -> pl.DataFrame:
    """The needs that the portions put on components, through the structure lines of a level."""
    count = network.serial_count
    beside = (
        portions.with_columns(parent_id=pl.col("key") // count, serial_id=pl.col("key") % count)
        .join(lines, on="parent_id")
        .filter(START.is_between("first_start", "last_start"))
    )
    fitted = beside.filter(pl.col("condition") > 0).join(
        network.active, on=["condition", "serial_id"], how="semi"
    )
    serial = pl.when("child_specific").then("serial_id").otherwise(0)
    return pl.concat([beside.filter(pl.col("condition") == 0), fitted]).select(
        key=pl.col("child_id") * count + serial,
        day=pl.min_horizontal(START + pl.col("offset"), DUE).clip(0),
        quantity=pl.col("factor") * pl.when("per_order").then("share").otherwise("quantity"),
        from_order="from_order",
        demand_id="demand_id",
    )
