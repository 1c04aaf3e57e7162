"""Worn moulds ask for what takes their place, and are told where that comes too late."""

from dataclasses import replace
from functools import cache

import polars as pl

from bomkit.planning.tables_as_numbers.network import Network
from bomkit.problems import Finding
from bomkit.words.common import working_days

MOULD = "mould"  # the kind of demand that a worn mould makes


def with_mould_demands(network: Network, worn: pl.DataFrame) -> Network:
    """The network with a demand for the replacement of each mould on the day it is worn out."""
    wanted = worn.filter(pl.col("day").is_not_null() & (pl.col("replacement") != ""))
    if wanted.is_empty():
        return network
    ids = network.items.select("item_id", replacement="item")
    demands = wanted.join(ids, on="replacement", maintain_order="left").select(
        "day",
        key=network.keys.of(pl.col("item_id")),
        quantity=pl.col("count").cast(pl.Float64),
        demand="mould",
        serial=pl.lit(""),
        kind=pl.lit(MOULD),
        overdue=pl.lit(False),
        past=pl.lit(False),
    )
    dated = demands.with_columns(date=network.axis.on(demands["day"]))
    columns = network.demands.columns
    return replace(network, demands=pl.concat([network.demands, dated.select(columns)]))


def mould_report(
    network: Network, worn: pl.DataFrame, pegs: pl.DataFrame, orders: pl.DataFrame
) -> pl.DataFrame:
    """The moulds with when they are worn and whether they are replaced in time.

    pegs: as pegs_table gives them without a forecast. Columns
    row, mould, item, replacement, count, pulls_left, pulls, runs_out (date; null: it lasts),
    start_by (first start of anything its replacement takes), late_days (working days without it).
    """
    mould_pegs = pegs.filter(pl.col("demand_kind") == MOULD)
    starts = (
        mould_pegs.join(orders.select("start_date", supply="order"), on="supply")
        .group_by(mould="demand")
        .agg(start_by=pl.col("start_date").min())
    )
    gaps = _gaps(network, mould_pegs)
    return (
        worn.with_columns(runs_out=network.axis.on(worn["day"]))
        .join(starts, on="mould", how="left", maintain_order="left")
        .join(gaps, on="mould", how="left", maintain_order="left")
        .with_columns(
            runs_out=pl.when(pl.col("day").is_not_null()).then("runs_out"),
            late_days=pl.col("late_days").fill_null(0),
        )
        .drop("day")
    )


def _gaps(network: Network, pegs: pl.DataFrame) -> pl.DataFrame:
    """By mould the working days by which its replacement comes too late: mould, late_days.

    pegs: of moulds' demands. A component that comes late puts off the order that waits for it, and
    so on up to the replacement itself.
    """
    need = network.axis.working_days_before(pegs["need_date"])
    timed = pegs.with_columns(
        need=need,
        arrival=network.axis.working_days_before(pegs["comes"]).fill_null(need),
    )
    by_order: dict[tuple[str, str], list[tuple[str, int]]] = {}
    columns = ("demand", "from_order", "supply", "need", "arrival")
    for mould, asking, supply, need, arrival in timed.select(columns).iter_rows():
        by_order.setdefault((mould, asking), []).append((supply, arrival - need))

    @cache
    def put_off(mould: str, order: str) -> int:
        """By how many days what an order needs comes too late ("": what the demand needs)."""
        needs = by_order.get((mould, order), [])
        return max([0, *(late + (put_off(mould, name) if name else 0) for name, late in needs)])

    rows = [(mould, max(0, put_off(mould, ""))) for mould in sorted({name for name, _ in by_order})]
    return pl.DataFrame(rows, schema={"mould": pl.String, "late_days": pl.Int64}, orient="row")


def mould_findings(report: pl.DataFrame) -> list[Finding]:
    """A warning for each mould that is worn before its replacement can be ready, or has none."""
    findings = []
    for row in report.filter(pl.col("runs_out").is_not_null()).iter_rows(named=True):
        worn = f"is all that is left: the mould of {row['item']} is worn out on {row['runs_out']}"
        if not row["replacement"]:
            message = f"{worn} and names no replacement; say which item takes its place"
        elif row["late_days"]:
            message = (
                f"{worn}, {working_days(row['late_days'])} before {row['replacement']} can be "
                f"ready; start it at once, and plan for the gap"
            )
        else:
            continue
        left = f"{row['pulls_left']:g}"
        findings.append(Finding("moulds", row["row"], "pulls_left", left, message, "warning"))
    return findings
