"""Reads the parts lists of the area modules: one line a part, columns parted by bars.

A star in a code stands for both hands: `WG101*` is WG101L and WG101R. The last column but one says
where the part goes: `FU001 2; WG001* 35cm offset_days=5` is two pieces in FU001 and 35 cm in each
wing. A line that starts with a plus sign goes on with the column "goes into" of the line above.
"""

import re
from collections.abc import Iterator
from datetime import date

from sample_parts.layups import add_laminate
from sample_parts.model import Item, Line, Sample

HANDS = {"L": "left", "R": "right"}
FILAMENTS = {"PLA": "MA501", "PETG": "MA502", "ABS": "MA503", "ASA": "MA504", "PA12": "MA505"}
STOCK_METALS = {"alu": "MA601", "sheet": "MA602", "steel": "MA603", "tube": "MA604", "rod": "MA605"}
HEAT_C = {"PLA": 45, "PETG": 65, "ABS": 90, "ASA": 90, "PA12": 120}
WHOLE_COLUMNS = {"offset_days", "cover_days", "safety_days", "longest_cover_days"}
NUMBER_COLUMNS = {"waste", "multiple", "minimum", "safety_stock", "heat_c"}
DATE_COLUMNS = {"from_date", "to_date"}


def add_assemblies(sample: Sample, table: str) -> None:
    """Add made assemblies: code, words, process, lead, hours each and per order, class, into."""
    for code, words, process, lead, hours, class_, into in _rows(table, 7):
        each, _, per_order = hours.partition("+")
        for item, description, hand in _handed(code, words):
            sample.add_item(
                Item(
                    item,
                    description,
                    "make",
                    process,
                    lead_days=int(lead),
                    hours_each=float(each),
                    hours_per_order=float(per_order or 0),
                    structure_class=class_,
                )
            )
            _place(sample, item, hand, into)


def add_laminates(sample: Sample, table: str) -> None:
    """Add laminated parts with their materials: code, words, lay-up, area in m2, class, into."""
    for code, words, layup, area, class_, into in _rows(table, 6):
        for item, description, hand in _handed(code, words):
            add_laminate(sample, item, description, layup, float(area), class_)
            _place(sample, item, hand, into)


def add_prints(sample: Sample, table: str) -> None:
    """Add printed parts with their filament: code, words, material, grams, class, into."""
    for code, words, material, grams_text, class_, into in _rows(table, 6):
        grams = float(grams_text)
        for item, description, hand in _handed(code, words):
            sample.add_item(_printed(item, description, material, grams, class_))
            heavy = grams >= 150
            sample.add_line(
                Line(
                    item,
                    FILAMENTS[material],
                    grams / 1000 if heavy else grams,
                    "kg" if heavy else "g",
                    waste=0.08 if heavy else 0.12,
                )
            )
            sample.add_line(Line(item, "MA506", 2, "ml", per="order", note="bed adhesive"))
            _place(sample, item, hand, into)


def _printed(item: str, description: str, material: str, grams: float, class_: str) -> Item:
    """A printed part; its hours are hours of a printer."""
    return Item(
        item,
        description,
        "print",
        "print",
        lead_days=2 if grams < 150 else 3,
        cover_days=10 if grams < 60 else 5,
        mass_g=None if class_ == "tooling" else grams,
        hours_each=round(0.2 + grams / 18, 1),
        hours_per_order=0.4,
        material=material,
        structure_class=class_,
        heat_c=HEAT_C[material] if class_ != "tooling" else None,
    )


def add_machined(sample: Sample, table: str) -> None:
    """Add machined parts: code, words, metal, its amount, grams of the part, hours, class, into."""
    for code, words, metal, amount, grams, hours, class_, into in _rows(table, 8):
        quantity, unit = _amount(amount)
        for item, description, hand in _handed(code, words):
            sample.add_item(
                Item(
                    item,
                    description,
                    "make",
                    "machine",
                    lead_days=5,
                    cover_days=15,
                    mass_g=float(grams),
                    hours_each=float(hours),
                    hours_per_order=1.5,
                    structure_class=class_,
                )
            )
            sample.add_line(Line(item, STOCK_METALS[metal], quantity, unit, waste=0.1))
            _place(sample, item, hand, into)


def add_purchases(sample: Sample, table: str, **defaults: float | str) -> None:
    """Add bought items: code, words, supplier, cost, mass in g, lead, into, further columns."""
    for code, words, supplier, cost, grams, lead, into, further in _rows(table, 8):
        for item, description, hand in _handed(code, words):
            bought = Item(
                item,
                description,
                "buy",
                lead_days=int(lead),
                supplier=supplier,
                cost=float(cost),
                mass_g=float(grams) if grams else None,
            )
            for column, value in {**defaults, **_further(further.split())}.items():
                setattr(bought, column, value)
            sample.add_item(bought)
            _place(sample, item, hand, into)


def add_sets(sample: Sample, table: str) -> None:
    """Add phantoms and kits: code, words, source, lead days, hours, into."""
    for code, words, source, lead, hours, into in _rows(table, 6):
        sample.add_item(
            Item(
                code,
                words,
                source,
                "assemble" if source == "kit" else "",
                lead_days=int(lead) if lead else None,
                hours_each=float(hours) if hours else None,
            )
        )
        _place(sample, code, "", into)


def add_uses(sample: Sample, table: str) -> None:
    """Add lines for items that are declared elsewhere: code, into."""
    for code, into in _rows(table, 2):
        for item, _, hand in _handed(code, ""):
            _place(sample, item, hand, into)


def _rows(table: str, width: int) -> Iterator[list[str]]:
    """The cells of each line; ValueError if a line has not `width` of them."""
    joined = re.sub(r"\n\s*\+", ";", table.strip())
    for row in joined.splitlines():
        cells = [cell.strip() for cell in row.split("|")]
        if len(cells) != width:
            raise ValueError(f"{width} columns wanted: {row}")
        yield cells


def _handed(code: str, words: str) -> Iterator[tuple[str, str, str]]:
    """The items a code stands for: itself, or its left and its right one."""
    if "*" not in code:
        yield code, words, ""
        return
    for hand, side in HANDS.items():
        yield code.replace("*", hand), f"{words}, {side}", hand


def _place(sample: Sample, item: str, hand: str, into: str) -> None:
    """Add the structure lines that a column "goes into" asks for."""
    for place in filter(None, (part.strip() for part in into.split(";"))):
        parent, amount, *further = place.split()
        quantity, unit = _amount(amount)
        own = sample.items[item].unit
        for one in (hand or "LR") if "*" in parent else "-":
            line = Line(parent.replace("*", one), item, quantity, "" if unit == own else unit)
            for column, value in _further(further).items():
                setattr(line, column, value)
            sample.add_line(line)


def _amount(text: str) -> tuple[float, str]:
    """Quantity and unit of an amount such as 35cm; pieces where no unit is written."""
    found = re.fullmatch(r"([\d.]+)([a-z]*2?)", text)
    if not found:
        raise ValueError(f"not an amount: {text}")
    return float(found[1]), found[2] or "pc"


def _further(words: list[str]) -> dict[str, str | float | date]:
    """Columns written as name=value; a plus sign stands for a space, a comma ends nothing."""
    columns: dict[str, str | float | date] = {}
    for word in words:
        name, _, value = word.partition("=")
        if name in WHOLE_COLUMNS:
            columns[name] = int(value)
        elif name in NUMBER_COLUMNS:
            columns[name] = float(value)
        elif name in DATE_COLUMNS:
            columns[name] = date.fromisoformat(value)
        else:
            columns[name] = value.replace("+", " ")
    return columns
