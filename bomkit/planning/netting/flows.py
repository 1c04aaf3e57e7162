"""The plan: level by level from the top, net each level and explode its orders to the next ones."""

from collections.abc import Callable
from dataclasses import dataclass

import polars as pl

from bomkit.planning.netting.explode import TIMING, component_needs, summed_by_key
from bomkit.planning.netting.net import LotRules, lot_uses, planned_starts, running_sums
from bomkit.planning.network import Network
from bomkit.tables.schema import MOST_ASKED, MOST_TOLD_APART


class TooMuch(ValueError):  # noqa: N818 - reads as what happened
    """Raised where an item is asked for in quantities beyond counting; names the item."""


@dataclass(frozen=True)
class Flows:
    """What came out, each a wide frame: key and a column a working day, the same rows in each.

    gross: requirements; supply: usable stock and receipts, less what expires; receipts alone;
    starts: quantity started by the day on which it is usable; good: expected good of it.
    lots: expiring lots with columns key, lot ..., used.
    """

    gross: pl.DataFrame
    supply: pl.DataFrame
    receipts: pl.DataFrame
    starts: pl.DataFrame
    good: pl.DataFrame
    lots: pl.DataFrame

    def started(self) -> pl.DataFrame:
        """What starts, or is passed on, as rows: key, usable (the day), quantity."""
        return (
            self.starts.unpivot(index="key", variable_name="usable", value_name="quantity")
            .filter(pl.col("quantity") > 0)
            .with_columns(pl.col("usable").cast(pl.Int64))
        )


Pull = Callable[[pl.DataFrame], pl.DataFrame]  # starts of a level, wide, to earlier usable days


def plan_flows(
    network: Network,
    tell: Callable[[str], None] = lambda words: None,
    pull: Pull | None = None,
) -> Flows:
    """Nets and explodes every level; `tell` is given a word on each level for a progress line.

    pull: what moves the starts of a netted level forward before it is exploded, if anything.
    """
    days = [str(day) for day in range(network.axis.count)]
    lines = timed_lines(network).sort("child_level", *TIMING, maintain_order=True)
    count = network.serial_count
    levels: list[Flows] = []
    ordering: list[pl.DataFrame] = []
    last = int(network.items["level"].max() or 0)  # type: ignore[arg-type]
    for level in range(last + 1):
        tell(f"level {level + 1} of {last + 1}")
        asked = [_outside_needs(network, level, days)]
        own = lines.filter(pl.col("child_level") == level)
        if ordering and len(own):
            asked += component_needs(pl.concat(ordering), own, network.active, count)
        flows = _level_flows(network, level, asked, days, pull)
        levels.append(flows)
        ordering.append(
            flows.starts.filter(pl.any_horizontal(pl.col(days) > 0))
            .with_columns(item_id=pl.col("key") // count, serial_id=pl.col("key") % count)
            .drop("key")
        )
    return Flows(
        *(
            pl.concat([getattr(flows, name) for flows in levels])
            for name in ("gross", "supply", "receipts", "starts", "good", "lots")
        )
    )


def timed_lines(network: Network) -> pl.DataFrame:
    """The structure lines with what the parent and the child say about them."""
    parents = network.items.select(
        parent_id="item_id", lead="lead", safety="safety", parent_level="level"
    )
    children = network.items.select(
        child_id="item_id", child_specific="specific", child_level="level"
    )
    days = len(network.axis.dates)
    return (
        network.lines.join(parents, on="parent_id", maintain_order="left")
        .join(children, on="child_id", maintain_order="left")
        .with_columns(dated=(pl.col("first_start") > 0) | (pl.col("last_start") < days - 1))
    )


def _of_level(network: Network, level: int) -> pl.Expr:
    """Whether a row's key is that of an item of the level."""
    items = network.items.filter(pl.col("level") == level)["item_id"]
    return pl.col("key").floordiv(network.serial_count).is_in(items.implode())


def _outside_needs(network: Network, level: int, days: list[str]) -> pl.DataFrame:
    """Demands for items of a level within the horizon, wide."""
    demands = network.demands.filter(_of_level(network, level) & ~pl.col("past"))
    return _wide(demands["key"].unique().sort(), demands, days)


def _level_flows(
    network: Network,
    level: int,
    asked: list[pl.DataFrame],
    days: list[str],
    pull: Pull | None,
) -> Flows:
    """One level: its gross requirements summed, its supply laid over them, its orders planned."""
    here = _of_level(network, level)
    items = network.items.filter(pl.col("level") == level)
    receipts = network.receipts.filter(here & ~pl.col("past"))
    stock = network.stock.filter(here)
    idle = pl.concat([receipts["key"], stock["key"]]).unique()
    kept = items.filter((pl.col("safety_stock") > 0) & ~pl.col("specific"))["item_id"]
    keys = pl.concat([idle, kept * network.serial_count]).unique().sort()
    gross = summed_by_key([*asked, _wide(keys, None, days)], days)
    rows = gross["key"]
    rules = _lot_rules(network, rows)
    _refuse_too_much(network, gross, rules, days)
    due = _wide(rows, receipts, days)
    lots = _lots(stock, gross, days)
    supply = _wide(rows, _supply_events(receipts, stock, lots, len(days)), days)
    starts = planned_starts(rules, gross[days].get_columns(), supply[days].get_columns())
    wide = pl.DataFrame({"key": rows, **dict(zip(days, starts, strict=True))})
    wide = pull(wide) if pull else wide
    good = wide.with_columns(pl.col(days) * rules.good)
    return Flows(gross, supply, due, wide, good, lots)


def _wide(keys: pl.Series, events: pl.DataFrame | None, days: list[str]) -> pl.DataFrame:
    """Events (key, day, quantity) summed into a column a day, one row for each of the keys."""
    flat = pl.zeros(len(keys) * len(days), eager=True)
    if events is not None and len(events):
        placed = (
            events.join(keys.to_frame().with_row_index("line"), on="key", maintain_order="left")
            .with_columns(place=pl.col("day") * len(keys) + pl.col("line").cast(pl.Int64))
            .group_by("place", maintain_order=True)
            .agg(pl.col("quantity").sum())
        )
        flat = flat.scatter(placed["place"], placed["quantity"])
    return pl.DataFrame(
        {"key": keys}
        | {name: flat.slice(day * len(keys), len(keys)) for day, name in enumerate(days)}
    )


def _lots(stock: pl.DataFrame, gross: pl.DataFrame, days: list[str]) -> pl.DataFrame:
    """Expiring lots with the quantity that each can serve in time, first-expired first."""
    lots = stock.filter(pl.col("day").is_not_null()).with_columns(
        day=pl.col("day").clip(upper_bound=len(days) - 1)
    )
    of_lots = gross.join(lots.select("key").unique(), on="key", how="semi", maintain_order="left")
    sums = running_sums(of_lots[days].get_columns(), pl.zeros(len(of_lots), eager=True))
    by_day = pl.DataFrame({"key": of_lots["key"], **dict(zip(days, sums, strict=True))}).unpivot(
        index="key", variable_name="day", value_name="gross"
    )
    return lot_uses(
        lots.join(by_day.with_columns(pl.col("day").cast(pl.Int64)), on=["key", "day"]).sort(
            "key", "expires", "lot", "location", "serial", "quantity"
        )
    )


def _supply_events(
    receipts: pl.DataFrame, stock: pl.DataFrame, lots: pl.DataFrame, count: int
) -> pl.DataFrame:
    """Stock on day 0, receipts on their days, and what expires as negative the day after."""
    lost = lots.filter(~pl.col("beyond") & (pl.col("day") + 1 < count))
    return pl.concat(
        [
            stock.select("key", "quantity", day=pl.lit(0, pl.Int64)),
            receipts.select("key", "quantity", "day"),
            lost.select("key", quantity=pl.col("used") - pl.col("quantity"), day=pl.col("day") + 1),
        ]
    ).sort(pl.all())


def _lot_rules(network: Network, rows: pl.Series) -> LotRules:
    """The lot rules of the rows, in their order."""
    of_rows = (
        (rows // network.serial_count)
        .to_frame("item_id")
        .join(network.items, on="item_id", maintain_order="left")
    )
    return LotRules(
        of_rows["good"],
        of_rows["minimum"],
        of_rows["multiple"],
        of_rows["whole"],
        of_rows["cover"],
        of_rows["safety_stock"],
    )


def _refuse_too_much(
    network: Network, gross: pl.DataFrame, rules: LotRules, days: list[str]
) -> None:
    """Raises TooMuch where the structure multiplies to quantities beyond counting.

    So it is where an order could be of more multiples, or whole pieces, than a number tells apart.
    """
    asked = gross.select("key", asked=pl.sum_horizontal(days))
    started = pl.max_horizontal((pl.col("asked") + rules.safety_stock) / rules.good, rules.minimum)
    huge = asked.filter((pl.col("asked") > MOST_ASKED) | (started / rules.step > MOST_TOLD_APART))
    if len(huge):
        raise TooMuch(network.named(huge)["item"][0])
