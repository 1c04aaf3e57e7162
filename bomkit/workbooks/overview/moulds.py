"""Sheets on the moulds: how long they last, and what is pulled from them in a week."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit.tables.weeks import iso_week
from bomkit.words import common, overview
from bomkit.words.weekly import printing as print_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.heights import height_of
from bomkit.workbooks.writing.sheet import BLANK, Cell, Line, Sheet, list_columns, text, to_fill

_WEAR_WIDTHS = (12, 15, 34, 9, 12, 12, 16, 15, 16, 34)
_WEEK_WIDTHS = (8.6, 12, 27, 9, 7, 10.4, 7, 20)
_STATE = 7


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
            columns=list_columns(overview.MOULD_COLUMNS, _WEAR_WIDTHS, right=(3, 4, 5)),
            lines=[Line(_wear_cells(report, row)) for row in rows],
            cautions=(work_words.WORK_CAUTION,),
            notes=(overview.MOULDS_NOTE,),
        )
    ]


def _wear_cells(report: Report, row: Mapping[str, Any]) -> list[Cell]:
    """The row of one mould."""
    runs_out, late = row["runs_out"], row["late_days"]
    left = row["pulls_left"]
    if not runs_out and left is not None and row["pulls"] >= left * (1 - 1e-9):
        state: Cell = (overview.MOULD_USED_UP, "to_do")
    elif not runs_out:
        state = BLANK
    elif not row["replacement"]:
        state = (overview.MOULD_WITHOUT, "late")
    elif late:
        state = (overview.MOULD_GAP.format(days=late), "late")
    else:
        state = (overview.MOULD_REPLACED, "to_do")
    return [
        (row["mould"], "strong"),
        (row["item"], "text"),
        text(report.items[row["item"]]["description"]),
        (row["count"], "pieces"),
        (row["pulls"], "pieces"),
        BLANK if row["pulls_left"] is None else (row["pulls_left"], "pieces"),
        (runs_out, "full_date") if runs_out else BLANK,
        text(row["replacement"] if runs_out else "", "strong"),
        (row["start_by"], "full_date") if row["start_by"] else BLANK,
        state,
    ]


def week_moulds_sheet(report: Report, week: str, name: str) -> list[Sheet]:
    """What is pulled in a week and what the moulds give; none where nothing is."""
    lines = _week_lines(report, week)
    if not lines:
        return []
    doubtful = [line for line in lines if line.cells[_STATE] != BLANK]
    nothing = [] if doubtful else [Line([(print_words.NO_MOULD_SHORT, "plain")])]
    return [
        Sheet(
            name=name,
            title=print_words.WEEK_MOULDS_TITLE,
            subtitle=report.subtitle(common.WEEK.format(week=week)),
            columns=list_columns(
                print_words.WEEK_MOULD_COLUMNS,
                _WEEK_WIDTHS,
                (3, 4, 5),
                fills={6: "pulls"},
                shows=[0],
            ),
            lines=[*nothing, *doubtful, *(line for line in lines if line.cells[_STATE] == BLANK)],
            printed=len(nothing) + len(doubtful),
            portrait=True,
            cautions=(work_words.WORK_CAUTION,),
            notes=(print_words.WEEK_MOULDS_NOTE,),
            entries="pulled",
        )
    ]


def _week_lines(report: Report, week: str) -> list[Line]:
    """A row for each laid-up item of which something is pulled in a week, with its moulds."""
    pulls = report.plan.moulds.pulls.filter((pl.col("week") == week) & (pl.col("pulls") > 0))
    named = pl.col("mould").sort().str.join(", ")
    wear = report.plan.moulds.wear
    worn = dict(wear.filter(iso_week("runs_out") == week).group_by("item").agg(named).iter_rows())
    moulds = wear.group_by("item").agg(named)
    rows = pulls.join(moulds, on="item", maintain_order="left").iter_rows(named=True)
    first = week == report.list_weeks[0]
    return [_week_line(report, row, worn.get(row["item"], ""), first) for row in rows]


def _week_line(report: Report, row: Mapping[str, Any], worn: str, closing: bool) -> Line:
    """The row of one laid-up item; closing: whether pulls are filled in, in the first week."""
    over = row["pulls"] - row["capacity"]
    too_many = over > row["capacity"] * 1e-9
    if too_many:
        state: Cell = (print_words.PULLS_OVER.format(pulls=over), "late_state")
    elif worn:
        state = (print_words.MOULD_WORN.format(moulds=worn), "to_do_state")
    else:
        state = BLANK
    cells: list[Cell] = [
        (row["item"], "strong"),
        (row["mould"], "wrapped"),
        text(report.items[row["item"]]["description"], "wrapped"),
        (row["pulls"] - row["in_work"], "late_pieces" if too_many else "strong_pieces"),
        (row["in_work"], "tenths"),
        (row["capacity"], "tenths"),
        to_fill("pulled", "pulls") if closing else BLANK,
        state,
    ]
    return Line(cells, height_of(cells, _WEEK_WIDTHS), [row["item"]] if closing else ())
