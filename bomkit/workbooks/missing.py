"""What open and planned orders must still bring: the lines of the shortage sheets."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from bomkit import labels
from bomkit.workbooks.report import FIGURES, Report, iso_week
from bomkit.workbooks.sheet import Cell, expected, quantity

_TO_COME = ["open order", "planned order", "none"]


def missing_lines(report: Report) -> pl.DataFrame:
    """What open and planned orders must still bring, by whom it is for.

    Columns demand, demand_kind, who (in words), item, serial, quantity, need_date, comes,
    late_days, supply, supply_kind, supply_date, listed (late, or needed within the release weeks);
    description, unit, source, process, supplier; overdue (date since which an open order is).
    What work on an airframe lacks is missing for that airframe.
    """
    in_hand = (pl.col("demand_kind") == "in work") & (pl.col("demand_serial") != "")
    grouped = (
        report.pegs.filter(pl.col("supply_kind").is_in(_TO_COME))
        .filter(pl.col("demand_kind") != "stock")
        .with_columns(
            demand=pl.when(in_hand).then("demand_serial").otherwise("demand"),
            demand_kind=pl.when(in_hand).then(pl.lit("airframe")).otherwise("demand_kind"),
        )
        .group_by(
            *("demand", "demand_kind", "item", "serial"),
            *("supply", "supply_kind", "supply_date", "comes"),
        )
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            pl.col("late_days").max(),
        )
    )
    in_release = iso_week("need_date").is_in(report.release_weeks)
    return (
        grouped.with_columns(who=in_words(), listed=in_release | (pl.col("late_days") > 0))
        .join(_about(report), on="item", how="left")
        .join(_overdue(report), on=["item", "supply", "supply_kind"], how="left")
        .sort("who", "need_date", "item", "serial", "supply", "comes")
    )


def in_words() -> pl.Expr:
    """A demand in words, from the columns demand and demand_kind."""
    named = [
        pl.when(pl.col("demand_kind") == kind).then(
            pl.format(words.replace("{demand}", "{}"), "demand")
        )
        for kind, words in labels.DEMAND_KINDS.items()
        if "{demand}" in words
    ]
    return pl.coalesce(*named, "demand")


def _about(report: Report) -> pl.DataFrame:
    """What the items table says about each item."""
    return report.tables["items"].select(
        "item", "description", "unit", "source", "process", "supplier"
    )


def _overdue(report: Report) -> pl.DataFrame:
    """Open orders that were due before the plan's first day: item, supply, supply_kind, overdue."""
    return (
        report.tables["open_orders"]
        .filter(pl.col("due_date") < report.start)
        .group_by("item", supply="order")
        .agg(overdue=pl.col("due_date").min())
        .with_columns(supply_kind=pl.lit("open order"))
    )


def state_cell(line: Mapping[str, Any]) -> Cell:
    """The state of a missing line: overdue, late, to start or coming."""
    if line["late_days"]:
        return (labels.LATE_WORD, "late")
    if line["overdue"] is not None:
        return (labels.OVERDUE_STATE, "late")
    if line["supply_kind"] == "planned order":
        return (labels.TO_START[line["source"]], "to_do")
    return (labels.COMING, "coming")


def missing_quantity(value: float, unit: str) -> Cell:
    """A quantity; a share of a piece, as scrap leaves it, in tenths."""
    return quantity(value, unit) if value == round(value) else expected(value, unit)


def would_help(report: Report, item: str, serial: str) -> str:
    """Stand-ins for an item in words; nothing where there is none."""
    return "; ".join(_stand_in(report, row) for row in report.proposals.get((item, serial), []))


def _stand_in(report: Report, row: Mapping[str, Any]) -> str:
    """One stand-in in words."""
    of_item = row["stand_in"] if row["kind"] == "alternate" else row["item"]
    place = labels.STAND_IN_PLACE.format(locations=row["locations"]) if row["locations"] else ""
    return labels.STAND_IN[row["kind"]].format(
        stand_in=row["stand_in"],
        quantity=f"{row['quantity']:,.3f}".rstrip("0").rstrip("."),
        unit=report.items[of_item]["unit"],
        place=place,
    )
