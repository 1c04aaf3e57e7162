"""What stores hand out to the orders of a week, lot by lot, for every list of them."""

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

import polars as pl

from bomkit.units import WHOLE_UNITS
from bomkit.words import common, shortages
from bomkit.words.weekly import picks as pick_words
from bomkit.words.weekly import work as work_words
from bomkit.workbooks.of_pegs import FIGURES
from bomkit.workbooks.report import Report, in_weeks
from bomkit.workbooks.writing.sheet import Line, in_a_sentence, section

_BESIDE_DAY, _DAY_HEIGHT = 3, 20.0  # the column beside the longest name of a day


@dataclass(frozen=True)
class Picks:
    """The orders that take something from stores in a week, and what.

    orders: rows of the table ready with quantity and unit, by start day and name, and of each day
    those in work that lack something; parts: by order and day its components by location and lot,
    what is not there last, each with item, serial, supply_kind, supply, location, quantity,
    need_date, comes, late_days, expires, replaces, overdue.
    """

    orders: list[dict[str, Any]]
    parts: Mapping[tuple[str, dt.date], list[dict[str, Any]]]

    def of(self, order: Mapping[str, Any]) -> list[dict[str, Any]]:
        """What an order takes on its day."""
        return self.parts.get((order["order"], order["start_date"]), [])


def picks_of(report: Report, week: str, in_work: bool = True) -> Picks:
    """What stores hand out in a week; in_work: to orders that were begun before as well."""
    starting = report["ready"].filter(in_weeks("start_date", week))
    asked = report["orders"].select("order", "quantity", "unit")
    orders = starting.join(asked, on="order", how="left", maintain_order="left")
    needs = _needs_of(report, starting)
    if in_work:
        lacking = _lacking(report, week)
        needs = pl.concat([needs, lacking])
        orders = pl.concat([orders, _in_work(report, lacking)], how="diagonal_relaxed")
    orders = orders.sort("start_date", "order")
    return Picks(list(orders.iter_rows(named=True)), _parts(report, needs))


def _needs_of(report: Report, starting: pl.DataFrame) -> pl.DataFrame:
    """The pegs of orders that start, with day, the day on which it is handed out."""
    days = starting.select(from_order="order", day="start_date")
    return report["pegs"].join(days, on="from_order", how="inner", maintain_order="left")


def _lacking(report: Report, week: str) -> pl.DataFrame:
    """The same of what orders in work lack and need in a week, or needed before."""
    own = (pl.col("demand_kind") == "in work") & (pl.col("from_order") == "")
    day = pl.max_horizontal("need_date", pl.lit(report.start))
    lacking = report["pegs"].filter(own).with_columns(from_order="need", day=day)
    return lacking.filter(in_weeks("day", week))


def _in_work(report: Report, lacking: pl.DataFrame) -> pl.DataFrame:
    """Orders in work that lack something, as those that start: a row for each day."""
    begun = report.tables["open_orders"].group_by("order", maintain_order=True).agg(
        pl.col("item", "serial").first(), pl.col("quantity").sum()
    )  # fmt: skip
    about = report.tables["items"].select("item", "unit", "source", "process")
    late = pl.col("late_days").max() > 0
    days = lacking.group_by(order="from_order", start_date="day").agg(
        state=pl.when(late).then(pl.lit("waiting")).otherwise(pl.lit("complete")),
        can_start=pl.max_horizontal(pl.col("comes").max(), pl.col("day").first()),
        coming=(pl.col("supply_kind") != "stock").sum().cast(pl.Int64),
    )
    return days.join(begun, on="order").join(about, on="item", how="left")


def of_one_day(picks: Picks) -> Iterator[Picks]:
    """The picks of each day on which orders start, in the order of days."""
    for day in sorted({order["start_date"] for order in picks.orders}):
        yield Picks([each for each in picks.orders if each["start_date"] == day], picks.parts)


def _parts(report: Report, needs: pl.DataFrame) -> dict[tuple[str, dt.date], list[dict[str, Any]]]:
    """For each order and day its components by location and lot, what is not there last.

    needs: pegs with day. A row for each lot: item, serial, supply_kind, supply, location, quantity,
    need_date, comes, late_days, expires.
    """
    found: dict[tuple[str, dt.date], list[dict[str, Any]]] = {}
    for row in _in_whole_pieces(report, _drawn(report, needs)).iter_rows(named=True):
        found.setdefault((row["from_order"], row["day"]), []).append(row)
    for parts in found.values():
        parts.sort(key=lambda part: by_number(part["location"]))  # shelf 2 before shelf 11
        parts.sort(key=lambda part: part["supply_kind"] != "stock")
    return found


def _drawn(report: Report, needs: pl.DataFrame) -> pl.DataFrame:
    """What each order draws of each lot, with what is said of it, in the order of places."""
    expires = (
        report.tables["stock"]
        .group_by("item", "location", supply="lot")
        .agg(expires=pl.col("expires").min())
    )
    there = pl.col("supply_kind") == "stock"
    return (
        needs.filter(pl.col("supply_kind") != "passed on")
        .group_by(
            "from_order", "day", "item", "serial", "supply_kind", "supply", "location", "comes"
        )
        .agg(
            pl.col("quantity").sum().round_sig_figs(FIGURES),
            pl.col("need_date").min(),
            pl.col("late_days").max(),
        )
        .join(expires, on=["item", "location", "supply"], how="left")
        .join(_replacing(report), on=["from_order", "item"], how="left")
        .join(report.overdue, on=["item", "supply", "supply_kind"], how="left")
        .with_columns(pl.col("replaces").fill_null(""))
        .sort(
            *("from_order", "day", ~there, "location", "item"),
            pl.col("expires").fill_null(pl.date(9999, 12, 31)),
            *("supply", "serial", "comes"),
        )
    )


def _replacing(report: Report) -> pl.DataFrame:
    """Which orders get a new item in place of an old one: from_order, item, replaces."""
    old = (
        report["pegs"].filter(pl.col("supply_kind") == "passed on").select("from_order", old="item")
    )
    return (
        report.tables["replacements"]
        .select("old", item="new")
        .join(old, on="old")
        .group_by("from_order", "item")
        .agg(replaces=pl.col("old").unique().sort().str.join(", "))
    )


def _in_whole_pieces(report: Report, drawn: pl.DataFrame) -> pl.DataFrame:
    """Pieces as people can take them: the parts of a need rounded along their running sum.

    Shares of a piece arise where an earlier order draws on what is expected good of another one.
    """
    of_need = ["from_order", "day", "item", "serial"]
    pieces = report.tables["items"].filter(pl.col("unit").is_in(WHOLE_UNITS))["item"]
    up_to = pl.col("quantity").cum_sum().over(of_need)
    whole = (up_to + 0.5 - 1e-6).floor()
    before = whole.shift(1, fill_value=0.0).over(of_need)
    counted = pl.col("item").is_in(pieces.implode())
    return drawn.with_columns(
        quantity=pl.when(counted).then(whole - before).otherwise("quantity")
    ).filter(pl.col("quantity") > 0)


@cache
def by_number(location: str) -> list[tuple[int, str]]:
    """What sorts locations as people do: numbers in them by value."""
    return [
        (int(part), "") if part.isdecimal() else (-1, part) for part in re.split(r"(\d+)", location)
    ]


def is_there(part: Mapping[str, Any]) -> bool:
    """Whether a component lies in stores."""
    return bool(part["supply_kind"] == "stock")


def spoils(part: Mapping[str, Any], order: Mapping[str, Any]) -> bool:
    """Whether a lot expires before the order that takes it can start."""
    return part["expires"] is not None and part["expires"] < order["can_start"]


def described(item: Mapping[str, Any]) -> str:
    """What a component is, with what must be minded when it is given out."""
    return "; ".join(filter(None, (item["description"], *marks(item))))


def marks(item: Mapping[str, Any]) -> tuple[str, ...]:
    """What must be minded when a component is given out."""
    return _marks(item["structure_class"], item["hazard"])


@cache
def _marks(structure_class: str, hazard: str) -> tuple[str, ...]:
    words = {"primary": common.PRIMARY, "tooling": common.MUST_COME_BACK}
    return tuple(filter(None, (words.get(structure_class), hazard)))


def coming(report: Report, part: Mapping[str, Any]) -> tuple[str, bool]:
    """When a component that is not there comes, in words, and whether that is too late."""
    late = part["late_days"] > 0
    if part["overdue"] is not None:
        since = shortages.OVERDUE_SINCE.format(date=report.day(part["overdue"]))
        return f"{shortages.OVERDUE_STATE}, {since}", True
    if not part["comes"]:
        return pick_words.PICK_NEVER, late
    mark = work_words.LATE_MARK if late else work_words.IN_TIME_MARK
    return pick_words.PICK_COMES.format(mark=mark, date=report.day(part["comes"])), late


def made(report: Report, order: Mapping[str, Any]) -> str:
    """What an order makes, in words."""
    return pick_words.PICK_HEAD.format(
        quantity=in_a_sentence(order["quantity"]),
        unit=order["unit"],
        description=report.items[order["item"]]["description"] or order["item"],
    )


def named(part: Mapping[str, Any]) -> str:
    """A component, with the serial number that it is made for."""
    if not part["serial"]:
        return str(part["item"])
    return pick_words.OF_SERIAL.format(item=part["item"], serial=part["serial"])


def about_need(report: Report, part: Mapping[str, Any], order: Mapping[str, Any]) -> Iterator[str]:
    """What must be known about a component of one order: another day, a last day, an old item."""
    if part["need_date"] != order["start_date"]:
        yield pick_words.NEEDED_ON.format(date=report.day(part["need_date"]))
    if is_there(part) and spoils(part, order):
        yield pick_words.PICK_EXPIRES
    if part["replaces"]:
        yield pick_words.PICK_INSTEAD.format(item=part["replaces"])


def day_line(picks: Picks, about: str, columns: int) -> Line:
    """The heading of a day in a list of so many columns."""
    day = picks.orders[0]["start_date"]
    cells = section(f"{day:%A %d %B}", columns)
    cells[_BESIDE_DAY] = (about, "section_note")
    return Line(cells, _DAY_HEIGHT)


def day_box(order: Mapping[str, Any]) -> str:
    """A box to tick, and the day, which tells on every page for when a row is."""
    return _box_of(order["start_date"])


@cache
def _box_of(day: dt.date) -> str:
    return f"{common.BOX} {day:%a}"
