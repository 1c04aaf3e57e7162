"""Fills all tables of the sample in a fixed order."""

from random import Random

from sample_parts.avionics import add_avionics
from sample_parts.cockpit import add_cockpit
from sample_parts.field import add_field
from sample_parts.fuselage import add_fuselage
from sample_parts.hardware import add_hardware
from sample_parts.kits import add_kits
from sample_parts.materials import add_hazards, add_materials
from sample_parts.model import Sample
from sample_parts.opening import add_opening
from sample_parts.plan import add_fleet, add_plan, add_spares
from sample_parts.planted import add_troubles
from sample_parts.powerplant import add_powerplant
from sample_parts.shops import add_shops
from sample_parts.tail import add_tail
from sample_parts.undercarriage import add_undercarriage
from sample_parts.wing import add_wing

SEED = 20261130


def fill_sample() -> tuple[Sample, list[str]]:
    """The whole sample, always the same, and what has gone wrong in it, in sentences."""
    sample = Sample()
    random = Random(SEED)
    add_plan(sample)
    add_materials(sample)
    for add_area in (
        add_fuselage,
        add_wing,
        add_tail,
        add_undercarriage,
        add_powerplant,
        add_cockpit,
        add_avionics,
        add_hardware,
        add_kits,
    ):
        add_area(sample)
    add_hazards(sample)
    add_fleet(sample, random)
    add_spares(sample)
    add_opening(sample, random)
    add_field(sample, Random(SEED + 1))  # of its own: nothing else moves with it
    troubles = add_troubles(sample)
    return sample, [*troubles, *add_shops(sample)]
