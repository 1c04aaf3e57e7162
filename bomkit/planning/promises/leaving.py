"""When what spares orders ask for can leave: all their pegs are there, and packed."""

import polars as pl

from bomkit.planning.netting.arrays import ints
from bomkit.planning.pegging.order_of_supplies import PASSED_ON
from bomkit.planning.pegging.peg import Pegged
from bomkit.planning.pegging.ranked_demands import OUTSIDE
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.shared_columns import NEVER


def boxed(
    network: Network, pegged: Pegged, orders: pl.DataFrame, arrivals: pl.Series
) -> pl.DataFrame:
    """The pegs of what leaves the house, from the kits down to what is packed in them.

    The columns of pegs, kind, supply, location, expires, arrival (NEVER: nothing serves it),
    order_id, start (of the order that asks), passes (handed on, not packed as such), lead (of a
    kit that is packed for it; null for all else). arrivals: the day of each supply.
    """
    rows = pegged.by_order.filter("leaves")
    place, item = rows["supply_id"], network.keys.item(ints(rows["key"]))
    columns = ("kind", "supply", "location", "expires", "order_id")
    made = pl.col("order_id").is_not_null() & (network.items["source"][item] == "kit")
    return rows.with_columns(
        **{name: pegged.supplies[name][place] for name in columns},
        arrival=arrivals[place],
        start=orders["start"].gather(rows["from_id"].replace(OUTSIDE, None)),
    ).with_columns(
        pl.col("arrival").fill_null(NEVER),
        passes=(pl.col("kind") == PASSED_ON).fill_null(False),
        lead=pl.when(made).then(network.items["lead"][item]),
    )


def leaving_days(box: pl.DataFrame) -> dict[int, int]:
    """By row of spares_orders the day on which it can leave; NEVER where nothing brings a part.

    box: as boxed gives it. A kit leaves as long after its last part is there as it takes to pack
    it, less the days after its start on which that part is needed.
    """
    after: dict[tuple[int, int], int] = {}  # by kit order and row: days from its start to leaving
    leaving: dict[int, int] = {}
    columns = ("asked_id", "from_id", "day", "start", "arrival", "order_id", "passes", "lead")
    for asked, asking, day, start, arrival, order, passes, lead in box.select(columns).iter_rows():
        tail = 0 if asking == OUTSIDE else max(0, after.get((asking, asked), 0) - (day - start))
        if passes:
            continue
        if lead is not None:
            after[order, asked] = max(after.get((order, asked), 0), tail + lead)
        there = after[order, asked] if lead is not None else min(NEVER, arrival + tail)
        leaving[asked] = max(leaving.get(asked, 0), there)
    return leaving
