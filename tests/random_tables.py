"""Random but valid tables, small, and together using every planning rule.

The same seed always gives the same tables. Values are typed as they are after reading: text,
numbers, dates; an empty cell is a missing key.
"""

import random
from dataclasses import dataclass
from datetime import date, timedelta

Row = dict[str, object]
Tables = dict[str, list[Row]]

CONDITIONS = ("with_option", "without_option", "from_serial", "to_serial")
OPTIONS = ("radio", "floats", "skis", "tow-hook", "ballistic-chute")
SEPARATORS = (" ", ", ", ";", ",", "; ")

# the units of each dimension, each with how many of it make one of the largest
UNIT_FAMILIES: tuple[dict[str, float], ...] = (
    {"pc": 1.0},
    {"m": 1.0, "cm": 100.0, "mm": 1000.0},
    {"m2": 1.0},
    {"kg": 1.0, "g": 1000.0},
    {"l": 1.0, "ml": 1000.0},
)
FAMILY_OF = {unit: family for family in UNIT_FAMILIES for unit in family}


def is_conditional(line: Row) -> bool:
    """Tell whether a structure line names an option or a serial range."""
    return any(line.get(column) for column in CONDITIONS)


def serial_specific_items(tables: Tables) -> set[str]:
    """Return the items that are planned separately for each serial number.

    "An item is serial-specific if it stands in the build plan, or any of its lines is
    conditional, or any child of it is serial-specific."
    """
    lines = tables.get("structure", [])
    specific = {str(row["item"]) for row in tables.get("build_plan", [])}
    specific |= {str(line["parent"]) for line in lines if is_conditional(line)}
    while True:
        above = {str(line["parent"]) for line in lines if str(line["child"]) in specific}
        if above <= specific:
            return specific
        specific |= above


def random_tables(seed: int) -> Tables:
    """Return valid tables that depend on the seed alone."""
    return TableMaker(random.Random(seed)).tables()


@dataclass(frozen=True)
class Part:
    """An item while the tables are being made; lines lead to later layers only."""

    name: str
    layer: int
    source: str
    unit: str


class TableMaker:
    """Makes one set of tables, in the order in which one table depends on another."""

    def __init__(self, chance: random.Random) -> None:
        """Draw what the other tables are built on: dates, serials, parts."""
        self.chance = chance
        monday = date(2026, 11, 2) + timedelta(weeks=chance.randrange(30))
        late_start = chance.choice([0, 0, 0, 1, 2, 3, 4, 5, 6])
        self.start = monday + timedelta(days=late_start)
        self.horizon_weeks = chance.randint(3, 10)
        self.end = self.start + timedelta(weeks=self.horizon_weeks)
        self.processes = [f"process-{number}" for number in range(chance.randint(1, 3))]
        self.suppliers = [f"supplier-{number}" for number in range(chance.randint(1, 3))]
        self.parts = self.make_parts()
        self.airframes = [part for part in self.parts if part.layer == 0]
        self.serials = self.make_serials()
        self.built_count = max(1, min(8, len(self.serials) - chance.randint(0, 4)))

    def tables(self) -> Tables:
        """Return all tables."""
        made: Tables = {"plan": [{"start": self.start, "horizon_weeks": self.horizon_weeks}]}
        made["build_plan"] = self.make_build_plan()
        made["fleet"] = self.make_fleet()
        made["structure"] = self.make_structure()
        self.specific = serial_specific_items(made)
        made["replacements"] = self.make_replacements()
        made["items"] = [self.make_item(part) for part in self.parts]
        made["processes"] = [self.make_process(name) for name in self.processes]
        made["suppliers"] = [{"supplier": name, "name": name.title()} for name in self.suppliers]
        made["stock"] = self.make_stock()
        made["open_orders"] = self.make_open_orders()
        made["allocations"] = self.make_allocations(made["open_orders"], made["structure"])
        made["spares_orders"] = self.make_spares_orders()
        made["calendar"] = self.make_calendar()
        return made

    # ------------------------------------------------------------ small draws

    def happens(self, probability: float) -> bool:
        """Tell whether something with this probability happens this time."""
        return self.chance.random() < probability

    def any_date(self) -> date:
        """Draw a date: mostly inside the horizon, sometimes overdue or past it."""
        kind = self.chance.random()
        if kind < 0.12:
            return self.start - timedelta(days=self.chance.randint(1, 20))
        if kind < 0.2:
            return self.end + timedelta(days=self.chance.randint(0, 15))
        if kind < 0.3:
            days_to_saturday = (5 - self.start.weekday()) % 7
            weekend = self.start + timedelta(days=days_to_saturday + self.chance.randint(0, 1))
            return weekend + timedelta(weeks=self.chance.randrange(self.horizon_weeks))
        return self.start + timedelta(days=self.chance.randrange(7 * self.horizon_weeks))

    def quantity(self, unit: str, low: float, high: float) -> float:
        """Draw a positive quantity; the range is in the large unit of the unit's dimension."""
        if unit == "pc":
            return float(self.chance.randint(max(1, int(low)), max(1, int(high))))
        return round(self.chance.uniform(low, high), 2) * FAMILY_OF[unit][unit]

    def some_options(self, most: int) -> str:
        """Draw names of options in one cell."""
        names = self.chance.sample(OPTIONS, self.chance.randint(1, most))
        return self.chance.choice(SEPARATORS).join(names)

    def serial_for(self, item: str) -> Row:
        """Return the serial cell of a row: needed if serial-specific, else sometimes given."""
        if item in self.specific or self.happens(0.2):
            return {"serial": self.chance.choice(self.serials)}
        return {}

    # ------------------------------------------------------------ what things are

    def make_parts(self) -> list[Part]:
        """Draw the items, by layer: airframes first, bought items in the last layer."""
        chance = self.chance
        last_layer = chance.choice([1, 2, 3, 3, 4, 4])
        count = chance.randint(6, 25)
        airframe_count = chance.choice([1, 1, 2])
        inner = [max(1, chance.randint(0, last_layer)) for _ in range(count - airframe_count - 2)]
        layers = sorted([0] * airframe_count + inner + [last_layer] * 2)
        placed = enumerate(layers)
        return [self.make_part(number, layer, layer == last_layer) for number, layer in placed]

    def make_part(self, number: int, layer: int, is_last: bool) -> Part:
        """Draw the source and the unit of one item."""
        if layer == 0:
            source = "make"
        elif is_last:
            source = "buy"
        else:
            sources = ["make", "print", "kit", "phantom", "buy"]
            source = self.chance.choices(sources, weights=[6, 3, 3, 5, 1])[0]
        is_counted = layer == 0 or self.happens(0.35 if source == "buy" else 0.8)
        family = UNIT_FAMILIES[0] if is_counted else self.chance.choice(UNIT_FAMILIES)
        unit = self.chance.choice(sorted(family))
        name = self.chance.choice([f"{number:03d}", f"{source}-{number}", f"{source} {number}"])
        return Part(name, layer, source, unit)

    def make_serials(self) -> list[str]:
        """Draw serial numbers with one or two prefixes, some with leading zeros."""
        prefixes = self.chance.choice([["A-"], ["A-", "B1-"]])
        numbers = self.chance.sample(range(95, 110), self.chance.randint(1, 12))
        width = self.chance.choice([1, 3, 4])
        return [f"{self.chance.choice(prefixes)}{number:0{width}d}" for number in numbers]

    def make_item(self, part: Part) -> Row:
        """Draw the planning values of one item."""
        chance = self.chance
        item: Row = {"item": part.name, "source": part.source, "unit": part.unit}
        if self.happens(0.6):
            item["lead_days"] = chance.choice([0, 1, 2, 3, 5, 8, 12, 40])
        if self.happens(0.3):
            item["safety_days"] = chance.randint(0, 3)
        if self.happens(0.35):
            item["scrap_rate"] = chance.choice([0.0, 0.05, 0.08, 0.1, 0.25, 0.33])
        if self.happens(0.5):
            item["process"] = chance.choice(self.processes)
        if part.source == "print":
            item["material"] = chance.choice(["PETG", "carbon nylon"])
            item["structure_class"] = chance.choice(["secondary", "none", "tooling"])
        if part.source == "buy" and self.happens(0.6):
            item["supplier"] = chance.choice(self.suppliers)
        return item | self.lot_rule(part)

    def lot_rule(self, part: Part) -> Row:
        """Draw minimum, multiple, cover, shelf life and safety stock of one item."""
        rule: Row = {}
        if self.happens(0.3):
            rule["minimum"] = self.quantity(part.unit, 0.5, 20)
        if self.happens(0.3):
            rule["multiple"] = self.quantity(part.unit, 0.3, 8)
        if part.unit == "pc" and self.happens(0.05):
            rule["multiple"] = 2.5
        if self.happens(0.35):
            rule["cover_days"] = self.chance.choice([1, 2, 5, 10, 20])
        if self.happens(0.25):
            rule["longest_cover_days"] = self.chance.choice([1, 3, 7, 15, 60])
        if part.name not in self.specific and self.happens(0.35):
            rule["safety_stock"] = self.quantity(part.unit, 0.5, 6)
        return rule

    def make_process(self, name: str) -> Row:
        """Draw one process, mostly with scrap."""
        scrap = {"scrap_rate": self.chance.choice([0.02, 0.08, 0.2])} if self.happens(0.8) else {}
        return {"process": name, **scrap}

    # ------------------------------------------------------------ structure

    def make_structure(self) -> list[Row]:
        """Draw the lines of every item that is not bought, each with its own position."""
        lines: list[Row] = []
        for part in self.parts:
            if part.source == "buy":
                continue
            below = [child for child in self.parts if child.layer > part.layer]
            next_below = [child for child in below if child.layer == below[0].layer]
            may_be_conditional = self.happens(0.6 if part.layer == 0 else 0.3)
            for _ in range(self.chance.randint(1, 7 if part.layer == 0 else 5)):
                child = self.chance.choice(next_below if self.happens(0.5) else below)
                line = self.make_line(part, child, may_be_conditional)
                lines.append(line | {"position": f"{len(lines) + 1:03d}"})
        return lines

    def make_line(self, parent: Part, child: Part, may_be_conditional: bool) -> Row:
        """Draw one line."""
        chance = self.chance
        quantity = self.quantity(child.unit, 0.05, 3)
        if child.unit == "pc" and self.happens(0.05):
            quantity = 0.5
        line: Row = {"parent": parent.name, "child": child.name, "quantity": quantity}
        if self.happens(0.6):
            family = FAMILY_OF[child.unit]
            line["unit"] = chance.choice(sorted(family))
            line["quantity"] = quantity / family[child.unit] * family[str(line["unit"])]
        if self.happens(0.3):
            line["per"] = chance.choice(["each", "order", "order"])
        if self.happens(0.25):
            line["waste"] = chance.choice([0.0, 0.03, 0.1, 0.2])
        if self.happens(0.3):
            line["offset_days"] = chance.choice([0, 1, 1, 2, 3, -2])
        if self.happens(0.2):
            line |= self.line_dates()
        if may_be_conditional and self.happens(0.5):
            line |= self.line_conditions()
        return line

    def line_dates(self) -> Row:
        """Draw a first date, a last date or both."""
        middle = self.start + timedelta(days=self.chance.randrange(7 * self.horizon_weeks))
        first, last = middle - timedelta(days=self.chance.randint(0, 10)), middle
        both: Row = {"from_date": first, "to_date": last}
        return self.chance.choice([{"from_date": middle}, {"to_date": middle}, both])

    def line_conditions(self) -> Row:
        """Draw options that must or must not be fitted, a serial range, or several of these."""
        conditions: Row = {}
        while not conditions:
            if self.happens(0.35):
                conditions["with_option"] = self.some_options(2)
            if self.happens(0.25):
                conditions["without_option"] = self.some_options(3)
            if self.happens(0.35):
                conditions |= self.serial_range()
        return conditions

    def serial_range(self) -> Row:
        """Draw a range of serials with one prefix, either end of which may be open."""
        prefix = self.chance.choice(self.serials).split("-")[0] + "-"
        first, last = sorted(self.chance.choices(range(93, 112), k=2))
        ends: Row = {"from_serial": f"{prefix}{first:03d}", "to_serial": f"{prefix}{last}"}
        closed = self.chance.choice([("from_serial",), ("to_serial",), tuple(ends)])
        return {column: ends[column] for column in closed}

    def make_replacements(self) -> list[Row]:
        """Draw replacements, some in chains; none makes a loop.

        The new item always stands after the old one, as a child stands after its parent, so
        lines and replacements together lead forward only.
        """
        possible = [
            (old, new)
            for number, old in enumerate(self.parts)
            for new in self.parts[number + 1 :]
            if FAMILY_OF[old.unit] is FAMILY_OF[new.unit]
            and old.layer > 0
            and (old.name in self.specific or new.name not in self.specific)
        ]
        self.chance.shuffle(possible)
        chosen: dict[str, str] = {}
        wanted = self.chance.choice([0, 1, 2, 3, 4])
        while possible and len(chosen) < wanted:
            in_chain = [pair for pair in possible if pair[1].name in chosen]
            old, new = self.chance.choice(in_chain if in_chain and self.happens(0.5) else possible)
            chosen[old.name] = new.name
            possible = [pair for pair in possible if pair[0] != old]
        return [{"old": old, "new": new} for old, new in chosen.items()]

    # ------------------------------------------------------------ demand and supply

    def make_build_plan(self) -> list[Row]:
        """Draw the airframes to build."""
        return [self.airframe(serial) | {"ready_date": self.ready_date()} for serial in self.built]

    def make_fleet(self) -> list[Row]:
        """Draw the airframes in the field."""
        return [self.airframe(serial) for serial in self.serials[self.built_count :]]

    @property
    def built(self) -> list[str]:
        """The serials that are in the build plan; the others fly already."""
        return self.serials[: self.built_count]

    def airframe(self, serial: str) -> Row:
        """Draw what airframe a serial is and what it is fitted with."""
        options = {"options": self.some_options(3)} if self.happens(0.7) else {}
        return {"serial": serial, "item": self.chance.choice(self.airframes).name, **options}

    def ready_date(self) -> date:
        """Draw a ready date, mostly late enough for its parts to be made in time."""
        if self.happens(0.2):
            return self.any_date()
        days = 7 * self.horizon_weeks
        return self.start + timedelta(days=self.chance.randrange(days // 3, days))

    def make_stock(self) -> list[Row]:
        """Draw lots of most items, some that expire, some not usable."""
        rows: list[Row] = []
        for part in self.parts:
            if not self.happens(0.6):
                continue
            expiry = self.any_date()
            for _ in range(self.chance.randint(1, 3)):
                row: Row = {"item": part.name, "quantity": self.quantity(part.unit, 0.1, 8)}
                row |= {"lot": f"lot-{len(rows) + 1}"} | self.serial_for(part.name)
                if self.happens(0.3):
                    row["status"] = self.chance.choice(["usable", "hold", "quarantine"])
                if self.happens(0.4):
                    choices = [expiry, expiry, self.any_date(), self.start]
                    row["expires"] = self.chance.choice(choices)
                rows.append(row)
        return rows

    def make_open_orders(self) -> list[Row]:
        """Draw orders that are already placed, of phantoms seldom."""
        rows: list[Row] = []
        for part in self.parts:
            if not self.happens(0.15 if part.source == "phantom" else 0.45):
                continue
            for _ in range(self.chance.randint(1, 2)):
                row: Row = {"order": f"open-{len(rows) + 1}", "item": part.name}
                row |= {"quantity": self.quantity(part.unit, 0.1, 6), "due_date": self.any_date()}
                row |= self.serial_for(part.name)
                if part.source == "buy" and self.happens(0.5):
                    row["supplier"] = self.chance.choice(self.suppliers)
                rows.append(row)
        return rows

    def make_allocations(self, open_orders: list[Row], structure: list[Row]) -> list[Row]:
        """Draw what open make, print and kit orders still lack of their children."""
        part_of = {part.name: part for part in self.parts}
        rows: list[Row] = []
        for order in open_orders:
            if part_of[str(order["item"])].source not in ("make", "print", "kit"):
                continue
            children = {str(line["child"]) for line in structure if line["parent"] == order["item"]}
            for child in sorted(children):
                if self.happens(0.4):
                    row: Row = {"order": order["order"], "item": child}
                    row["quantity"] = self.quantity(part_of[child].unit, 0.1, 5)
                    row["need_date"] = self.any_date()
                    if "serial" in order:
                        row["serial"] = order["serial"]
                    rows.append(row)
        return rows

    def make_spares_orders(self) -> list[Row]:
        """Draw spares for airframes in the field, seldom for one that is being built."""
        rows: list[Row] = []
        for number in range(self.chance.randint(0, 6)):
            part = self.chance.choice(self.parts)
            row: Row = {"order": f"spare-{number + 1}", "item": part.name}
            row |= {"quantity": self.quantity(part.unit, 0.1, 4), "need_date": self.any_date()}
            row |= self.serial_for(part.name)
            fleet = self.serials[self.built_count :]
            if "serial" in row and fleet and self.happens(0.8):
                row["serial"] = self.chance.choice(fleet)
            if self.happens(0.5):
                row["urgency"] = self.chance.choice(["grounded", "routine"])
            rows.append(row)
        return rows

    def make_calendar(self) -> list[Row]:
        """Draw closed days, on any day of the week, and open Saturdays and Sundays, some outside
        the horizon."""
        span = range(-3, 7 * self.horizon_weeks + 5)
        days = self.chance.sample(span, self.chance.randint(0, 6))
        closed = [self.start + timedelta(days=day) for day in sorted(days)]
        if self.happens(0.2) and self.start not in closed:
            closed.insert(0, self.start)
        rows: list[Row] = [{"date": day, "reason": "closed"} for day in closed]
        for row, day in zip(rows, closed, strict=True):
            if day.isoweekday() > 5 and self.happens(0.6):
                row |= {"reason": "a shift", "open": "yes"}
            elif self.happens(0.2):
                row["open"] = "no"
        return rows
