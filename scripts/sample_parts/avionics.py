"""Avionics and the electrical system: radios, harnesses, connectors, wire and lamps."""

from sample_parts.catalogue import add_assemblies, add_prints, add_purchases, add_uses
from sample_parts.model import Replacement, Sample

ASSEMBLIES = """
AV001 | Main wiring harness, tested | wire | 7 | 26 | secondary | FU001 1
AV010* | Wing wiring harness | wire | 3 | 4 | secondary | WG001* 1 offset_days=2
AV020 | Engine wiring harness | wire | 4 | 7 | secondary | PP001 1
AV030 | Power distribution box | wire | 4 | 6 | secondary | AV001 1
"""

PRINTED = """
AV501 | Antenna mount, VHF, internal | PA12 | 37 | none | FU001 1
AV502 | Antenna mount, satellite receiver | ASA | 24 | none | FU001 2
AV503 | Antenna foot, transponder | PA12 | 29 | none | FU001 1
AV504 | Distribution box shell | ABS | 118 | none | AV030 1
AV505 | Distribution box lid | ABS | 74 | none | AV030 1
AV506 | Connector shroud, 25-way | ABS | 12 | none | AV001 4
AV507 | Connector shroud, 9-way | ABS | 7 | none | AV001 6
AV508 | Fuse holder rail | PA12 | 33 | none | AV030 1
AV509 | Servo mount, roll | PA12 | 96 | secondary | WG001R 1 with_option=AUTOPILOT
AV510 | Servo mount, pitch | PA12 | 104 | secondary | FU001 1 with_option=AUTOPILOT
AV511 | Wire lacing board peg | PLA | 3 | tooling | AV001 24 per=order
AV512 | Attitude sensor tray | PA12 | 46 | none | FU001 1
AV513 | Locator beacon tray | PA12 | 78 | secondary | FU001 1
AV514 | Harness fan-out, wing root | PA12 | 16 | none | AV010* 1
AV515 | Splice block, engine harness | PA12 | 20 | none | AV020 2
AV516 | Autopilot junction cover | ABS | 15 | none | AV001 1 with_option=AUTOPILOT
"""

RADIOS = """
AV701 | VHF radio, 760 channels | ORIQ | 1190 | 610 | 40 | CK010 1 | safety_days=5
AV702 | Transponder, mode S | ORIQ | 1640 | 720 | 40 | CK010 1 | safety_days=5
AV703 | Flight display, 10 inch | ORIQ | 2480 | 1350 | 45 | CK010 1 | safety_days=5
AV704 | Map display, 10 inch | ORIQ | 2150 | 1320 | 45 | CK010 1 | safety_days=5
AV705 | Attitude and heading sensor | ORIQ | 980 | 240 | 45 | FU001 1 | safety_days=5
AV706 | Autopilot controller | ORIQ | 860 | 310 | 40 | CK010 1 with_option=AUTOPILOT | safety_days=5
AV707 | Intercom, two places | ORIQ | 285 | 260 | 30 | CK010 1 | safety_days=3
AV708 | Emergency locator beacon, 406 MHz | ORIQ | 740 | 890 | 35 | FU001 1 offset_days=2
+ | safety_days=5
AV709 | Locator beacon remote switch | ORIQ | 62 | 50 | 35 | CK010 1 | safety_days=5
AV710 | Collision-warning receiver | ORIQ | 895 | 270 | 35 | CK010 1 | safety_days=5
AV711 | Antenna, VHF, dipole foil | ORIQ | 78 | 120 | 20 | FU001 1 | safety_days=2
AV712 | Antenna, transponder, blade | ORIQ | 64 | 110 | 20 | FU001 1 | safety_days=2
AV713 | Antenna, satellite receiver | ORIQ | 49 | 90 | 20 | FU001 2 | safety_days=2
AV714 | Antenna, locator beacon, whip | ORIQ | 56 | 100 | 20 | FU001 1 | safety_days=2
AV715 | Magnetometer, remote | ORIQ | 310 | 90 | 45 | WG001L 1 offset_days=2 | safety_days=5
AV716 | Encoder, altitude | ORIQ | 196 | 130 | 30 | CK010 1 | safety_days=3
AV717 | Loudspeaker, cabin, 8 ohm | ORIQ | 18 | 140 | 12 | FU001 1 offset_days=4 | cover_days=15
"""

POWER = """
AV730 | Battery, lithium iron phosphate, 12 V 18 Ah | QUOR | 268 | 2600 | 20 |
+ FENLARK 1 offset_days=8 | safety_days=2
AV731 | Landing light, LED | LICH | 118 | 240 | 20 | WG001* 1 offset_days=4 | cover_days=10
AV732* | Navigation and strobe light | LICH | 162 | 190 | 25 | WG001* 1 offset_days=4
+ | safety_days=2
AV733 | Tail light with strobe | LICH | 96 | 90 | 25 | TL002 1 | safety_days=2
AV734 | Beacon, red, LED | LICH | 88 | 130 | 20 | FU010 1 | cover_days=10
AV735 | Cabin lamp, dimmable | LICH | 24 | 45 | 12 | FU001 2 offset_days=4
+ | cover_days=15 multiple=5
AV736 | Master relay | QUOR | 38 | 240 | 12 | AV030 1 | cover_days=15
AV737 | Circuit breaker, 2 A | QUOR | 14.5 | 22 | 15 | CK010 4 | cover_days=15 multiple=10
AV738 | Circuit breaker, 5 A | QUOR | 14.5 | 22 | 15 | CK010 9 | cover_days=15 multiple=10
AV739 | Circuit breaker, 10 A | QUOR | 14.5 | 24 | 15 | CK010 3 | cover_days=15 multiple=10
AV740 | Circuit breaker, 30 A | QUOR | 19 | 32 | 15 | AV030 2 | cover_days=15 multiple=5
AV741 | Toggle switch, lockable | QUOR | 9.8 | 24 | 12 | CK010 10 | cover_days=15 multiple=10
AV742 | Rocker switch, flap | QUOR | 13 | 28 | 12 | CK050 1 | cover_days=15
AV743 | Blade fuse, 3 A | QUOR | 0.4 | 2 | 8 | AV030 6; KT004 4 | cover_days=20 multiple=50
AV744 | Blade fuse, 10 A | QUOR | 0.4 | 2 | 8 | AV030 4; KT004 4 | cover_days=20 multiple=50
AV745 | Dimmer module, panel light | LICH | 31 | 40 | 15 | CK010 1 | cover_days=15
AV746 | Charging socket, USB, double | QUOR | 22 | 38 | 12 | CK050 1 | cover_days=15
AV747 | Ground power socket | QUOR | 54 | 180 | 20 | FU001 1 | cover_days=10
AV748 | Headset socket pair | QUOR | 11 | 30 | 12 | CK050 2 | cover_days=15 multiple=10
AV751 | Inline fuse holder, sealed | QUOR | 2.6 | 11 | 8 | AV001 4; AV020 2
+ | cover_days=20 multiple=20
AV752 | Diode module, 6 A | QUOR | 7.5 | 14 | 12 | AV030 2 | cover_days=20 multiple=10
AV753 | Hall current sensor, 100 A | QUOR | 21 | 30 | 15 | AV030 1 | cover_days=15
AV749 | Bus bar, copper, 8-way | QUOR | 17 | 90 | 12 | AV030 2 | cover_days=15
AV750 | Earth block, 24-way | QUOR | 29 | 110 | 12 | FU001 1; CK010 1 | cover_days=15
"""

CONNECTORS = """
0098415 | Connector, 9-way, crimp, plug | QUOR | 2.9 | 9 | 10 | AV001 6; CK010 4; AV010* 2; AV020 1
+ | cover_days=15 multiple=50
0098416 | Connector, 9-way, crimp, plug, gold contacts | QUOR | 3.4 | 9 | 12 |
+ | cover_days=15 multiple=50
0098420 | Connector, 9-way, crimp, socket | QUOR | 2.9 | 9 | 10 | AV001 6; CK010 4; AV010* 2
+ | cover_days=15 multiple=50
0098431 | Connector, 25-way, crimp, plug | QUOR | 4.7 | 16 | 10 | AV001 4; CK010 3
+ | cover_days=15 multiple=25
0098432 | Connector, 25-way, crimp, socket | QUOR | 4.7 | 16 | 10 | AV001 4; CK010 3
+ | cover_days=15 multiple=25
AV765 | Crimp contact, plug, 22-24 | QUOR | 0.18 | 0.3 | 8 |
+ AV001 180; CK010 140; AV010* 20; AV020 25
+ | cover_days=20 multiple=500 safety_stock=200
AV766 | Crimp contact, socket, 22-24 | QUOR | 0.18 | 0.3 | 8 | AV001 180; CK010 140; AV010* 20
+ | cover_days=20 multiple=500 safety_stock=200
AV767 | Wing root connector pair, sealed, 12-way | QUOR | 26 | 48 | 20 | AV010* 1; AV001 2
+ | cover_days=15 multiple=5
AV776 | Splice, crimp, sealed, 20-24 | QUOR | 0.35 | 1 | 8 | AV001 30; AV020 12; WG001* 4
+ | cover_days=20 multiple=100
AV777 | Backshell, 25-way, metal | QUOR | 8.2 | 38 | 12 | CK010 3 | cover_days=20 multiple=10
AV768 | Ring terminal, M4, 18-22 | QUOR | 0.09 | 1 | 8 | AV001 60; AV030 20; AV020 24; CK010 30
+ | cover_days=20 multiple=200
AV769 | Ring terminal, M8, 35 mm2 | QUOR | 0.8 | 14 | 8 | AV001 6; AV020 4; AV030 4
+ | cover_days=20 multiple=50
AV770 | Coaxial connector, crimp | QUOR | 5.1 | 12 | 10 | AV001 8; CK010 6
+ | cover_days=15 multiple=10
AV771 | Heat-shrink sleeve, 6 mm | QUOR | 0.9 | 4 | 8 | AV001 650cm; CK010 300cm; AV020 250cm
+ | unit=m cover_days=20 multiple=50
AV772 | Braided sleeve, 12 mm | QUOR | 1.3 | 14 | 8 | AV001 11m; AV020 340cm; AV010* 480cm
+ | unit=m cover_days=20 multiple=50
AV773 | Cable tie, 100 mm, black | QUOR | 0.02 | 0.4 | 6 | AV001 120; CK010 90; AV020 40; FU001 60
+ | cover_days=20 multiple=1000
AV774 | Lacing cord, waxed | STRO | 0.3 | 0.6 | 8 | AV001 24m; CK010 12m
+ | unit=m cover_days=20 multiple=100
AV775 | Wire mark sleeve, printed | PLAK | 0.05 | 0.1 | 8 | AV001 160; CK010 110; AV020 40
+ | cover_days=20 multiple=500
"""

WIRE = """
AV780 | Wire, 22 gauge, white | STRO | 0.42 | 4.2 | 10 |
+ AV001 160m; CK010 75m; AV010* 24m; AV020 18m
+ | safety_stock=200 multiple=305
AV781 | Wire, 20 gauge, white | STRO | 0.56 | 6.4 | 10 | AV001 70m; CK010 30m; AV010* 12m; AV020 16m
+ | safety_stock=100 multiple=305
AV782 | Wire, 18 gauge, white | STRO | 0.78 | 9.3 | 10 | AV001 28m; AV030 6m; AV010* 8m; AV020 9m
+ | multiple=150
AV783 | Wire, 12 gauge, red | STRO | 2.1 | 34 | 10 | AV001 6m; AV030 250cm | multiple=50
AV784 | Wire, 2 gauge, welding type | STRO | 7.4 | 330 | 10 | AV001 240cm; AV020 140cm | multiple=25
AV785 | Shielded pair, 22 gauge | STRO | 1.9 | 14 | 12 | AV001 36m; CK010 14m | multiple=150
AV786 | Shielded four-core, 22 gauge | STRO | 3.1 | 26 | 12 | AV001 9m with_option=AUTOPILOT
+ AV001 5m | multiple=100
AV787 | Coaxial cable, double-shielded | STRO | 3.6 | 38 | 12 | AV001 16m | multiple=100
AV788 | Data cable, twisted, 120 ohm | STRO | 2.4 | 19 | 12 | AV001 8m; CK010 350cm;
+ WG001R 5m with_option=AUTOPILOT | multiple=100
"""

USES = """
MA310 | CK010 1ml waste=0.1
0098415 | AV001 1 with_option=AUTOPILOT note=servo+plug
"""


def add_avionics(sample: Sample) -> None:
    """Add avionics and wiring, and the connector that takes the place of an older one."""
    add_assemblies(sample, ASSEMBLIES)
    add_prints(sample, PRINTED)
    add_purchases(sample, RADIOS)
    add_purchases(sample, POWER)
    add_purchases(sample, CONNECTORS)
    add_purchases(sample, WIRE, cover_days=15, unit="m")
    add_uses(sample, USES)
    sample.replacements.append(
        Replacement("0098415", "0098416", "gold contacts after corrosion in the wing root")
    )
