"""The result tables, from what netting and exploding gave."""

import polars as pl

from bomkit.planning.netting.explode import DUE, LATE_DAYS, START
from bomkit.planning.netting.flows import Flows
from bomkit.planning.network import Network
from bomkit.planning.pegging.peg import OUTSIDE, Pegged
from bomkit.tables.kinds import NOT_PROVEN, PROVEN

FIGURES = 12  # significant figures kept: less than floats carry, more than anybody counts


def planned_orders(network: Network, flows: Flows) -> pl.DataFrame:
    """Every planned order: the columns of ORDERS, key, the days usable, start, due and arrival, and
    the date on which it arrives: due, or its own lead time after a start that is too late.

    Names number the orders of each source by start day, item and serial.
    """
    timed = (
        network.named(flows.started())
        .join(network.items.filter(~pl.col("passes")).drop("item"), on="item_id")
        .join(flows.lots_by_cost(), on="key", how="left", maintain_order="left")
        .with_columns(start=START, due=DUE, late_days=LATE_DAYS)
        .sort("source", "start", "item", "serial", "usable")
    )
    late_arrival = pl.when(pl.col("late_days") > 0).then(pl.col("start") + pl.col("lead"))
    timed = timed.with_columns(arrival=late_arrival.otherwise("due"))
    number = pl.int_range(1, pl.len() + 1).over("source").cast(pl.String).str.zfill(4)
    return timed.with_columns(
        start_date=network.axis.on(timed["start"]),
        due_date=network.axis.on(timed["due"]),
        arrives=network.axis.on(timed["arrival"]),
    ).select(
        "key",
        "usable",
        "start",
        "due",
        order=pl.format("{}-{}", pl.col("source").replace({"kit": "pack"}), number),
        item="item",
        serial="serial",
        source="source",
        process="process",
        start_date="start_date",
        due_date="due_date",
        quantity=pl.col("quantity").round_sig_figs(FIGURES),
        expected_good=(pl.col("quantity") * pl.col("good")).round_sig_figs(FIGURES),
        unit="unit",
        late_days="late_days",
        lots=_lots_in_a_word(),
        arrival="arrival",
        arrives="arrives",
    )


def _lots_in_a_word() -> pl.Expr:
    """How the size of an order was chosen: as in the column lots of ORDERS."""
    by_cost = pl.when("proven").then(pl.lit(PROVEN)).otherwise(pl.lit(NOT_PROVEN))
    return pl.when(pl.col("proven").is_null()).then(pl.lit("")).otherwise(by_cost)


def projection(network: Network, flows: Flows) -> pl.DataFrame:
    """The planning record by ISO week, PROJECTION's columns, sorted by item, serial and week."""
    weeks = network.axis.weeks().to_list()
    days_of: dict[str, list[str]] = {}
    for day, week in enumerate(weeks):
        days_of.setdefault(week, []).append(str(day))
    long = [
        _by_week(getattr(flows, name), days_of, value)
        for name, value in (
            ("gross", "gross"),
            ("receipts", "receipts"),
            ("good", "planned"),
            ("supply", "supply"),
        )
    ]
    wide = pl.concat([long[0], *(part.drop("key", "week") for part in long[1:])], how="horizontal")
    balance = pl.col("supply") + pl.col("planned") - pl.col("gross")
    rounded = (pl.col(name).round_sig_figs(FIGURES) for name in ("gross", "receipts", "planned"))
    # the running balance is rounded to what its largest part can carry: zero stays zero
    return (
        network.named(wide)
        .sort("item", "serial", "week")
        .with_columns(projected=balance.cum_sum().over("key"))
        .with_columns(size=(pl.col("supply").abs() + pl.col("gross")).cum_sum().over("key"))
        .with_columns(
            projected=pl.when(pl.col("projected").abs() > pl.col("size") * 1e-12)
            .then("projected")
            .otherwise(0.0)
        )
        .select("item", "serial", "week", *rounded, pl.col("projected").round_sig_figs(FIGURES))
    )


def _by_week(flow: pl.DataFrame, days_of: dict[str, list[str]], value: str) -> pl.DataFrame:
    """A wide frame of days summed into weeks, long: key, week and the value."""
    sums = flow.select("key", *(pl.sum_horizontal(days).alias(w) for w, days in days_of.items()))
    return sums.unpivot(index="key", variable_name="week", value_name=value)


def needs_table(network: Network, pegged: Pegged, orders: pl.DataFrame) -> pl.DataFrame:
    """Every need with the demand it serves in the end: the columns of NEEDS."""
    named = network.named(pegged.needs)
    return (
        named.with_columns(
            need_date=network.axis.on(named["day"]),
            from_order=asking_order(orders, named["from_id"]),
            demand=pegged.demands["demand"].gather(named["demand_id"]),
        )
        .select(
            "item",
            "serial",
            "need_date",
            pl.col("quantity").round_sig_figs(FIGURES),
            "from_order",
            "demand",
        )
        .sort(pl.all())
    )


def asking_order(orders: pl.DataFrame, from_id: pl.Series) -> pl.Series:
    """The names of the orders with these row numbers; "" for a need from outside."""
    return orders["order"].gather(from_id.replace(OUTSIDE, None)).fill_null("")
