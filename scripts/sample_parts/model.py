"""The rows of the sample's tables, and the collector that the area modules fill."""

from dataclasses import dataclass, field
from datetime import date

Cell = str | int | float | date | None

# unit: (dimension, size in the first unit of that dimension)
UNIT_SIZES: dict[str, tuple[str, float]] = {
    "pc": ("pieces", 1.0),
    "m": ("length", 1.0),
    "cm": ("length", 0.01),
    "mm": ("length", 0.001),
    "m2": ("area", 1.0),
    "kg": ("mass", 1.0),
    "g": ("mass", 0.001),
    "l": ("volume", 1.0),
    "ml": ("volume", 0.001),
}


@dataclass
class Item:
    """One row of the table items."""

    item: str
    description: str
    source: str
    process: str = ""
    unit: str = "pc"
    lead_days: int | None = None
    safety_days: int | None = None
    scrap_rate: float | None = None
    minimum: float | None = None
    multiple: float | None = None
    cover_days: int | None = None
    safety_stock: float | None = None
    longest_cover_days: int | None = None
    supplier: str = ""
    cost: float | None = None
    mass_g: float | None = None
    hours_each: float | None = None
    hours_per_order: float | None = None
    material: str = ""
    structure_class: str = "none"
    heat_c: float | None = None
    hazard: str = ""


@dataclass
class Line:
    """One row of the table structure."""

    parent: str
    child: str
    quantity: float
    unit: str = ""
    per: str = ""
    waste: float | None = None
    offset_days: int | None = None
    position: str = ""
    with_option: str = ""
    without_option: str = ""
    from_serial: str = ""
    to_serial: str = ""
    from_date: date | None = None
    to_date: date | None = None
    note: str = ""

    @property
    def conditional(self) -> bool:
        """Whether the line names an option or a serial range."""
        return bool(self.with_option or self.without_option or self.from_serial or self.to_serial)


@dataclass
class Airframe:
    """One row of the table build_plan."""

    serial: str
    item: str
    ready_date: date
    options: str = ""


@dataclass
class Process:
    """One row of the table processes."""

    process: str
    scrap_rate: float
    hours_per_week: float


@dataclass
class Stock:
    """One row of the table stock."""

    item: str
    quantity: float
    location: str = ""
    lot: str = ""
    status: str = "usable"
    expires: date | None = None
    serial: str = ""


@dataclass
class OpenOrder:
    """One row of the table open_orders."""

    order: str
    item: str
    quantity: float
    due_date: date
    serial: str = ""
    supplier: str = ""


@dataclass
class Allocation:
    """One row of the table allocations."""

    order: str
    item: str
    quantity: float
    need_date: date
    serial: str = ""


@dataclass
class SparesOrder:
    """One row of the table spares_orders."""

    order: str
    item: str
    quantity: float
    need_date: date
    serial: str = ""
    urgency: str = "routine"
    customer: str = ""


@dataclass
class Delivered:
    """One row of the table fleet."""

    serial: str
    item: str
    options: str
    delivered: date
    base: str
    hours: int
    hours_per_year: int


@dataclass
class Replacement:
    """One row of the table replacements."""

    old: str
    new: str
    note: str


@dataclass
class Alternate:
    """One row of the table alternates."""

    item: str
    alternate: str
    note: str


@dataclass
class ClosedDay:
    """One row of the table calendar."""

    date: date
    reason: str


@dataclass
class Supplier:
    """One row of the table suppliers."""

    supplier: str
    name: str
    email: str
    order_minimum: float
    currency: str = "EUR"


@dataclass
class Material:
    """One row of the table materials."""

    material: str
    item: str
    spool_kg: float
    heat_limit_c: float
    installed: str


@dataclass
class PrintProfile:
    """One row of the table prints."""

    item: str
    hours: float
    plate_share: float | None
    per_plate: int | None
    printers: str


@dataclass
class Printer:
    """One row of the table printers."""

    kind: str
    count: int
    hours_per_week: float
    plate_parts: int | None
    plate_hours: float
    newer_kind: str = ""


@dataclass
class Mould:
    """One row of the table moulds."""

    mould: str
    item: str
    count: int
    pulls_per_week: float
    pulls_left: float | None
    replacement: str
    note: str


@dataclass
class Usage:
    """One row of the table usage."""

    item: str
    per_1000_hours: float | None = None
    per_year: float | None = None


@dataclass
class Issue:
    """One row of the table issues."""

    item: str
    date: date
    quantity: float
    serial: str


@dataclass
class InspectionRule:
    """One row of the table inspection_rules."""

    item: str
    quantity: float | None
    every_hours: int | None
    every_months: int | None
    first_hours: int | None
    first_months: int | None
    with_option: str
    without_option: str
    note: str


@dataclass
class Sample:
    """All tables of the sample while they are being filled."""

    items: dict[str, Item] = field(default_factory=dict)
    structure: list[Line] = field(default_factory=list)
    build_plan: list[Airframe] = field(default_factory=list)
    processes: list[Process] = field(default_factory=list)
    stock: list[Stock] = field(default_factory=list)
    open_orders: list[OpenOrder] = field(default_factory=list)
    allocations: list[Allocation] = field(default_factory=list)
    spares_orders: list[SparesOrder] = field(default_factory=list)
    fleet: list[Delivered] = field(default_factory=list)
    replacements: list[Replacement] = field(default_factory=list)
    alternates: list[Alternate] = field(default_factory=list)
    calendar: list[ClosedDay] = field(default_factory=list)
    suppliers: list[Supplier] = field(default_factory=list)
    usage: list[Usage] = field(default_factory=list)
    issues: list[Issue] = field(default_factory=list)
    inspection_rules: list[InspectionRule] = field(default_factory=list)
    materials: list[Material] = field(default_factory=list)
    prints: list[PrintProfile] = field(default_factory=list)
    printers: list[Printer] = field(default_factory=list)
    moulds: list[Mould] = field(default_factory=list)
    lines_of: dict[str, list[Line]] = field(default_factory=dict)

    def add_item(self, item: Item) -> None:
        """Add an item; ValueError if its name is taken."""
        if item.item in self.items:
            raise ValueError(f"item {item.item} is there twice")
        self.items[item.item] = item

    def add_line(self, line: Line) -> None:
        """Add a structure line and give it the next position in its parent."""
        siblings = self.lines_of.setdefault(line.parent, [])
        line.position = line.position or str(10 * (len(siblings) + 1))
        siblings.append(line)
        self.structure.append(line)
