"""What is in a kit that is ordered, held against the aircraft it goes to.

A kit may come out empty for its aircraft and its day, or hold what goes in nowhere there: parts
that some aircraft's structure mentions but neither that of this one contains, nor what takes their
place or what they took the place of. Parts in no aircraft's structure, such as manuals and oils,
fit every one.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

import polars as pl

from bomkit.checks.by_serial.fitting import aircraft_known, first_few_lines
from bomkit.planning.structure.fitted_items import (
    all_links,
    contained_items,
    leading_to,
    mentioned_items,
)
from bomkit.planning.structure.kit_contents import UNPACKED, Contents
from bomkit.planning.structure.options_and_serials import CONDITIONS
from bomkit.planning.structure.replaced import is_replaced, newest_items
from bomkit.problems import Finding
from bomkit.tables.schema import Tables
from bomkit.words.problems import findings
from bomkit.words.screens import tree as said


def kit_content_findings(tables: Tables) -> list[Finding]:
    """Orders of kits that hold nothing for their aircraft, or what goes in nowhere there.

    tables: without errors; inner kits and sets are looked into. A kit whose own lines say that it
    is empty has been found before.
    """
    kits = tables["items"].filter(pl.col("source").is_in(UNPACKED))["item"]
    orders = tables["spares_orders"].filter(
        pl.col("item").is_in(kits.implode()) & ~is_replaced(tables)
    )
    if orders.is_empty():
        return []
    contents = Contents(tables)
    packed = pl.DataFrame(
        [
            (row["row"], row["serial"], part.item, part.position)
            for row in orders.iter_rows(named=True)
            for part in contents.parts(row["item"], 1, row["serial"], row["need_date"])
        ],
        schema={"row": pl.Int64, "serial": pl.String, "part": pl.String, "position": pl.String},
        orient="row",
    )
    empty = orders.join(packed, on="row", how="anti", maintain_order="left")
    return [
        *(_empty_finding(contents, row) for row in empty.iter_rows(named=True)),
        *_strange_findings(orders, _strange(tables, packed)),
    ]


def _empty_finding(contents: Contents, order: Mapping[str, Any]) -> Finding:
    """The finding of one order of which nothing is packed, with what shuts each line out."""
    shut = list(_shut_lines(contents, order["item"], order["serial"], order["need_date"]))
    told = findings.MISFIT_EMPTY.format(
        day=f"{order['need_date']:%Y-%m-%d}",
        lines=first_few_lines(shut) or findings.MISFIT_NO_LINES,
    )
    return Finding("spares_orders", order["row"], "item", order["item"], told)


def _shut_lines(contents: Contents, kit: str, serial: str, day: date) -> Iterator[str]:
    """The lines that do not count, of the kit and of the sets in it whose own lines do."""
    for line in contents.lines.get(kit, []):
        if contents.counts(line, serial, day):
            if line["child"] not in contents.successor:
                yield from _shut_lines(contents, line["child"], serial, day)
            continue
        asked = [
            said.TREE_CONDITIONS[name].format(value=line[name])
            for name in (*CONDITIONS, "from_date", "to_date")
            if line[name]
        ]
        yield findings.MISFIT_LINE.format(
            parent=line["parent"], child=line["child"], conditions=", ".join(asked)
        )


def _strange(tables: Tables, packed: pl.DataFrame) -> pl.DataFrame:
    """Of what is packed what goes in nowhere on the aircraft: row, serial, part, position."""
    aircraft = aircraft_known(tables).join(packed, on="serial", how="semi", maintain_order="left")
    parts = packed.join(
        newest_items(tables), left_on="part", right_on="item", maintain_order="left"
    )
    links = leading_to(all_links(tables), pl.concat([parts["part"], parts["newest"]]))
    tops = pl.concat([tables[name]["item"] for name in ("fleet", "build_plan")])
    mentioned = mentioned_items(links, tops).implode()
    within = contained_items(links, aircraft.select("serial", "item", "options"))
    return (
        parts.join(aircraft, on="serial", how="semi", maintain_order="left")
        .filter(pl.col("part").is_in(mentioned) | pl.col("newest").is_in(mentioned))
        .join(within.rename({"item": "part"}), on=["serial", "part"], how="anti")
        .join(within.rename({"item": "newest"}), on=["serial", "newest"], how="anti")
        .unique(["row", "part", "position"], maintain_order=True)
        .sort("row", maintain_order=True)
    )


def _strange_findings(orders: pl.DataFrame, strange: pl.DataFrame) -> Iterator[Finding]:
    """A warning for each order of a kit that holds what goes in nowhere."""
    ordered = dict(orders.select("row", "item").iter_rows())
    for (row, serial), lines in strange.group_by("row", "serial", maintain_order=True):
        named = ", ".join(
            " ".join(filter(None, pair)) for pair in lines.select("position", "part").iter_rows()
        )
        told = findings.MISFIT_CONTENT.format(serial=serial, parts=named)
        yield Finding("spares_orders", int(str(row)), "item", ordered[row], told, "warning")
