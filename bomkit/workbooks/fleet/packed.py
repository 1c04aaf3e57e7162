"""What goes into a box, as packing and consignment lists both show it."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

import polars as pl

from bomkit.words.fleet import packing as said
from bomkit.words.weekly import picks as pick_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import Report
from bomkit.workbooks.shortages.missing import in_words
from bomkit.workbooks.writing.sheet import Cell, Line, in_a_sentence

ROW = 20  # points, where words need no more


def packing_rows(report: Report, promise: Mapping[str, Any]) -> pl.DataFrame:
    """What to pack, or to wait for, of one row of a spares order, and what each part is."""
    return (
        report["packing"]
        .filter(
            (pl.col("order") == promise["order"])
            & (pl.col("item") == promise["item"])
            & (pl.col("serial") == promise["serial"])
            & (pl.col("need_date") == promise["need_date"])
        )
        .join(_about(report), on="part", how="left", maintain_order="left")
        .with_columns(who=_waiting_in_words())
    )


def asked_for(report: Report, promise: Mapping[str, Any]) -> dict[str, Any]:
    """The row of spares_orders behind a promise."""
    rows = report.tables["spares_orders"]
    for name in ("order", "item", "serial", "need_date"):
        rows = rows.filter(pl.col(name) == promise[name])
    return rows.row(0, named=True)


def _about(report: Report) -> pl.DataFrame:
    """What the items say about each part."""
    return report.tables["items"].select("description", "unit", "mass_g", "cost", part="item")


def _waiting_in_words() -> pl.Expr:
    """Who would wait, in words."""
    return in_words("waiting", "waiting_kind")


def packed_lines(
    rows: pl.DataFrame, form: ListForm, line: Callable[[Mapping[str, Any]], Line]
) -> Iterator[Line]:
    """What to pack now, dangerous goods apart, then what to wait for.

    line: what makes the line of a row of the table packing.
    """
    take = pl.col("state") == "take"
    harmless = pl.col("hazard") == ""
    parts = (
        (said.PACK_NOW, "", rows.filter(take & harmless)),
        (said.PACK_HAZARD, said.HAZARD_CAUTION, rows.filter(take & ~harmless)),
        (said.PACK_WAIT, "", rows.filter(~take)),
    )
    if rows.filter(take).is_empty():
        yield Line([(said.PACK_NOTHING_YET, "plain")], height=ROW)
    for heading, caution, chosen in parts:
        if chosen.is_empty():
            continue
        yield form.section(heading)
        if caution:
            yield Line([(caution, "caution")])
        yield from map(line, chosen.iter_rows(named=True))


def total_lines(form: ListForm, rows: pl.DataFrame, whole: str, noted: str) -> Iterator[Line]:
    """Mass and value of what can be packed by now and of the whole, and what has no mass stated.

    whole: what the whole is called; noted: the column in which that is said.
    """
    by_now = rows.filter(pl.col("state") == "take")
    for heading, chosen in ((said.PACK_TOTAL, by_now), (whole, rows)):
        unweighed = chosen.filter(pl.col("mass_g").is_null())["part"].unique().sort()
        told = said.PACK_UNWEIGHED.format(items=", ".join(unweighed)) if len(unweighed) else ""
        mass = float((chosen["mass_g"] * chosen["quantity"]).sum()) / 1000
        value = float((chosen["cost"] * chosen["quantity"]).sum())
        more: dict[str, Cell] = {
            "mass": (round(mass, 6), "section_mass"),
            "value": (round(value, 4), "section_right"),
            noted: (told, "section_note"),
        }
        yield form.section(heading, more)


def signature_lines(form: ListForm, name: str, date: str, pens: Iterable[str]) -> Iterator[Line]:
    """Where packer and checker sign; by key the columns of name and date, and those to write in."""
    yield Line([], height=10)
    packer, checker, on = said.PACK_SIGN
    for who in (packer, checker):
        blank: dict[str, Cell] = dict.fromkeys(pens, ("", "pen"))
        yield form.line({name: (who, "plain"), date: (on, "plain_right"), **blank}, 26)


def when_it_comes(report: Report, row: Mapping[str, Any]) -> str:
    """From when on what is still to come can be taken, or that nothing brings it."""
    comes = row["can_take"]
    return said.PACK_FROM.format(date=report.day(comes)) if comes else said.PACK_NEVER


def described(row: Mapping[str, Any]) -> str:
    """What a part is, and what is dangerous about it."""
    return " ".join(filter(None, (row["description"], row["hazard"])))


def noted(row: Mapping[str, Any], first: str) -> str:
    """Words on a line: the first ones, what it takes the place of, and its own note."""
    instead = pick_words.PICK_INSTEAD.format(item=row["replaces"]) if row["replaces"] else ""
    return "; ".join(filter(None, (first, instead, row["note"])))


def dangerous_goods(rows: pl.DataFrame) -> Iterator[str]:
    """What dangerous goods the whole holds, if any."""
    goods = rows.filter(pl.col("hazard") != "").select("part", "hazard").unique().sort("part")
    if len(goods):
        named = "; ".join(f"{part}: {hazard}" for part, hazard in goods.iter_rows())
        yield said.PACK_DANGEROUS.format(goods=named)


def stock_in_words(report: Report, row: Mapping[str, Any]) -> tuple[str, str]:
    """Whether what is taken is free, from whom it is, or why it has to wait; and the style."""
    if row["state"] == "take":
        if row["waiting"]:
            taken = said.PACK_TAKEN.format(
                who=row["who"], days=row["waiting_days"], date=report.day(row["free_from"])
            )
            return taken, "late_wrapped"
        return said.PACK_FREE, "faint_wrapped"
    if row["in_stock"] <= 0:
        return said.PACK_NOT_THERE, "faint_wrapped"
    if row["waiting"]:
        spoken = said.PACK_SPOKEN.format(
            free=in_a_sentence(row["free"]),
            stock=in_a_sentence(row["in_stock"]),
            who=row["who"],
            days=row["waiting_days"],
        )
        return spoken, "to_do_words"
    words = said.PACK_PARTLY.format(
        free=in_a_sentence(row["free"]), stock=in_a_sentence(row["in_stock"])
    )
    return words, "to_do_words"
