"""The result tables of what can be packed and promised for spares orders."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.planning.netting.orders import FIGURES
from bomkit.planning.network import Network
from bomkit.planning.promises.promises import Line, Packed
from bomkit.tables.stores_results import PACKING, PROMISES

TAKE, WAIT = "take", "wait"


def packing_table(network: Network, packed: list[Packed]) -> pl.DataFrame:
    """A row for each lot to take and each quantity to wait for: the columns of PACKING."""
    rows = [
        row
        for one in packed
        for number, line in enumerate(one.lines, 1)
        for row in _line_rows(network, one.order, number, line)
    ]
    figures = pl.col("quantity", "in_stock", "free").round_sig_figs(FIGURES)
    return pl.DataFrame(rows, schema=PACKING.schema).with_columns(figures)


def _line_rows(
    network: Network, order: Mapping[str, Any], number: int, line: Line
) -> Iterator[dict[str, Any]]:
    """The rows of one line, with whom taking it makes, or would make, wait the longest."""
    worst = max(line.harms, key=lambda harm: (harm.days, -harm.day), default=None)
    shared = {
        **{name: order[name] for name in ("order", "item", "serial", "need_date")},
        "line": number,
        "position": line.part.position,
        "part": line.part.item,
        "note": line.part.note,
        "replaces": line.part.replaces,
        "hazard": line.hazard,
        "in_stock": line.there,
        "free": min(line.free, line.there),
        "waiting": worst.demand if worst else "",
        "waiting_kind": worst.kind if worst else "",
        "waiting_days": worst.days if worst else 0,
        "free_from": network.axis.date(line.free_day) if worst else None,
    }
    for lot, taken in line.picks:
        where = {"location": lot.location, "lot": lot.lot, "expires": lot.expires, "supply": ""}
        today = {"can_take": network.axis.dates[0]}
        yield {**shared, **where, **today, "state": TAKE, "quantity": taken}
    if line.lacking:
        nowhere = {"location": "", "lot": "", "expires": None, "supply": line.supply}
        when = {"can_take": network.axis.date(line.day)}
        yield {**shared, **nowhere, **when, "state": WAIT, "quantity": line.lacking}


def promises_table(network: Network, packed: list[Packed]) -> pl.DataFrame:
    """When each spares order can leave: the columns of PROMISES."""
    columns = ("order", "item", "serial", "quantity", "urgency", "need_date")
    rows = [
        {
            **{name: one.order[name] for name in columns},
            "promise_date": network.axis.date(max(one.leaves, one.order["day"])),
            "earliest_date": network.axis.date(one.leaves),
            "late_days": network.axis.late(one.order["need_date"], one.leaves),
            "lines": len(one.lines),
            "lines_waiting": sum(1 for line in one.lines if line.lacking),
        }
        for one in packed
    ]
    return pl.DataFrame(rows, schema=PROMISES.schema)
