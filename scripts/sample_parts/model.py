"""The rows of the sample, with the columns that the tables declare, and what collects them."""

from dataclasses import field, make_dataclass
from datetime import date
from typing import Any

from bomkit.tables.columns_and_rules.by_name import INPUTS

Cell = str | int | float | date | None
_WORDS = ("name", "names", "text", "choice")


def row_class(table: str, **defaults: Cell) -> Any:
    """A class for rows of a table: its columns in their order, empty unless a default is given."""
    empty = {each.name: "" if each.kind in _WORDS else None for each in INPUTS[table].columns}
    columns = [(name, Any, field(default=value)) for name, value in (empty | defaults).items()]
    return make_dataclass(table, columns)


Item = row_class("items", unit="pc", structure_class="none")
Line = row_class("structure")
Airframe = row_class("build_plan")
Process = row_class("processes")
Stock = row_class("stock", status="usable")
OpenOrder = row_class("open_orders")
Allocation = row_class("allocations")
SparesOrder = row_class("spares_orders", urgency="routine")
Delivered = row_class("fleet")
Replacement = row_class("replacements")
Alternate = row_class("alternates")
ClosedDay = row_class("calendar")
Supplier = row_class("suppliers", currency="EUR")
Price = row_class("prices")
Material = row_class("materials")
PrintProfile = row_class("prints")
Printer = row_class("printers")
Mould = row_class("moulds")
Usage = row_class("usage")
Issue = row_class("issues")
InspectionRule = row_class("inspection_rules")
InspectionDone = row_class("inspection_log")
Fitted = row_class("fitted")


class Sample:
    """All tables of the sample while they are being filled: lists of rows, items by their name."""

    def __init__(self) -> None:
        """Begin with empty tables."""
        for name in INPUTS:
            setattr(self, name, {} if name == "items" else [])
        self.lines_of: dict[str, list[Any]] = {}

    def add_item(self, item: Any) -> None:
        """Add an item; ValueError if its name is taken."""
        if item.item in self.items:
            raise ValueError(f"item {item.item} is there twice")
        self.items[item.item] = item

    def add_line(self, line: Any) -> None:
        """Add a structure line and give it the next position in its parent."""
        siblings = self.lines_of.setdefault(line.parent, [])
        line.position = line.position or str(10 * (len(siblings) + 1))
        siblings.append(line)
        self.structure.append(line)
