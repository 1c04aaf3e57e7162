"""The print room and the moulds: materials, profiles, printers, 200 moulds, three of them worn.

Printing hours and plate shares follow from the grams; like everything else they are invented.
"""

from sample_parts.model import Item, Line, Material, Mould, Printer, PrintProfile, Sample

OLD, NEW = "bench", "cabinet"
MOULDS = 200
PULL_AHEAD_WEEKS = 2
SEGMENT = "TO014"

# material: filament, kg on a spool, degrees C it stands, installed
MATERIALS = (
    Material("PLA", "MA501", 1, 55, "no"),
    Material("PETG", "MA502", 1, 75, "yes"),
    Material("ABS", "MA503", 1, 98, "yes"),
    Material("ASA", "MA504", 1, 98, "yes"),
    Material("PA12", "MA505", 0.75, 150, "yes"),
)
PRINTERS = (
    Printer(OLD, 3, 70, None, 60, NEW),
    Printer(NEW, 6, 70, 40, 72),
)
# Sliced for the bench printers long ago and for no other since: all jigs, and the boxes of the
# avionics bay.
NEVER_SLICED_ANEW = ("PLA", "PETG")
OLD_BOXES = ("AV504", "AV505", "AV506", "AV507")

# mould of: pulls left, replacement
WORN = {"FU151L": (9, "TO011"), "FU101R": (12, "TO021"), "FU109": (1, "TO031")}
TOOLS = (
    Item("TO011", "Production mould with inserts, door skin, left", "make", "lay-up", lead_days=10),
    Item("TO012", "First mould, door skin, left", "make", "lay-up", lead_days=8),
    Item("TO013", "Master, door skin, left, filled and sealed", "make", "paint", lead_days=6),
    Item(SEGMENT, "Master segment, door skin, left", "print", "print", lead_days=4),
    Item("TO015", "Hinge insert, door skin mould", "make", "machine", lead_days=5),
    Item("TO021", "Mould, fuselage half shell, right, milled to order", "buy", lead_days=35),
    Item("TO031", "Mould, tail frame, station 2, milled to order", "buy", lead_days=30),
)
TOOL_LINES = (
    Line("TO011", "TO012", 1),
    Line("TO011", "TO015", 4),
    Line("TO011", "MA104", 12, "m2", waste=0.15),
    Line("TO011", "MA301", 6, "kg", waste=0.1),
    Line("TO012", "TO013", 1),
    Line("TO012", "MA104", 8, "m2", waste=0.15),
    Line("TO012", "MA301", 4, "kg", waste=0.1),
    Line("TO013", SEGMENT, 4),
    Line("TO013", "MA326", 2, "kg"),
    Line("TO013", "MA321", 1.5, "l"),
    Line(SEGMENT, "MA501", 250, "g", waste=0.08),
    Line("TO015", "MA601", 0.9, "kg", waste=0.1),
)
HOURS = {"TO011": 46, "TO012": 28, "TO013": 22, SEGMENT: 14.1, "TO015": 1.5}
COSTS = {"TO021": 9400, "TO031": 1650}


def add_shops(sample: Sample) -> list[str]:
    """Add the tables of the shops, and tell what is to be found in them, in sentences."""
    _add_tools(sample)
    sample.materials.extend(MATERIALS)
    sample.printers.extend(PRINTERS)
    for item in sample.items.values():
        if item.source == "print":
            sample.prints.append(_profile(item))
    _add_moulds(sample)
    return [
        f"Print room: everything in PLA and PETG, and the boxes {', '.join(OLD_BOXES)}, is sliced "
        f"for the three old {OLD} printers only. Three airframes a month fit, four do not, and "
        "these printers are the one reason; slicing some of it anew frees their hours.",
        "Door skin FU151L: its mould wears out; TO011 takes its place in time if its printed "
        "master is begun early. FU101R: a milled mould must be ordered. FU109: its mould has one "
        "pull left, and a new one takes 30 days: a gap that nothing closes any more.",
        f"Levelling pulls work forward by up to {PULL_AHEAD_WEEKS} weeks; with `--no-level` it "
        "stays where netting puts it.",
    ]


def _add_tools(sample: Sample) -> None:
    """The chain that makes a production mould, and two moulds that are bought."""
    for tool in TOOLS:
        tool.structure_class = "tooling"
        tool.hours_each = HOURS.get(tool.item)
        tool.cost = COSTS.get(tool.item)
        tool.supplier = "IRON" if tool.source == "buy" else ""
        tool.material = "PLA" if tool.source == "print" else ""
        sample.add_item(tool)
    for line in TOOL_LINES:
        sample.add_line(line)


def _profile(item: Item) -> PrintProfile:
    """How a part is printed: hours as the item says, the share of a plate by its grams."""
    hours = item.hours_each or 0.0
    share = min(0.9, round(0.03 + (hours - 0.2) * 18 / 600, 3))
    boxes_and_jigs = item.material in NEVER_SLICED_ANEW or item.item in OLD_BOXES
    old_only = boxes_and_jigs and item.item != SEGMENT
    kinds = OLD if old_only else NEW if item.material == "PA12" else f"{NEW} {OLD}"
    small = share < 0.06
    return PrintProfile(
        item.item, hours, None if small else share, int(1 / share) if small else None, kinds
    )


def _add_moulds(sample: Sample) -> None:
    """A mould for each of the heaviest laid-up parts; the others are laid up on a flat table."""
    parts = [
        item
        for item in sample.items.values()
        if item.process == "lay-up" and item.structure_class != "tooling"
    ]
    largest = sorted(parts, key=lambda item: (-(item.mass_g or 0), item.item))[:MOULDS]
    needed = _needed_for_one(sample)
    for number, item in enumerate(sorted(largest, key=lambda each: each.item), start=1):
        left, replacement = WORN.get(item.item, (None, ""))
        pulls = 4.0 * max(1.0, needed.get(item.item, 1.0))
        sample.moulds.append(Mould(f"M{number:03d}", item.item, 1, pulls, left, replacement, ""))


def _needed_for_one(sample: Sample) -> dict[str, float]:
    """How many of each part go directly into others, as a measure of how often it is pulled."""
    found: dict[str, float] = {}
    for line in sample.structure:
        found[line.child] = found.get(line.child, 0.0) + line.quantity
    return found
