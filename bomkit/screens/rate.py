"""What `bomkit rate` prints: the loads of each rate side by side, and the verdict."""

from collections.abc import Iterator
from typing import Any

from bomkit.units import TOLERANCE
from bomkit.words import rates as said
from bomkit.workbooks.rates import (
    RateColumn,
    full_percent,
    monthly_figures,
    shown_resources,
)

_RATE_WIDTHS = (9, 9, 10, 9)  # the columns of a rate


def rate_lines(rates: list[RateColumn], verdict: list[str]) -> Iterator[str]:
    """The loads of each rate side by side, what they take a month, and the verdict."""
    yield " " * 36 + "".join(
        f"{said.PER_MONTH.format(rate=rate.per_month):>{sum(_RATE_WIDTHS)}}" for rate in rates
    )
    widths = zip(said.RATE_COLUMNS, _RATE_WIDTHS, strict=True)
    heads = "".join(f"{head:>{width}}" for head, width in widths)
    yield f"{said.RATE_RESOURCE:<21} {said.RATE_KIND:<14}" + heads * len(rates)
    loads = [
        {(row["kind"], row["name"]): row for row in rate.loads.iter_rows(named=True)}
        for rate in rates
    ]
    for kind, name in shown_resources(rates):
        cells = "".join(_rate_cells(each.get((kind, name))) for each in loads)
        yield f"{name[:21]:<21} {said.RATE_KINDS[kind]:<14}{cells}".rstrip()
    for words, figures in monthly_figures(rates):
        first, *others = _RATE_WIDTHS
        cells = "".join(f"{figure:>{first},.0f}{'':{sum(others)}}" for figure in figures)
        yield f"{words:<36}{cells}".rstrip()
    yield ""
    yield from verdict


def _rate_cells(load: dict[str, Any] | None) -> str:
    """Average, peak, what there is and how full that is, in columns."""
    if load is None:
        return " " * sum(_RATE_WIDTHS)
    full = full_percent(load)
    over = full is not None and full > 100 * (1 + TOLERANCE)
    share = "" if full is None else f"{'▲ ' if over else ''}{full:.0f} %"
    there = "" if load["capacity"] is None else f"{load['capacity']:,.1f}"
    cells = (f"{load['average']:,.1f}", f"{load['peak']:,.1f}", there, share)
    return "".join(f"{cell:>{width}}" for cell, width in zip(cells, _RATE_WIDTHS, strict=True))
