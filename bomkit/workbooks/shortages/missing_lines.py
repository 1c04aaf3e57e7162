"""What open and planned orders must still bring: the lines of the shortage sheets."""

from collections.abc import Mapping
from math import ceil
from typing import Any

import polars as pl

from bomkit.tables.shared_columns import NEVER
from bomkit.tables.weeks import in_weeks
from bomkit.units import WHOLE_UNITS
from bomkit.words import common, shortages
from bomkit.workbooks.pegs_of_orders import FIGURES
from bomkit.workbooks.report import Report
from bomkit.workbooks.writing.sheet import BLANK, Cell, in_a_sentence, quantity

_TO_COME = ["open order", "planned order", "none"]


def missing_lines(report: Report) -> pl.DataFrame:
    """What open and planned orders must still bring that is late, or needed within the release
    weeks, by whom it is for.

    Columns demand, demand_kind, who (in words), item, serial, quantity, need_date, comes,
    late_days, supply, supply_kind, supply_date; description, unit, source, process, supplier,
    cures; overdue (since when an open order is).
    What work on an airframe lacks is missing for that airframe; the airframe is not missing itself.
    """
    listed = in_weeks("need_date", *report.list_weeks) | (pl.col("late_days") > 0)
    return (
        _work_as_airframes(_to_come(report, listed))
        .group_by(
            *("demand", "demand_kind", "demand_serial", "item", "serial"),
            *("supply", "supply_kind", "supply_date", "comes"),
        )
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            pl.col("late_days").max(),
        )
        .filter(listed)
        .with_columns(who=in_words())
        .join(_about(report), on="item", how="left")
        .join(report.overdue, on=["item", "supply", "supply_kind"], how="left")
        .sort("who", "need_date", "item", "serial", "supply", "comes")
    )


def _work_as_airframes(pegs: pl.DataFrame) -> pl.DataFrame:
    """The pegs with what work on an airframe lacks as demands of that airframe."""
    in_hand = (pl.col("demand_kind") == "in work") & (pl.col("demand_serial") != "")
    return pegs.with_columns(
        demand=pl.when(in_hand).then("demand_serial").otherwise("demand"),
        demand_kind=pl.when(in_hand).then(pl.lit("airframe")).otherwise("demand_kind"),
    )


def _to_come(report: Report, listed: pl.Expr) -> pl.DataFrame:
    """The pegs of what must still come, but for those of supplies of which a demand has none that
    is listed: most of a long horizon's, and they need not be added up."""
    itself = pl.col("item").is_in(report.tables["build_plan"]["item"].unique().implode())
    coming = pl.col("supply_kind").is_in(_TO_COME) & (pl.col("demand_kind") != "stock")
    pegs = report["pegs"].filter(coming & ~itself)
    return pegs.join(pegs.filter(listed), on=["supply", "demand"], how="semi")


def in_words(name: str = "demand", kind: str = "demand_kind") -> pl.Expr:
    """A demand in words, from the columns of its name and of its kind."""
    named = [
        pl.when(pl.col(kind) == one).then(pl.format(words.replace("{demand}", "{}"), name))
        for one, words in common.DEMAND_KINDS.items()
        if "{demand}" in words
    ]
    return pl.coalesce(*named, name)


def _about(report: Report) -> pl.DataFrame:
    """What the items table says about each item, and whether its process cures."""
    curing = report.tables["processes"].filter(pl.col("cures") == "yes")["process"]
    return report.tables["items"].select(
        *("item", "description", "unit", "source", "process", "supplier"),
        cures=pl.col("process").is_in(curing.implode()),
    )


def state_cell(line: Mapping[str, Any]) -> Cell:
    """The state of a missing line: overdue, late (and what to do), to start or coming."""
    if line["overdue"] is not None:
        return (shortages.OVERDUE_STATE, "late")
    if line["late_days"]:
        return (_what_to_do(line), "late")
    if line["supply_kind"] == "planned order":
        return (common.TO_START[line["source"]], "to_do")
    return (common.COMING, "coming")


def _what_to_do(line: Mapping[str, Any]) -> str:
    """What to do about a line that comes too late; of what cures only that it is late."""
    open_order = line["supply_kind"] == "open order"
    if line["source"] == "buy":
        return shortages.ASK_IT_SOONER if open_order else shortages.ORDER_NOW
    if open_order:
        return shortages.LATE_IN_WORK
    return shortages.LATE_CURING if line["cures"] else shortages.START_FIRST


def missing_quantity(value: float, unit: str) -> Cell:
    """A quantity; a share of a piece, as scrap leaves it, is a piece that is missing."""
    return quantity(float(ceil(value - 1e-6)) if unit in WHOLE_UNITS else value, unit)


def comes_cell(line: Mapping[str, Any]) -> Cell:
    """The day on which a missing line comes; nobody knows it of an overdue order, and of what
    nothing brings."""
    if line["overdue"] is not None:
        return (shortages.NO_NEW_DATE, "late_words")
    if line["late_days"] >= NEVER:
        return (common.NO_DATE, "late_words")
    return (line["comes"], "late_date" if line["late_days"] else "date")


def days_late(days: int) -> Cell:
    """By how many working days something comes too late; blank of what nothing brings."""
    return BLANK if days >= NEVER else (days, "late_pieces" if days else "pieces")


def mould_words(report: Report, order: str) -> str:
    """Until when an order waits for its mould, in words; nothing if it does not."""
    if order not in report.plan.moulds.lacking:
        return ""
    again = report.plan.moulds.lacking[order]
    if again is None:
        return shortages.LACKS_MOULD
    return shortages.WAITS_FOR_MOULD.format(date=report.day(again))


def would_help(report: Report, item: str, serial: str) -> str:
    """Stand-ins for an item in words; nothing where there is none."""
    return "; ".join(_stand_in(report, row) for row in report.proposals.get((item, serial), []))


def _stand_in(report: Report, row: Mapping[str, Any]) -> str:
    """One stand-in in words."""
    of_item = row["stand_in"] if row["kind"] == "alternate" else row["item"]
    place = shortages.STAND_IN_PLACE.format(locations=row["locations"]) if row["locations"] else ""
    return shortages.STAND_IN[row["kind"]].format(
        stand_in=row["stand_in"],
        quantity=in_a_sentence(row["quantity"]),
        unit=report.items[of_item]["unit"],
        place=place,
        note=shortages.STAND_IN_NOTE.format(note=row["note"]) if row["note"] else "",
        reason=row["note"] or shortages.NO_REASON,
    )


def described(report: Report, row: Mapping[str, Any]) -> str:
    """The item's description, and since when its open order is overdue."""
    if row["overdue"] is None:
        return str(row["description"])
    since = shortages.OVERDUE_SINCE.format(date=report.day(row["overdue"]))
    return "; ".join(filter(None, (row["description"], since)))
