"""Lines with their parents to what goes into what: repeated assemblies, totals, pairs."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from bomkit.parts_lists.columns import Means
from bomkit.parts_lists.left_and_right import sides
from bomkit.parts_lists.list_as_found import Doubt
from bomkit.parts_lists.parents_of_lines import Node
from bomkit.units import WHOLE_UNITS

Right = Literal["first", "last"]
_CLOSE = 1e-6


@dataclass(frozen=True)
class Edge:
    """How much of a child goes into one of a parent."""

    parent: str
    child: str
    quantity: float
    unit: str
    row: int


def quantity_meaning(nodes: Sequence[Node], means: Means) -> Means:
    """Each or total; where the headings don't say, by what the numbers allow; ? if both."""
    if means != "?":
        return means
    with_parts = {id(node.parent) for node in nodes if node.parent}
    telling = [
        node for node in nodes if id(node) in with_parts and node.line.quantity not in (None, 1.0)
    ]
    if not any(node.parent for node in telling):
        return "each"
    agrees: list[Means] = [each for each in ("each", "total") if _agrees(nodes, each)]
    return agrees[0] if len(agrees) == 1 else "?"


def _agrees(nodes: Sequence[Node], means: Means) -> bool:
    """Whether pieces are whole and repeated assemblies alike, if quantities mean this."""
    contents: dict[str, set[tuple[tuple[str, float], ...]]] = defaultdict(set)
    parts: dict[int, list[tuple[str, float]]] = defaultdict(list)
    parents = {id(node.parent): node.parent for node in nodes if node.parent}
    for node in nodes:
        counted = _counts(node, means)
        if node.parent is None or counted is None:
            continue
        if node.line.unit in WHOLE_UNITS and abs(counted - round(counted)) > _CLOSE:
            return False
        parts[id(node.parent)].append((node.line.item, round(counted, 6)))
    for key, held in parts.items():
        parent = parents[key]
        if parent is not None:
            contents[parent.line.item].add(tuple(sorted(held)))
    return all(len(alike) == 1 for alike in contents.values())


def _counts(node: Node, means: Means) -> float | None:
    """How much goes into one of the parent."""
    quantity = node.line.quantity
    if quantity is None or node.parent is None or means == "each":
        return quantity
    whole = node.parent.line.quantity
    return quantity / (1.0 if whole is None else whole)


def edges_of(
    nodes: Sequence[Node], means: Means, right: Right | None
) -> tuple[list[Edge], list[Doubt]]:
    """What goes into what, each parent once; doubts where two contents of one assembly differ.

    right: which of them counts where they differ; None: that is a doubt.
    """
    doubts: list[Doubt] = []
    edges = [
        edge
        for parent, several in _contents(nodes, means, doubts).items()
        for edge in _one_content(parent, several, right, doubts)
    ]
    return edges, doubts


def _contents(
    nodes: Sequence[Node], means: Means, doubts: list[Doubt]
) -> dict[str, list[list[Edge]]]:
    """By parent its contents, one for each place with lines below it; adds what is in doubt."""
    contents: dict[tuple[str, int], list[Edge]] = defaultdict(list)
    for node in nodes:
        if node.parent is None:
            continue
        counted = _counts(node, means)
        if counted is None:
            message = "has no quantity; write it, or name the row in skip_rows"
            doubts.append(Doubt(node.line.grid, node.line.row, node.line.item, message))
            continue
        doubts += _disagreeing_total(node)
        # Lines of a flat list that name one parent are one content; elsewhere each stands alone.
        occurrence = id(node.parent) if node.parent.line.depth >= 0 else 0
        for edge in _sides(node, counted, doubts):
            contents[edge.parent, occurrence].append(edge)
    by_parent: dict[str, list[list[Edge]]] = defaultdict(list)
    for (parent, _), own in contents.items():
        by_parent[parent].append(_added_up(own))
    return by_parent


def _disagreeing_total(node: Node) -> Iterator[Doubt]:
    """That a line's total is not its quantity times that of what it goes into."""
    line, parent = node.line, node.parent
    if line.total is None or line.quantity is None or parent is None:
        return
    whole = parent.line.total if parent.line.total is not None else 1.0
    if abs(line.quantity * whole - line.total) > max(1e-3 * line.total, 1e-6):
        message = f"is not {line.quantity:g} for each of {whole:g}; mend one of the quantities"
        yield Doubt(line.grid, line.row, f"{line.total:g}", message)


def _sides(node: Node, counted: float, doubts: list[Doubt]) -> Iterator[Edge]:
    """The line for each side: a pair within a pair goes to its own side, else half to each."""
    line = node.line
    if node.parent is None:
        return
    above, below = sides(node.parent.line.item), sides(line.item)
    if len(below) == 2 and len(above) == 1:
        half = counted / 2
        if line.unit in WHOLE_UNITS and half % 1:
            message = f"is a pair, but {counted:g} can't be shared between left and right"
            doubts.append(Doubt(line.grid, line.row, line.item, message))
        for item in below:
            yield Edge(above[0], item, half, line.unit, line.row)
        return
    for place, item in enumerate(above):
        child = below[place] if len(below) == 2 else below[0]
        yield Edge(item, child, counted, line.unit, line.row)


def _added_up(edges: Iterable[Edge]) -> list[Edge]:
    """One line for each child and unit, in the order of their first."""
    added: dict[tuple[str, str], Edge] = {}
    for edge in edges:
        key = edge.child, edge.unit
        before = added.get(key)
        added[key] = (
            edge if before is None else replace(before, quantity=before.quantity + edge.quantity)
        )
    return list(added.values())


def _one_content(
    parent: str, several: list[list[Edge]], right: Right | None, doubts: list[Doubt]
) -> list[Edge]:
    first = several[0]
    for other in several[1:]:
        if _alike(first) != _alike(other) and right is None:
            message = (
                f"has other contents than from row {first[0].row}; mend the list, or say which is "
                "right with --right first or --right last"
            )
            doubts.append(Doubt("", other[0].row, parent, message))
    return several[-1] if right == "last" else first


def _alike(edges: Iterable[Edge]) -> set[tuple[str, float, str]]:
    return {(edge.child, round(edge.quantity, 6), edge.unit) for edge in edges}
