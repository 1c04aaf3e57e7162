"""The structure as a tree: what an item contains, or where it is used."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import polars as pl
from anytree import Node, PreOrderIter

from bomkit.planning.structure.mass_cost_hours import Lots, RollUp
from bomkit.planning.structure.options_and_serials import CONDITIONS, fits, option_names
from bomkit.planning.structure.replaced import replacement_links
from bomkit.tables.schema import Tables

MOST_NODES = 20_000


@dataclass(frozen=True)
class RolledTree:
    """The tree of an item with the amount of each node, and what a summary of it needs."""

    top: Node
    lacking: list[str]  # what has no value and nothing in it that has one
    limit_kg: float | None  # where the mass of an airframe has one
    lots: Lots  # what was spread over which lots
    unsettled: tuple[str, ...] = ()  # sentences on where the plan of these lots came to no rest


def outline(tables: Tables, item: str, serial: str, up: bool, depth: int) -> Node:
    """The tree from an item down, or with `up` from an item to all that contain it.

    Each node has name (the item), line (the structure or replacement row that leads to it, None at
    the top), row (the item's own) and more (lines below it that are not shown: deeper than depth,
    or beyond MOST_NODES). With a serial, only lines that its configuration has.
    """
    lines = _lines_by(tables, "child" if up else "parent", serial)
    items = {row["item"]: row for row in tables["items"].iter_rows(named=True)}
    end = "parent" if up else "child"
    top = Node(item, line=None, row=items[item], more=0)
    waiting, count = [top], 1
    while waiting:
        node = waiting.pop()
        own = lines.get(node.name, [])
        if node.depth >= depth or count + len(own) > MOST_NODES:
            node.more = len(own)
            continue
        count += len(own)
        below = [
            Node(line[end], parent=node, line=line, row=items[line[end]], more=0) for line in own
        ]
        waiting += reversed(below)
    return top


def add_amounts(top: Node, rolled: RollUp, serial: str) -> None:
    """Gives each node its amount: what it adds to one unit of the top (kg, cost or hours).

    None below an item whose own stated value stands for all that is in it.
    """
    values, factors, ends = rolled.values(serial), rolled.factors(serial), rolled.ends()
    top.units, top.amount = 1.0, values[top.name]
    for node in PreOrderIter(top):
        if node.parent is not None:
            row = 0 if node.line["replaces"] else node.line["row"]
            node.units = node.parent.units * factors.get((node.parent.name, row), 0.0)
            counted = node.parent.amount is not None and node.parent.name not in ends
            node.amount = node.units * values[node.name] if counted else None


def _lines_by(tables: Tables, end: str, serial: str) -> dict[str, list[dict[str, Any]]]:
    """The structure lines and replacements of each item, by position and name."""
    lines: dict[str, list[dict[str, Any]]] = {}
    for line in _sorted_lines(tables):
        condition = tuple(line[name] for name in CONDITIONS)
        if not serial or line["replaces"] or fits(condition, serial, _options(tables, serial)):
            lines.setdefault(line[end], []).append(line)
    return lines


def _sorted_lines(tables: Tables) -> Iterator[dict[str, Any]]:
    """Structure lines, then replacements as lines old -> new."""
    ordered = tables["structure"].sort("parent", "position", "child", *CONDITIONS, "row")
    for line in ordered.iter_rows(named=True):
        yield {**line, "replaces": False}
    for line in replacement_links(tables).sort("parent").iter_rows(named=True):
        yield {**line, "replaces": True}


def _options(tables: Tables, serial: str) -> frozenset[str]:
    """The options of a serial number, from the build plan or the fleet."""
    for name in ("build_plan", "fleet"):
        cells = tables[name].filter(pl.col("serial") == serial)["options"].to_list()
        if cells:
            return option_names(cells[0])
    return frozenset()
