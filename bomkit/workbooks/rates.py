"""The workbook of a rate study: what each rate asks of the shops, and what gives way first."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from bomkit.units import TOLERANCE
from bomkit.words import rates as said
from bomkit.workbooks.writing.sheet import BLANK, Cell, Chart, Column, Line, Sheet

MOST_MOULDS = 12  # the fullest are shown


@dataclass(frozen=True)
class RateColumn:
    """One rate: loads (kind, name, average, peak, capacity, weeks_over) and what it takes a month.

    spools, area (m2): a month; money: average value in the stores; airframes: in the weeks looked
    at.
    """

    per_month: float
    loads: pl.DataFrame
    spools: float
    area: float
    money: float
    airframes: int


def shown_resources(rates: Sequence[RateColumn]) -> list[tuple[str, str]]:
    """Kind and name of every process and printer, and of the moulds that are fullest."""
    last = rates[-1].loads
    others = last.filter(pl.col("kind") != "mould").select("kind", "name").rows()
    fullest = (
        last.filter((pl.col("kind") == "mould") & (pl.col("average") > 0))
        .with_columns(full=pl.col("average") / pl.col("capacity"))
        .sort("full", "name", descending=[True, False])
        .head(MOST_MOULDS)
    )
    return [*others, *fullest.select("kind", "name").rows()]


def full_percent(load: Mapping[str, Any]) -> float | None:
    """How much of its capacity a load takes on average, in percent; None where that is unknown."""
    return 100 * load["average"] / load["capacity"] if load["capacity"] else None


def rate_sheets(
    rates: Sequence[RateColumn], verdict: Sequence[str], title: str, subtitle: str
) -> list[Sheet]:
    """The loads of each rate side by side, and a chart of how full everything is."""
    return [
        _loads_sheet(rates, verdict, title, subtitle),
        _chart_sheet(rates, verdict, title, subtitle),
    ]


def _loads_sheet(
    rates: Sequence[RateColumn], verdict: Sequence[str], title: str, subtitle: str
) -> Sheet:
    """A row for each resource, and below it what the rates take a month."""
    heads = [
        Column(f"{said.PER_MONTH.format(rate=rate.per_month)}: {head}", 12, "head_right")
        for rate in rates
        for head in said.RATE_COLUMNS
    ]
    return Sheet(
        name=said.SHEET_RATES,
        title=said.RATES_TITLE.format(title=title),
        subtitle=subtitle,
        columns=(Column(said.RATE_RESOURCE, 26), Column(said.RATE_KIND, 16), *heads),
        lines=[*_load_lines(rates), *_monthly_lines(rates)],
        notes=(*verdict, said.RATES_NOTE),
        filtered=False,
        frozen_columns=2,
        heading_height=40,
    )


def _load_lines(rates: Sequence[RateColumn]) -> Iterator[Line]:
    """A row for each resource, its load at each rate."""
    by_name = [_by_name(rate) for rate in rates]
    for kind, name in shown_resources(rates):
        cells: list[Cell] = [(name, "strong"), (said.RATE_KINDS[kind], "faint")]
        for loads in by_name:
            cells += _load_cells(loads.get((kind, name)))
        yield Line(cells)


def _monthly_lines(rates: Sequence[RateColumn]) -> Iterator[Line]:
    """What the rates take a month, each figure in the first column of its rate."""
    for words, figures in monthly_figures(rates):
        cells: list[Cell] = [(words, "strong"), BLANK]
        for figure in figures:
            cells += [(figure, "tenths"), BLANK, BLANK, BLANK]
        yield Line(cells)


def _load_cells(load: Mapping[str, Any] | None) -> list[Cell]:
    """Average, peak, what there is, and how full that is."""
    if load is None:
        return [BLANK] * len(said.RATE_COLUMNS)
    full = full_percent(load)
    over = full is not None and full > 100 * (1 + TOLERANCE)
    # by week: what there is on average is less than what a week without closed days has
    beyond = load["weeks_over"] > 0
    return [
        (load["average"], "late_tenths" if over else "tenths"),
        (load["peak"], "late_tenths" if beyond else "tenths"),
        BLANK if load["capacity"] is None else (load["capacity"], "faint_tenths"),
        BLANK if full is None else (full, "late_tenths" if over else "tenths"),
    ]


def monthly_figures(rates: Sequence[RateColumn]) -> list[tuple[str, list[float]]]:
    """What the rates take a month, in words and figures, one a rate."""
    return [
        (said.RATE_SPOOLS, [round(rate.spools, 6) for rate in rates]),
        (said.RATE_AREA, [round(rate.area, 6) for rate in rates]),
        (said.RATE_MONEY, [round(rate.money, 2) for rate in rates]),
        (said.RATE_AIRFRAMES, [float(rate.airframes) for rate in rates]),
    ]


def _chart_sheet(
    rates: Sequence[RateColumn], verdict: Sequence[str], title: str, subtitle: str
) -> Sheet:
    """How full each process, printer and mould is at each rate, as columns side by side."""
    shown = shown_resources(rates)
    lines = [_full_line(rate, shown) for rate in rates]
    full = Line([(said.RATE_ALL, "faint"), *((100.0, "pale_pieces") for _ in shown)])
    return Sheet(
        name=said.SHEET_FULL,
        title=said.FULL_TITLE,
        subtitle=subtitle,
        columns=(
            Column(said.RATE, 17),
            *(Column(name, 9, "head_right") for _, name in shown),
        ),
        lines=[*lines, full],
        notes=tuple(verdict),
        filtered=False,
        frozen_columns=1,
        heading_height=40,
        chart=_full_chart(len(rates), len(shown)),
    )


def _full_chart(rates: int, resources: int) -> Chart:
    """Columns side by side for so many rates and resources, below the line of 100 percent."""
    return Chart(
        first_line=0,
        last_line=rates - 1,
        first_column=1,
        last_column=resources,
        value_title=said.FULL_PERCENT,
        limit_line=rates,
        stacked=False,
    )


def _full_line(rate: RateColumn, shown: Sequence[tuple[str, str]]) -> Line:
    """How full everything is at one rate, in percent."""
    loads = _by_name(rate)
    shares = [full_percent(loads[each]) if each in loads else None for each in shown]
    name: Cell = (said.PER_MONTH.format(rate=rate.per_month), "strong")
    return Line([name, *((share or 0.0, "end_pieces") for share in shares)])


def _by_name(rate: RateColumn) -> dict[tuple[str, str], dict[str, Any]]:
    return {(row["kind"], row["name"]): row for row in rate.loads.iter_rows(named=True)}
