"""Whether what is ordered for an aircraft in the field fits that aircraft.

An item fits an aircraft whose configured structure contains it, or contains what took its place by
a replacement, or what it took the place of. A kit or loose part that stands in no aircraft's
structure fits every one; but a kit with lines must have one that counts for the aircraft.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import polars as pl

from bomkit.planning.structure.fitted_items import (
    all_links,
    contained_items,
    leading_to,
    mentioned_items,
)
from bomkit.planning.structure.options_and_serials import CONDITIONS, fits, option_names
from bomkit.planning.structure.replaced import newest_items
from bomkit.problems import Finding
from bomkit.tables.schema import Tables
from bomkit.words import common
from bomkit.words.problems import findings
from bomkit.words.screens import tree as said

_MOST_NAMED = 3  # lines named in one message


def misfit_findings(tables: Tables, specific: pl.Series) -> list[Finding]:
    """Spares orders of what does not fit the aircraft they name; common parts are warned of.

    specific: the serial-specific items. Nothing is said where the structure could not be read.
    """
    aircraft = aircraft_known(tables)
    orders = _orders(tables, aircraft)
    unread = tables["structure"].select("parent", "child", *CONDITIONS).null_count()
    if orders.is_empty() or unread.sum_horizontal()[0]:
        return []
    links = all_links(tables)
    kits = _empty_kits(links, orders, aircraft)
    orders = orders.join(newest_items(tables), on="item")
    links = leading_to(links, pl.concat([orders["item"], orders["newest"]]))
    named = aircraft.join(orders, on="serial", how="semi")
    contents = contained_items(links, named.select("serial", "item", "options"))
    wrong = _not_contained(tables, links, orders, contents)
    known_specific = set(specific.to_list())
    return [
        *kits,
        *(
            _misfit(row, links, contents, aircraft, row["item"] in known_specific)
            for row in wrong.iter_rows(named=True)
        ),
    ]


def aircraft_known(tables: Tables) -> pl.DataFrame:
    """Every aircraft built or to be built: serial, item, options."""
    columns = ("serial", "item", "options")
    return (
        pl.concat([tables[name].select(columns) for name in ("fleet", "build_plan")])
        .drop_nulls()
        .unique("serial", keep="first", maintain_order=True)
    )


def first_few_lines(lines: Sequence[str]) -> str:
    """Lines in words, one after the other: the first few, and how many more there are."""
    told = [*lines[:_MOST_NAMED]]
    if len(lines) > _MOST_NAMED:
        told.append(common.AND_MORE.format(count=len(lines) - _MOST_NAMED))
    return "; ".join(told)


def _orders(tables: Tables, aircraft: pl.DataFrame) -> pl.DataFrame:
    """The spares orders of known items for known aircraft: row, item, serial, source."""
    items = tables["items"].select("item", "source").drop_nulls().unique("item")
    return (
        tables["spares_orders"]
        .filter(pl.col("serial") != "")
        .join(aircraft, on="serial", how="semi")
        .join(items, on="item")
        .select("row", "item", "serial", "source")
        .sort("row")
    )


def _not_contained(
    tables: Tables, links: pl.DataFrame, orders: pl.DataFrame, contents: pl.DataFrame
) -> pl.DataFrame:
    """The orders of items that some aircraft's structure mentions but that of the serial has not.

    orders: with newest, the item that takes the place of the one ordered by now.
    """
    tops = pl.concat([tables[name]["item"].drop_nulls() for name in ("fleet", "build_plan")])
    mentioned = mentioned_items(links, tops).implode()
    return (
        orders.filter(pl.col("item").is_in(mentioned) | pl.col("newest").is_in(mentioned))
        .join(contents, on=["serial", "item"], how="anti")
        .join(contents.rename({"item": "newest"}), on=["serial", "newest"], how="anti")
        .sort("row")
    )


def _empty_kits(links: pl.DataFrame, orders: pl.DataFrame, aircraft: pl.DataFrame) -> list[Finding]:
    """Orders of kits none of whose lines counts for the aircraft."""
    about = {row["serial"]: row for row in aircraft.iter_rows(named=True)}
    kits = orders.filter(pl.col("source") == "kit")
    lines = links.join(kits.select(parent="item").unique(), on="parent", how="semi")
    of_kit: dict[str, list[dict[str, Any]]] = {}
    for line in lines.sort("row").iter_rows(named=True):
        of_kit.setdefault(line["parent"], []).append(line)
    return [
        Finding(
            "spares_orders",
            row["row"],
            "item",
            row["item"],
            _message(own, craft, findings.MISFIT_PACKS),
        )
        for row in kits.iter_rows(named=True)
        for own, craft in [(of_kit.get(row["item"], []), about[row["serial"]])]
        if own and not any(_counts(line, craft) for line in own)
    ]


def _misfit(
    row: Mapping[str, Any],
    links: pl.DataFrame,
    contents: pl.DataFrame,
    aircraft: pl.DataFrame,
    is_specific: bool,
) -> Finding:
    """The finding of one order that does not fit, with the lines that shut the item out."""
    craft = aircraft.row(by_predicate=pl.col("serial") == row["serial"], named=True)
    within = contents.filter(pl.col("serial") == row["serial"])["item"]
    ways = leading_to(links, pl.Series([row["item"], row["newest"]], dtype=pl.String)).filter(
        pl.col("parent").is_in(within.implode())
    )
    shut = [line for line in ways.sort("row").iter_rows(named=True) if not _counts(line, craft)]
    return Finding(
        "spares_orders",
        row["row"],
        "item",
        row["item"],
        _message(shut, craft, findings.MISFIT_HAS),
        "error" if is_specific else "warning",
    )


def _counts(line: Mapping[str, Any], craft: Mapping[str, Any]) -> bool:
    """Whether a line counts for an aircraft."""
    with_option, without_option, first, last = (line[name] for name in CONDITIONS)
    options = option_names(craft["options"])
    return fits((with_option, without_option, first, last), craft["serial"], options)


def _message(shut: list[dict[str, Any]], craft: Mapping[str, Any], words: str) -> str:
    """Why something does not fit: the lines and what they ask for, and what the aircraft is."""
    if not shut:
        return findings.MISFIT_NOWHERE.format(serial=craft["serial"], item=craft["item"])
    lines = [
        findings.MISFIT_LINE.format(
            parent=line["parent"], child=line["child"], conditions=", ".join(_conditions(line))
        )
        for line in shut
    ]
    return words.format(
        serial=craft["serial"],
        lines=first_few_lines(lines),
        options=craft["options"] or findings.NO_OPTIONS,
    )


def _conditions(line: Mapping[str, Any]) -> Iterable[str]:
    """What must hold for a line, in words."""
    return (
        said.TREE_CONDITIONS[name].format(value=line[name]) for name in CONDITIONS if line[name]
    )
