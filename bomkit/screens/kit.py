"""What `bomkit kit` prints: what to pack and what to wait for."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.words.fleet import packing, promises
from bomkit.workbooks.fleet.lines_of_a_box import makes_later
from bomkit.workbooks.report import Report


def tried_lines(report: Report, grounded: Report, order: str) -> Iterator[str]:
    """What an order would get that stands in no table, and what it would do if it were grounded.

    grounded: the plan with the order grounded and wanted at once.
    """
    yield from kit_lines(report, order)
    yield ""
    for promise in grounded["promises"].filter(pl.col("order") == order).iter_rows(named=True):
        yield "  ".join([promises.TRIED_GROUNDED, *_leaving_at_once(promise)])


def _leaving_at_once(promise: Mapping[str, Any]) -> Iterator[str]:
    """When a grounded order can leave, and whom that makes later, or that nobody is."""
    if not promise["lines"]:
        yield promises.TRIED_EMPTY
        return
    yield from _leaving(promise)
    if promise["earliest_date"] is not None and not promise["later"]:
        yield promises.TRIED_NOBODY


def _leaving(promise: Mapping[str, Any]) -> Iterator[str]:
    """When an order can leave, and whom that makes later."""
    if promise["earliest_date"] is None:
        yield packing.PACK_LEAVES_NEVER
        return
    yield packing.PACK_LEAVES.format(date=promise["earliest_date"])
    if promise["later"]:
        yield makes_later(promise)


def kit_lines(report: Report, order: str) -> Iterator[str]:
    """Each row of a spares order with its dates, then its lines."""
    for promise in report["promises"].filter(pl.col("order") == order).iter_rows(named=True):
        item = report.items[promise["item"]]
        words = [
            f"{promise['order']}: {_figures(promise['quantity'])} {item['unit']} {promise['item']}",
            item["description"],
            packing.PACK_TO.format(serial=promise["serial"]) if promise["serial"] else "",
            packing.URGENCY[promise["urgency"]],
            packing.PACK_WANTED.format(date=promise["need_date"]),
            *_leaving(promise),
        ]
        yield "  ".join(filter(None, words))
        yield from _part_lines(report, promise)
    yield ""
    yield from report.unsettled
    yield packing.PACK_CAUTION


def _part_lines(report: Report, promise: Mapping[str, Any]) -> Iterator[str]:
    """What to pack for one row of an order and from where, and what to wait for."""
    rows = report["packing"].filter(
        (pl.col("order") == promise["order"])
        & (pl.col("item") == promise["item"])
        & (pl.col("serial") == promise["serial"])
        & (pl.col("need_date") == promise["need_date"])
    )
    width = max((len(part) for part in rows["part"]), default=0)
    wide = max(10, *(len(_figures(quantity)) for quantity in rows["quantity"]))
    for row in rows.iter_rows(named=True):
        taking = row["state"] == "take"
        comes = row["can_take"]
        waits = promises.KIT_WAIT.format(date=comes) if comes else packing.PACK_NEVER
        state = promises.KIT_PICK if taking else waits
        where = ", ".join(filter(None, (row["location"], row["lot"], row["supply"])))
        unit = report.items[row["part"]]["unit"]
        amount = f"{_figures(row['quantity']):>{wide}} {unit:3}"
        yield f"  {row['part']:{width}}  {amount}  {state:16} {where}".rstrip()


def _figures(quantity: float) -> str:
    """A quantity with six figures that say something, and no power of ten."""
    figures = f"{quantity:.6g}"
    return f"{float(figures):,.0f}" if quantity >= 1e6 else figures
