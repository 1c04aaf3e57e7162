"""Stock of a common item that names a serial serves that serial first.

Netting counts such stock for everybody. Here the pegs are exchanged afterwards: a need of the
serial takes its own stock, and who would have had it gets what the need had. Nothing is made or
lost, and no stock serves a need after it has expired.
"""

from collections.abc import Iterator
from typing import Any

import polars as pl

from bomkit.planning.netting.net import TOLERANCE

_NEED = ("day", "from_id", "demand_id", "whose")
_SUPPLY = ("supply_id", "meant_for", "last_day")


def kept_for_their_serial(
    found: pl.DataFrame, supplies: pl.DataFrame, demands: pl.DataFrame
) -> pl.DataFrame:
    """The stretches of one level (see peg), those of items with named stock exchanged.

    found: columns of the need (null where nothing needs the supply) and supply_id; supplies:
    supply_id, key, meant_for, last_day; demands: demand_id and whose.
    """
    named = supplies.filter(pl.col("meant_for") != "")["key"].unique()
    with_names = pl.col("key").is_in(named.implode())
    if named.is_empty() or not found.select(with_names.any()).item():
        return found
    rows = (
        found.filter(with_names)
        .join(demands.select("demand_id", "whose"), "demand_id", "left", maintain_order="left")
        .join(
            supplies.select("supply_id", "meant_for", "last_day"),
            "supply_id",
            "left",
            maintain_order="left",
        )
        .with_columns(pl.col("whose", "meant_for").fill_null(""))
    )
    exchanged = [
        row
        for own in rows.partition_by("key", maintain_order=True)
        for row in _exchanged(own.to_dicts())
    ]
    done = pl.DataFrame(exchanged, schema=rows.schema).select(found.columns)
    return pl.concat([found.filter(~with_names), done]).sort("key", maintain_order=True)


def _exchanged(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The stretches of one key, in the order of the needs, after every exchange that can be."""
    for serial in sorted({row["meant_for"] for row in rows} - {""}):
        for wanting in [r for r in rows if r["whose"] == serial and r["meant_for"] != serial]:
            for lending in [r for r in rows if r["meant_for"] == serial and r["whose"] != serial]:
                if wanting["quantity"] > 0 and lending["quantity"] > 0 and _can(wanting, lending):
                    rows += _swapped(wanting, lending)
    whole = max((row["quantity"] for row in rows), default=0.0)
    left = [row for row in rows if row["quantity"] > whole * TOLERANCE]
    # stable: rows of one need stay together behind each other, what nobody needs comes last
    return sorted(left, key=lambda row: (row["day"] is None, row["day"] or 0))


def _can(wanting: dict[str, Any], lending: dict[str, Any]) -> bool:
    """Whether both needs come before the stock that they would get expires."""
    return _lasts(lending, wanting["day"]) and _lasts(wanting, lending["day"])


def _lasts(supply: dict[str, Any], day: int | None) -> bool:
    """Whether a supply may still be used on a day (None: nobody needs it)."""
    return day is None or supply["last_day"] is None or day <= supply["last_day"]


def _swapped(wanting: dict[str, Any], lending: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Takes from both what they exchange and gives it as two new stretches."""
    quantity = min(wanting["quantity"], lending["quantity"])
    wanting["quantity"] -= quantity
    lending["quantity"] -= quantity
    for need, supply in ((wanting, lending), (lending, wanting)):
        yield {
            **{name: need[name] for name in ("key", *_NEED)},
            **{name: supply[name] for name in _SUPPLY},
            "quantity": quantity,
        }
