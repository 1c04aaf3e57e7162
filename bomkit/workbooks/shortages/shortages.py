"""The shortage workbook: what is short, for which airframe, until when, and what can start."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.words import common, fleet, shortages
from bomkit.workbooks.report import Report, iso_week
from bomkit.workbooks.shortages.by_party import by_item_sheet, by_shop_sheet
from bomkit.workbooks.shortages.lists import airframe_sheet, spares_sheet
from bomkit.workbooks.shortages.missing import missing_lines, mould_words, would_help
from bomkit.workbooks.shortages.promises import promises_sheet
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Line,
    Link,
    Sheet,
    list_columns,
    section,
    text,
    to_fill,
)
from bomkit.workbooks.writing.sheet_names import sheet_names
from bomkit.workbooks.writing.style import WRITING_HEIGHT

_AIRFRAME_WIDTHS = (16, 17, 17, 9, 9, 10, 10, 52, 10, 13)
_STARTS_WIDTHS = (11.5, 11, 14, 31, 15, 11.5, 10, 34, 24, 30)
# airframes have sheets of their own; what routine spares and inspections get stands in Promises
_ELSEWHERE = ["airframe", "routine", "inspection"]
_MOST_OVERDUE = 12
_MOST_WAITED_FOR = 2
STATE_STYLES = {"complete": "coming", "waiting": "to_do", "short": "late"}


def shortages_book(report: Report) -> Book:
    """A line an airframe, the orders that can start, what is missing by item, and by airframe."""
    lines = missing_lines(report)
    listed = lines.filter(pl.col("listed"))
    airframes = listed.filter(pl.col("demand_kind") == "airframe")
    later = _ready_later(report)
    airframes = airframes.filter(~pl.col("demand").is_in(later) | (pl.col("late_days") > 0))
    fixed = [
        shortages.SHEET_AIRFRAMES,
        shortages.SHEET_STARTS,
        shortages.SHEET_BY_ITEM,
        shortages.SHEET_BY_SHOP,
        fleet.SHEET_PROMISES,
        shortages.SHEET_SPARES,
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
            by_shop_sheet(report, listed),
            promises_sheet(report),
            spares_sheet(report, listed.filter(~pl.col("demand_kind").is_in(_ELSEWHERE))),
            *(
                airframe_sheet(report, of_airframe[name], names[name], name, name in later)
                for name in named
            ),
        ]
    )


def _ready_later(report: Report) -> list[str]:
    """The airframes that are wanted after the release weeks."""
    beyond = iso_week("ready_date") > max(report.list_weeks)
    later = report.forecast.filter((pl.col("demand_kind") == "airframe") & beyond)
    return later["demand"].to_list()


def _airframes_sheet(report: Report, lines: pl.DataFrame, names: Mapping[str, str]) -> Sheet:
    """One line for each airframe, those that lack nothing included."""
    counts = (
        lines.filter(pl.col("demand_kind") == "airframe")
        .group_by("demand")
        .agg(
            missing=pl.col("item").filter("listed").n_unique(),
            late=pl.col("item").filter(pl.col("late_days") > 0).n_unique(),
        )
    )
    forecast = (
        report.forecast.filter(pl.col("demand_kind") == "airframe")
        .join(counts, on="demand", how="left", maintain_order="left")
        .with_columns(pl.col("missing", "late").fill_null(0))
        .sort("ready_date", "demand")
    )
    rows = [
        Line(_airframe_cells(report, row, names), WRITING_HEIGHT, [row["demand"]])
        for row in forecast.iter_rows(named=True)
    ]
    return Sheet(
        name=shortages.SHEET_AIRFRAMES,
        title=shortages.SHORTAGES_TITLE,
        subtitle=report.subtitle(),
        columns=list_columns(
            shortages.AIRFRAME_COLUMNS,
            _AIRFRAME_WIDTHS,
            right=range(3, 7),
            fills={9: "delivered_on"},
            shows=[0],
        ),
        lines=rows or [Line([(shortages.NOTHING_MISSING, "plain")])],
        notes=(
            _from_house(report),
            *_overdue(report),
            *(note.format(weeks=len(report.list_weeks)) for note in shortages.AIRFRAMES_NOTES),
        ),
        filtered=bool(rows),
        entries="delivered",
        frozen_columns=1,
        heading_height=40,
    )


def _from_house(report: Report) -> str:
    """Which airframes could be finished if nothing more arrived, as a sentence."""
    able = report.forecast.filter(pl.col("from_house").is_not_null()).sort("from_house")
    if able.is_empty():
        return shortages.NONE_FROM_HOUSE
    return shortages.FROM_HOUSE.format(serials=", ".join(able["demand"]))


def _overdue(report: Report) -> Iterator[str]:
    """A sentence with the purchases that are overdue, and one with the work, if there is any."""
    sources = report.tables["items"].select("item", "source")
    late = report.tables["open_orders"].filter(pl.col("due_date") < report.start)
    bought = pl.col("source") == "buy"
    named = late.join(sources, on="item", how="left")
    for own, words in ((bought, shortages.OVERDUE_ORDERS), (~bought, shortages.OVERDUE_WORK)):
        if len(orders := named.filter(own)):
            yield words.format(orders=_named_overdue(report, orders))


def _named_overdue(report: Report, late: pl.DataFrame) -> str:
    """The first few of these orders with item and day."""
    told = [
        shortages.OVERDUE_ORDER.format(order=order, item=item, date=report.day(due))
        for order, item, due in late.sort("due_date", "order")
        .select("order", "item", "due_date")
        .rows()
    ]
    more = (
        [common.AND_MORE.format(count=len(told) - _MOST_OVERDUE)]
        if len(told) > _MOST_OVERDUE
        else []
    )
    return ", ".join([*told[:_MOST_OVERDUE], *more])


def _airframe_cells(report: Report, row: Mapping[str, Any], names: Mapping[str, str]) -> list[Cell]:
    """The row of one airframe."""
    late, sheet = row["late_days"], names.get(row["demand"])
    forecast: Cell = (shortages.NEVER, "late")
    if row["earliest_date"] is not None:
        expected = row["earliest_date"] if late else row["ready_date"]
        forecast = (expected, "late_full_date" if late else "full_date")
    return [
        (Link(row["demand"], sheet), "link") if sheet else (row["demand"], "text"),
        (row["ready_date"], "full_date"),
        forecast,
        (late, "late_pieces" if late else "pieces"),
        (row["spare_days"], "pieces"),
        (row["missing"], "pieces"),
        (row["late"], "late_pieces" if row["late"] else "pieces"),
        text(_set_by(report, row), "late_wrapped" if late else "faint_wrapped"),
        (row["from_house"], "pieces") if row["from_house"] else BLANK,
        to_fill("delivered", "delivered_on"),
    ]


def _set_by(report: Report, row: Mapping[str, Any]) -> str:
    """What comes first in the chain that makes it late; blank where it is in time."""
    if not row["pacing_item"] or not row["late_days"]:
        return ""
    first = row["pacing"].split(" > ")[0]
    chain = report.pacing.filter(
        (pl.col("demand") == row["demand"]) & (pl.col("demand_kind") == row["demand_kind"])
    )
    waits = mould_words(report, chain.sort("step")["supply"][0])
    return f"{report.items[row['pacing_item']]['description']}: {first}{waits}"


def _starts_sheet(report: Report) -> Sheet:
    """The orders that start in the release weeks: can they, what for do they wait, what helps."""
    rows = report.ready.filter(report.released).sort("start_date", "order")
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
        columns=list_columns(shortages.STARTS_COLUMNS, _STARTS_WIDTHS),
        lines=lines or [Line([(shortages.NOTHING_STARTS, "plain")])],
        cautions=(shortages.STAND_IN_CAUTION,),
        notes=shortages.STATES_NOTES,
        filtered=bool(lines),
        frozen_columns=2,
    )


def _start_lines(report: Report, rows: pl.DataFrame, heading: str) -> Iterator[Line]:
    """The orders of one heading, with what would help those that are held up."""
    if rows.is_empty():
        return
    yield Line(section(heading.format(count=len(rows)), len(_STARTS_WIDTHS)), height=24)
    for row in rows.iter_rows(named=True):
        helping = _helping(report, row)
        starting = start_line(report, row)
        heights = (starting.height, height_for((helping, _STARTS_WIDTHS[-1])))
        cells = [*starting.cells, text(helping, "faint_wrapped")]
        yield Line(cells, max(filter(None, heights), default=None))


def start_line(report: Report, row: Mapping[str, Any], sheet: str = "") -> Line:
    """One order that starts: its days, state and what it waits for; sheet: where it leads to."""
    order: Cell = (Link(row["order"], sheet), "link") if sheet else (row["order"], "strong")
    late = row["can_start"] > row["start_date"]
    described, waits = report.items[row["item"]]["description"], _waits(report, row)
    state = state_words(row)
    whom = report.for_whom.get(row["order"], "")
    cells = [
        (row["start_date"], "date"),
        order,
        text(row["item"], "strong"),
        text(described, "wrapped"),
        (state, STATE_STYLES[row["state"]]),
        (row["can_start"], "late_date" if late else "date"),
        text(shortages.COUNT_OF.format(part=row["in_stores"], whole=row["components"]), "faint"),
        text(waits, "wrapped"),
        text(whom, "wrapped"),
    ]
    long = ((described, 3), (waits, 7), (whom, 8))
    return Line(cells, height_for(*((words, _STARTS_WIDTHS[column]) for words, column in long)))


def state_words(row: Mapping[str, Any]) -> str:
    """The state of an order in words; complete is told apart by whether all lies in stores."""
    if row["state"] == "complete" and row["coming"]:
        return shortages.COMES_IN_TIME
    return shortages.STATES[row["state"]]


def _waits(report: Report, row: Mapping[str, Any]) -> str:
    """What an order waits for, in words: what comes last first."""
    late = report.late_components.get(row["order"], [])
    told = [
        shortages.WAITS_FOR.format(item=item, supply=supply)
        if supply
        else shortages.WAITS_FOR_NOTHING.format(item=item)
        for item, _, supply in late[:_MOST_WAITED_FOR]
    ]
    if len(late) > _MOST_WAITED_FOR:
        told.append(common.AND_MORE.format(count=len(late) - _MOST_WAITED_FOR))
    return ", ".join(told)


def _helping(report: Report, row: Mapping[str, Any]) -> str:
    """What could stand in for the late components of an order."""
    late = report.late_components.get(row["order"], [])
    told = (would_help(report, item, serial) for item, serial, _ in late)
    return "; ".join(filter(None, told))
