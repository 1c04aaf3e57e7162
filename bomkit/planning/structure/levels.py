"""Low-level codes, loops and chains of lead times along the links parent -> child.

Links are structure lines and replacements. Everything works on frames with the columns parent and
child, so that names and numbers will both do.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl

from bomkit.planning.netting.arrays import (
    NO_ROW,
    Flags,
    Ints,
    each_once,
    each_repeated,
    heads,
    in_order,
    ints,
)
from bomkit.planning.structure.replaced import replacement_links
from bomkit.tables.schema import Tables

_NO_LEVEL = -1  # of what stands in a loop or below one


@dataclass(frozen=True)
class Levels:
    """Level of every item that stands above or beside a loop, and the links left in loops."""

    codes: pl.DataFrame  # item, level: longest distance from the top
    tangled: pl.DataFrame  # parent, child: links from which no order can be made


def structure_links(tables: Tables) -> pl.DataFrame:
    """What goes into what, a replaced item as if its replacement went into it: parent, child."""
    return pl.concat(
        [
            tables["structure"].select("parent", "child"),
            replacement_links(tables).select("parent", "child"),
        ]
    )


def item_levels(tables: Tables) -> pl.DataFrame:
    """The low-level code of every item: item, level."""
    return low_level_codes(tables["items"]["item"], structure_links(tables)).codes


def low_level_codes(items: pl.Series, links: pl.DataFrame) -> Levels:
    """The longest distance of each item from the top, by peeling off layers of parents."""
    names, (parent, child) = _numbered(items, links)
    own = ints(names.search_sorted(items))
    level = np.full(len(names), _NO_LEVEL)
    above = np.bincount(child, minlength=len(names))
    count = np.bincount(parent, minlength=len(names))
    first = np.cumsum(count) - count
    top, layer = np.unique(own[above[own] == 0]), 0
    waiting: Flags = np.zeros(len(names), np.bool_)
    waiting[own] = True
    while len(top):
        level[top], waiting[top] = layer, False
        below = child[each_repeated(first[top], count[top])]
        np.subtract.at(above, below, 1)
        below = np.unique(below)
        top, layer = below[(above[below] == 0) & waiting[below]], layer + 1
    reached = level[own] != _NO_LEVEL
    codes = pl.DataFrame({"item": items.filter(reached), "level": level[own][reached]})
    left = level[parent] == _NO_LEVEL
    tangled = {"parent": names[parent[left]], "child": names[child[left]]}
    return Levels(codes.sort("item"), pl.DataFrame(tangled))


def _numbered(items: pl.Series, links: pl.DataFrame) -> tuple[pl.Series, tuple[Ints, Ints]]:
    """The names of items and of all in links, in order, and the links by their places, each once,
    by parent and child."""
    names = pl.concat([items, links["parent"], links["child"]]).unique().sort()
    parent, child = (ints(names.search_sorted(links[name])) for name in ("parent", "child"))
    once = each_once(parent, child)
    return names, (parent[once], child[once])


def loops(tangled: pl.DataFrame) -> list[list[str]]:
    """Each loop once, as the names along it with the first repeated at the end.

    tangled: columns parent, child; one loop is found for each knot of links.
    """
    children: dict[str, list[str]] = {}
    for parent, child in tangled.select("parent", "child").unique().sort("parent", "child").rows():
        children.setdefault(parent, []).append(child)
    of_knots: list[list[str]] = []
    finished: set[str] = set()
    for name in sorted(children):
        if name not in finished:
            loop = _loop_from(name, children, finished)
            if loop:
                of_knots.append(loop)
    return of_knots


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
    known = items["item"].implode()
    between = links.filter(pl.col("parent").is_in(known) & pl.col("child").is_in(known))
    names, (parent, child) = _numbered(items["item"], between.select("parent", "child"))
    own = ints(names.search_sorted(items["item"]))
    total, level, below = (np.zeros(len(names), np.int64) for _ in range(3))
    total[own], level[own] = ints(items["days"]), ints(items["level"])
    below[:] = NO_ROW
    for number in np.unique(level[parent])[::-1].tolist():
        of_level = level[parent] == number
        above, under = parent[of_level], child[of_level]
        order = in_order(above, -total[under], under)
        best = order[heads(above[order])]
        below[above[best]] = under[best]
        total[above[best]] += total[under[best]]
    following = pl.Series(np.maximum(below, 0)[own])
    return pl.DataFrame(
        {"item": items["item"], "total": total[own], "below": names[following]}
    ).with_columns(below=pl.when(pl.Series(below[own] != NO_ROW)).then("below"))


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
