"""What `bomkit spares` prints: the parts that lack, and what is left out."""

from collections.abc import Iterator

import polars as pl

from bomkit.words import fleet
from bomkit.workbooks.fleet.spares import SparesReport

_MOST_PARTS = 12


def spares_lines(report: SparesReport) -> Iterator[str]:
    """What to hold in short: the parts that lack, the dearest gap first, and what is left out."""
    lacking = report.parts.filter(pl.col("gap") > 0)
    yield f"{report.heading}: {len(report.parts)} parts, {len(lacking)} of them with pieces missing"
    yield from report.findings()
    if len(lacking):
        yield ""
        yield from _lacking_lines(lacking)
    for reason, items in report.left_out.group_by("reason", maintain_order=True).agg("item").rows():
        named = ", ".join(items[:_MOST_PARTS]) + (", ..." if len(items) > _MOST_PARTS else "")
        yield fleet.SPARES_LEFT_OUT.format(items=named, reason=fleet.LEFT_OUT_REASONS[reason])
    yield ""
    yield fleet.SPARES_CAUTION


def _lacking_lines(lacking: pl.DataFrame) -> Iterator[str]:
    """A table of the first parts that lack, the dearest gap first."""
    width = max([len(fleet.SPARES_HEADS[0]), *(len(name) for name in lacking["item"])])
    yield f"{fleet.SPARES_HEADS[0]:{width}}" + "".join(f"{w:>10}" for w in fleet.SPARES_HEADS[1:])
    ordered = lacking.sort("to_buy", "item", descending=[True, False], nulls_last=True)
    for part in ordered.head(_MOST_PARTS).iter_rows(named=True):
        cost = "" if part["to_buy"] is None else f"{part['to_buy']:.2f}"
        yield (
            f"{part['item']:{width}}{part['mean']:>10.2f}{part['hold']:>10}{part['stock']:>10}"
            f"{part['gap']:>10}{cost:>10}"
        )
    if len(lacking) > _MOST_PARTS:
        yield fleet.SPARES_MORE.format(count=len(lacking) - _MOST_PARTS)
