"""The workbook of a comparison: whose day moved and why, and which orders changed."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from bomkit.words import common
from bomkit.words import compare as said
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.writing.sheet import (
    BLANK,
    Book,
    Cell,
    Column,
    Line,
    Sheet,
    quantity,
    text,
)

_MOVED, _ORDERS = said.CHANGED_COLUMNS, said.CHANGED_ORDER_COLUMNS
_MOVED_FORM = ListForm(
    {
        "whom": Column(_MOVED["whom"], 22),
        "serial": Column(_MOVED["serial"], 12),
        "change": Column(_MOVED["change"], 22),
        "before": Column(_MOVED["before"], 13),
        "after": Column(_MOVED["after"], 13),
        "days": Column(_MOVED["days"], 8, "head_right"),
        "cause": Column(_MOVED["cause"], 60),
    }
)
_ORDER_FORM = ListForm(
    {
        "change": Column(_ORDERS["change"], 18),
        "item": Column(_ORDERS["item"], 20),
        "serial": Column(_ORDERS["serial"], 12),
        "start_before": Column(_ORDERS["start_before"], 13),
        "start_date": Column(_ORDERS["start_date"], 13),
        "due_before": Column(_ORDERS["due_before"], 13),
        "due_date": Column(_ORDERS["due_date"], 13),
        "quantity_before": Column(_ORDERS["quantity_before"], 12, "head_right"),
        "quantity": Column(_ORDERS["quantity"], 12, "head_right"),
        "unit": Column(_ORDERS["unit"], 6),
        "order": Column(_ORDERS["order"], 12),
    }
)
_WORSE = ("later", "never")
_UNLISTED = ("same", "begun")


@dataclass(frozen=True)
class Comparison:
    """Two plans side by side.

    changes: as changed_orders gives them; nervousness: a share; moved: as moved_forecasts;
    causes: as causes; changed_at: each step of replacing tables with the orders it changed; apart:
    why there is none of these two, where the plans are of different things.
    """

    before: str
    after: str
    start: dt.date
    title: str
    changes: pl.DataFrame
    nervousness: float
    moved: pl.DataFrame
    causes: pl.DataFrame
    changed_at: Sequence[tuple[str, int]]
    apart: str


def compare_book(found: Comparison) -> Book:
    """The comparison as a workbook of two sheets."""
    title = found.title or common.DEFAULT_TITLE
    return Book(compare_sheets(found), found.after, title, found.start)


def compare_sheets(found: Comparison) -> list[Sheet]:
    """Whose day moved and because of which table; which orders are other ones than before."""
    made = common.PLAN_FROM.format(date=found.start.strftime("%d %b %Y"))
    run, since = (
        words.format(run_id=name)
        for words, name in ((common.RUN, found.after), (said.SINCE, found.before))
    )
    subtitle = common.BETWEEN.join([made, run, since])
    return [_moved_sheet(found, subtitle), _orders_sheet(found, subtitle)]


def change_counts(found: Comparison) -> str:
    """How many orders changed in which way, as a sentence."""
    ways = found.changes.filter(~pl.col("change").is_in(_UNLISTED))["change"]
    counted = ways.str.split(", ").explode().value_counts()
    counts = dict(counted.iter_rows())
    order = ("new", "gone", "moved", "larger", "smaller")
    listed = ", ".join(f"{counts[way]} {said.CHANGES[way]}" for way in order if way in counts)
    return said.ORDERS_CHANGED.format(counts=listed) if listed else said.NO_ORDER_CHANGED


def caused_by(found: Comparison) -> dict[tuple[str, str], str]:
    """Because of what the day of an airframe or spares order moved, in words, by kind and name."""
    parts: dict[tuple[str, str], list[str]] = {}
    for row in found.causes.iter_rows(named=True):
        words = said.CAUSE_WITHOUT_DAYS if row["days"] is None else said.CAUSE
        key = (row["demand_kind"], row["demand"])
        parts.setdefault(key, []).append(words.format(**row))
    return {key: ", ".join(words) for key, words in parts.items()}


def orders_by_step(found: Comparison) -> Iterator[str]:
    """How many orders each step changed, a sentence each; in the last one those with none."""
    without = []
    for name, count in found.changed_at:
        if not count:
            without.append(name)
            continue
        words = said.STEP_CHANGED_ONE if count == 1 else said.STEP_CHANGED
        by_bomkit = name.startswith(said.BOMKIT_ITSELF)
        yield words.format(count=count, what=name if by_bomkit else said.THE_NEW.format(name=name))
    if without:
        yield said.STEP_CHANGED_NONE.format(what=said.THE_NEW.format(name=", ".join(without)))


def _moved_sheet(found: Comparison, subtitle: str) -> Sheet:
    """A row for each airframe and spares order with another day; what changed orders below."""
    why = caused_by(found)
    lines = [_MOVED_FORM.line(_moved_cells(row, why)) for row in found.moved.iter_rows(named=True)]
    if not lines:
        lines = [Line([(said.NO_FORECAST_MOVED, "plain")])]
    lines.append(Line([]))
    lines += [Line([(sentence.strip(), "plain")]) for sentence in orders_by_step(found)]
    if len(found.changed_at) > 1:
        lines.append(Line([(said.STEPS_NOTE, "note")]))
    nervous = said.NERVOUS.format(percent=100 * found.nervousness)
    return Sheet(
        name=said.SHEET_CHANGED,
        title=said.CHANGED_TITLE.format(title=found.title or common.DEFAULT_TITLE),
        subtitle=subtitle,
        columns=_MOVED_FORM.columns,
        lines=lines,
        notes=(f"{change_counts(found)} {nervous}", found.apart or said.CHANGED_NOTE),
        filtered=False,
        frozen_columns=1,
    )


def _moved_cells(row: dict[str, Any], why: dict[tuple[str, str], str]) -> dict[str, Cell]:
    """One airframe or spares order with its days."""
    look = "late_words" if row["change"] in _WORSE else "text"
    return {
        "whom": (said.KINDS_COMPARED[row["demand_kind"]].format(**row), "strong"),
        "serial": text(row["serial"]),
        "change": (said.DEMAND_CHANGES[row["change"]], look),
        "before": _day(row["before"]),
        "after": _day(row["after"]),
        "days": BLANK if row["days"] is None else (row["days"], "days_moved"),
        "cause": text(why.get((row["demand_kind"], row["demand"]), ""), "wrapped"),
    }


def _orders_sheet(found: Comparison, subtitle: str) -> Sheet:
    """A row for each order that is another one than before, the next to begin first."""
    changed = found.changes.filter(~pl.col("change").is_in(_UNLISTED)).sort(
        pl.min_horizontal("start_before", "start_date"), "item", "serial", "order_before", "order"
    )
    lines = [_ORDER_FORM.line(_order_cells(row)) for row in changed.iter_rows(named=True)]
    if not lines:
        lines = [_ORDER_FORM.sentence(said.NO_ORDER_CHANGED)]
    return Sheet(
        name=said.SHEET_CHANGED_ORDERS,
        title=said.CHANGED_ORDERS_TITLE,
        subtitle=subtitle,
        columns=_ORDER_FORM.columns,
        lines=lines,
        notes=(said.CHANGED_ORDERS_NOTE,),
        filtered=len(changed) > 0,
        frozen_columns=2,
    )


def _order_cells(row: dict[str, Any]) -> dict[str, Cell]:
    """One order as it was and as it is."""
    days = ("start_before", "start_date", "due_before", "due_date")
    return {
        "change": (", ".join(said.CHANGES[way] for way in row["change"].split(", ")), "strong"),
        "item": text(row["item"]),
        "serial": text(row["serial"]),
        **{name: _day(row[name]) for name in days},
        "quantity_before": quantity(row["quantity_before"], row["unit"]),
        "quantity": quantity(row["quantity"], row["unit"]),
        "unit": (row["unit"], "unit"),
        "order": text(row["order"] or ""),
    }


def _day(day: dt.date | None) -> Cell:
    """A day with its year; blank if there is none."""
    return BLANK if day is None else (day, "year_date")
