"""What `bomkit fitted` and `bomkit tree --serials` print: aircraft with base and customer."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.planning.fleet.fitted import Carriers
from bomkit.words.screens import fitted as said
from bomkit.words.screens import tree


def carrier_lines(carriers: Carriers) -> Iterator[str]:
    """The aircraft that carry what is wanted, those of which nothing is known, and the caution."""
    count = carriers.recorded["serial"].n_unique()
    yield said.FITTED_IN.format(count=count, items=", ".join(carriers.items))
    for row in carriers.recorded.iter_rows(named=True):
        yield said.FITTED_ROW.format(
            serial=row["serial"],
            item=row["item"],
            lot=row["lot"] or said.FITTED_UNSTATED,
            part=row["part_serial"] or said.FITTED_UNSTATED,
            date=row["date"] or said.FITTED_UNSTATED,
            whom=_whom(row),
        )
    if not carriers.items:
        yield said.FITTED_NO_ITEM
    for (item,), rows in carriers.unrecorded.group_by("item", maintain_order=True):
        yield ""
        yield said.FITTED_UNKNOWN.format(count=len(rows), item=item)
        yield from _aircraft(rows)
    yield ""
    yield said.FITTED_CAUTION


def serial_lines(item: str, rows: pl.DataFrame) -> Iterator[str]:
    """The aircraft on the line and in the fleet whose configuration contains an item."""
    for place, heading in tree.TREE_SERIALS.items():
        there = rows.filter(pl.col("place") == place)
        yield ""
        yield heading.format(count=len(there), item=item)
        yield from _aircraft(there)
    yield ""
    yield tree.TREE_SERIALS_NOTE


def _aircraft(rows: pl.DataFrame) -> Iterator[str]:
    """A line an aircraft: serial, base, customer."""
    for row in rows.iter_rows(named=True):
        yield f"  {row['serial']:10}{_whom(row)}".rstrip()


def _whom(row: Mapping[str, Any]) -> str:
    """Base and customer, as far as they are stated."""
    return f"{row['base']:24}{row['customer']}".rstrip()
