"""What the fleet uses up, what was handed out to it, and its inspections; all figures invented."""

from datetime import date, timedelta
from random import Random

from sample_parts.model import Fitted, InspectionDone, InspectionRule, Issue, Sample, Usage

# item: pieces on one aircraft in 1000 hours
BY_HOURS = """
UC701 4
UC702 3
UC704 3
UC707 1.5
UC709 14
UC710 1
UC711 4
UC717 2.4
PP703 0.8
PP705 0.3
PP710 21
PP711 5
PP712 42
PP723 0.6
"""

# item: pieces on one aircraft in a year
BY_YEAR = """
KT004 0.9
PP716 0.2
FU706 0.15
"""

# item: how often it was handed out since the first aircraft flew
ISSUED = """
0098415 5
AV748 6
FU702R 2
HW154 9
PL704 3
PP728 4
PP734 3
PP735 3
TL707 1
UC712 7
UC713 5
"""
FIRST_ISSUE, LAST_ISSUE = date(2025, 1, 13), date(2026, 11, 20)
SEVERAL = {"0098415": 4, "AV748": 2, "HW154": 10}  # pieces handed out each time

# item | quantity | hours | months | first hours | first months | with | without | note
RULES = """
KT004 | | 100 | 12 | | | | | 100-hour or annual inspection, whichever comes first
PP710 | | 100 | | 50 | | | | Oil change between the 100-hour inspections
KT001 | | | 36 | | | | | Door seals, every three years
KT003 | | 600 | | | | | TUNDRA | Main wheels and brakes
UC704 | 2 | 400 | | | | TUNDRA | | Tundra tyres
PP716 | | | 60 | | | | | Coolant hoses, every five years
UC723 | 2 | | 60 | | | | | Brake hoses, every five years
0008850 | | | 72 | | | | | Rescue parachute: repacked by its maker, another in exchange
FU717 | | | 144 | | | | | Parachute bridle, with the rocket at its calendar limit
"""

# serial | work | date | hours
DONE = """
FN-001 | KT004 | 2026-07-14 | 391
FN-001 | PP710 | 2026-10-02 | 430
FN-002 | KT004 | 2025-11-20 | 133
FN-005 | KT004 | 2026-09-08 | 251
FN-007 | KT004 | 2026-10-26 | 801
FN-012 | KT004 | 2026-09-29 | 668
FN-012 | PP710 | 2026-11-12 | 712
FN-029 | KT004 | 2026-10-19 |
"""

# serial | item | lot | part_serial | date: brake hoses by lot, rescue parachutes by number
FITTED = """
FN-001 | UC723 | 723-2405 | | 2024-08-29
FN-002 | UC723 | 723-2405 | | 2024-09-11
FN-003 | UC723 | 723-2405 | | 2024-09-23
FN-004 | UC723 | 723-2408 | | 2024-10-08
FN-005 | UC723 | 723-2408 | | 2024-10-21
FN-001 | 0008850 | | 88-10417 | 2024-09-02
FN-002 | 0008850 | | 88-10422 | 2024-09-13
FN-006 | 0008850 | | 88-10431 | 2024-11-04
"""

# whose some of the aircraft are
CUSTOMERS = """
FN-001 Corvelle Flying School
FN-002 owner at Montarvel
FN-003 Montarvel Air Club
FN-006 Eskaholm Air Club
"""


def add_field(sample: Sample, random: Random) -> None:
    """Fill usage, issues, inspection rules and log, and what is fitted."""
    for row in BY_HOURS.strip().splitlines():
        item, rate = row.split()
        sample.usage.append(Usage(item, per_1000_hours=float(rate)))
    for row in BY_YEAR.strip().splitlines():
        item, rate = row.split()
        sample.usage.append(Usage(item, per_year=float(rate)))
    for row in RULES.strip().splitlines():
        sample.inspection_rules.append(_inspection_rule(row))
    for row in DONE.strip().splitlines():
        serial, work, day, hours = (cell.strip() for cell in row.split("|"))
        done = date.fromisoformat(day)
        sample.inspection_log.append(
            InspectionDone(serial, work, done, float(hours) if hours else None)
        )
    for row in FITTED.strip().splitlines():
        *named, day = (cell.strip() for cell in row.split("|"))
        sample.fitted.append(Fitted(*named, date.fromisoformat(day)))
    customers = dict(row.split(" ", 1) for row in CUSTOMERS.strip().splitlines())
    for aircraft in sample.fleet:
        aircraft.customer = customers.get(aircraft.serial, "")
    for row in ISSUED.strip().splitlines():
        item, times = row.split()
        sample.issues += [_issue(sample, item, random) for _ in range(int(times))]
    sample.issues.sort(key=lambda issue: (issue.date, issue.item, issue.serial))


def _inspection_rule(row: str) -> InspectionRule:
    """One row of RULES."""
    item, quantity, *limits, with_option, without_option, note = (
        cell.strip() for cell in row.split("|")
    )
    hours, months, first_hours, first_months = (int(cell) if cell else None for cell in limits)
    return InspectionRule(
        item,
        float(quantity) if quantity else None,
        hours,
        months,
        first_hours,
        first_months,
        with_option,
        without_option,
        note=note,
    )


def _issue(sample: Sample, item: str, random: Random) -> Issue:
    """Something handed out on some working day for an aircraft delivered by then."""
    day = FIRST_ISSUE + timedelta(days=random.randint(0, (LAST_ISSUE - FIRST_ISSUE).days))
    day -= timedelta(days=max(0, day.weekday() - 4))
    flying = [aircraft.serial for aircraft in sample.fleet if aircraft.delivered < day]
    return Issue(item, day, float(SEVERAL.get(item, 1)), random.choice(flying))
