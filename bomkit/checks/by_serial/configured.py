"""What can't hold of items that are configured for each airframe: whose they are must be said."""

from collections.abc import Iterator

import polars as pl

from bomkit.checks.row_check import RowCheck
from bomkit.tables.schema import Tables

_NAMES_SERIAL = ("stock", "open_orders", "allocations", "spares_orders")


def configured_checks(tables: Tables, specific: pl.Series) -> Iterator[RowCheck]:
    """Rows that name no serial, or ask for what nobody could say for which serial it is.

    specific: the items that are configured for each airframe.
    """
    known = specific.implode()
    for name in _NAMES_SERIAL:
        yield RowCheck(
            name,
            "serial",
            tables[name].filter((pl.col("serial") == "") & pl.col("item").is_in(known)),
            "{item} is configured for each airframe; "
            "name the serial number it is for (one of build_plan or fleet)",
        )
    yield RowCheck(
        "items",
        "safety_stock",
        tables["items"].filter((pl.col("safety_stock") > 0) & pl.col("item").is_in(known)),
        "{item} is configured for each airframe and can't be kept in advance; empty it",
    )
    yield from _replaced_by_specific(tables, known)


def _replaced_by_specific(tables: Tables, specific: pl.Series) -> Iterator[RowCheck]:
    """Common items and worn moulds that give way to an item configured for each airframe."""
    replacements = tables["replacements"]
    yield RowCheck(
        "replacements",
        "new",
        replacements.filter(pl.col("new").is_in(specific) & ~pl.col("old").is_in(specific)),
        "{new} is configured for each airframe but {old} is not, so nobody "
        "could say for which serial it is; replace the items above them instead",
    )
    yield RowCheck(
        "moulds",
        "replacement",
        tables["moulds"].filter(pl.col("replacement").is_in(specific)),
        "{replacement} is configured for each airframe, so nobody could say for which "
        "serial it is; name an item that is the same for all",
    )
