"""What the structure says of each part of a spares order: position, note, what it replaces."""

from collections.abc import Mapping
from typing import Any

from bomkit.planning.structure.kit_contents import UNPACKED, Contents, Part
from bomkit.tables.schema import Tables


class Labels:
    """Finds what stands beside a part on the drawing of a kit, also of what goes in its place."""

    def __init__(self, tables: Tables) -> None:
        """Keeps what kits contain."""
        self.contents = Contents(tables)

    def of(self, order: Mapping[str, Any]) -> dict[str, dict[str, str]]:
        """By part its position, note and replaces, in the order of the lines of the structure."""
        labels: dict[str, dict[str, str]] = {}
        self._add(labels, Part(order["item"], 1.0), order, top=True)
        return labels

    def _add(
        self,
        labels: dict[str, dict[str, str]],
        part: Part,
        order: Mapping[str, Any],
        top: bool = False,
    ) -> None:
        """Adds a part, what is in it if it is a kit, and what goes in its place."""
        old = labels.get(part.item, {"position": "", "note": "", "replaces": ""})
        labels[part.item] = {
            name: "; ".join(dict.fromkeys(filter(None, (old[name], getattr(part, name)))))
            for name in old
        }
        successor = self.contents.successor.get(part.item)
        if self.contents.source[part.item] in UNPACKED and (top or successor is None):
            inner = self.contents.parts(part.item, 1.0, order["serial"], order["need_date"])
            for each in inner:
                self._add(labels, each, order)
        if successor is not None:
            replaces = "" if top else part.item
            if self.contents.source[successor] in UNPACKED:
                for each in self.contents.parts(
                    successor, 1.0, order["serial"], order["need_date"]
                ):
                    new = Part(each.item, 1.0, each.position or part.position,
                               each.note or part.note, replaces)  # fmt: skip
                    self._add(labels, new, order)
            new = Part(successor, 1.0, part.position, part.note, replaces)
            self._add(labels, new, order, top=top)
