"""What goes into a box, as packing and consignment lists both show it."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from math import fsum
from typing import Any

from bomkit.words.fleet import packing as said
from bomkit.words.weekly import picks as pick_words
from bomkit.workbooks.for_whom import demand_in_words
from bomkit.workbooks.list_form import ListForm
from bomkit.workbooks.report import SPARES_KEY, Report
from bomkit.workbooks.writing.sheet import Cell, Line, in_a_sentence

ROW = 20  # points, where words need no more

Row = Mapping[str, Any]  # of the table packing


def packing_rows(report: Report, promise: Mapping[str, Any]) -> list[dict[str, Any]]:
    """What to pack, or to wait for, of one row of a spares order, what each part is, and who would
    wait, in words."""
    return [
        {**row, **_about(report.items[row["part"]]), "who": _waits(row)}
        for row in report.packed.get(tuple(promise[name] for name in SPARES_KEY), ())
    ]


def asked_for(report: Report, promise: Mapping[str, Any]) -> dict[str, Any]:
    """The row of spares_orders behind a promise."""
    return report.spares_asked[tuple(promise[name] for name in SPARES_KEY)]


def _about(item: Mapping[str, Any]) -> dict[str, Any]:
    """What the items say about a part."""
    return {name: item[name] for name in ("description", "unit", "mass_g", "cost")}


def _waits(row: Mapping[str, Any]) -> str:
    """Who would wait, in words."""
    return demand_in_words(row["waiting"], row["waiting_kind"]) if row["waiting"] else ""


def packed_lines(
    rows: Sequence[Row], form: ListForm, line: Callable[[Row], Line]
) -> Iterator[Line]:
    """What to pack now, dangerous goods apart, then what to wait for.

    line: what makes the line of a row of the table packing.
    """
    now = [row for row in rows if row["state"] == "take"]
    parts = (
        (said.PACK_NOW, "", [row for row in now if not row["hazard"]]),
        (said.PACK_HAZARD, said.HAZARD_CAUTION, [row for row in now if row["hazard"]]),
        (said.PACK_WAIT, "", [row for row in rows if row["state"] != "take"]),
    )
    if not now:
        yield Line([(said.PACK_NOTHING_YET, "plain")], height=ROW)
    for heading, caution, chosen in parts:
        if not chosen:
            continue
        yield form.section(heading)
        if caution:
            yield Line([(caution, "caution")])
        yield from map(line, chosen)


def total_lines(form: ListForm, rows: Sequence[Row], whole: str, noted: str) -> Iterator[Line]:
    """Mass and value of what can be packed by now and of the whole, and what has no mass stated.

    whole: what the whole is called; noted: the column in which that is said.
    """
    by_now = [row for row in rows if row["state"] == "take"]
    for heading, chosen in ((said.PACK_TOTAL, by_now), (whole, rows)):
        unweighed = sorted({row["part"] for row in chosen if row["mass_g"] is None})
        told = said.PACK_UNWEIGHED.format(items=", ".join(unweighed)) if unweighed else ""
        mass = fsum((row["mass_g"] or 0.0) * row["quantity"] for row in chosen) / 1000
        value = fsum((row["cost"] or 0.0) * row["quantity"] for row in chosen)
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


def makes_later(promise: Mapping[str, Any]) -> str:
    """Whom a grounded order makes later the most, in words; empty: nobody."""
    if not promise["later"]:
        return ""
    days = promise["later_days"]
    words = said.PACK_LEFT_WITHOUT_DATE if days is None else said.PACK_MAKES_LATER
    return words.format(who=demand_in_words(promise["later"], promise["later_kind"]), days=days)


def noted(row: Mapping[str, Any], first: str) -> str:
    """Words on a line: the first ones, what it takes the place of, and its own note."""
    instead = pick_words.PICK_INSTEAD.format(item=row["replaces"]) if row["replaces"] else ""
    return "; ".join(filter(None, (first, instead, row["note"])))


def dangerous_goods(rows: Iterable[Row]) -> Iterator[str]:
    """What dangerous goods the whole holds, if any."""
    goods = sorted({(row["part"], row["hazard"]) for row in rows if row["hazard"]})
    if goods:
        named = "; ".join(f"{part}: {hazard}" for part, hazard in goods)
        yield said.PACK_DANGEROUS.format(goods=named)


def stock_in_words(report: Report, row: Mapping[str, Any]) -> tuple[str, str]:
    """Whether what is taken is free, from whom it is, or why it has to wait; and the style."""
    if row["state"] == "take":
        return _picked_in_words(report, row)
    if row["in_stock"] <= 0:
        return said.PACK_NOT_THERE, "faint_wrapped"
    if row["waiting"]:
        never = row["waiting_days"] is None
        spoken = (said.PACK_SPOKEN_FOR_GOOD if never else said.PACK_SPOKEN).format(
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


def _picked_in_words(report: Report, row: Mapping[str, Any]) -> tuple[str, str]:
    """Whether what is taken is free, or from whom it is; and the style."""
    if not row["waiting"]:
        return said.PACK_FREE, "faint_wrapped"
    if row["waiting_days"] is None:
        return said.PACK_TAKEN_FOR_GOOD.format(who=row["who"]), "late_wrapped"
    taken = said.PACK_TAKEN.format(
        who=row["who"], days=row["waiting_days"], date=report.day(row["free_from"])
    )
    return taken, "late_wrapped"
