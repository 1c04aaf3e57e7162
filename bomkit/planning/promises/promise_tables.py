"""The result tables of what can be packed and promised for spares orders."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.planning.netting.planned_orders import FIGURES
from bomkit.planning.pegging.ranked_demands import RANKS
from bomkit.planning.promises.made_later_by_grounded import NOBODY, Harm
from bomkit.planning.promises.packing import WAIT, Packer
from bomkit.planning.tables_as_numbers.network import Network
from bomkit.tables.results.stores import PACKING, PROMISES
from bomkit.tables.shared_columns import NEVER


def promise_tables(
    network: Network, packer: Packer, harms: Mapping[str, Harm]
) -> dict[str, pl.DataFrame]:
    """A row for each lot to take and each quantity to wait for, and when each order can leave: the
    columns of PACKING and PROMISES, grounded orders first, then by need date.

    harms: by grounded order whom it makes later the most.
    """
    packing: list[dict[str, Any]] = []
    promises: list[dict[str, Any]] = []
    for number, order in _in_turn(packer):
        lines = packer.lines(number)
        packing += [row for line in lines for row in line]
        waiting = sum(any(row["state"] == WAIT for row in line) for line in lines)
        promises.append(
            _promise(network, order, packer.given.leaving[number])
            | {"lines": len(lines), "lines_waiting": waiting}
            | dict(zip(("later", "later_kind", "later_days"),
                       harms.get(order["order"], NOBODY), strict=True))
        )  # fmt: skip
    figures = pl.col("quantity", "in_stock", "free").round_sig_figs(FIGURES)
    return {
        "promises": pl.DataFrame(promises, schema=PROMISES.schema),
        "packing": pl.DataFrame(packing, schema=PACKING.schema).with_columns(figures),
    }


def _in_turn(packer: Packer) -> list[tuple[int, dict[str, Any]]]:
    """The rows of spares_orders of which something leaves the house, each with its number: grounded
    ones first, then by need date."""
    rows = [
        (number, order)
        for number, order in enumerate(packer.orders)
        if number in packer.given.leaving
    ]
    rows.sort(key=lambda row: (RANKS[row[1]["urgency"]], row[1]["need_date"],
                               row[1]["order"], row[1]["item"], row[1]["row"]))  # fmt: skip
    return rows


def _promise(network: Network, order: Mapping[str, Any], leaves: int) -> dict[str, Any]:
    """When a row of spares_orders can leave; no date where nothing brings all of it."""
    columns = ("order", "item", "serial", "quantity", "urgency", "need_date")
    promise: dict[str, Any] = {name: order[name] for name in columns}
    if leaves >= NEVER:
        return promise | {"promise_date": None, "earliest_date": None, "late_days": NEVER}
    earliest = network.axis.date(leaves)
    wanted = int(network.axis.working_days_up_to(pl.Series([order["need_date"]]))[0]) - 1
    return promise | {
        "promise_date": network.axis.date(max(leaves, wanted)),
        "earliest_date": earliest,
        "late_days": network.axis.late(order["need_date"], leaves),
    }
