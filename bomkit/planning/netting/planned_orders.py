"""The result tables, from what netting and exploding gave."""

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import Floats, Ints, stretches
from bomkit.planning.netting.explode import DUE, LATE_DAYS, START
from bomkit.planning.netting.netted_plan import Flows, handed_on
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.kinds import NOT_PROVEN, PROVEN
from bomkit.tables.results.plan import ORDERS

FIGURES = 12  # significant figures kept: less than floats carry, more than anybody counts


def planned_orders(network: Network, flows: Flows) -> pl.DataFrame:
    """Every planned order: the columns of ORDERS, key, the days usable, start, due and arrival, and
    the date on which it arrives: due, or its own lead time after a start that is too late.

    Names number the orders of each source by start day, item and serial.
    """
    timed = _timed_orders(network, flows)
    number = pl.int_range(1, pl.len() + 1).over("source").cast(pl.String).str.zfill(4)
    return timed.with_columns(
        order=pl.format("{}-{}", pl.col("source").replace({"kit": "pack"}), number),
        lots=_lots_in_a_word(),
        start_date=network.axis.on(timed["start"]),
        due_date=network.axis.on(timed["due"]),
        arrives=network.axis.on(timed["arrival"]),
        quantity=pl.col("quantity").round_sig_figs(FIGURES),
        expected_good=(pl.col("quantity") * pl.col("good")).round_sig_figs(FIGURES),
    ).select("key", "usable", "start", "due", *ORDERS.column_names, "arrival", "arrives")


def _timed_orders(network: Network, flows: Flows) -> pl.DataFrame:
    """The orders in the order of their names, with the days start, due, arrival and late_days."""
    named = network.named(flows.started.filter(~handed_on(network, flows)))
    about = network.items.drop("item_id", "item")[named["item_id"]]
    late_arrival = pl.when(LATE_DAYS > 0).then(START + pl.col("lead"))
    return (
        named.hstack(about.get_columns())
        .join(flows.lots_by_cost(), on="key", how="left", maintain_order="left")
        .with_columns(
            start=START, due=DUE, late_days=LATE_DAYS, arrival=late_arrival.otherwise(DUE)
        )
        .sort("source", "start", "key", "usable")  # keys are in the order of their names
    )


def _lots_in_a_word() -> pl.Expr:
    """How the size of an order was chosen: as in the column lots of ORDERS."""
    by_cost = pl.when("proven").then(pl.lit(PROVEN)).otherwise(pl.lit(NOT_PROVEN))
    return pl.when(pl.col("proven").is_null()).then(pl.lit("")).otherwise(by_cost)


def projection(network: Network, flows: Flows) -> pl.DataFrame:
    """The planning record by ISO week, PROJECTION's columns, sorted by item, serial and week."""
    weeks = network.axis.weeks().to_numpy()
    heads = [part.start for part in stretches(weeks)]
    keys = flows.structure.keys[flows.rows]
    order = np.argsort(keys)  # they are in the order of their names, as weeks are
    by_week = _by_week(flows, flows.rows[order], heads)
    record = pl.DataFrame(
        {
            "key": np.repeat(keys[order], len(heads)),
            "week": np.tile(weeks[heads], len(order)),
            **{name: values.reshape(-1) for name, values in by_week.items()},
        },
        schema_overrides={"week": pl.String},
    )
    figures = ("gross", "receipts", "planned", "projected")
    return network.named(record).select(
        "item", "serial", "week", pl.col(figures).round_sig_figs(FIGURES)
    )


def _by_week(flows: Flows, rows: Ints, heads: list[int]) -> dict[str, Floats]:
    """Rows by weeks: gross, receipts, planned and projected. heads: the first day of each week."""
    gross, receipts, planned, supply = (
        np.add.reduceat(by_day[rows], heads, axis=1)
        for by_day in (
            flows.quantities.gross,
            flows.receipts_by_row,
            flows.good_by_row,
            flows.supply_by_row,
        )
    )
    projected = np.cumsum(supply + planned - gross, axis=1)
    # the running balance is rounded to what its largest part can carry: zero stays zero
    size = np.cumsum(np.abs(supply) + gross, axis=1)
    return {
        "gross": gross,
        "receipts": receipts,
        "planned": planned,
        "projected": np.where(np.abs(projected) > size * 1e-12, projected, 0.0),
    }
