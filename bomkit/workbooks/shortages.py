"""The shortage workbook: what is short, for which airframe, until when, and what can start."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit import labels
from bomkit.workbooks.missing import in_words, missing_lines, would_help
from bomkit.workbooks.report import Report
from bomkit.workbooks.sheet import BLANK, Book, Cell, Line, Link, Sheet, list_columns, text
from bomkit.workbooks.sheet_names import sheet_names
from bomkit.workbooks.shortage_lists import airframe_sheet, by_item_sheet, spares_sheet
from bomkit.workbooks.style import WRITING_HEIGHT, height_for

_AIRFRAME_WIDTHS = (24, 17, 17, 9, 9, 10, 10, 52, 10)
_STARTS_WIDTHS = (11.5, 11, 14, 33, 8, 12, 11.5, 10, 31, 34)
_STATE_STYLES = {"complete": "coming", "waiting": "to_do", "short": "late"}


def shortages_book(report: Report) -> Book:
    """A line an airframe, the orders that can start, what is missing by item, and by airframe."""
    lines = missing_lines(report)
    listed = lines.filter(pl.col("listed"))
    airframes = listed.filter(pl.col("demand_kind") == "airframe")
    fixed = [
        labels.SHEET_AIRFRAMES,
        labels.SHEET_STARTS,
        labels.SHEET_BY_ITEM,
        labels.SHEET_SPARES,
    ]
    order = report.forecast.filter(pl.col("demand_kind") == "airframe")["demand"].to_list()
    lacking = set(airframes["demand"])
    named = [serial for serial in order if serial in lacking]
    named += sorted(lacking - set(order))  # work on aircraft that are not in the build plan
    names = sheet_names(named, taken=fixed)
    of_airframe = {
        key[0]: rows for key, rows in airframes.partition_by("demand", as_dict=True).items()
    }
    return report.book(
        [
            _airframes_sheet(report, lines, names),
            _starts_sheet(report),
            by_item_sheet(report, listed),
            spares_sheet(report, listed.filter(pl.col("demand_kind") != "airframe")),
            *(airframe_sheet(report, of_airframe[name], names[name], name) for name in named),
        ]
    )


def _airframes_sheet(report: Report, lines: pl.DataFrame, names: Mapping[str, str]) -> Sheet:
    """One line for each airframe and spares order, those that lack nothing included."""
    counts = lines.group_by("demand", "demand_kind").agg(
        missing=pl.col("item").filter("listed").n_unique(),
        late=pl.col("item").filter(pl.col("late_days") > 0).n_unique(),
    )
    forecast = (
        report.forecast.with_columns(who=in_words())
        .join(counts, on=["demand", "demand_kind"], how="left", maintain_order="left")
        .with_columns(pl.col("missing", "late").fill_null(0))
        .sort("ready_date", "who")
    )
    rows = [
        Line(_airframe_cells(report, row, names), height=WRITING_HEIGHT)
        for row in forecast.iter_rows(named=True)
    ]
    return Sheet(
        name=labels.SHEET_AIRFRAMES,
        title=labels.SHORTAGES_TITLE,
        subtitle=report.subtitle(),
        columns=list_columns(labels.AIRFRAME_COLUMNS, _AIRFRAME_WIDTHS, right=range(3, 7)),
        lines=rows or [Line([(labels.NOTHING_MISSING, "plain")])],
        notes=(
            _from_house(report),
            *(note.format(weeks=len(report.release_weeks)) for note in labels.AIRFRAMES_NOTES),
        ),
        filtered=bool(rows),
        frozen_columns=1,
    )


def _from_house(report: Report) -> str:
    """Which airframes could be finished if nothing more arrived, as a sentence."""
    able = report.forecast.filter(pl.col("from_house").is_not_null()).sort("from_house")
    if able.is_empty():
        return labels.NONE_FROM_HOUSE
    return labels.FROM_HOUSE.format(serials=", ".join(able["demand"]))


def _airframe_cells(report: Report, row: Mapping[str, Any], names: Mapping[str, str]) -> list[Cell]:
    """The row of one airframe or spares order."""
    late = row["late_days"]
    sheet = names.get(row["demand"]) if row["demand_kind"] == "airframe" else labels.SHEET_SPARES
    linked = sheet is not None and row["missing"]
    forecast: Cell = (labels.NEVER, "late")
    if row["earliest_date"] is not None:
        expected = row["earliest_date"] if late else row["ready_date"]
        forecast = (expected, "late_full_date" if late else "full_date")
    return [
        (Link(row["who"], sheet), "link") if linked and sheet else (row["who"], "text"),
        (row["ready_date"], "full_date"),
        forecast,
        (late, "late_pieces" if late else "pieces"),
        (row["spare_days"], "pieces"),
        (row["missing"], "pieces"),
        (row["late"], "late_pieces" if row["late"] else "pieces"),
        text(_set_by(report, row), "late_wrapped" if late else "faint_wrapped"),
        (row["from_house"], "pieces") if row["from_house"] else BLANK,
    ]


def _set_by(report: Report, row: Mapping[str, Any]) -> str:
    """The item that comes first in the chain that sets the date, in words."""
    if not row["pacing_item"]:
        return ""
    first = row["pacing"].split(" > ")[0]
    return f"{report.items[row['pacing_item']]['description']}: {first}"


def _starts_sheet(report: Report) -> Sheet:
    """The orders that start in the release weeks: can they, what for do they wait, what helps."""
    rows = report.ready.filter(report.released).sort("start_date", "order")
    complete = pl.col("state") == "complete"
    lines = [
        *_start_lines(report, rows.filter(~complete), labels.STARTS_HELD_UP),
        *_start_lines(report, rows.filter(complete), labels.STARTS_COMPLETE),
    ]
    return Sheet(
        name=labels.SHEET_STARTS,
        title=labels.STARTS_TITLE,
        subtitle=report.subtitle(),
        columns=list_columns(labels.STARTS_COLUMNS, _STARTS_WIDTHS),
        lines=lines or [Line([(labels.NOTHING_STARTS, "plain")])],
        notes=(labels.STATES_NOTE, labels.STAND_IN_CAUTION),
        filtered=bool(lines),
        frozen_columns=2,
    )


def _start_lines(report: Report, rows: pl.DataFrame, heading: str) -> Iterator[Line]:
    """The orders of one heading, with what would help those that are held up."""
    if rows.is_empty():
        return
    words: Cell = (heading.format(count=len(rows)), "section")
    yield Line([words, *[("", "section_note")] * (len(_STARTS_WIDTHS) - 1)], height=24)
    for row in rows.iter_rows(named=True):
        helping = _helping(report, row)
        starting = start_line(report, row)
        higher = height_for((helping, _STARTS_WIDTHS[-1]))
        cells = [*starting.cells, text(helping, "faint_wrapped")]
        yield Line(cells, higher or starting.height)


def start_line(report: Report, row: Mapping[str, Any], sheet: str = "") -> Line:
    """One order that starts: its days, state and what it waits for; sheet: where it leads to."""
    order: Cell = (Link(row["order"], sheet), "link") if sheet else (row["order"], "strong")
    late = row["can_start"] > row["start_date"]
    described, waits = report.items[row["item"]]["description"], _waits(row)
    cells = [
        (row["start_date"], "date"),
        order,
        text(row["item"], "strong"),
        text(described, "wrapped"),
        text(row["serial"]),
        (labels.STATES[row["state"]], _STATE_STYLES[row["state"]]),
        (row["can_start"], "late_date" if late else "date"),
        text(labels.COUNT_OF.format(part=row["in_stores"], whole=row["components"]), "faint"),
        text(waits, "wrapped"),
    ]
    return Line(cells, height_for((described, _STARTS_WIDTHS[3]), (waits, _STARTS_WIDTHS[8])))


def _waits(row: Mapping[str, Any]) -> str:
    """What an order waits for, in words."""
    if not row["missing"]:
        return ""
    if not row["waits_from"]:
        return labels.WAITS_FOR_NOTHING.format(item=row["waits_for"])
    words = labels.WAITS_FOR if row["missing"] == 1 else labels.WAITS_FOR_MORE
    return words.format(item=row["waits_for"], supply=row["waits_from"], count=row["missing"] - 1)


def _helping(report: Report, row: Mapping[str, Any]) -> str:
    """What could stand in for the late components of an order."""
    late = report.late_components.get(row["order"], [])
    told = (would_help(report, item, serial) for item, serial in late)
    return "; ".join(filter(None, told))
