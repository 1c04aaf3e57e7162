"""The workbook of spares to hold: the list, what more of them would bring, and what is left out."""

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from bomkit.words import common, fleet
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Column,
    Curve,
    Line,
    Sheet,
    list_columns,
    quantity,
    text,
)
from bomkit.workbooks.writing.style import WRITING_HEIGHT

_WIDTHS = (10.5, 12.5, 21, 8, 8, 7.5, 9.5, 9, 7.5, 9, 11, 7, 8.5, 9.5, 9.5, 9.5, 8.5)
_RIGHT = (3, 4, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16)
_STEPS = 40  # points of the curve, as many as a page holds
_CURVE_UP_TO = 0.995  # the curve is shown as far as it rises


@dataclass(frozen=True)
class SparesReport:
    """The holdings for people; frames and figures as in planning.spares.Holdings."""

    run_id: str
    start: dt.date
    title: str
    items: Mapping[str, Mapping[str, Any]]
    parts: pl.DataFrame
    left_out: pl.DataFrame
    assumed: list[str]
    curve: pl.DataFrame
    target: float
    measure: str
    limited_by: str
    limit: float | None
    serials: tuple[str, ...]
    days: int | None
    before: float
    assurance: float
    spent: float
    short: float
    needed: float | None
    after_plan: bool = False

    @property
    def heading(self) -> str:
        """What the list is of."""
        if self.days is None:
            return fleet.SPARES_TITLE
        return fleet.TOUR_TITLE.format(serials=", ".join(self.serials), days=self.days)

    def _floored(self, share: float) -> float:
        """A share in tenths of a percent; what is not certain is never a full hundred."""
        if not self.parts["mean"].sum():
            return 1.0
        return math.floor(min(share, 0.999) * 1000 + 1e-6) / 1000

    def findings(self) -> list[str]:
        """What the choice comes to, a sentence each."""
        words = []
        if self.limit is not None:
            told = fleet.SPARES_LIMIT[self.limited_by]
            words.append(told.format(limit=self.limit, spent=self.spent))
            words.append(fleet.SPARES_SHORT.format(short=self.short) if self.short else "")
        shares = fleet.SPARES_SHARES[self.limited_by].format(
            before=self._floored(self.before), after=self._floored(self.assurance)
        )
        words.append(fleet.SPARES_TOGETHER[self.measure].format(shares=shares))
        if self.needed is not None:
            told = fleet.SPARES_NEEDED[self.limited_by]
            words.append(told.format(target=self.target * 100, needed=self.needed))
        if self.assumed:
            words.append(fleet.SPARES_ASSUMED.format(serials=", ".join(self.assumed)))
        return [sentence for sentence in words if sentence]


def spares_book(report: SparesReport) -> Book:
    """The list, the curve where there are prices, and the parts left out where there are any."""
    sheets = [_list_sheet(report)]
    if len(report.curve) > 1:
        sheets.append(_curve_sheet(report))
    if len(report.left_out):
        sheets.append(_left_out_sheet(report))
    return Book(sheets, report.run_id, report.title, report.start)


def _subtitle(report: SparesReport) -> str:
    made = common.PLAN_FROM.format(date=report.start.strftime("%d %b %Y"))
    return common.BETWEEN.join([report.title, made, common.RUN.format(run_id=report.run_id)])


def _list_sheet(report: SparesReport) -> Sheet:
    """What to hold, what lacks first."""
    parts = report.parts.sort(pl.col("gap") <= 0, "item")
    lines = [
        Line(_part_cells(report, part), height=WRITING_HEIGHT)
        for part in parts.iter_rows(named=True)
    ]
    heads = dict(fleet.SPARES_COLUMNS)
    if report.measure == "fill-rate":
        heads["reached"] = fleet.SPARES_SERVED
    method = fleet.SPARES_METHOD if report.days is None else fleet.TOUR_METHOD
    return Sheet(
        name=fleet.SHEET_KEEP,
        title=report.heading,
        subtitle=_subtitle(report),
        columns=list_columns(heads.values(), _WIDTHS, _RIGHT),
        lines=lines or [Line([(fleet.SPARES_NONE, "plain")])],
        cautions=(fleet.SPARES_CAUTION,),
        notes=(
            *report.findings(),
            fleet.SPARES_MEASURES[report.measure].format(target=report.target * 100),
            method.format(days=report.days),
            fleet.SPARES_AFTER_PLAN if report.after_plan else fleet.SPARES_USE,
            fleet.SPARES_BACKORDERS,
        ),
        filtered=bool(lines),
        frozen_columns=2,
        heading_height=38,
    )


def _part_cells(report: SparesReport, part: Mapping[str, Any]) -> list[Cell]:
    """The row of one part."""
    item = report.items[part["item"]]
    if part["gap"] > 0:
        state: Cell = (fleet.SPARES_MISSING, "to_do")
    else:
        state = (fleet.SPARES_THERE if part["hold"] else fleet.SPARES_NOT_KEPT, "faint")
    reached = part["fill_rate" if report.measure == "fill-rate" else "chance"]
    resupply = part["resupply_days"] if report.days is None else None
    return [
        state,
        text(part["item"], "strong"),
        text(item["description"], "wrapped"),
        (part["aircraft"], "pieces"),
        (round(part["yearly"], 6), "measure"),
        (fleet.SPARES_SOURCES[part["source"]], "indented"),
        BLANK if resupply is None else (resupply, "pieces"),
        (round(part["mean"], 6), "mass"),
        (part["hold"], "strong_pieces"),
        (_share(reached), "percent"),
        (round(part["backorders"], 6), "mass"),
        (part["stock"], "pieces"),
        (part["gap"], "strong_pieces"),
        _money(part["cost"]),
        _money(part["to_buy"]),
        _money(part["value"]),
        quantity(None if part["mass_kg"] is None else round(part["mass_kg"], 6), "kg"),
    ]


def _share(chance: float) -> float:
    """A chance for a sheet, rounded down: what is not certain never shows as 100 %."""
    return math.floor(min(chance, 0.9999) * 10_000 + 1e-6) / 10_000


def _money(value: float | None) -> Cell:
    return BLANK if value is None else (round(value, 4), "money")


def _curve_sheet(report: SparesReport) -> Sheet:
    """The assurance at even steps of what is spent or packed, and the line over it."""
    steps = curve_points(report.curve, report.target, report.limit)
    form = "mass" if report.limited_by == "mass" else "money"
    lines = [
        Line([(spent, form), (_share(assurance), "percent"), (report.target, "faint_percent")])
        for spent, assurance in steps
    ]
    heads = (
        fleet.CURVE_SPENT[report.limited_by],
        fleet.CURVE_REACHED[report.measure],
        fleet.CURVE_TARGET,
    )
    return Sheet(
        name=fleet.SHEET_CURVE,
        title=fleet.CURVE_TITLE,
        subtitle=_subtitle(report),
        columns=tuple(Column(head, 15, "head_right") for head in heads),
        lines=lines,
        notes=(
            fleet.CURVE_NOTE.format(unit=fleet.CURVE_UNITS[report.limited_by]),
            *report.findings(),
        ),
        filtered=False,
        curve=Curve(0, 1, 2, heads[0], heads[1], "#,##0.0" if form == "mass" else "#,##0"),
    )


def curve_points(
    path: pl.DataFrame, target: float, limit: float | None
) -> list[tuple[float, float]]:
    """Spent and assurance at even steps from nothing to where the curve has risen.

    path: spent, assurance after each purchase. A step is 1, 2 or 5 times a power of ten.
    """
    risen = path.filter(pl.col("assurance") >= max(target, _CURVE_UP_TO))["spent"]
    end = float(risen[0]) if len(risen) else float(path["spent"][-1])
    width = max(end, min(limit or 0.0, float(path["spent"][-1])))
    step = _nice_step(width)
    grid = pl.DataFrame({"at": [round(step * n, 9) for n in range(math.ceil(width / step) + 1)]})
    met = grid.join_asof(
        path.with_columns(at=pl.col("spent").round(9)).sort("at"), on="at", strategy="backward"
    )
    return met.select("at", "assurance").rows()


def _nice_step(width: float) -> float:
    """A step of 1, 2 or 5 times a power of ten, so that at most _STEPS of them span a width."""
    if width <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(width / _STEPS))
    return next(power * factor for factor in (1, 2, 5, 10) if power * factor * _STEPS >= width)


def _left_out_sheet(report: SparesReport) -> Sheet:
    """The parts that are not in the list, each with the reason."""
    lines = [
        Line(
            [
                text(item, "strong"),
                text(report.items[item]["description"], "wrapped"),
                (fleet.LEFT_OUT_REASONS[reason], "wrapped"),
            ]
        )
        for item, reason in report.left_out.iter_rows()
    ]
    return Sheet(
        name=fleet.SHEET_LEFT_OUT,
        title=fleet.LEFT_OUT_TITLE,
        subtitle=_subtitle(report),
        columns=list_columns(fleet.LEFT_OUT_COLUMNS, (16, 45, 60)),
        lines=lines,
    )
