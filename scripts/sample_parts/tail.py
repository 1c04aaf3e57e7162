"""The tailplane with elevators and trim, and the rudder."""

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
TL001 | Tailplane and elevator, painted and rigged | paint | 5 | 11 | primary |
+ FENLARK 1 offset_days=4
TL002 | Rudder, painted | paint | 4 | 3.5 | primary | FENLARK 1 offset_days=5
TL010 | Tailplane, bonded | bond | 3 | 9+1 | primary | TL001 1
TL020* | Elevator, bonded | bond | 2 | 3+0.5 | primary | TL001 1
TL030 | Rudder, bonded | bond | 2 | 4+0.5 | primary | TL002 1
"""

LAMINATES = """
TL101 | Tailplane skin, upper | skin+kit | 1.05 | primary | TL010 1
TL102 | Tailplane skin, lower | skin+kit | 1.05 | primary | TL010 1
TL103 | Tailplane spar, front | web | 0.24 | primary | TL010 1
TL104 | Tailplane spar, rear | web | 0.26 | primary | TL010 1
TL105* | Tailplane root rib | rib | 0.05 | primary | TL010 1
TL106* | Tailplane end rib | rib | 0.03 | primary | TL010 1
TL107 | Tailplane mount overwrap | doubler | 0.07 | primary | TL010 2
TL110* | Elevator skin, upper | skin | 0.27 | primary | TL020* 1
TL111* | Elevator skin, lower | skin | 0.27 | primary | TL020* 1
TL112* | Elevator spar | beam | 0.09 | primary | TL020* 1
TL113* | Elevator end rib | rib | 0.02 | primary | TL020* 2
TL115 | Trim tab | frame | 0.08 | primary | TL001 1
TL120* | Rudder skin | skin | 0.42 | primary | TL030 1
TL121 | Rudder spar | beam | 0.12 | primary | TL030 1
TL122 | Rudder rib, lower | rib | 0.04 | primary | TL030 1
TL123 | Rudder rib, upper | rib | 0.02 | primary | TL030 1
TL124 | Rudder balance horn | frame | 0.05 | primary | TL030 1
TL130* | Tailplane tip | fairing | 0.06 | secondary | TL001 1
TL131 | Tailplane gap fairing | fairing | 0.12 | secondary | FENLARK 1 offset_days=9
"""

MACHINED = """
TL450 | Tailplane mounting bolt bush | steel | 0.14kg | 45 | 0.4 | primary | TL010 4
TL451 | Elevator hinge bracket | alu | 0.26kg | 70 | 0.8 | primary | TL010 4
TL452* | Elevator control horn | alu | 0.34kg | 105 | 0.9 | primary | TL020* 1
TL453 | Rudder hinge bracket | alu | 0.24kg | 65 | 0.8 | primary | FU020 3
TL454 | Rudder horn with cable lugs | alu | 0.38kg | 120 | 1.0 | primary | TL030 1
TL455 | Rudder mass balance | steel | 0.50kg | 330 | 0.5 | primary | TL030 1
TL456* | Elevator mass balance | steel | 0.55kg | 360 | 0.5 | primary | TL020* 1
TL457 | Trim tab hinge pin | rod | 48cm | 45 | 0.2 | primary | TL001 1
TL458 | Elevator push rod, front | tube | 2.4m | 690 | 0.7 | primary | FU001 1
TL459 | Elevator push rod, rear | tube | 2.1m | 610 | 0.7 | primary | FU001 1
TL460 | Trim horn, from airframe FN-072 on | alu | 0.12kg | 30 | 0.5 | primary |
+ TL001 1 from_serial=FN-072
"""

PRINTED = """
TL501 | Trim actuator bracket | PA12 | 36 | secondary | TL001 1 to_serial=FN-071
TL502 | Trim actuator bracket, raised | PA12 | 41 | secondary | TL001 1 from_serial=FN-072
TL504 | Rudder stop buffer | PA12 | 12 | secondary | TL002 2
TL505 | Tail light base | ASA | 27 | none | TL002 1
TL506 | Trim cable fairlead | PA12 | 9 | secondary | TL001 2
TL591 | Drill jig, elevator hinges | PETG | 210 | tooling | TL010 1 per=order
TL592 | Throw gauge, elevator and rudder | PLA | 64 | tooling | TL001 1 per=order
"""

BOUGHT = """
TL701 | Trim actuator, slow, 12 V | TESS | 126 | 140 | 30 | TL001 1 to_serial=FN-071 | safety_days=3
TL702 | Trim actuator, with position output | TESS | 149 | 150 | 30 | TL001 1 from_serial=FN-072
+ | safety_days=3
TL703 | Rudder cable, 3.2 mm, with thimbles, 4.6 m | CORD | 38 | 310 | 12 | FU001 2; KT005 2
+ | cover_days=15
TL704 | Turnbuckle, 3.2 mm | CORD | 16 | 62 | 12 | FU001 2; KT005 2 | cover_days=15 multiple=5
TL705 | Cable pulley, 45 mm, with bearing | CORD | 13 | 40 | 12 | FU001 4
+ | cover_days=15 multiple=5
TL706 | Hinge profile, trim tab, 2 m length | IRON | 19 | 240 | 10 | TL001 0.3m waste=0.05
+ | unit=m multiple=2 cover_days=20
TL707 | Autopilot servo, pitch | ORIQ | 690 | 620 | 40 | FU001 1 with_option=AUTOPILOT
+ | safety_days=5
TL708 | Autopilot servo linkage, pitch | ORIQ | 74 | 90 | 40 | FU001 1 with_option=AUTOPILOT |
TL709 | Bonding strap, 120 mm | CORD | 1.6 | 9 | 8 | WG001* 3; TL001 2; TL002 1; PP001 2
+ | cover_days=15 multiple=20
"""

PASTE = """
MA304 | TL010 620g waste=0.15; TL020* 110g waste=0.15; TL030 160g waste=0.15
MA305 | TL010 60g waste=0.1; TL020* 15g waste=0.1; TL030 20g waste=0.1
MA301 | TL010 120g waste=0.2
MA302 | TL010 34g waste=0.2
MA321 | TL001 500ml waste=0.2; TL002 160ml waste=0.2
MA322 | TL001 550ml waste=0.2; TL002 180ml waste=0.2
MA323 | TL002 60ml waste=0.25
MA324 | TL001 320ml waste=0.2; TL002 110ml waste=0.2
MA325 | TL001 400ml per=order note=rinsing+the+gun; TL002 300ml per=order note=rinsing+the+gun
MA326 | TL001 150g waste=0.2; TL002 50g waste=0.2
"""


def add_tail(sample: Sample) -> None:
    """Add the tail: assemblies, laminated, machined, printed and bought parts."""
    add_assemblies(sample, ASSEMBLIES)
    add_laminates(sample, LAMINATES)
    add_machined(sample, MACHINED)
    add_prints(sample, PRINTED)
    add_purchases(sample, BOUGHT)
    add_uses(sample, PASTE)
