"""Sheets on the moulds: how long they last, and what is pulled from them in a week."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.tables.weeks import iso_week
from bomkit.units import TOLERANCE
from bomkit.words import common, overview
from bomkit.words.weekly import printing as print_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import BLANK, Cell, Column, Line, Sheet, text

_HEADS, _WEEK_HEADS = overview.MOULD_COLUMNS, print_words.WEEK_MOULD_COLUMNS
_FORM = ListForm(
    {
        "mould": Column(_HEADS["mould"], 12),
        "item": Column(_HEADS["item"], 15),
        "description": Column(_HEADS["description"], 34),
        "count": Column(_HEADS["count"], 9, "head_right"),
        "planned": Column(_HEADS["planned"], 12, "head_right"),
        "left": Column(_HEADS["left"], 12, "head_right"),
        "runs_out": Column(_HEADS["runs_out"], 16),
        "replacement": Column(_HEADS["replacement"], 15),
        "start_by": Column(_HEADS["start_by"], 16),
        "state": Column(_HEADS["state"], 34),
    }
)
_WEEK_FORM = ListForm(
    {
        "item": Column(_WEEK_HEADS["item"], 8.6, shows=True),
        "moulds": Column(_WEEK_HEADS["moulds"], 12),
        "description": Column(_WEEK_HEADS["description"], 27),
        "planned": Column(_WEEK_HEADS["planned"], 9, "head_right"),
        "in_work": Column(_WEEK_HEADS["in_work"], 7, "head_right"),
        "available": Column(_WEEK_HEADS["available"], 10.4, "head_right"),
        "made": Column(_WEEK_HEADS["made"], 7, fills="pulls"),
        "state": Column(_WEEK_HEADS["state"], 20),
    },
    "pulled",
)


def moulds_sheet(report: Report) -> list[Sheet]:
    """Every mould of which the plan pulls, those that wear out first; none without moulds."""
    if report.plan.moulds.wear.is_empty():
        return []
    never = pl.col("runs_out").is_null()
    wear = report.plan.moulds.wear.filter((pl.col("pulls") > 0) | ~never)
    rows = wear.sort(never, "runs_out", "mould").iter_rows(named=True)
    return [
        Sheet(
            name=overview.SHEET_MOULDS,
            title=overview.MOULDS_TITLE,
            subtitle=report.subtitle(),
            columns=_FORM.columns,
            lines=[_FORM.line(_wear_cells(report, row)) for row in rows],
            cautions=(work_words.WORK_CAUTION,),
            notes=(overview.MOULDS_NOTE,),
        )
    ]


def _wear_cells(report: Report, row: Mapping[str, Any]) -> dict[str, Cell]:
    """The row of one mould."""
    runs_out, late = row["runs_out"], row["late_days"]
    left = row["pulls_left"]
    if not runs_out and left is not None and row["pulls"] >= left * (1 - TOLERANCE):
        state: Cell = (overview.MOULD_USED_UP, "to_do")
    elif not runs_out:
        state = BLANK
    elif not row["replacement"]:
        state = (overview.MOULD_WITHOUT, "late")
    elif late:
        state = (overview.MOULD_GAP.format(days=common.working_days(late)), "late")
    else:
        state = (overview.MOULD_REPLACED, "to_do")
    return {
        "mould": (row["mould"], "strong"),
        "item": (row["item"], "text"),
        "description": text(report.items[row["item"]]["description"]),
        "count": (row["count"], "pieces"),
        "planned": (row["pulls"], "pieces"),
        "left": BLANK if left is None else (left, "pieces"),
        "runs_out": (runs_out, "full_date") if runs_out else BLANK,
        "replacement": text(row["replacement"] if runs_out else "", "strong"),
        "start_by": (row["start_by"], "full_date") if row["start_by"] else BLANK,
        "state": state,
    }


def week_moulds_sheet(report: Report, week: str, name: str) -> list[Sheet]:
    """What is pulled in a week and what the moulds give; none where nothing is."""
    lines = _week_lines(report, week)
    if not lines:
        return []
    doubtful = [line for line, in_doubt in lines if in_doubt]
    nothing = [] if doubtful else [_WEEK_FORM.sentence(print_words.NO_MOULD_SHORT)]
    return [
        Sheet(
            name=name,
            title=print_words.WEEK_MOULDS_TITLE,
            subtitle=report.subtitle(common.WEEK.format(week=week)),
            columns=_WEEK_FORM.columns,
            lines=[*nothing, *doubtful, *(line for line, in_doubt in lines if not in_doubt)],
            printed=len(nothing) + len(doubtful),
            portrait=True,
            cautions=(work_words.WORK_CAUTION,),
            notes=(print_words.WEEK_MOULDS_NOTE,),
            entries=_WEEK_FORM.entries,
        )
    ]


def _week_lines(report: Report, week: str) -> list[tuple[Line, bool]]:
    """A row for each laid-up item of which something is pulled in a week, with its moulds; and
    whether they are short or worn out."""
    pulls = report.plan.moulds.pulls.filter((pl.col("week") == week) & (pl.col("pulls") > 0))
    named = pl.col("mould").sort().str.join(", ")
    wear = report.plan.moulds.wear
    worn = dict(wear.filter(iso_week("runs_out") == week).group_by("item").agg(named).iter_rows())
    moulds = wear.group_by("item").agg(named)
    rows = pulls.join(moulds, on="item", maintain_order="left").iter_rows(named=True)
    first = week == report.list_weeks[0]
    lines: list[tuple[Line, bool]] = []
    for row in rows:
        cells = _week_cells(report, row, worn.get(row["item"], ""), first)
        line = _WEEK_FORM.row(cells, [row["item"]] if first else ())
        lines.append((line, cells["state"] != BLANK))
    return lines


def _week_cells(
    report: Report, row: Mapping[str, Any], worn: str, closing: bool
) -> dict[str, Cell]:
    """The row of one laid-up item; closing: whether pulls are filled in, in the first week."""
    over = row["pulls"] - row["capacity"]
    too_many = over > row["capacity"] * TOLERANCE
    if too_many:
        state: Cell = (print_words.PULLS_OVER.format(pulls=over), "late_state")
    elif worn:
        state = (print_words.MOULD_WORN.format(moulds=worn), "to_do_state")
    else:
        state = BLANK
    return {
        "item": (row["item"], "strong"),
        "moulds": (row["mould"], "wrapped"),
        "description": text(report.items[row["item"]]["description"], "wrapped"),
        "planned": (
            row["pulls"] - row["in_work"],
            "late_pieces" if too_many else "strong_pieces",
        ),
        "in_work": (row["in_work"], "tenths"),
        "available": (row["capacity"], "tenths"),
        "state": state,
        **_WEEK_FORM.to_fill(closing),
    }
