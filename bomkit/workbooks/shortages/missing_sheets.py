"""The sheets of the shortage workbook on what one airframe, or spares and other work, lack."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.words import common, shortages
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report, shop
from bomkit.workbooks.shortages.missing_lines import (
    comes_cell,
    days_late,
    described,
    missing_quantity,
    mould_words,
    state_cell,
    would_help,
)
from bomkit.workbooks.writing.heights import height_for
from bomkit.workbooks.writing.sheet import BLANK, Cell, Column, Line, Sheet, text

_HEADS = shortages.MISSING_COLUMNS
_FORM = ListForm(
    {
        "state": Column(_HEADS["state"], 16),
        "item": Column(_HEADS["item"], 14),
        "description": Column(_HEADS["description"], 36),
        "quantity": Column(_HEADS["quantity"], 10, "head_right"),
        "unit": Column(_HEADS["unit"], 5),
        "needed_on": Column(_HEADS["needed_on"], 12),
        "comes_on": Column(_HEADS["comes_on"], 12),
        "days_late": Column(_HEADS["days_late"], 8, "head_right"),
        "supply": Column(_HEADS["supply"], 12),
        "would_help": Column(_HEADS["would_help"], 38),
    }
)


def airframe_sheet(
    report: Report, lines: pl.DataFrame, name: str, serial: str, later: bool
) -> Sheet:
    """What sets the date of one airframe, and its missing items by process.

    later: it is wanted after the release weeks, so that only what is late is among them.
    """
    rows = [
        *_chain_lines(report, report.chains.get((serial, "airframe"))),
        *_gain_lines(report, serial, "airframe"),
        *_missing_by_process(report, lines),
    ]
    note = shortages.LATER_NOTE if later else shortages.MISSING_NOTE
    return _missing_sheet(report, name, shortages.MISSING_TITLE.format(who=serial), rows, note)


def spares_sheet(report: Report, lines: pl.DataFrame) -> Sheet:
    """What spares orders and other work lack, order by order, grounded aircraft first."""
    rows: list[Line] = []
    urgent = lines.with_columns(urgent=pl.col("demand_kind") == "grounded").sort(
        "urgent", "who", "demand_serial", descending=[True, False, False], maintain_order=True
    )
    for group in urgent.partition_by("who", "demand_serial", maintain_order=True):
        who, serial = group["who"][0], group["demand_serial"][0]
        heading = shortages.LACKING_SERIAL.format(who=who, serial=serial) if serial else who
        rows.append(_FORM.section(heading))
        asking = group.row(0, named=True)
        chain = report.chains.get((asking["demand"], asking["demand_kind"]))
        if chain is not None:
            chain = chain.filter(pl.col("demand_serial") == serial)
        rows += [*_chain_lines(report, chain)][1:]
        rows += _missing_rows(report, group)
    title, note = shortages.LACKING_TITLE, shortages.MISSING_NOTE
    return _missing_sheet(report, shortages.SHEET_SPARES, title, rows, note)


def _missing_sheet(report: Report, name: str, title: str, rows: list[Line], note: str) -> Sheet:
    """A sheet of missing lines under a title."""
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=_FORM.columns,
        lines=rows or [_FORM.sentence(shortages.NOTHING_MISSING)],
        cautions=(shortages.STAND_IN_CAUTION,),
        notes=(
            note.format(weeks=len(report.list_weeks)),
            common.STATES_LEGEND,
        ),
        filtered=False,
        frozen_columns=2,
    )


def _chain_lines(report: Report, chain: pl.DataFrame | None) -> Iterator[Line]:
    """The links that set the date, what comes first at the top; nothing where there are none."""
    if chain is None or chain.is_empty():
        return
    yield _FORM.section(shortages.CHAIN_TITLE)
    for link in chain.iter_rows(named=True):
        cells: dict[str, Cell] = {
            "state": (link["step"], "faint_count"),
            "item": text(link["item"], "strong"),
            "description": text(report.items[link["item"]]["description"], "wrapped"),
            "quantity": (_link_words(report, link), "text"),
        }
        yield _FORM.line(dict.fromkeys(_HEADS, BLANK) | cells)


def _gain_lines(report: Report, demand: str, kind: str) -> Iterator[Line]:
    """How much sooner a late demand could be ready if the first link were there."""
    row = report["forecast"].filter((pl.col("demand") == demand) & (pl.col("demand_kind") == kind))
    if row.is_empty() or row["gain_days"][0] is None:
        return
    days, item = row["gain_days"][0], row["pacing_item"][0]
    words = shortages.GAIN if days else shortages.NO_GAIN
    yield Line([(words.format(item=item, days=days), "strong_plain")])


def _link_words(report: Report, link: Mapping[str, Any]) -> str:
    """One link of a chain in words."""
    finish, start = report.day(link["finish_date"]), report.day(link["start_date"])
    after = shortages.CHAIN_AFTER.format(days=link["needed_after"]) if link["needed_after"] else ""
    if link["supply_kind"] == "planned order":
        words = shortages.CHAIN_PLANNED if link["finish_date"] else shortages.CHAIN_NEVER
        told = words.format(supply=link["supply"], days=link["days"], start=start, finish=finish)
        return ", ".join(filter(None, (told, mould_words(report, link["supply"])))) + after
    if link["supply_kind"] != "open order":
        return shortages.CHAIN_STOCK
    words = shortages.CHAIN_OPEN_LATE if link["days"] else shortages.CHAIN_OPEN
    told = words.format(supply=link["supply"], days=link["days"], finish=finish)
    if link["overdue_since"]:
        told += shortages.CHAIN_OVERDUE.format(date=report.day(link["overdue_since"]))
    return told + after


def _missing_by_process(report: Report, lines: pl.DataFrame) -> Iterator[Line]:
    """The missing lines: late ones first, then by process, bought ones in front."""
    late = pl.col("late_days") > 0
    hurting = lines.filter(late | pl.col("overdue").is_not_null())
    if len(hurting):
        yield _FORM.section(shortages.LATE_SECTION)
        yield from _missing_rows(
            report, hurting.sort("late_days", "item", descending=[True, False])
        )
    lines = lines.filter(~late & pl.col("overdue").is_null())
    bought = pl.col("source") == "buy"
    process = pl.when(bought).then(pl.lit(shortages.BOUGHT)).otherwise(shop())
    grouped = lines.with_columns(group=process).sort(
        ~bought, "group", "need_date", "item", "supply", "comes"
    )
    for group in grouped.partition_by("group", maintain_order=True):
        yield _FORM.section(group["group"][0])
        yield from _missing_rows(report, group)


def _missing_rows(report: Report, lines: pl.DataFrame) -> Iterator[Line]:
    """One row for each missing line."""
    for line in lines.iter_rows(named=True):
        late = line["late_days"]
        helping = would_help(report, line["item"], line["serial"]) if late else ""
        told = described(report, line)
        cells: dict[str, Cell] = {
            "state": state_cell(line),
            "item": text(line["item"], "strong"),
            "description": text(told, "wrapped"),
            "quantity": missing_quantity(line["quantity"], line["unit"]),
            "unit": (line["unit"], "unit"),
            "needed_on": (line["need_date"], "date"),
            "comes_on": comes_cell(line),
            "days_late": days_late(late),
            "supply": text(line["supply"]),
            "would_help": text(helping, "faint_wrapped"),
        }
        wrapped = (told, _FORM.width("description")), (helping, _FORM.width("would_help"))
        yield _FORM.line(cells, height_for(*wrapped))
