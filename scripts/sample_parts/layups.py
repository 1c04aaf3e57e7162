"""Lay-up schedules, and the materials that a laminated part of a given area takes.

Resin is 40 to 42 % of the mass of a wet laminate; all figures are invented.
"""

from dataclasses import dataclass
from math import sqrt

from sample_parts.model import Item, Line, Sample

# cloth: areal mass in g/m2, resin by mass of cloth (0 for prepreg, which brings its own)
CLOTHS = {
    "MA101": (160, 0.70),  # carbon twill
    "MA102": (270, 0.70),  # carbon biaxial
    "MA103": (163, 0.64),  # glass twill, light
    "MA104": (280, 0.64),  # glass twill, heavy
    "MA105": (188, 0.72),  # carbon and aramid hybrid
    "MA106": (460, 0.0),  # unidirectional carbon prepreg
    "MA107": (600, 0.62),  # unidirectional glass
    "MA108": (49, 0.80),  # glass surface cloth
}
CORES = {"MA201": 135, "MA202": 225, "MA203": 480, "MA204": 144}  # g/m2
HARDENER_SHARE = 0.28  # kg of hardener for one kg of resin


@dataclass(frozen=True)
class Layup:
    """Plies of each cloth, and the core with the share of the area it covers."""

    words: str
    plies: dict[str, float]
    core: str = ""
    core_share: float = 0.0
    vacuum: bool = True


LAYUPS = {
    "skin": Layup("carbon/epoxy sandwich", {"MA101": 2, "MA108": 1}, "MA202", 0.85),
    "shell": Layup("carbon/epoxy sandwich", {"MA101": 3, "MA108": 1}, "MA202", 0.75),
    "rib": Layup("carbon/epoxy sandwich", {"MA101": 2}, "MA201", 0.9),
    "frame": Layup("carbon/epoxy", {"MA101": 3, "MA102": 1}),
    "bulkhead": Layup("carbon/epoxy sandwich", {"MA101": 3, "MA102": 1}, "MA203", 0.7),
    "beam": Layup("carbon/epoxy", {"MA102": 2, "MA101": 2}),
    "web": Layup("carbon/epoxy sandwich", {"MA102": 4}, "MA201", 0.8),
    "cap": Layup("carbon prepreg, unidirectional", {"MA106": 14}),
    "panel": Layup("glass/epoxy sandwich", {"MA103": 2}, "MA201", 0.9),
    "seat": Layup("carbon and aramid/epoxy", {"MA105": 2, "MA104": 1}),
    "fairing": Layup("glass/epoxy", {"MA104": 2, "MA108": 1}),
    "cowl": Layup("glass and carbon/epoxy sandwich", {"MA104": 2, "MA101": 1}, "MA204", 0.6),
    "duct": Layup("glass/epoxy", {"MA103": 2}, vacuum=False),
    "tank": Layup("glass/epoxy sandwich", {"MA104": 2}, "MA201", 0.7),
    "leg": Layup("glass/epoxy, unidirectional", {"MA107": 17, "MA101": 2}),
    "doubler": Layup("carbon/epoxy", {"MA102": 5}),
}


def add_laminate(
    sample: Sample, item: str, description: str, layup_name: str, area: float, class_: str
) -> None:
    """Add a laminated part and its lines; `skin+kit` takes its core as a cut kit."""
    name, _, with_kit = layup_name.partition("+")
    layup = LAYUPS[name]
    plies = sum(layup.plies.values())
    sample.add_item(
        Item(
            item,
            description,
            "make",
            "lay-up",
            lead_days=3 if area < 0.15 else 4 if area < 0.6 else 5 if area < 2 else 6,
            cover_days=12 if area < 0.1 else None,
            mass_g=round(_mass_g(layup, area)),
            hours_each=round(0.25 + area * (0.3 + 0.11 * plies), 2),
            hours_per_order=0.4 if area < 0.3 else 0.8,
            material=layup.words,
            structure_class=class_,
            scrap_rate=0.08 if name == "cap" else None,
        )
    )
    _add_cloth_and_resin(sample, item, layup, area)
    if with_kit:
        _add_core_kit(sample, item, description, layup, area)
    elif layup.core:
        _line(sample, item, layup.core, layup.core_share * area, waste=0.15)
    _add_consumables(sample, item, layup, area)


def _mass_g(layup: Layup, area: float) -> float:
    """Mass of the cured part in grams."""
    laminate = sum(
        plies * CLOTHS[cloth][0] * (1 + CLOTHS[cloth][1]) for cloth, plies in layup.plies.items()
    )
    return area * (laminate + layup.core_share * CORES.get(layup.core, 0))


def _add_cloth_and_resin(sample: Sample, item: str, layup: Layup, area: float) -> None:
    """Add the lines of the plies and of the resin and hardener that wet them."""
    cutting = 0.22 if area < 0.1 else 0.17 if area < 0.6 else 0.12
    for cloth, plies in layup.plies.items():
        _line(sample, item, cloth, plies * area, waste=0.06 if cloth == "MA106" else cutting)
    wet_g = sum(
        plies * area * CLOTHS[cloth][0] * CLOTHS[cloth][1] for cloth, plies in layup.plies.items()
    )
    if not wet_g:
        return
    resin_g = wet_g / (1 + HARDENER_SHARE)
    for child, grams in (("MA301", resin_g), ("MA302", resin_g * HARDENER_SHARE)):
        if grams >= 500:
            _line(sample, item, child, grams / 1000, waste=0.12)
        else:
            _line(sample, item, child, grams, "g", waste=0.15, digits=1)


def _add_core_kit(sample: Sample, item: str, description: str, layup: Layup, area: float) -> None:
    """Add the kit of cut and chamfered core pieces of a large skin."""
    kit = f"{item[:2]}4{item[3:]}"
    sample.add_item(
        Item(
            kit,
            f"Core kit for {description[0].lower()}{description[1:]}",
            "make",
            "core-trim",
            lead_days=2,
            hours_each=round(0.3 + 0.35 * area, 2),
            hours_per_order=0.3,
            material="closed-cell foam, cut and chamfered",
            structure_class="secondary",
        )
    )
    _line(sample, kit, layup.core, layup.core_share * area, waste=0.2)
    _line(sample, item, kit, 1)


def _add_consumables(sample: Sample, item: str, layup: Layup, area: float) -> None:
    """Add peel ply, films, breather, sealing tape, and wax for each order."""
    _line(sample, item, "MA401", 1.1 * area, waste=0.1)
    if layup.vacuum:
        for child, factor in (("MA402", 1.1), ("MA403", 1.1), ("MA404", 1.4)):
            _line(sample, item, child, factor * area, waste=0.1)
        _line(sample, item, "MA405", round(440 * sqrt(area)), "cm", waste=0.05)
    wax = Line(item, "MA406", round(20 + 60 * area), "ml", per="order", note="mould release")
    sample.add_line(wax)


def _line(
    sample: Sample,
    parent: str,
    child: str,
    quantity: float,
    unit: str = "",
    waste: float | None = None,
    digits: int = 3,
) -> None:
    """Add one line with its quantity rounded."""
    sample.add_line(Line(parent, child, round(quantity, digits), unit, waste=waste))
