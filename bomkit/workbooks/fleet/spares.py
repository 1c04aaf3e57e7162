"""The workbook of spares to hold: the list, what more of them would bring, and what is left out."""

import math
from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.words import common, overview
from bomkit.words.fleet import spares
from bomkit.workbooks.fleet.for_spares_book_and_screen import SparesReport
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.writing.sheet import BLANK, Book, Cell, Column, Curve, Sheet, quantity, text
from bomkit.workbooks.writing.style import WRITING_HEIGHT

_HEADS = spares.SPARES_COLUMNS
_COLUMNS = {
    "state": Column(_HEADS["state"], 10.5),
    "item": Column(_HEADS["item"], 12.5),
    "description": Column(_HEADS["description"], 21),
    "aircraft": Column(_HEADS["aircraft"], 8, "head_right"),
    "yearly": Column(_HEADS["yearly"], 8, "head_right"),
    "source": Column(_HEADS["source"], 10.5),
    "resupply": Column(_HEADS["resupply"], 9.5, "head_right"),
    "mean": Column(_HEADS["mean"], 9, "head_right"),
    "due": Column(_HEADS["due"], 11, "head_right"),
    "hold": Column(_HEADS["hold"], 7.5, "head_right"),
    "reached": Column(_HEADS["reached"], 9, "head_right"),
    "backorders": Column(_HEADS["backorders"], 11, "head_right"),
    "stock": Column(_HEADS["stock"], 7, "head_right"),
    "gap": Column(_HEADS["gap"], 8.5, "head_right"),
    "cost": Column(_HEADS["cost"], 9.5, "head_right"),
    "to_buy": Column(_HEADS["to_buy"], 9.5, "head_right"),
    "value": Column(_HEADS["value"], 9.5, "head_right"),
    "mass": Column(_HEADS["mass"], 8.5, "head_right"),
}
_LEFT_OUT_HEADS = spares.LEFT_OUT_COLUMNS
_LEFT_OUT_FORM = ListForm(
    {
        "item": Column(_LEFT_OUT_HEADS["item"], 16),
        "description": Column(_LEFT_OUT_HEADS["description"], 45),
        "why": Column(_LEFT_OUT_HEADS["why"], 60),
    }
)
_STEPS = 40  # points of the curve, as many as a page holds
_CURVE_UP_TO = 0.995  # the curve is shown as far as it rises


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
    form = _form(report)
    lines = [
        form.line(_part_cells(report, part), WRITING_HEIGHT) for part in parts.iter_rows(named=True)
    ]
    return Sheet(
        name=spares.SHEET_KEEP,
        title=report.heading,
        subtitle=_subtitle(report),
        columns=form.columns,
        lines=lines or [form.sentence(spares.SPARES_NONE)],
        cautions=_cautions(report),
        notes=_notes(report),
        filtered=bool(lines),
        frozen_columns=2,
        heading_height=38,
    )


def _form(report: SparesReport) -> ListForm:
    """The columns that are shown."""
    columns = dict(_COLUMNS)
    if not report.inspections:
        del columns["due"]
    form = ListForm(columns)
    served = report.measure == "fill-rate"
    return form.headed("reached", spares.SPARES_SERVED) if served else form


def _cautions(report: SparesReport) -> tuple[str, ...]:
    if report.inspections:
        return (spares.SPARES_CAUTION, overview.INSPECTIONS_CAUTION)
    return (spares.SPARES_CAUTION,)


def _notes(report: SparesReport) -> tuple[str, ...]:
    """What was found, and how each figure is reckoned."""
    tour = report.days is not None
    method = spares.TOUR_METHOD if tour else spares.SPARES_METHOD
    inspected = spares.TOUR_INSPECTED if tour else spares.SPARES_INSPECTED
    return (
        *report.findings(),
        spares.SPARES_MEASURES[report.measure].format(target=report.target * 100),
        method.format(days=report.days),
        *([inspected.format(days=report.days)] if report.inspections else []),
        spares.SPARES_AFTER_PLAN if report.after_plan else spares.SPARES_USE,
        spares.SPARES_BACKORDERS,
    )


def _part_cells(report: SparesReport, part: Mapping[str, Any]) -> dict[str, Cell]:
    """The row of one part."""
    item = report.items[part["item"]]
    if part["gap"] > 0:
        state: Cell = (spares.SPARES_MISSING, "to_do")
    else:
        state = (spares.SPARES_THERE if part["hold"] else spares.SPARES_NOT_KEPT, "faint")
    reached = part["fill_rate" if report.measure == "fill-rate" else "chance"]
    resupply = part["resupply_days"] if report.days is None else None
    return {
        "state": state,
        "item": text(part["item"], "strong"),
        "description": text(item["description"], "wrapped"),
        "aircraft": (part["aircraft"], "pieces"),
        "yearly": (round(part["yearly"], 6), "measure"),
        "source": (spares.SPARES_SOURCES[part["source"]], "indented"),
        "resupply": BLANK if resupply is None else (resupply, "pieces"),
        "mean": (round(part["mean"], 6), "mass"),
        "due": (part["due"], "pieces"),
        "hold": (part["hold"], "strong_pieces"),
        "reached": (_share(reached), "percent"),
        "backorders": (round(part["backorders"], 6), "mass"),
        "stock": (part["stock"], "pieces"),
        "gap": (part["gap"], "strong_pieces"),
        "cost": _money(part["cost"]),
        "to_buy": _money(part["to_buy"]),
        "value": _money(part["value"]),
        "mass": quantity(None if part["mass_kg"] is None else round(part["mass_kg"], 6), "kg"),
    }


def _share(chance: float) -> float:
    """A chance for a sheet, rounded down: what is not certain never shows as 100 %."""
    return math.floor(min(chance, 0.9999) * 10_000 + 1e-6) / 10_000


def _money(value: float | None) -> Cell:
    return BLANK if value is None else (round(value, 4), "money")


def _curve_sheet(report: SparesReport) -> Sheet:
    """The assurance at even steps of what is spent or packed, and the line over it."""
    steps = curve_points(report.curve, report.target, report.limit)
    by_mass, form = report.limited_by == "mass", _curve_form(report)
    spent_head, reached_head, _ = (column.heading for column in form.columns)
    lines = [
        form.line(
            {
                "spent": (spent, "mass" if by_mass else "money"),
                "reached": (_share(assurance), "percent"),
                "target": (report.target, "faint_percent"),
            }
        )
        for spent, assurance in steps
    ]
    return Sheet(
        name=spares.SHEET_CURVE,
        title=spares.CURVE_TITLE,
        subtitle=_subtitle(report),
        columns=form.columns,
        lines=lines,
        notes=(
            spares.CURVE_NOTE.format(unit=spares.CURVE_UNITS[report.limited_by]),
            *report.findings(),
        ),
        filtered=False,
        chart=Curve(0, 1, 2, spent_head, reached_head, "#,##0.0" if by_mass else "#,##0"),
    )


def _curve_form(report: SparesReport) -> ListForm:
    """The columns of the curve, in the order in which it reads them."""
    heads = {
        "spent": spares.CURVE_SPENT[report.limited_by],
        "reached": spares.CURVE_REACHED[report.measure],
        "target": spares.CURVE_TARGET,
    }
    return ListForm({name: Column(head, 15, "head_right") for name, head in heads.items()})


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
        _LEFT_OUT_FORM.line(
            {
                "item": text(item, "strong"),
                "description": text(report.items[item]["description"], "wrapped"),
                "why": (spares.LEFT_OUT_REASONS[reason], "wrapped"),
            }
        )
        for item, reason in report.left_out.iter_rows()
    ]
    return Sheet(
        name=spares.SHEET_LEFT_OUT,
        title=spares.LEFT_OUT_TITLE,
        subtitle=_subtitle(report),
        columns=_LEFT_OUT_FORM.columns,
        lines=lines,
    )
