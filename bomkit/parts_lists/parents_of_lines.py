"""What each line of a list goes into: by its depth, by its position, or by the name of the list."""

from collections.abc import Sequence
from dataclasses import dataclass

from bomkit.parts_lists.columns import Columns
from bomkit.parts_lists.levels_and_positions import above, is_below
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
        nodes, doubts = ByPosition(lines, top).hung_up()
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


class ByPosition:
    """Lines that say by their position where they belong: 1.2.10 goes into 1.2, wherever that
    stands. (In a list sorted as text it stands elsewhere: 1.10 before 1.2.)"""

    def __init__(self, lines: Sequence[Line], top: Node | None) -> None:
        """top: what the lines on the highest level go into, if that is known."""
        self._lines, self._top = lines, top
        self._places: dict[str, list[int]] = {}
        for place, line in enumerate(lines):
            self._places.setdefault(line.position, []).append(place)
        self._highest = min((line.depth for line in lines), default=0)
        self._nodes: dict[int, Node] = {}
        self._doubts: list[Doubt] = []

    def hung_up(self) -> tuple[list[Node], list[Doubt]]:
        """Every line with what it goes into, in the order of the list; what is in doubt."""
        return [self._node(place) for place in range(len(self._lines))], self._doubts

    def _node(self, place: int) -> Node:
        """A line, and before it what it goes into."""
        if place not in self._nodes:
            above = self._above(place)
            parent = self._top if above is None else self._node(above)
            self._nodes[place] = Node(self._lines[place], parent)
        return self._nodes[place]

    def _above(self, place: int) -> int | None:
        """The place of the line that a line goes into, if there is one; doubts if it is unclear."""
        line = self._lines[place]
        wanted = above(line.position)
        several = self._places.get(wanted, [])
        if len(several) == 1:
            return several[0]
        before = [each for each in several if each < place]
        if before and self._all_within(wanted, before[-1] + 1, place):
            return before[-1]
        if several:
            rows = ", ".join(str(self._lines[each].row) for each in several)
            self._doubt(line, f"goes into {wanted}, which stands in rows {rows}; mend the list")
        elif line.depth > self._highest:
            self._doubt(line, f"jumps: there is no line {wanted} that it goes into; mend the list")
        return None

    def _all_within(self, position: str, first: int, last: int) -> bool:
        """Whether all lines from a place up to another one stand below a position."""
        return all(is_below(line.position, position) for line in self._lines[first:last])

    def _doubt(self, line: Line, message: str) -> None:
        self._doubts.append(Doubt(line.grid, line.row, line.position, message))


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
