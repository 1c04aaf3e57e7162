"""What `bomkit kit` prints: what to pack and what to wait for."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.words.fleet import packing, promises
from bomkit.workbooks.for_whom import demand_in_words
from bomkit.workbooks.report import Report


def tried_lines(report: Report, grounded: Report, order: str) -> Iterator[str]:
    """What an order would get that stands in no table, and what it would do if it were grounded."""
    yield from kit_lines(report, order)
    yield ""
    for promise in grounded["promises"].filter(pl.col("order") == order).iter_rows(named=True):
        told = [promises.TRIED_GROUNDED, *_leaving(promise)]
        if promise["earliest_date"] is not None and not promise["later_days"]:
            told.append(promises.TRIED_NOBODY)
        yield "  ".join(told)


def _leaving(promise: Mapping[str, Any]) -> Iterator[str]:
    """When an order can leave, and whom that makes later."""
    if promise["earliest_date"] is None:
        yield packing.PACK_LEAVES_NEVER
        return
    yield packing.PACK_LEAVES.format(date=promise["earliest_date"])
    if promise["later_days"]:
        who = demand_in_words(promise["later"], promise["later_kind"])
        yield packing.PACK_MAKES_LATER.format(who=who, days=promise["later_days"])


def kit_lines(report: Report, order: str) -> Iterator[str]:
    """Each row of a spares order with its dates, then its lines."""
    for promise in report["promises"].filter(pl.col("order") == order).iter_rows(named=True):
        item = report.items[promise["item"]]
        words = [
            f"{promise['order']}: {promise['quantity']:.6g} {item['unit']} {promise['item']}",
            item["description"],
            packing.PACK_TO.format(serial=promise["serial"]) if promise["serial"] else "",
            packing.URGENCY[promise["urgency"]],
            packing.PACK_WANTED.format(date=promise["need_date"]),
            *_leaving(promise),
        ]
        yield "  ".join(filter(None, words))
        rows = report["packing"].filter(
            (pl.col("order") == order)
            & (pl.col("item") == promise["item"])
            & (pl.col("serial") == promise["serial"])
            & (pl.col("need_date") == promise["need_date"])
        )
        width = max((len(part) for part in rows["part"]), default=0)
        for row in rows.iter_rows(named=True):
            taking = row["state"] == "take"
            comes = row["can_take"]
            waits = promises.KIT_WAIT.format(date=comes) if comes else packing.PACK_NEVER
            state = promises.KIT_PICK if taking else waits
            where = ", ".join(filter(None, (row["location"], row["lot"], row["supply"])))
            unit = report.items[row["part"]]["unit"]
            line = f"  {row['part']:{width}}  {row['quantity']:>10.6g} {unit:3}  {state:16} {where}"
            yield line.rstrip()
    yield ""
    yield packing.PACK_CAUTION
