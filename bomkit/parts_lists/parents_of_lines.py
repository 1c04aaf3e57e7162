"""What each line of a list goes into: by its depth, by its position, or by the name of the list."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from bomkit.parts_lists.columns import Columns
from bomkit.parts_lists.levels_and_positions import is_below, position_above
from bomkit.parts_lists.list_as_found import Doubt, Line


@dataclass(frozen=True)
class Node:
    """A line with the line that it goes into; None: nothing."""

    line: Line
    parent: "Node | None"


def hang_up(lines: Sequence[Line], columns: Columns, name: str) -> tuple[list[Node], list[Doubt]]:
    """Every line with what it goes into; doubts where depths jump or several lines stand on top."""
    if columns.shape in ("flat", "matrix"):
        return _hang_up_flat(lines, columns.top or name), []
    top = _top(columns, name)
    if columns.shape == "positions":
        nodes, doubts = _by_position(lines, top)
    else:
        nodes, doubts = _by_depth(lines, columns, top)
    if top is None and sum(node.parent is None for node in nodes) > 1:
        message = "has several lines on its highest level; say with 'top' what they go into"
        doubts.append(Doubt(name, 0, "", message))
    return nodes, doubts


def _by_depth(
    lines: Sequence[Line], columns: Columns, top: Node | None
) -> tuple[list[Node], list[Doubt]]:
    """Every line below the last one above it that stands less deep."""
    doubts: list[Doubt] = []
    nodes: list[Node] = []
    above: list[tuple[int, Node]] = []
    for line in lines:
        popped: int | None = None
        while above and above[-1][0] >= line.depth:
            popped = above.pop()[0]
        if (popped is not None and popped != line.depth) or _jumps(columns, line, above):
            message = "jumps: no line of the level between stands above it; mend the list"
            doubts.append(Doubt(line.grid, line.row, line.item, message))
        node = Node(line, above[-1][1] if above else top)
        nodes.append(node)
        above.append((line.depth, node))
    return nodes, doubts


def _by_position(lines: Sequence[Line], top: Node | None) -> tuple[list[Node], list[Doubt]]:
    """Every line below the one whose position its own says: 1.2.10 goes into 1.2, wherever that
    stands. (In a list sorted as text it stands elsewhere: 1.10 before 1.2.)"""
    places: dict[str, list[int]] = defaultdict(list)
    for place, line in enumerate(lines):
        places[line.position].append(place)
    highest = min((line.depth for line in lines), default=0)
    doubts: list[Doubt] = []
    parents: list[int | None] = []
    for place, line in enumerate(lines):
        several = places.get(position_above(line.position), [])
        parents.append(_meant(lines, several, place))
        if parents[-1] is None and (several or line.depth > highest):
            doubts.append(_unclear(line, [lines[each].row for each in several]))
    nodes: dict[int, Node] = {}
    for place in sorted(range(len(lines)), key=lambda place: lines[place].depth):
        parent = parents[place]
        nodes[place] = Node(lines[place], top if parent is None else nodes[parent])
    return [nodes[place] for place in range(len(lines))], doubts


def _meant(lines: Sequence[Line], several: Sequence[int], place: int) -> int | None:
    """Which of several lines of one position a line goes into: the only one, or the last one before
    it with nothing else between; None if that is unclear."""
    if len(several) == 1:
        return several[0]
    before = [each for each in several if each < place]
    if not before:
        return None
    position = lines[before[-1]].position
    between = lines[before[-1] + 1 : place]
    return before[-1] if all(is_below(line.position, position) for line in between) else None


def _unclear(line: Line, rows: Sequence[int]) -> Doubt:
    """That nothing, or that several rows, could be what a line goes into."""
    wanted = position_above(line.position)
    message = f"jumps: there is no line {wanted} that it goes into; mend the list"
    if rows:
        named = ", ".join(map(str, rows))
        message = f"goes into {wanted}, which stands in rows {named}; mend the list"
    return Doubt(line.grid, line.row, line.position, message)


def _jumps(columns: Columns, line: Line, above: Sequence[tuple[int, Node]]) -> bool:
    if columns.shape == "indents" or not above:
        return False
    return line.depth > above[-1][0] + 1


def _top(columns: Columns, name: str) -> Node | None:
    return Node(Line(name, 0, -1, columns.top, 1.0, "pc"), None) if columns.top else None


def _hang_up_flat(lines: Sequence[Line], name: str) -> list[Node]:
    return [
        Node(line, Node(Line(line.grid, 0, -1, line.parent or name, 1.0, "pc"), None))
        for line in lines
    ]
