"""Pegging: which supply serves which need, and so for which airframe or spares order it is.

Within a planning row, needs stand in line by day and by priority, and supplies by the day on which
they can come. Laid side by side along their running sums, each stretch where one need meets one
supply is a peg. Orders, supplies and demands go by number here: there may be millions of pegs.
"""

from dataclasses import dataclass, replace

import polars as pl

from bomkit.planning.netting.explode import DUE, START
from bomkit.planning.netting.flows import Flows, timed_lines
from bomkit.planning.netting.net import TOLERANCE
from bomkit.planning.network import Network
from bomkit.planning.pegging.named_stock import kept_for_their_serial
from bomkit.planning.pegging.supplies import PASSED_ON, all_supplies

NOTHING = "none"  # the supply of a need that nothing serves
# On one day: grounded aircraft, airframes and work in hand, routine spares, forecasts, stock.
RANKS = {"grounded": 0, "airframe": 1, "in work": 1, "mould": 1, "several": 1, "routine": 2}
RANKS |= {"inspection": 3, "stock": 4}  # forecast demand after all that is firm
FOR_STOCK = 0  # number of the demand that stands for lot sizes and safety stock
SEVERAL = 1  # number of the demand that stands for more of them than can be told apart
OUTSIDE = -1  # in place of the number of an order: a need that no order asks for
MOST_NEEDS = 1_000_000  # rows of needs that the orders of one level may give
_NEED = ("key", "day", "quantity", "from_id", "demand_id")


@dataclass(frozen=True)
class Pegged:
    """demands: demand_id, demand, kind, whose (serial it is meant for), date, rank.

    supplies: as all_supplies gives them, supply_id their row number. needs: key, day, quantity,
    from_id (row number of the planned order that asks, or OUTSIDE), demand_id. pegs: the columns of
    needs and supply_id (null: nothing serves it).
    """

    demands: pl.DataFrame
    supplies: pl.DataFrame
    needs: pl.DataFrame
    pegs: pl.DataFrame

    def of(self, kind: str) -> "Pegged":
        """The same with the pegs of one kind of demand alone."""
        own = self.demands.filter(pl.col("kind") == kind)["demand_id"]
        return replace(self, pegs=self.pegs.filter(pl.col("demand_id").is_in(own.implode())))

    def told(self, *columns: str) -> pl.DataFrame:
        """The pegs with these columns of their supplies; kind is NOTHING where there is none."""
        place = self.pegs["supply_id"]
        beside = {name: self.supplies[name].gather(place) for name in columns}
        if "kind" in beside:
            beside["kind"] = beside["kind"].fill_null(NOTHING)
        return self.pegs.with_columns(**beside)


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
        now = pl.col("level") == level
        asked = _in_line(pl.concat([part.filter(now) for part in pending]), demands)
        found = _side_by_side(asked, supplies.filter(here))
        found = kept_for_their_serial(found, supplies, demands)
        needs.append(asked)
        pegs.append(found.filter(pl.col("demand_id").is_not_null()))
        own = lines.filter(pl.col("parent_level") == level)
        portions = _told_apart(_portions(found, supplies, orders), own, network.serial_count)
        pending.append(_component_needs(network, portions, own))
    return Pegged(demands, supplies, pl.concat(needs), pl.concat(pegs))


def _demands(network: Network) -> pl.DataFrame:
    """Who asks from outside and for which serial, numbered from 2; 0 is stock, 1 several."""
    asked = (
        network.demands.group_by("demand", "kind", "serial")
        .agg(pl.col("date").min())
        .rename({"serial": "whose"})
        .sort("kind", "date", "demand", "whose")
    )
    collective = pl.DataFrame(
        {
            "demand": ["", "several"],
            "kind": ["stock", "several"],
            "whose": ["", ""],
            "date": [None, None],
        },
        schema=asked.schema,
    )
    return (
        pl.concat([collective, asked])
        .with_row_index("demand_id")
        .with_columns(pl.col("demand_id").cast(pl.Int64), rank=pl.col("kind").replace_strict(RANKS))
    )


def _outside_needs(network: Network, demands: pl.DataFrame) -> pl.DataFrame:
    """Demands within the horizon as needs, with the level of their item."""
    levels = network.items.select("item_id", "level")
    return (
        network.demands.filter(~pl.col("past"))
        .rename({"serial": "whose"})
        .join(demands.drop("date", "rank"), on=["demand", "kind", "whose"])
        .with_columns(
            item_id=pl.col("key") // network.serial_count, from_id=pl.lit(OUTSIDE, pl.Int64)
        )
        .join(levels, on="item_id")
        .select(*_NEED, "level")
    )


def _in_line(needs: pl.DataFrame, demands: pl.DataFrame) -> pl.DataFrame:
    """The needs of one level, those alike added up, in the order in which they are served."""
    served = demands.sort("rank", "date", "demand", "whose")["demand_id"]
    turns = pl.zeros(len(served), pl.Int64, eager=True).scatter(
        served, pl.int_range(len(served), eager=True)
    )
    return (
        needs.with_columns(turn=turns.gather(needs["demand_id"]))
        .sort("key", "day", "turn", "from_id", "quantity")
        .group_by("key", "day", "from_id", "demand_id", maintain_order=True)
        .agg(pl.col("quantity").sum())
        .select(_NEED)
    )


def _side_by_side(needs: pl.DataFrame, supplies: pl.DataFrame) -> pl.DataFrame:
    """Needs and supplies laid along their running sums: a row for each stretch.

    Columns of the need (null: supply that nothing needs) and supply_id (null: a need that nothing
    serves) with the quantity of the stretch.
    """
    end = pl.col("quantity").cum_sum().over("key")
    asked = needs.with_row_index("need_row").select(
        "key", "need_row", end=end, supply_id=pl.lit(None, pl.UInt32)
    )
    offered = supplies.select("key", "supply_id", end=end, need_row=pl.lit(None, pl.UInt32)).select(
        asked.columns
    )
    stretch = pl.col("end") - pl.col("end").shift(1, fill_value=0.0).over("key")
    met = (
        pl.concat([asked, offered])
        .sort("key", "end", maintain_order=True)
        .with_columns(pl.col("need_row", "supply_id").backward_fill().over("key"), quantity=stretch)
        .filter(pl.col("quantity") > pl.col("end") * TOLERANCE)
    )
    place = met["need_row"]
    columns = {name: needs[name].gather(place) for name in ("day", "from_id", "demand_id")}
    return met.with_columns(**columns).select(*_NEED, "supply_id")


def _portions(found: pl.DataFrame, supplies: pl.DataFrame, orders: pl.DataFrame) -> pl.DataFrame:
    """For whom each planned order and each thing passed on is: one row a share of it.

    Columns key, usable, quantity (of the whole that this share asks components for), share,
    from_id, demand_id. What an order makes beyond all needs is for stock.
    """
    place = found["supply_id"]
    served = found.with_columns(
        order_id=supplies["order_id"].gather(place),
        usable=supplies["usable"].gather(place),
        passing=(supplies["kind"] == PASSED_ON).gather(place),
    )
    shares = (
        served.filter(pl.col("order_id").is_not_null())
        .with_columns(pl.col("demand_id").fill_null(FOR_STOCK))
        .group_by("key", "usable", "order_id", "demand_id", maintain_order=True)
        .agg(pl.col("quantity").sum())
        .with_columns(share=pl.col("quantity") / pl.col("quantity").sum().over("order_id"))
    )
    started = orders["quantity"].gather(shares["order_id"])
    columns = ("key", "usable", "share", "quantity", "from_id", "demand_id")
    return pl.concat(
        [
            shares.with_columns(quantity=started * pl.col("share"), from_id="order_id").select(
                columns
            ),
            served.filter(pl.col("passing") & pl.col("demand_id").is_not_null())
            .with_columns(share=pl.col("quantity") / pl.col("quantity").sum().over("key", "usable"))
            .select(columns),
        ]
    )


def _told_apart(portions: pl.DataFrame, lines: pl.DataFrame, serial_count: int) -> pl.DataFrame:
    """The portions, those of one order put together where all would give more needs than can be
    held: in a structure of a hundred thousand shared items every order serves every demand."""
    of_parent = lines.group_by("parent_id").len()
    parents = portions.select(parent_id=pl.col("key") // serial_count)
    if int(parents.join(of_parent, on="parent_id")["len"].sum()) <= MOST_NEEDS:
        return portions
    demand = pl.when(pl.len() == 1).then(pl.col("demand_id").first()).otherwise(SEVERAL)
    outside = pl.when(pl.col("from_id") == OUTSIDE).then("demand_id")
    return (
        portions.with_columns(outside=outside)
        .group_by("key", "usable", "from_id", "outside", maintain_order=True)
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
        from_id="from_id",
        demand_id="demand_id",
        level="child_level",
    )
