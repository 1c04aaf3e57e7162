"""What `bomkit kit` prints: what to pack and what to wait for."""

from collections.abc import Iterator

import polars as pl

from bomkit.words import fleet
from bomkit.workbooks.report import Report


def kit_lines(report: Report, order: str) -> Iterator[str]:
    """Each row of a spares order with its dates, then its lines."""
    for promise in report.promises.filter(pl.col("order") == order).iter_rows(named=True):
        item = report.items[promise["item"]]
        words = [
            f"{promise['order']}: {promise['quantity']:.6g} {item['unit']} {promise['item']}",
            item["description"],
            fleet.PACK_TO.format(serial=promise["serial"]) if promise["serial"] else "",
            fleet.URGENCY[promise["urgency"]],
            fleet.PACK_WANTED.format(date=promise["need_date"]),
            fleet.PACK_LEAVES.format(date=promise["earliest_date"]),
        ]
        yield "  ".join(filter(None, words))
        rows = report.packing.filter(
            (pl.col("order") == order)
            & (pl.col("item") == promise["item"])
            & (pl.col("serial") == promise["serial"])
            & (pl.col("need_date") == promise["need_date"])
        )
        width = max((len(part) for part in rows["part"]), default=0)
        for row in rows.iter_rows(named=True):
            taking = row["state"] == "take"
            state = fleet.KIT_PICK if taking else fleet.KIT_WAIT.format(date=row["can_take"])
            where = ", ".join(filter(None, (row["location"], row["lot"], row["supply"])))
            unit = report.items[row["part"]]["unit"]
            line = f"  {row['part']:{width}}  {row['quantity']:>10.6g} {unit:3}  {state:16} {where}"
            yield line.rstrip()
    yield ""
    yield fleet.PACK_CAUTION
