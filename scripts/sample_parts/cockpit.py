"""The cockpit: instrument panel, flight controls, pedals and consoles."""

from sample_parts.catalogue import (
    add_assemblies,
    add_laminates,
    add_machined,
    add_prints,
    add_purchases,
    add_uses,
)
from sample_parts.model import Sample

ASSEMBLIES = """
CK001 | Instrument panel, bench-tested | test | 2 | 4 | secondary | FENLARK 1 offset_days=5
CK010 | Instrument panel, wired | wire | 6 | 14 | secondary | CK001 1
CK020 | Instrument panel blank, cut and painted | paint | 3 | 2.5+0.5 | secondary | CK010 1
CK030 | Rudder pedal set, adjustable | assemble | 3 | 5 | primary | FU001 1
CK040 | Control stick set, coupled | assemble | 3 | 4.5 | primary | FU001 1
CK050 | Throttle and centre console | assemble | 3 | 3 | secondary | FENLARK 1 offset_days=6
"""

LAMINATES = """
CK101 | Instrument panel blank | frame | 0.26 | secondary | CK020 1
CK102 | Panel hood frame | fairing | 0.18 | secondary | CK010 1
CK103* | Panel side pod | fairing | 0.08 | none | CK010 1
CK104 | Centre console shell | fairing | 0.34 | none | CK050 1
"""

MACHINED = """
CK450 | Stick torque tube | steel | 1.50kg | 620 | 1.6 | primary | CK040 1
CK451 | Stick pivot block | alu | 0.60kg | 190 | 1.2 | primary | CK040 2
CK452* | Stick tube | tube | 0.55m | 160 | 0.6 | primary | CK040 1
CK453 | Elevator idler bell crank | alu | 0.55kg | 170 | 1.1 | primary | FU001 1
CK454 | Pedal torque tube | tube | 0.62m | 190 | 0.6 | primary | CK030 2
CK455 | Pedal adjuster rail | alu | 0.35kg | 130 | 0.8 | secondary | CK030 2
CK456 | Throttle quadrant plate | alu | 0.50kg | 140 | 1.1 | secondary | CK050 1
CK457 | Radio rack angle | sheet | 0.03m2 | 65 | 0.3 | secondary | CK010 4
"""

PRINTED = """
CK501 | Display bezel, 10 inch | ABS | 84 | none | CK010 2
CK502 | Instrument bezel, 57 mm | ABS | 14 | none | CK010 5
CK503 | Instrument bezel, 80 mm | ABS | 22 | none | CK010 2
CK504 | Switch guard | ABS | 5 | none | CK010 4
CK505 | Switch row plate | ABS | 31 | none | CK010 1
CK506 | Breaker row plate | ABS | 34 | none | CK010 1
CK507 | Knob, cabin heat | ABS | 9 | none | CK010 1
CK509 | Knob, throttle, ball | ABS | 26 | none | CK050 1
CK510 | Autopilot panel blanking plate | ABS | 19 | none | CK010 1 without_option=AUTOPILOT
CK511 | Autopilot controller bezel | ABS | 21 | none | CK010 1 with_option=AUTOPILOT
CK512 | Panel harness comb | PA12 | 8 | none | CK010 8
CK513 | Cooling duct, radio rack | ABS | 68 | none | CK010 1
CK514 | Cup holder insert | PETG | 54 | none | CK050 1
CK515 | Trim indicator housing | ABS | 16 | none | CK050 1
CK516 | Flap lever gate | PA12 | 29 | secondary | CK050 1
CK517* | Stick grip shell | ASA | 61 | none | CK040 2
CK519* | Pedal pad | PA12 | 43 | secondary | CK030 2
CK520 | Pedal cable guide | PA12 | 15 | secondary | CK030 4
CK521 | Tablet mount plate | ABS | 58 | none | CK010 1
CK522 | Microphone and headphone socket plate | ABS | 13 | none | CK050 2
CK523 | Compass pedestal | ABS | 27 | none | FENLARK 1 offset_days=8
CK524 | Fuel selector escutcheon | ABS | 18 | none | FU001 1 offset_days=5
CK591 | Drill jig, panel cut-outs | PLA | 145 | tooling | CK020 1 per=order
CK592 | Stick rigging lock, neutral | PLA | 92 | tooling | CK040 1 per=order
"""

BOUGHT = """
CK701 | Airspeed indicator, 80 mm | TESS | 214 | 330 | 30 | CK010 1 | safety_days=3
CK702 | Altimeter, 80 mm, 20 000 ft | TESS | 298 | 410 | 30 | CK010 1 | safety_days=3
CK703 | Vertical speed indicator, 57 mm | TESS | 176 | 220 | 30 | CK010 1 | safety_days=3
CK704 | Slip ball, 57 mm | TESS | 38 | 60 | 15 | CK010 1 | cover_days=15
CK705 | Magnetic compass, lit | TESS | 92 | 180 | 20 | FENLARK 1 offset_days=8 | safety_days=2
CK706 | Flight hour meter | TESS | 44 | 70 | 15 | CK010 1 | cover_days=10
CK707 | Engine monitor, 57 mm | TESS | 486 | 310 | 35 | CK010 1 | safety_days=5
CK708 | Engine sensor set | TESS | 224 | 480 | 35 | PP001 1 | safety_days=5
CK709 | Pneumatic hose, pitot, 6 mm, blue | TESS | 1.4 | 22 | 8 | WG001L 4.6m; FU001 260cm
+ | unit=m multiple=50 cover_days=20
CK710 | Pneumatic hose, static, 6 mm, clear | TESS | 1.3 | 22 | 8 | WG001L 4.6m; FU001 620cm
+ | unit=m multiple=50 cover_days=20
CK711 | Pneumatic T-piece, 6 mm | TESS | 2.1 | 4 | 8 | CK010 4; FU001 3 | multiple=10 cover_days=20
CK712 | Outside air temperature probe | TESS | 29 | 30 | 15 | WG001L 1 offset_days=4 | cover_days=15
CK713 | Push button, stick grip | QUOR | 6.2 | 8 | 10 | CK040 6 | multiple=10 cover_days=15
CK714 | Trim switch, four-way | QUOR | 34 | 22 | 15 | CK040 1 | cover_days=15
CK715 | Stick boot, leather | SEAT | 28 | 90 | 12 | FU001 2 offset_days=4 | cover_days=15
CK716 | Pedal return spring | HARR | 2.7 | 24 | 8 | CK030 4 | multiple=20 cover_days=20
CK717 | Friction disc, throttle | RUBB | 1.8 | 6 | 8 | CK050 4; KT004 2 | multiple=20 cover_days=20
CK718 | Panel shock mount | RUBB | 3.9 | 18 | 10 | CK001 6 | multiple=20 cover_days=20
CK719 | Master and ignition key switch | QUOR | 47 | 130 | 15 | CK010 1 | cover_days=15
CK720 | Tablet holder clamp | SEAT | 33 | 210 | 10 | CK010 1 | cover_days=15
"""

PASTE = """
MA321 | CK020 60ml waste=0.25
MA322 | CK020 80ml waste=0.25
MA324 | CK020 45ml waste=0.25
MA325 | CK020 200ml per=order note=rinsing+the+gun
MA310 | CK030 2ml waste=0.1; CK040 2ml waste=0.1
"""


def add_cockpit(sample: Sample) -> None:
    """Add the cockpit: assemblies, laminated, machined, printed and bought parts."""
    add_assemblies(sample, ASSEMBLIES)
    add_laminates(sample, LAMINATES)
    add_machined(sample, MACHINED)
    add_prints(sample, PRINTED)
    add_purchases(sample, BOUGHT)
    add_uses(sample, PASTE)
