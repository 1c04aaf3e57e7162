"""Low-level codes, loops and chains of lead times along the links parent -> child.

Links are structure lines and replacements. Everything works on frames with the columns parent and
child, so that names and numbers will both do.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import polars as pl


@dataclass(frozen=True)
class Levels:
    """Level of every item that stands above or beside a loop, and the links left in loops."""

    codes: pl.DataFrame  # item, level: longest distance from the top
    tangled: pl.DataFrame  # parent, child: links from which no order can be made


def structure_links(tables: Mapping[str, pl.DataFrame]) -> pl.DataFrame:
    """What goes into what, a replaced item as if its replacement went into it: parent, child."""
    return pl.concat(
        [
            tables["structure"].select("parent", "child"),
            tables["replacements"].select(parent="old", child="new"),
        ]
    )


def item_levels(tables: Mapping[str, pl.DataFrame]) -> pl.DataFrame:
    """The low-level code of every item: item, level."""
    return low_level_codes(tables["items"]["item"], structure_links(tables)).codes


def low_level_codes(items: pl.Series, links: pl.DataFrame) -> Levels:
    """The longest distance of each item from the top, by peeling off layers of parents."""
    remaining = links.select("parent", "child").unique()
    current = items.to_frame("item")
    found: list[pl.DataFrame] = []
    level = 0
    while not current.is_empty():
        below = remaining.get_column("child").unique().to_frame("item")
        top = current.join(below, on="item", how="anti")
        if top.is_empty():
            break
        found.append(top.with_columns(level=pl.lit(level, pl.Int64)))
        current = current.join(below, on="item", how="semi")
        remaining = remaining.join(top, left_on="parent", right_on="item", how="anti")
        level += 1
    nothing = items.clear().to_frame("item").with_columns(level=pl.lit(0, pl.Int64))
    return Levels(pl.concat([nothing, *found]).sort("item"), remaining)


def loops(tangled: pl.DataFrame) -> list[list[str]]:
    """Each loop once, as the names along it with the first repeated at the end.

    tangled: columns parent, child; one loop is found for each knot of links.
    """
    children: dict[str, list[str]] = {}
    for parent, child in tangled.select("parent", "child").unique().sort("parent", "child").rows():
        children.setdefault(parent, []).append(child)
    found: list[list[str]] = []
    finished: set[str] = set()
    for name in sorted(children):
        if name not in finished:
            loop = _loop_from(name, children, finished)
            if loop:
                found.append(loop)
    return found


def _loop_from(first: str, children: dict[str, list[str]], finished: set[str]) -> list[str]:
    """The first loop met going down from an item; empty if there is none. Marks what it saw."""
    path: list[str] = [first]
    on_path = {first: 0}
    waiting = [iter(children.get(first, ()))]
    loop: list[str] = []
    while path:
        child = next(waiting[-1], None)
        if child is None:
            finished.add(path[-1])
            on_path.pop(path.pop())
            waiting.pop()
        elif child in on_path:
            loop = loop or [*path[on_path[child] :], child]
        elif child not in finished:
            on_path[child] = len(path)
            path.append(child)
            waiting.append(iter(children.get(child, ())))
    return loop


def longest_chain(items: pl.DataFrame, links: pl.DataFrame) -> list[str]:
    """The items along the chain whose lead and safety days add up to the most, from the top.

    items: item, days, level; links: parent, child, without loops.
    """
    return _followed(longest_chains(items, links))


def longest_chains(items: pl.DataFrame, links: pl.DataFrame) -> pl.DataFrame:
    """For every item the longest chain of days from it down: item, total (its own days included),
    below (the next item of the chain, null at its end). Takes the same frames as longest_chain.
    """
    best = items.select("item", total=pl.col("days"), below=pl.lit(None, pl.String))
    ranked = links.join(items.select(parent="item", level="level"), on="parent")
    for level in sorted(ranked["level"].unique().to_list(), reverse=True):
        through = (
            ranked.filter(pl.col("level") == level)
            .join(best.select(child="item", reach="total"), on="child")
            .sort(["parent", "reach", "child"], descending=[False, True, False])
            .group_by("parent", maintain_order=True)
            .first()
        )
        best = (
            best.join(through.select(item="parent", reach="reach", next="child"), "item", "left")
            .with_columns(
                total=pl.col("total") + pl.col("reach").fill_null(0),
                below=pl.coalesce("next", "below"),
            )
            .select("item", "total", "below")
        )
    return best


def _followed(best: pl.DataFrame) -> list[str]:
    """The chain from the item with the greatest total down along `below`."""
    if best.is_empty():
        return []
    below = dict(best.select("item", "below").iter_rows())
    name: str | None = best.sort(["total", "item"], descending=[True, False])["item"][0]
    chain = []
    while name is not None:
        chain.append(name)
        name = below[name]
    return chain
