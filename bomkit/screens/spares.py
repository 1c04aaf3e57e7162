"""What `bomkit spares` prints: the parts that lack, and what is left out."""

from collections.abc import Iterator, Mapping

import polars as pl

from bomkit.words import overview
from bomkit.words.fleet import spares
from bomkit.workbooks.fleet.for_spares_book_and_screen import SparesReport

_MOST_PARTS = 12


def spares_lines(report: SparesReport) -> Iterator[str]:
    """What to hold in short: the parts that lack, the dearest gap first, and what is left out."""
    lacking = report.parts.filter(pl.col("gap") > 0)
    yield f"{report.heading}: {len(report.parts)} parts, {len(lacking)} of them with pieces missing"
    yield from report.findings()
    yield from report.unsettled
    if len(lacking):
        yield ""
        heads = dict(spares.SPARES_HEADS)
        if not report.inspections:
            del heads["due"]
        yield from _lacking_lines(lacking, heads)
    for reason, items in report.left_out.group_by("reason", maintain_order=True).agg("item").rows():
        named = ", ".join(items[:_MOST_PARTS]) + (", ..." if len(items) > _MOST_PARTS else "")
        yield spares.SPARES_LEFT_OUT.format(items=named, reason=spares.LEFT_OUT_REASONS[reason])
    yield ""
    yield spares.SPARES_CAUTION
    if report.inspections:
        yield overview.INSPECTIONS_CAUTION


def _lacking_lines(lacking: pl.DataFrame, heads: Mapping[str, str]) -> Iterator[str]:
    """A table of the first parts that lack, the dearest gap first; heads: by column of parts."""
    width = max([len(spares.SPARES_PART), *(len(name) for name in lacking["item"])])
    yield f"{spares.SPARES_PART:{width}}" + "".join(f"{head:>10}" for head in heads.values())
    ordered = lacking.sort("to_buy", "item", descending=[True, False], nulls_last=True)
    for part in ordered.head(_MOST_PARTS).iter_rows(named=True):
        cells = "".join(f"{_figure(part[key]):>10}" for key in heads)
        yield f"{part['item']:{width}}{cells}"
    if len(lacking) > _MOST_PARTS:
        yield spares.SPARES_MORE.format(count=len(lacking) - _MOST_PARTS)


def _figure(value: float | None) -> str:
    """Pieces as they are, anything else with two decimals; nothing where it is not known."""
    if value is None:
        return ""
    return str(value) if isinstance(value, int) else f"{value:.2f}"
