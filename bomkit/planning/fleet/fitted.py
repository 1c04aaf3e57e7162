"""Which aircraft contain an item by their configuration, and which carry a lot by their records."""

from dataclasses import dataclass

import polars as pl

from bomkit.planning.structure.fitted_items import all_links, contained_items, leading_to
from bomkit.tables.schema import Tables

_ABOUT = ("delivered", "base", "customer")


@dataclass(frozen=True)
class Wanted:
    """What is looked for in the table fitted; what is empty does not count."""

    lot: str = ""
    item: str = ""
    part_serial: str = ""


@dataclass(frozen=True)
class Carriers:
    """recorded: serial, item, lot, part_serial, date, delivered, base, customer of each row of
    fitted that is meant. unrecorded: item, serial, delivered, base, customer of each delivered
    aircraft whose configuration contains an item that is meant but of which fitted has no row that
    would tell. items: what is meant."""

    items: list[str]
    recorded: pl.DataFrame
    unrecorded: pl.DataFrame


def configured_with(tables: Tables, items: list[str]) -> pl.DataFrame:
    """Which aircraft contain which of the items by options and serial number: item, serial, place
    (line or fleet), delivered, base, customer; by item, place and serial.

    Dates on lines do not count, and an aircraft with a replaced item has the one in its place.
    """
    aircraft = _aircraft(tables)
    links = leading_to(all_links(tables), pl.Series(items, dtype=pl.String))
    within = contained_items(links, aircraft.select("serial", "item", "options"))
    return (
        within.filter(pl.col("item").is_in(items))
        .join(aircraft.drop("item", "options"), on="serial")
        .select("item", "serial", "place", *_ABOUT)
        .sort("item", pl.col("place") == "fleet", "serial")
    )


def carriers(tables: Tables, wanted: Wanted) -> Carriers:
    """Who carries what is wanted, and of whom it is not known; tables: without errors."""
    rows = tables["fitted"]
    meant = _matching(rows, wanted)
    items = sorted(_items(tables, wanted, meant))
    telling = rows.filter(pl.col("item").is_in(items) & _told(wanted)).select("serial", "item")
    configured = configured_with(tables, items).filter(pl.col("place") == "fleet")
    about = _aircraft(tables).select("serial", *_ABOUT)
    return Carriers(
        items,
        meant.join(about, on="serial", how="left", maintain_order="left")
        .select("serial", "item", "lot", "part_serial", "date", *_ABOUT)
        .sort("serial", "item", "date", "part_serial", nulls_last=True),
        configured.join(telling, on=["serial", "item"], how="anti", maintain_order="left").select(
            "item", "serial", *_ABOUT
        ),
    )


def _matching(rows: pl.DataFrame, wanted: Wanted) -> pl.DataFrame:
    """The rows of fitted that agree with everything wanted."""
    for name in ("lot", "item", "part_serial"):
        value = getattr(wanted, name)
        if value:
            rows = rows.filter(pl.col(name) == value)
    return rows


def _told(wanted: Wanted) -> pl.Expr:
    """Whether a row of the item says what is asked: one without a lot tells nothing of lots."""
    lots = pl.col("lot") != "" if wanted.lot else pl.lit(True)
    numbers = pl.col("part_serial") != "" if wanted.part_serial else pl.lit(True)
    return lots & numbers


def _items(tables: Tables, wanted: Wanted, meant: pl.DataFrame) -> set[str]:
    """The items that are meant: the one named, else those recorded or in stock under that lot."""
    if wanted.item:
        return {wanted.item}
    items = set(meant["item"].to_list())
    if wanted.lot and not wanted.part_serial:
        items |= set(tables["stock"].filter(pl.col("lot") == wanted.lot)["item"].to_list())
    return items


def _aircraft(tables: Tables) -> pl.DataFrame:
    """Every aircraft: serial, item, options, place, delivered, base, customer.

    Where fleet names no customer, the one who last ordered spares for it.
    """
    ordered = (
        tables["spares_orders"]
        .filter((pl.col("serial") != "") & (pl.col("customer") != ""))
        .sort("need_date", "row")
        .group_by("serial", maintain_order=True)
        .agg(orderer=pl.col("customer").last())
    )
    fleet = (
        tables["fleet"]
        .join(ordered, on="serial", how="left", maintain_order="left")
        .with_columns(
            customer=pl.when(pl.col("customer") != "").then("customer").otherwise("orderer"),
            place=pl.lit("fleet"),
        )
    )
    line = tables["build_plan"].select("serial", "item", "options", place=pl.lit("line"))
    both = pl.concat([fleet.select("serial", "item", "options", "place", *_ABOUT), line],
                     how="diagonal")  # fmt: skip
    return both.unique("serial", keep="first", maintain_order=True).with_columns(
        pl.col("base", "customer").fill_null("")
    )
