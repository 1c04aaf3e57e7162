"""Rows of items and structure out of what a list says, beside those that are there already."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from bomkit.parts_lists.left_and_right import sides
from bomkit.parts_lists.list_as_found import Doubt, Line
from bomkit.parts_lists.quantities_with_units import as_number
from bomkit.parts_lists.what_goes_into_what import Edge
from bomkit.units import UNITS

Row = dict[str, str]


@dataclass
class Merged:
    """The rows as they would be, and what that changes, in words a line each."""

    items: list[Row]
    structure: list[Row]
    new: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)
    gone: list[str] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)


def merge(
    edges: Sequence[Edge],
    lines: Sequence[Line],
    items: Sequence[Row],
    structure: Sequence[Row],
    drop_gone: bool,
) -> Merged:
    """The list's items and lines laid over those there, which keep what the list does not say."""
    merged = Merged([dict(row) for row in items], [dict(row) for row in structure])
    _merge_items(edges, lines, merged)
    _merge_structure(edges, merged, drop_gone)
    merged.doubts += _loops(merged.structure)
    return merged


def _merge_items(edges: Sequence[Edge], lines: Sequence[Line], merged: Merged) -> None:
    known = {row["item"]: row for row in merged.items}
    said = _said(lines)
    parents = {edge.parent for edge in edges}
    units: dict[str, str] = {}
    for edge in edges:
        units.setdefault(edge.child, edge.unit)
    named = dict.fromkeys([name for edge in edges for name in (edge.parent, edge.child)])
    for item in named:
        told = said.get(item, {})
        row = known.get(item)
        if row is None:
            source = told.get("source") or ("make" if item in parents else "buy")
            new = {"item": item, "source": source, "unit": units.get(item, "pc"), **told}
            new["source"] = source
            merged.items.append(new)
            known[item] = new
            merged.new.append(f"item {item}")
            continue
        for column in ("description", "material"):
            if told.get(column) and row.get(column, "") != told[column]:
                merged.changed.append(
                    f"item {item}, {column}: {row.get(column, '')!r} -> {told[column]!r}"
                )
                row[column] = told[column]


def _said(lines: Sequence[Line]) -> dict[str, Row]:
    """What the lines say about each item beside its quantity; the first word counts."""
    said: dict[str, Row] = defaultdict(dict)
    for line in lines:
        for item in sides(line.item):
            for column in ("description", "source", "material"):
                if getattr(line, column):
                    said[item].setdefault(column, getattr(line, column))
    return said


def _merge_structure(edges: Sequence[Edge], merged: Merged, drop_gone: bool) -> None:
    units = {row["item"]: row.get("unit", "") for row in merged.items}
    there: dict[tuple[str, str], list[Row]] = defaultdict(list)
    for row in merged.structure:
        there[row["parent"], row["child"]].append(row)
    told: dict[tuple[str, str], list[Edge]] = defaultdict(list)
    for edge in edges:
        told[edge.parent, edge.child].append(edge)
    for pair, own in told.items():
        whole = _one_unit(own)
        edge, unit = whole or own[0], units.get(pair[1], "")
        if whole is None or _size(edge.unit, unit) is None:
            message = f"is measured in {own[-1].unit} here, which {unit or own[0].unit} can't be"
            merged.doubts.append(Doubt("", own[-1].row, own[0].child, message))
        elif pair not in there:
            merged.structure.append(_row(edge, unit))
            merged.new.append(f"line {edge.parent} -> {edge.child}: {_amount(edge)}")
        else:
            _compare(edge, unit, there[pair], merged)
    _find_gone({edge.parent for edge in edges}, set(told), merged, drop_gone)


def _one_unit(edges: Sequence[Edge]) -> Edge | None:
    """The lines of one parent and child as one, in the unit of the first; None if they can't."""
    first, quantity = edges[0], 0.0
    for edge in edges:
        factor = _size(edge.unit, first.unit)
        if factor is None:
            return None
        quantity += edge.quantity * factor
    return Edge(first.parent, first.child, quantity, first.unit, first.row)


def _size(unit: str, other: str) -> float | None:
    """How many of the other unit one of this is; None where they measure different things."""
    if unit not in UNITS or other not in UNITS or UNITS[unit][0] != UNITS[other][0]:
        return None
    return UNITS[unit][1] / UNITS[other][1]


def _row(edge: Edge, unit: str) -> Row:
    own = "" if edge.unit == unit else edge.unit
    return {
        "parent": edge.parent,
        "child": edge.child,
        "quantity": number_text(edge.quantity),
        "unit": own,
    }


def _compare(edge: Edge, unit: str, rows: Sequence[Row], merged: Merged) -> None:
    """Holds the list's line against those of DATA; a single one that differs takes its amount."""
    amounts = []
    for row in rows:
        factor = _size(row.get("unit") or unit, edge.unit)
        number = as_number(row["quantity"], ",") if "," in row["quantity"] else _number(row)
        amounts.append((number or 0.0) * (factor or 0.0))
    close = max(1e-6 * edge.quantity, 1e-9)
    if any(abs(amount - edge.quantity) <= close for amount in (*amounts, sum(amounts))):
        return
    if len(rows) > 1:
        message = (
            f"in {edge.parent} is {_amount(edge)} here, but structure has {len(rows)} lines of it; "
            "mend these by hand"
        )
        merged.doubts.append(Doubt("", edge.row, edge.child, message))
        return
    was = f"{rows[0]['quantity']} {rows[0].get('unit') or unit}"
    merged.changed.append(f"line {edge.parent} -> {edge.child}: {was} -> {_amount(edge)}")
    rows[0].update(_row(edge, unit))


def _number(row: Row) -> float | None:
    try:
        return float(row["quantity"])
    except ValueError:
        return None


def _find_gone(parents: set[str], told: set[tuple[str, str]], merged: Merged, drop: bool) -> None:
    gone = [
        row
        for row in merged.structure
        if row["parent"] in parents and (row["parent"], row["child"]) not in told
    ]
    merged.gone += [f"line {row['parent']} -> {row['child']}" for row in gone]
    if drop:
        merged.structure = [row for row in merged.structure if row not in gone]


def _loops(structure: Sequence[Mapping[str, str]]) -> list[Doubt]:
    """A doubt for the first item found that goes into itself, by itself or through others."""
    below: dict[str, list[str]] = defaultdict(list)
    open_parents: dict[str, int] = defaultdict(int)
    for row in structure:
        below[row["parent"]].append(row["child"])
        open_parents[row["child"]] += 1
    free = [item for item in below if not open_parents[item]]
    while free:
        for child in below.pop(free.pop(), ()):
            open_parents[child] -= 1
            if not open_parents[child]:
                free.append(child)
    left = sorted(item for item in below if open_parents[item])
    message = "would go into itself, by way of others; mend the list"
    return [Doubt("", 0, left[0], message)] if left else []


def _amount(edge: Edge) -> str:
    return f"{number_text(edge.quantity)} {edge.unit}"


def number_text(value: float) -> str:
    """The number as tables write it; never with three decimals that could mean thousands."""
    said = f"{value:.12f}".rstrip("0").rstrip(".")
    return f"{said}0" if len(said.partition(".")[2]) == 3 else said
