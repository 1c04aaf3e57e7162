"""The lists of the shortage workbook: by item for the telephone, by airframe, and for spares."""

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.words import common, fleet, shortages, weekly
from bomkit.workbooks.report import FIGURES, Report, demand_in_words, shop
from bomkit.workbooks.shortages.missing import (
    comes_cell,
    missing_quantity,
    mould_words,
    state_cell,
    would_help,
)
from bomkit.workbooks.writing.sheet import BLANK, Cell, Line, Sheet, list_columns, quantity, text
from bomkit.workbooks.writing.style import height_for

_MISSING_WIDTHS = (13, 14, 36, 10, 5, 12, 12, 8, 12, 38)
_BY_ITEM_WIDTHS = (13, 14, 34, 10, 5, 12, 12, 12, 8, 38)
_PROMISE_WIDTHS = (10, 12, 12, 28, 9, 5, 9, 22, 15, 15, 7, 15, 9, 14)
_RIGHT = (3, 7)
_MOST_NAMED = 3


def by_item_sheet(report: Report, listed: pl.DataFrame) -> Sheet:
    """What is bought and late or on order, by supplier, with its address."""
    bought = listed.filter(pl.col("source") == "buy")
    return _by_party_sheet(report, bought, shortages.SHEET_BY_ITEM, shortages.BY_ITEM_TITLE)


def by_shop_sheet(report: Report, listed: pl.DataFrame) -> Sheet:
    """What is made, printed or packed and late or in work, by process."""
    own = listed.filter(pl.col("source") != "buy")
    return _by_party_sheet(
        report, own, shortages.SHEET_BY_SHOP, shortages.BY_SHOP_TITLE, shortages.BY_SHOP_CAUTION
    )


def _by_party_sheet(
    report: Report, listed: pl.DataFrame, name: str, title: str, *cautions: str
) -> Sheet:
    """What is late or on order, by who brings it and by item; parties with late lines first."""
    lines: list[Line] = []
    listed = listed.filter((pl.col("late_days") > 0) | (pl.col("supply_kind") == "open order"))
    for group in _by_party(report, listed).partition_by("party", maintain_order=True):
        heading = _section(group["party"][0], len(_BY_ITEM_WIDTHS))
        heading[5] = (group["email"][0] or "", "section_note")
        lines.append(Line(heading, height=24))
        lines += [_by_item_line(report, row) for row in group.iter_rows(named=True)]
    return Sheet(
        name=name,
        title=title,
        subtitle=report.subtitle(),
        columns=list_columns(shortages.BY_ITEM_COLUMNS, _BY_ITEM_WIDTHS, right=(3, 8)),
        lines=lines or [Line([(shortages.NOTHING_MISSING, "plain")])],
        cautions=cautions,
        notes=(shortages.BY_ITEM_NOTE.format(weeks=len(report.list_weeks)),),
        filtered=bool(lines),
        frozen_columns=2,
    )


def _by_party(report: Report, listed: pl.DataFrame) -> pl.DataFrame:
    """The missing lines of each order of an item in one, beside who brings it."""
    names = report.tables["suppliers"].select("supplier", "email", party_name="name")
    own_supplier = (
        report.tables["open_orders"]
        .filter(pl.col("supplier") != "")
        .unique(["order", "item"], keep="first", maintain_order=True)
        .select("item", supply="order", supply_kind=pl.lit("open order"), by="supplier")
    )
    named = pl.when(pl.col("party_name") != "").then("party_name")
    known = pl.when(pl.col("supplier") != "").then("supplier")
    merged = (
        listed.join(own_supplier, on=["item", "supply", "supply_kind"], how="left")
        .with_columns(supplier=pl.coalesce("by", "supplier"))
        .join(names, on="supplier", how="left")
        .with_columns(
            party=pl.when(pl.col("source") == "buy")
            .then(pl.coalesce(named, known, pl.lit(weekly.NO_SUPPLIER)))
            .otherwise(shop())
        )
        .sort("need_date", "who")
        .group_by(
            *("party", "email", "item", "supply", "supply_kind", "comes"),
            *("description", "unit", "source", "cures"),
            maintain_order=True,
        )
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            pl.col("late_days").max(),
            pl.col("overdue").min(),
            whom=pl.col("who").unique(maintain_order=True),
        )
    )
    return merged.with_columns(worst=pl.col("late_days").max().over("party")).sort(
        *("worst", "party"),
        pl.col("overdue").is_null(),
        *("late_days", "need_date", "item", "supply", "comes"),
        descending=[True, False, False, True, False, False, False, False],
    )


def _by_item_line(report: Report, row: Mapping[str, Any]) -> Line:
    """The row of one item from one order."""
    whom, late = row["whom"], row["late_days"]
    words = ", ".join(whom[:_MOST_NAMED])
    if len(whom) > _MOST_NAMED:
        words = f"{words} {common.AND_MORE.format(count=len(whom) - _MOST_NAMED)}"
    described = _described(report, row)
    cells = [
        state_cell(row),
        text(row["item"], "strong"),
        text(described, "wrapped"),
        missing_quantity(row["quantity"], row["unit"]),
        (row["unit"], "unit"),
        text(row["supply"]),
        (row["need_date"], "date"),
        comes_cell(row),
        (late, "late_pieces" if late else "pieces"),
        text(words, "wrapped"),
    ]
    return Line(cells, height_for((described, _BY_ITEM_WIDTHS[2]), (words, _BY_ITEM_WIDTHS[-1])))


def _described(report: Report, row: Mapping[str, Any]) -> str:
    """The item's description, and since when its open order is overdue."""
    if row["overdue"] is None:
        return str(row["description"])
    since = shortages.OVERDUE_SINCE.format(date=report.day(row["overdue"]))
    return "; ".join(filter(None, (row["description"], since)))


def airframe_sheet(
    report: Report, lines: pl.DataFrame, name: str, serial: str, later: bool
) -> Sheet:
    """What sets the date of one airframe, and its missing items by process.

    later: it is wanted after the release weeks, so that only what is late is among them.
    """
    chain = report.pacing.filter(
        (pl.col("demand") == serial) & (pl.col("demand_kind") == "airframe")
    )
    rows = [
        *_chain_lines(report, chain),
        *_gain_lines(report, serial, "airframe"),
        *_missing_by_process(report, lines),
    ]
    note = shortages.LATER_NOTE if later else shortages.MISSING_NOTE
    return _missing_sheet(report, name, shortages.MISSING_TITLE.format(who=serial), rows, note)


def promises_sheet(report: Report) -> Sheet:
    """When each spares order can leave without the line having to wait."""
    asked = report.tables["spares_orders"].select(
        "order", "item", "serial", "need_date", "customer"
    )
    rows = report.promises.join(
        asked, on=["order", "item", "serial", "need_date"], how="left"
    ).sort(pl.col("urgency") != "grounded", "need_date", "order", "item")
    lines = [_promise_line(report, row) for row in rows.iter_rows(named=True)]
    return Sheet(
        name=fleet.SHEET_PROMISES,
        title=fleet.PROMISES_TITLE,
        subtitle=report.subtitle(),
        columns=list_columns(fleet.PROMISE_COLUMNS, _PROMISE_WIDTHS, right=(4, 10)),
        lines=lines or [Line([(fleet.NO_SPARES, "plain")])],
        notes=fleet.PROMISES_NOTES,
        filtered=bool(lines),
        frozen_columns=1,
    )


def _promise_line(report: Report, row: Mapping[str, Any]) -> Line:
    """The row of one spares order."""
    item = report.items[row["item"]]
    waiting = shortages.COUNT_OF.format(part=row["lines_waiting"], whole=row["lines"])
    cells = [
        text(row["order"], "strong"),
        (fleet.URGENCY[row["urgency"]], "late" if row["urgency"] == "grounded" else "text"),
        text(row["item"]),
        text(item["description"], "wrapped"),
        quantity(row["quantity"], item["unit"]),
        (item["unit"], "unit"),
        text(row["serial"]),
        text(row["customer"] or "", "wrapped"),
        (row["need_date"], "full_date"),
        *_promised(row),
        text(waiting if row["lines_waiting"] else ""),
        text(_made_later(row), "late"),
    ]
    return Line(cells, height_for((item["description"], _PROMISE_WIDTHS[3] - 4)) or 20)


def _promised(row: Mapping[str, Any]) -> list[Cell]:
    """Promise, days late and the day from which it can leave; words where no day is known."""
    if row["promise_date"] is None:
        return [(shortages.NEVER, "late"), BLANK, BLANK]
    late = row["late_days"]
    return [
        (row["promise_date"], "late_full_date" if late else "full_date"),
        (late, "late_pieces" if late else "pieces"),
        (row["earliest_date"], "faint_full_date"),
    ]


def _made_later(row: Mapping[str, Any]) -> str:
    """Whom a grounded order makes later the most, and by how many working days."""
    if not row["later_days"]:
        return ""
    who = demand_in_words(row["later"], row["later_kind"])
    return fleet.MAKES_LATER.format(who=who, days=row["later_days"])


def spares_sheet(report: Report, lines: pl.DataFrame) -> Sheet:
    """What spares orders and other work lack, order by order, grounded aircraft first."""
    rows: list[Line] = []
    urgent = lines.with_columns(urgent=pl.col("demand_kind") == "grounded").sort(
        "urgent", "who", "demand_serial", descending=[True, False, False], maintain_order=True
    )
    for group in urgent.partition_by("who", "demand_serial", maintain_order=True):
        who, serial = group["who"][0], group["demand_serial"][0]
        heading = shortages.LACKING_SERIAL.format(who=who, serial=serial) if serial else who
        rows.append(Line(_section(heading, len(_MISSING_WIDTHS)), height=24))
        asking = group.row(0, named=True)
        chain = report.pacing.filter(
            (pl.col("demand") == asking["demand"])
            & (pl.col("demand_kind") == asking["demand_kind"])
            & (pl.col("demand_serial") == serial)
        )
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
        columns=list_columns(shortages.MISSING_COLUMNS, _MISSING_WIDTHS, right=_RIGHT),
        lines=rows or [Line([(shortages.NOTHING_MISSING, "plain")])],
        cautions=(shortages.STAND_IN_CAUTION,),
        notes=(
            note.format(weeks=len(report.list_weeks)),
            common.STATES_LEGEND,
        ),
        filtered=False,
        frozen_columns=2,
    )


def _chain_lines(report: Report, chain: pl.DataFrame) -> Iterator[Line]:
    """The links that set the date, what comes first at the top."""
    if chain.is_empty():
        return
    yield Line(_section(shortages.CHAIN_TITLE, len(_MISSING_WIDTHS)), height=24)
    for link in chain.iter_rows(named=True):
        words = _link_words(report, link)
        yield Line(
            [
                (link["step"], "faint_count"),
                text(link["item"], "strong"),
                text(report.items[link["item"]]["description"], "wrapped"),
                (words, "text"),
                *[BLANK] * (len(_MISSING_WIDTHS) - 4),
            ]
        )


def _gain_lines(report: Report, demand: str, kind: str) -> Iterator[Line]:
    """How much sooner a late demand could be ready if the first link were there."""
    row = report.forecast.filter((pl.col("demand") == demand) & (pl.col("demand_kind") == kind))
    if row.is_empty() or row["gain_days"][0] is None:
        return
    days, item = row["gain_days"][0], row["pacing_item"][0]
    words = shortages.GAIN if days else shortages.NO_GAIN
    yield Line([(words.format(item=item, days=days), "strong_plain")])


def _link_words(report: Report, link: Mapping[str, Any]) -> str:
    """One link of a chain in words."""
    finish = report.day(link["finish_date"]) if link["finish_date"] else shortages.NEVER
    after = shortages.CHAIN_AFTER.format(days=link["needed_after"]) if link["needed_after"] else ""
    if link["supply_kind"] == "planned order":
        start = report.day(link["start_date"])
        told = shortages.CHAIN_PLANNED.format(
            supply=link["supply"], days=link["days"], start=start, finish=finish
        )
        return told + mould_words(report, link["supply"]) + after
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
        yield Line(_section(shortages.LATE_SECTION, len(_MISSING_WIDTHS)), height=24)
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
        yield Line(_section(group["group"][0], len(_MISSING_WIDTHS)), height=24)
        yield from _missing_rows(report, group)


def _missing_rows(report: Report, lines: pl.DataFrame) -> Iterator[Line]:
    """One row for each missing line."""
    for line in lines.iter_rows(named=True):
        late = line["late_days"]
        helping = would_help(report, line["item"], line["serial"]) if late else ""
        described = _described(report, line)
        yield Line(
            [
                state_cell(line),
                text(line["item"], "strong"),
                text(described, "wrapped"),
                missing_quantity(line["quantity"], line["unit"]),
                (line["unit"], "unit"),
                (line["need_date"], "date"),
                comes_cell(line),
                (late, "late_pieces" if late else "pieces"),
                text(line["supply"]),
                text(helping, "faint_wrapped"),
            ],
            height=height_for((described, _MISSING_WIDTHS[2]), (helping, _MISSING_WIDTHS[-1])),
        )


def _section(words: str, columns: int) -> list[Cell]:
    """A heading across the sheet."""
    return [(words, "section"), *[("", "section_note")] * (columns - 1)]
