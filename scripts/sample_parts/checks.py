"""Checks the sample against the rules of its tables and sums it up."""

from collections import Counter
from collections.abc import Iterator

from sample_parts.effectivity import is_fitted
from sample_parts.model import UNIT_SIZES, Item, Sample
from sample_parts.plan import AIRFRAME

STRUCTURED = ("make", "print", "phantom", "kit")


def faults(sample: Sample) -> list[str]:
    """Everything that breaks a rule of the tables, in words."""
    return [*_line_faults(sample), *_item_faults(sample), *_serial_faults(sample)]


def _line_faults(sample: Sample) -> Iterator[str]:
    """Unknown items, wrong dimensions and positions that are there twice."""
    seen = set()
    for line in sample.structure:
        if line.parent not in sample.items or line.child not in sample.items:
            yield f"{line.parent} -> {line.child}: unknown item"
            continue
        own = sample.items[line.child].unit
        if UNIT_SIZES[line.unit or own][0] != UNIT_SIZES[own][0]:
            yield f"{line.parent} -> {line.child}: {line.unit} is not of the dimension of {own}"
        key = (line.parent, line.child, line.position)
        if key in seen:
            yield f"{line.parent} -> {line.child}: position {line.position} is there twice"
        seen.add(key)


def _item_faults(sample: Sample) -> Iterator[str]:
    """Items without use, without lines or with lines they can't have, and wrong prints."""
    used = {line.child for line in sample.structure}
    used |= {order.item for order in sample.spares_orders} | {AIRFRAME}
    used |= {replacement.new for replacement in sample.replacements}
    used |= {mould.replacement for mould in sample.moulds}
    used |= {row.alternate for row in sample.alternates}
    processes = {process.process for process in sample.processes}
    suppliers = {supplier.supplier for supplier in sample.suppliers}
    for code, item in sample.items.items():
        if code not in used:
            yield f"{code} is not used"
        if (item.source in STRUCTURED) != (code in sample.lines_of):
            yield f"{code} is {item.source} and has {len(sample.lines_of.get(code, []))} lines"
        if item.process and item.process not in processes:
            yield f"{code}: unknown process {item.process}"
        if item.source == "buy" and item.supplier not in suppliers:
            yield f"{code}: unknown supplier {item.supplier}"
        if item.source == "print" and (not item.material or item.structure_class == "primary"):
            yield f"{code} is printed: it needs a material and is never primary structure"


def _serial_faults(sample: Sample) -> Iterator[str]:
    """Rows of serial-specific items that name no serial, and their safety stock."""
    specific = serial_specific(sample)
    for table in (sample.stock, sample.open_orders, sample.allocations, sample.spares_orders):
        for row in table:
            if row.item not in sample.items:
                yield f"{row.item} is unknown"
            if row.item in specific and not row.serial:
                yield f"{row.item} is serial-specific and its row names no serial"
    for told in (sample.usage, sample.issues, sample.inspection_rules):
        yield from (f"{row.item} is unknown" for row in told if row.item not in sample.items)
    for code in specific:
        if sample.items[code].safety_stock:
            yield f"{code} is serial-specific and holds safety stock"


def serial_specific(sample: Sample) -> set[str]:
    """The items that are planned for each serial number of their own."""
    specific = {AIRFRAME} | {line.parent for line in sample.structure if line.conditional}
    while True:
        parents = {line.parent for line in sample.structure if line.child in specific}
        if parents <= specific:
            return specific
        specific |= parents


def levels(sample: Sample) -> dict[str, int]:
    """Each item's longest distance from the top; ValueError if there is a loop."""
    children: dict[str, set[str]] = {}
    for line in sample.structure:
        children.setdefault(line.parent, set()).add(line.child)
    for replacement in sample.replacements:
        children.setdefault(replacement.old, set()).add(replacement.new)
    parents_left = Counter(child for under in children.values() for child in under)
    level = dict.fromkeys(sample.items, 0)
    ready = [code for code in sample.items if not parents_left[code]]
    for code in ready:
        for child in sorted(children.get(code, ())):
            level[child] = max(level[child], level[code] + 1)
            parents_left[child] -= 1
            if not parents_left[child]:
                ready.append(child)
    if len(ready) < len(sample.items):
        raise ValueError("the structure has a loop")
    return level


def mass_kg(sample: Sample, code: str, options: str = "", serial: str = "FN-070") -> float:
    """Mass of one unit: the item's own, else that of its children without fluids per order."""
    item: Item = sample.items[code]
    if item.mass_g is not None:
        return item.mass_g / 1000
    total = 0.0
    for line in sample.lines_of.get(code, []):
        if line.per == "order" or not is_fitted(line, options, serial) or line.to_date:
            continue
        unit = sample.items[line.child].unit
        factor = UNIT_SIZES[line.unit or unit][1] / UNIT_SIZES[unit][1]
        total += line.quantity * factor * mass_kg(sample, line.child, options, serial)
    return total


def summary(sample: Sample) -> str:
    """Counts by source, level and table, the empty mass, and every fault found."""
    level = levels(sample)
    by_source = Counter(item.source for item in sample.items.values())
    by_process = Counter(item.process for item in sample.items.values() if item.process)
    by_level = Counter(level.values())
    found = faults(sample)
    lines = [
        f"items {len(sample.items)}, structure lines {len(sample.structure)}",
        "by source: " + _counts(by_source),
        "by process: " + _counts(by_process),
        "by level: " + ", ".join(f"{number}: {by_level[number]}" for number in sorted(by_level)),
        "serial-specific: " + " ".join(sorted(serial_specific(sample))),
        f"stock {len(sample.stock)}, open orders {len(sample.open_orders)}, "
        f"allocations {len(sample.allocations)}, spares orders {len(sample.spares_orders)}",
        f"empty mass {mass_kg(sample, AIRFRAME):.1f} kg, with all options "
        f"{mass_kg(sample, AIRFRAME, 'LONGRANGE AUTOPILOT TUNDRA'):.1f} kg",
        *(f"FAULT {fault}" for fault in found),
        f"{len(found)} faults",
    ]
    return "\n".join(lines)


def _counts(counter: Counter[str]) -> str:
    """Names with their counts, the most frequent first."""
    return ", ".join(f"{name} {count}" for name, count in counter.most_common())
