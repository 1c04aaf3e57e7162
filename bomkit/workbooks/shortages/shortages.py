"""The shortage workbook: what is short, for which airframe, until when, and what can start."""

from collections.abc import Collection, Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.tables.weeks import iso_week
from bomkit.words import common, shortages
from bomkit.words.fleet import promises
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.airframes import airframes_sheet
from bomkit.workbooks.shortages.by_party import by_item_sheet, by_shop_sheet
from bomkit.workbooks.shortages.missing_lines import missing_lines, mould_words, would_help
from bomkit.workbooks.shortages.missing_sheets import airframe_sheet, spares_sheet
from bomkit.workbooks.shortages.promises import promises_sheet
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import Book, Cell, Column, Line, Link, Sheet, text
from bomkit.workbooks.writing.sheet_names import sheet_names

_HEADS = shortages.STARTS_COLUMNS
_OF_A_START = {
    "start": Column(_HEADS["start"], 11.5),
    "order": Column(_HEADS["order"], 11),
    "item": Column(_HEADS["item"], 14),
    "description": Column(_HEADS["description"], 31),
    "state": Column(_HEADS["state"], 15),
    "can_start": Column(_HEADS["can_start"], 11.5),
    "in_stock": Column(_HEADS["in_stock"], 10),
    "waits_for": Column(_HEADS["waits_for"], 34),
    "for": Column(_HEADS["for"], 24),
}
START_FORM = ListForm(_OF_A_START)  # a line of it: start_line
_HELPED_FORM = ListForm({**_OF_A_START, "would_help": Column(_HEADS["would_help"], 30)})
# airframes have sheets of their own; what routine spares and inspections get stands in Promises
_ELSEWHERE = ["airframe", "routine", "inspection"]
_MOST_WAITED_FOR = 2
_FIXED = [
    shortages.SHEET_AIRFRAMES,
    shortages.SHEET_STARTS,
    shortages.SHEET_BY_ITEM,
    shortages.SHEET_BY_SHOP,
    promises.SHEET_PROMISES,
    shortages.SHEET_SPARES,
]
STATE_STYLES = {"complete": "coming", "waiting": "to_do", "short": "late"}


def shortages_book(report: Report) -> Book:
    """A line an airframe, the orders that can start, what is missing by item, and by airframe."""
    listed = missing_lines(report)
    later = _ready_later(report)
    lacking = _lacking(report, listed, later)
    names = sheet_names(list(lacking), taken=_FIXED)
    return report.book(
        [
            airframes_sheet(report, listed, names),
            _starts_sheet(report),
            by_item_sheet(report, listed),
            by_shop_sheet(report, listed),
            promises_sheet(report),
            spares_sheet(report, listed.filter(~pl.col("demand_kind").is_in(_ELSEWHERE))),
            *(
                airframe_sheet(report, rows, names[serial], serial, serial in later)
                for serial, rows in lacking.items()
            ),
        ]
    )


def _lacking(
    report: Report, listed: pl.DataFrame, later: Collection[str]
) -> dict[str, pl.DataFrame]:
    """What each airframe lacks, in the order of the forecast, then work on aircraft beside it.

    later: airframes of which only what is late is told.
    """
    airframes = listed.filter(pl.col("demand_kind") == "airframe")
    airframes = airframes.filter(~pl.col("demand").is_in(later) | (pl.col("late_days") > 0))
    rows = {key[0]: own for key, own in airframes.partition_by("demand", as_dict=True).items()}
    planned = report["forecast"].filter(pl.col("demand_kind") == "airframe")["demand"].to_list()
    named = [serial for serial in planned if serial in rows]
    return {serial: rows[serial] for serial in [*named, *sorted(set(rows) - set(planned))]}


def _ready_later(report: Report) -> list[str]:
    """The airframes that are wanted after the release weeks."""
    beyond = iso_week("ready_date") > max(report.list_weeks)
    later = report["forecast"].filter((pl.col("demand_kind") == "airframe") & beyond)
    return later["demand"].to_list()


def _starts_sheet(report: Report) -> Sheet:
    """The orders that start in the release weeks: can they, what for do they wait, what helps."""
    rows = report["ready"].filter(report.released).sort("start_date", "order")
    complete, there = pl.col("state") == "complete", pl.col("coming") == 0
    lines = [
        *_start_lines(report, rows.filter(~complete), shortages.STARTS_HELD_UP),
        *_start_lines(report, rows.filter(complete & there), shortages.STARTS_COMPLETE),
        *_start_lines(report, rows.filter(complete & ~there), shortages.STARTS_IN_TIME),
    ]
    return Sheet(
        name=shortages.SHEET_STARTS,
        title=shortages.STARTS_TITLE,
        subtitle=report.subtitle(),
        columns=_HELPED_FORM.columns,
        lines=lines or [_HELPED_FORM.sentence(shortages.NOTHING_STARTS)],
        cautions=(shortages.STAND_IN_CAUTION,),
        notes=shortages.STATES_NOTES,
        filtered=bool(lines),
        frozen_columns=2,
    )


def _start_lines(report: Report, rows: pl.DataFrame, heading: str) -> Iterator[Line]:
    """The orders of one heading, with what would help those that are held up."""
    if rows.is_empty():
        return
    yield _HELPED_FORM.section(heading.format(count=len(rows)))
    for row in rows.iter_rows(named=True):
        told, helping = _told(report, row), _helping(report, row)
        cells = {**_start_cells(row, told), "would_help": text(helping, "faint_wrapped")}
        yield _HELPED_FORM.line(cells, _height({**told, "would_help": helping}))


def start_line(report: Report, row: Mapping[str, Any], sheet: str = "") -> Line:
    """One order that starts: its days, state and what it waits for; sheet: where it leads to."""
    told = _told(report, row)
    return START_FORM.line(_start_cells(row, told, sheet), _height(told))


def _told(report: Report, row: Mapping[str, Any]) -> dict[str, str]:
    """By column what is said of an order that starts in words that may need several lines."""
    return {
        "description": report.items[row["item"]]["description"],
        "waits_for": _waits(report, row),
        "for": report.for_whom.get(row["order"], ""),
    }


def _height(told: Mapping[str, str]) -> float | None:
    """The height of a row with these words by column."""
    return height_for(*((words, _HELPED_FORM.width(name)) for name, words in told.items()))


def _start_cells(
    row: Mapping[str, Any], told: Mapping[str, str], sheet: str = ""
) -> dict[str, Cell]:
    """The cells of an order that starts, with these words by column."""
    order: Cell = (Link(row["order"], sheet), "link") if sheet else (row["order"], "strong")
    can_start: Cell = (common.NO_DATE, "late_words")
    if row["can_start"]:
        late = row["can_start"] > row["start_date"]
        can_start = (row["can_start"], "late_date" if late else "date")
    in_stock = shortages.COUNT_OF.format(part=row["in_stores"], whole=row["components"])
    return {
        "start": (row["start_date"], "date"),
        "order": order,
        "item": text(row["item"], "strong"),
        "state": (state_words(row), STATE_STYLES[row["state"]]),
        "can_start": can_start,
        "in_stock": text(in_stock, "faint"),
        **{name: text(words, "wrapped") for name, words in told.items()},
    }


def state_words(row: Mapping[str, Any]) -> str:
    """The state of an order in words; complete is told apart by whether all lies in stores."""
    if row["state"] == "complete" and row["coming"]:
        return shortages.COMES_IN_TIME
    return shortages.STATES[row["state"]]


def _waits(report: Report, row: Mapping[str, Any]) -> str:
    """What an order waits for, in words: what comes last first, and then its mould."""
    late = report.late_components.get(row["order"], [])
    told = [
        shortages.WAITS_FOR.format(item=item, supply=supply)
        if supply
        else shortages.WAITS_FOR_NOTHING.format(item=item)
        for item, _, supply in late[:_MOST_WAITED_FOR]
    ]
    if len(late) > _MOST_WAITED_FOR:
        told.append(common.AND_MORE.format(count=len(late) - _MOST_WAITED_FOR))
    return ", ".join(filter(None, (*told, mould_words(report, row["order"]))))


def _helping(report: Report, row: Mapping[str, Any]) -> str:
    """What could stand in for the late components of an order."""
    late = report.late_components.get(row["order"], [])
    told = (would_help(report, item, serial) for item, serial, _ in late)
    return "; ".join(filter(None, told))
