"""The airframes to be built, the fleet, the shops' processes and the closed days."""

from datetime import date, timedelta
from random import Random

from sample_parts.catalogue import add_assemblies
from sample_parts.model import Airframe, ClosedDay, Delivered, Process, Sample, SparesOrder

START = date(2026, 11, 30)
HORIZON_WEEKS = 30
RELEASE_WEEKS = 4
AIRFRAME = "FENLARK"
TITLE = "Hollerbrook Aircraft Works"
OPTIONS = ("LONGRANGE", "AUTOPILOT", "TUNDRA")

TOP = """
FENLARK | Fenlark two-seater, flight-tested | final-assembly | 15 | 96+2 | primary |
"""

BUILD_PLAN = """
FN-061 2026-12-04 LONGRANGE
FN-062 2026-12-11
FN-063 2026-12-18 AUTOPILOT
FN-064 2027-01-14 LONGRANGE AUTOPILOT
FN-065 2027-01-22 TUNDRA
FN-066 2027-01-29
FN-067 2027-02-09 LONGRANGE
FN-068 2027-02-17 AUTOPILOT
FN-069 2027-02-26 LONGRANGE AUTOPILOT
FN-070 2027-03-09
FN-071 2027-03-18 LONGRANGE TUNDRA
FN-072 2027-03-30 AUTOPILOT
FN-073 2027-04-08 LONGRANGE
FN-074 2027-04-15
FN-075 2027-04-22 LONGRANGE AUTOPILOT
FN-076 2027-04-30 TUNDRA
FN-077 2027-05-07 AUTOPILOT
FN-078 2027-05-14 LONGRANGE
FN-079 2027-05-21 LONGRANGE AUTOPILOT TUNDRA
FN-080 2027-06-01
FN-081 2027-06-10 LONGRANGE
"""

PROCESSES = (
    Process("lay-up", 0.04, 240, cures="yes", stage="laminate"),
    Process("core-trim", 0.02, 24, stage="laminate"),
    Process("bond", 0.0, 170, cures="yes", stage="bond"),
    Process("print", 0.06, 630, stage="small parts"),
    Process("machine", 0.02, 170, stage="small parts"),
    Process("paint", 0.0, 95, cures="yes", stage="paint"),
    Process("wire", 0.0, 68, stage="equip"),
    Process("assemble", 0.0, 120, stage="equip"),
    Process("test", 0.0, 24, cures="yes", stage="final"),
    Process("final-assembly", 0.0, 105, stage="final"),
)

CLOSED = """
2026-12-24 Christmas week
2026-12-25 Christmas week
2026-12-28 Christmas week
2026-12-29 Christmas week
2026-12-30 Christmas week
2026-12-31 Christmas week
2027-01-01 New Year's Day
2027-03-26 Good Friday
2027-03-29 Easter Monday
2027-05-01 Labour Day
2027-05-06 Ascension Day
2027-05-17 Whit Monday
"""

BASES = (
    "Aldermere Strip",
    "Brackenhythe",
    "Corvelle-les-Prés",
    "Dunmarrow Field",
    "Eskaholm",
    "Falkensand",
    "Grönvallö",
    "Hollerbrook",
    "Isca Moor",
    "Järpholmen",
    "Kessenrade",
    "Lauterfeldt",
    "Montarvel",
    "Nieuwerbeke",
    "Ostrevik",
    "Pontarello",
    "Quintamar",
    "Rovensk",
    "Sandwyck Airpark",
    "Torrevenza",
)

SPARES = """
SP-2611 | FU706 | 2 | 2026-12-03 | FN-012 | routine | Aldermere Flying Group
SP-2612 | KT001 | 1 | 2026-12-09 | FN-027 | routine | Eskaholm Air Club
SP-2613 | KT003 | 2 | 2026-12-16 | FN-008 | routine | Falkensand Flight School
SP-2614 | KT004 | 4 | 2027-01-15 | | routine | Lauterfeldt Maintenance
SP-2615 | WG160L | 1 | 2027-01-20 | FN-019 | routine | owner at Ostrevik
SP-2616 | UC002 | 1 | 2027-02-10 | FN-033 | routine | owner at Montarvel
SP-2617 | FU702R | 1 | 2027-02-04 | FN-044 | routine | owner at Kessenrade
SP-2618 | KT002 | 3 | 2027-02-18 | | routine | Falkensand Flight School
SP-2619 | KT005 | 2 | 2027-03-04 | | routine | Lauterfeldt Maintenance
SP-2620 | KT004 | 6 | 2027-03-22 | | routine | Sandwyck Airpark Service
SP-2621 | UC103R | 1 | 2027-04-13 | FN-051 | routine | owner at Quintamar
SP-2625 | KT006 | 1 | 2027-01-26 | FN-015 | routine | owner at Rovensk
SP-2626 | KT007 | 1 | 2027-02-16 | FN-038 | routine | owner at Pontarello
SP-2622 | PP740 | 5 | 2027-04-20 | | routine | Sandwyck Airpark Service
"""


def add_plan(sample: Sample) -> None:
    """Add the airframe item, the build plan, the processes and the calendar."""
    add_assemblies(sample, TOP)
    for row in BUILD_PLAN.strip().splitlines():
        serial, ready, *options = row.split()
        ready_date = date.fromisoformat(ready)
        sample.build_plan.append(Airframe(serial, AIRFRAME, ready_date, " ".join(options)))
    sample.processes.extend(PROCESSES)
    for row in CLOSED.strip().splitlines():
        day, _, reason = row.partition(" ")
        sample.calendar.append(ClosedDay(date.fromisoformat(day), reason))


def add_fleet(sample: Sample, random: Random) -> None:
    """Add sixty delivered aircraft, from the first one in 2024 on."""
    delivered = date(2024, 9, 20)
    for number in range(1, 61):
        chosen = [option for option in OPTIONS if random.random() < 0.36]
        use = random.choice((60, 80, 95, 120, 150, 180, 240, 420))
        years = (START - delivered).days / 365.25
        hours = round(use * years * random.uniform(0.8, 1.15)) + 6
        sample.fleet.append(
            Delivered(
                f"FN-{number:03d}",
                AIRFRAME,
                " ".join(chosen),
                delivered,
                random.choice(BASES),
                hours,
                use,
            )
        )
        delivered += timedelta(days=random.randint(9, 17))
        delivered = min(_workday(delivered), date(2026, 11, 20))


def add_spares(sample: Sample) -> None:
    """Add what the fleet has ordered in good time."""
    for row in SPARES.strip().splitlines():
        order, item, quantity, need, serial, urgency, customer = (
            cell.strip() for cell in row.split("|")
        )
        sample.spares_orders.append(
            SparesOrder(
                order,
                item,
                float(quantity),
                date.fromisoformat(need),
                serial,
                urgency,
                customer,
            )
        )


def _workday(day: date) -> date:
    """The day itself, or the Monday after a weekend."""
    return day + timedelta(days=max(0, 7 - day.weekday()) if day.weekday() > 4 else 0)
