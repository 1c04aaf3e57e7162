"""What to ask for of open orders: by supplier for the telephone, by process for the shops."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import polars as pl

from bomkit.words import common
from bomkit.words.weekly import asking as words
from bomkit.words.weekly import buying as buy_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report, shop
from bomkit.workbooks.writing.sheet import BLANK, Column, Line, Sheet, quantity, text

_HEADS = words.ASK_COLUMNS
_FORM = ListForm(
    {
        "done": Column(_HEADS["done"], 3, "head_centre"),
        "order": Column(_HEADS["order"], 9, shows=True),
        "item": Column(_HEADS["item"], 8.6, shows=True),
        "description": Column(_HEADS["description"], 21.2),
        "ask": Column(_HEADS["ask"], 16),
        "due": Column(_HEADS["due"], 9.6, shows=True),
        "right": Column(_HEADS["right"], 9.4),
        "days": Column(_HEADS["days"], 6.4, "head_right"),
        "quantity": Column(_HEADS["quantity"], 7.4, "head_right"),
        "right_quantity": Column(_HEADS["right_quantity"], 9, "head_right"),
        "unit": Column(_HEADS["unit"], 4.1),
        "value": Column(_HEADS["value"], 10.2, "head_right"),
        "waits": Column(_HEADS["waits"], 9.2),
        "date": Column(_HEADS["date"], 11, fills="new_date"),
        "number": Column(_HEADS["number"], 7.4, fills="new_quantity"),
        "cancelled": Column(_HEADS["cancelled"], 6.6, fills="cancelled"),
    },
    "answered",
)
_KEY = ("order", "item", "meant_for", "due_date")
_ORDER = {"sooner": 1, "overdue": 2, "later": 3, "less": 4, "not needed": 5}


def ask_suppliers_sheet(report: Report, week: str) -> list[Sheet]:
    """What to ask suppliers for; first the one for whose parts somebody waits the longest.

    In the first week alone; none where there is nothing to ask.
    """
    if week != report.list_weeks[0]:
        return []
    suppliers = report.tables["suppliers"].select("supplier", "email", party_name="name")
    own = _with_items(report).filter(pl.col("source") == "buy")
    named = pl.when(pl.col("party_name") != "").then("party_name")
    known = pl.when(pl.col("supplier") != "").then("supplier")
    parties = own.join(suppliers, on="supplier", how="left").with_columns(
        party=pl.coalesce(named, known, pl.lit(buy_words.NO_SUPPLIER)),
        about=pl.col("email").fill_null(""),
    )
    return _sheet(report, week, parties, words.ASK_BUY_TITLE, words.ASK_BUY_CAUTION)


def ask_shops_sheet(report: Report, week: str, sources: Sequence[str]) -> list[Sheet]:
    """What to ask the shops for, by process; first what somebody waits for the longest.

    In the first week alone; none where there is nothing to ask.
    """
    if week != report.list_weeks[0]:
        return []
    own = _with_items(report).filter(pl.col("source").is_in(sources))
    parties = own.with_columns(party=shop(), about=pl.lit(""))
    return _sheet(report, week, parties, words.ASK_SHOP_TITLE, words.ASK_SHOP_CAUTION)


def _with_items(report: Report) -> pl.DataFrame:
    """The moves with what their items and open orders say; supplier: who delivers the order."""
    about = report.tables["items"].select(
        "item", "description", "unit", "source", "process", usual="supplier"
    )
    return (
        report["moves"]
        .join(about, on="item", maintain_order="left")
        .join(report.plan.deliverers, on=["order", "item"], how="left", maintain_order="left")
        .with_columns(supplier=pl.coalesce("by", "usual"))
    )


def _sheet(report: Report, week: str, moves: pl.DataFrame, title: str, caution: str) -> list[Sheet]:
    """The moves by party, one row a move, with room for the answer."""
    if moves.is_empty():
        return []
    ranked = _ranked(report, moves)
    sheet = Sheet(
        name=words.ASK_SHEET,
        title=title,
        subtitle=report.subtitle(common.WEEK.format(week=week)),
        columns=_FORM.columns,
        lines=_lines(report, ranked),
        cautions=(caution,),
        notes=(*_first(report, ranked.row(0, named=True)), words.ASK_NOTE),
        entries=_FORM.entries,
        frozen_columns=3,
    )
    return [sheet]


def _ranked(report: Report, moves: pl.DataFrame) -> pl.DataFrame:
    """The moves by party: those first who save the most, or for whom somebody waits the longest."""
    waited = pl.when(pl.col("demand") != "").then("days").otherwise(0)
    first = (
        pl.when(pl.col("demand") != "")
        .then(0)
        .otherwise(pl.col("kind").replace_strict(_ORDER, return_dtype=pl.Int64))
    )
    saved = report.plan.relief.group_by("supplier").agg(pl.col("saved").sum())
    return (
        moves.join(saved, on="supplier", how="left")
        .with_columns(pl.col("saved").fill_null(0), worst=waited.max().over("party"), rank=first)
        .sort(
            *("saved", "worst", "party", "rank", "days", "due_date", "order", "item", "kind"),
            descending=[True, True, False, False, True, False, False, False, False],
        )
    )


def _lines(report: Report, ranked: pl.DataFrame) -> list[Line]:
    """Below the name of each party its moves; an order is answered once."""
    lines: list[Line] = []
    answered: set[tuple[object, ...]] = set()
    for group in ranked.partition_by("party", maintain_order=True):
        about = {"ask": (group["about"][0], "section_note")}
        lines.append(_FORM.section(group["party"][0], about, height=20))
        for row in group.iter_rows(named=True):
            key = tuple(row[name] for name in _KEY)
            lines.append(_line(report, row, () if key in answered else key))
            answered.add(key)
    return lines


def _first(report: Report, first: Mapping[str, Any]) -> Iterator[str]:
    """Whom to ask first, and what it saves; nothing where no airframe is ready earlier."""
    own = report.plan.relief.filter(pl.col("supplier") == first["supplier"])
    if first["saved"]:
        whom = ", ".join(words.ASK_GAIN.format(**row) for row in own.iter_rows(named=True))
        yield words.ASK_FIRST.format(party=first["party"], days=first["saved"], whom=whom)


def _line(report: Report, move: Mapping[str, Any], key: Sequence[object]) -> Line:
    """One move of an open order; key: none where the answer stands on another line of the order."""
    pressing = move["kind"] in ("sooner", "overdue")
    ask = (words.ASK_KINDS[move["kind"]], "late" if pressing else "to_do_words")
    less = move["right_quantity"] < move["quantity"]
    described = (
        f"{move['description']} · {move['meant_for']}" if move["meant_for"] else move["description"]
    )
    right = quantity(move["right_quantity"], move["unit"], "strong_")
    moved = move["right_date"] is not None and move["days"]
    cells = {
        "done": (common.BOX, "tick"),
        "order": text(move["order"], "strong_wrapped"),
        "item": text(move["item"], "strong_wrapped"),
        "description": text(described, "wrapped"),
        "ask": ask,
        "due": (move["due_date"], "late_brief_date" if pressing else "brief_date"),
        "right": (move["right_date"], "strong_brief_date") if moved else BLANK,
        "days": (move["days"], "days_moved") if moved else BLANK,
        "quantity": quantity(move["quantity"], move["unit"]),
        "right_quantity": right if less else BLANK,
        "unit": (move["unit"], "unit"),
        "value": BLANK if move["value"] is None else (move["value"], "money"),
        "waits": text(_who_waits(report, move), "wrapped"),
        **_FORM.to_fill(bool(key)),
    }
    return _FORM.row(cells, key)


def _who_waits(report: Report, move: Mapping[str, Any]) -> str:
    """Whom the order makes late; of one that is to come sooner and makes nobody late yet, for whom
    it is needed first."""
    if move["demand"] or move["kind"] not in ("sooner", "overdue"):
        return str(move["demand"])
    first = report.first_served.get((move["order"], move["item"], move["serial"]))
    return "" if first is None else words.ASK_IS_FOR.format(demand=first)
