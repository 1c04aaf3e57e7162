"""The page that explains the sample."""

from collections import Counter

from bomkit.planning.structure.mass_cost_hours import Tables, roll_up
from sample_parts.frames import levels, serial_specific
from sample_parts.model import Sample
from sample_parts.plan import AIRFRAME, HORIZON_WEEKS, RELEASE_WEEKS, START, TITLE

PLAIN = "FN-070"  # the first airframe from FN-070 on, and without options

PAGE = """\
# Fenlark: a full-size sample

**All of this is invented**: the maker, the aircraft, the places, the suppliers, the parts, and
every figure, lay-up, mass, price and lead time. Nothing here may be built or flown by. In real life
the maker's and the authority's documents rule. `python scripts/make_sample.py` writes this folder,
the same each time, and holds it against bomkit's own checks.

## The scenario

{title} builds the Fenlark beside an airfield: a two-seat, low-wing
aircraft of carbon and glass fibre with a four-cylinder engine of the 100 hp class and a rescue
parachute, which is standard. Sixty have been delivered (FN-001 to FN-060).

The plan starts on {start} and looks {weeks} weeks ahead, with workbooks for {release} weeks:
{airframes} airframes, FN-061 to FN-081, at a rate that rises from three to four a month.
FN-061 to FN-063 are in final assembly: their orders are open, and `allocations.csv` holds what they
still lack.

| option | what changes |
|---|---|
| LONGRANGE | a second tank in each wing, four-way fuel selector |
| AUTOPILOT | two servos, controller, more wiring, handbook supplement |
| TUNDRA | large wheels and a mudguard in place of standard wheels and fairings |

Only lines near the top name an option or a serial, so {specific} items are planned for each
airframe of its own: {specific_names}.
The other {common} are common.

## The structure

{items} items and {lines} lines on six levels: airframe, major assembly, assembly, sub-assembly,
part, material. Empty mass by roll-up: {mass:.0f} kg.

{sources}

Names tell the area and the kind: FU fuselage, WG wing, TL tail, UC undercarriage, PP powerplant,
CK cockpit, AV avionics, HW hardware, MA materials, KT kits, PL papers, TO tools; 0.. assemblies,
1.. laminated, 4.. machined parts and core kits, 5.. printed (59. drill jigs), 7.. bought;
L or R is the hand.
A few bought items keep their supplier's number with its leading zeros, such as 0031006, the engine.
HW001 to HW007 and PL001 are phantoms, KT001 to KT007 kits for the fleet.

Lay-up and printing scrap a share of what they start, assemblies none. Hours of printed parts are
hours of a printer, all others are people's.

{processes}

Other things to find: cloth with waste of 6 to 22 %, lines in g of kg, ml of l, cm of m, wax and
jigs once per order, adhesive MA303 that gives way to MA304 by date (February), oil cooler and trim
actuator that change by serial (FN-070, FN-072), two replacements (connector 0098415 and rivet nut
HW154, whose old stock goes first), rolls and packs as multiples, lots that expire.

The fleet in the field: `usage.csv` and `issues.csv` say what it uses up, for
`bomkit spares sample_boms/fenlark --out spares.xlsx`, and `inspection_rules.csv` what its
inspections take, for the sheets of coming inspections and `--with-inspections`; for a few aircraft
`inspection_log.csv` says when something was last done, and `fitted.csv` what was built into them
(`bomkit fitted sample_boms/fenlark --lot 723-2405`). Their rates,
intervals and calendar limits are invented as well: those of an engine, a hose, a rescue parachute
or its rocket differ by maker, and the maker's and the authority's documents rule.

Kit KT007 packs other parts for aircraft with TUNDRA or AUTOPILOT. Some materials carry a UN number
and class as an example of the kind, written from memory: the safety data sheets, and the maker's
and the authority's documents for all limits and intervals here, rule.

## What to look at in the plan

Before these troubles every order was in time. What is late now comes from them:

{troubles}
"""


def readme_text(sample: Sample, tables: Tables, troubles: list[str]) -> str:
    """The README of the sample's folder; tables: the same as bomkit reads them."""
    specific = sorted(serial_specific(sample))
    return PAGE.format(
        title=TITLE,
        start=START.isoformat(),
        weeks=HORIZON_WEEKS,
        release=RELEASE_WEEKS,
        airframes=len(sample.build_plan),
        specific=len(specific),
        specific_names=" ".join(specific),
        common=len(sample.items) - len(specific),
        items=len(sample.items),
        lines=len(sample.structure),
        mass=roll_up(tables, "mass", [PLAIN]).values(PLAIN)[AIRFRAME],
        sources=_sources_table(sample),
        processes=_process_table(sample),
        troubles="\n".join(f"- {trouble}" for trouble in troubles),
    )


def _sources_table(sample: Sample) -> str:
    """A table of the items by source and level."""
    level = levels(sample)
    counts = Counter((item.source, level[code]) for code, item in sample.items.items())
    depths = range(max(level.values()) + 1)
    rows = ["| source | items | " + " | ".join(f"level {depth}" for depth in depths) + " |"]
    rows.append("|---" * (len(depths) + 2) + "|")
    for source in ("make", "print", "buy", "phantom", "kit"):
        by_level = [counts[source, depth] for depth in depths]
        cells = " | ".join(str(count or "") for count in by_level)
        rows.append(f"| {source} | {sum(by_level)} | {cells} |")
    return "\n".join(rows)


def _process_table(sample: Sample) -> str:
    """A table of the processes with their scrap rates and weekly hours."""
    names = " | ".join(process.process for process in sample.processes)
    scrap = " | ".join(f"{process.scrap_rate:.0%}" for process in sample.processes)
    hours = " | ".join(f"{process.hours_per_week:g}" for process in sample.processes)
    ruler = "|---" * (len(sample.processes) + 1) + "|"
    return f"| process | {names} |\n{ruler}\n| scrap | {scrap} |\n| hours a week | {hours} |"
