"""The wings with spars, control surfaces and tanks."""

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
WG001* | Wing, painted and rigged | paint | 6 | 19 | primary | FENLARK 1 offset_days=3
WG010* | Wing, bonded | bond | 4 | 24+2 | primary | WG001* 1
WG020* | Main spar, bonded | bond | 3 | 9+1 | primary | WG010* 1
WG021* | Aileron, bonded | bond | 2 | 3.5+0.5 | primary | WG001* 1
WG022* | Flap, bonded | bond | 2 | 4+0.5 | primary | WG001* 1
WG030* | Main tank, 45 l, pressure-tested | test | 3 | 3.5+0.5 | secondary | WG010* 1
WG031* | Long-range tank, 25 l, pressure-tested | test | 3 | 3+0.5 | secondary |
"""

LAMINATES = """
WG101* | Wing skin, upper | skin+kit | 4.4 | primary | WG010* 1
WG102* | Wing skin, lower | skin+kit | 4.3 | primary | WG010* 1 offset_days=2
WG103* | Wing root rib | bulkhead | 0.26 | primary | WG010* 1
WG104* | Wing rib 2 | rib | 0.21 | primary | WG010* 1
WG105* | Wing rib 3 | rib | 0.18 | primary | WG010* 1
WG106* | Wing rib 4 | rib | 0.15 | primary | WG010* 1
WG107* | Wing end rib | rib | 0.09 | primary | WG010* 1
WG108* | Rear spar | web | 0.58 | primary | WG010* 1
WG109* | Leading-edge stiffener | beam | 0.30 | secondary | WG010* 1
WG110* | Aileron hinge rib, inboard | rib | 0.06 | primary | WG010* 1
WG111* | Aileron hinge rib, outboard | rib | 0.05 | primary | WG010* 1
WG112* | Flap hinge rib, inboard | rib | 0.07 | primary | WG010* 1
WG113* | Flap hinge rib, outboard | rib | 0.06 | primary | WG010* 1
WG118* | Lift pin box | doubler | 0.07 | primary | WG010* 1
WG120* | Spar cap, upper | cap | 0.36 | primary | WG020* 1
WG121* | Spar cap, lower | cap | 0.34 | primary | WG020* 1
WG122* | Shear web, front | web | 0.70 | primary | WG020* 1
WG123* | Shear web, rear | web | 0.70 | primary | WG020* 1
WG124* | Spar root overwrap | doubler | 0.26 | primary | WG020* 1
WG130* | Aileron skin, upper | skin+kit | 0.46 | primary | WG021* 1
WG131* | Aileron skin, lower | skin+kit | 0.46 | primary | WG021* 1
WG132* | Aileron spar | beam | 0.14 | primary | WG021* 1
WG133* | Aileron end rib, inboard | rib | 0.02 | primary | WG021* 1
WG134* | Aileron end rib, outboard | rib | 0.02 | primary | WG021* 1
WG135* | Aileron balance horn | frame | 0.05 | primary | WG021* 1
WG140* | Flap skin, upper | skin+kit | 0.72 | primary | WG022* 1
WG141* | Flap skin, lower | skin+kit | 0.70 | primary | WG022* 1
WG142* | Flap spar | beam | 0.20 | primary | WG022* 1
WG143* | Flap end rib, inboard | rib | 0.03 | primary | WG022* 1
WG144* | Flap end rib, outboard | rib | 0.03 | primary | WG022* 1
WG145* | Flap drive rib | frame | 0.03 | primary | WG022* 1
WG150* | Main tank shell | tank | 0.78 | secondary | WG030* 1
WG151* | Main tank lid | tank | 0.74 | secondary | WG030* 1
WG152* | Main tank baffle | tank | 0.11 | secondary | WG030* 2
WG155* | Long-range tank shell | tank | 0.48 | secondary | WG031* 1
WG156* | Long-range tank lid | tank | 0.45 | secondary | WG031* 1
WG157* | Long-range tank baffle | tank | 0.07 | secondary | WG031* 1
WG160* | Wing tip | fairing | 0.30 | secondary | WG001* 1 offset_days=1
WG162* | Flap hinge fairing | fairing | 0.06 | secondary | WG001* 1 offset_days=4
WG165* | Bell-crank access cover | fairing | 0.04 | secondary | WG001* 1 offset_days=4
WG168* | Long-range tank filler recess | fairing | 0.04 | secondary |
"""

MACHINED = """
WG450* | Main wing pin | steel | 1.10kg | 430 | 1.4 | primary | FENLARK 1 offset_days=3
WG451* | Spar root bush | steel | 0.40kg | 150 | 0.8 | primary | WG020* 2
WG452* | Lift pin | steel | 0.35kg | 130 | 0.7 | primary | WG010* 2
WG453* | Aileron hinge bracket | alu | 0.28kg | 75 | 0.9 | primary | WG010* 2
WG454* | Flap hinge bracket | alu | 0.42kg | 130 | 1.0 | primary | WG010* 3
WG455* | Aileron control horn | alu | 0.30kg | 85 | 0.8 | primary | WG021* 1
WG456* | Flap drive horn | alu | 0.32kg | 95 | 0.8 | primary | WG022* 1
WG457* | Aileron bell crank | alu | 0.45kg | 140 | 1.1 | primary | WG010* 1
WG458* | Aileron push rod, wing | tube | 3.1m | 860 | 0.8 | primary | WG001* 1
WG459* | Flap torque tube | tube | 1.2m | 350 | 0.9 | primary | FU001 1
WG460* | Aileron mass balance | steel | 0.55kg | 380 | 0.5 | primary | WG021* 1
WG461* | Tie-down screw plate | alu | 0.15kg | 40 | 0.4 | secondary | WG010* 1
"""

PRINTED = """
WG501* | Push-rod fairlead, wing | PA12 | 19 | secondary | WG010* 3
WG502* | Wing harness conduit clip | PA12 | 5 | none | WG010* 12
WG503* | Navigation light base | ASA | 34 | none | WG001* 1 offset_days=4
WG504* | Landing light bezel | ASA | 46 | none | WG001* 1 offset_days=4
WG505* | Tank vent nozzle | PA12 | 9 | secondary | WG030* 1
WG506* | Fuel sender cover | PA12 | 24 | secondary | WG030* 1
WG508* | Wing root harness plug holder | PA12 | 17 | none | WG001* 1 offset_days=4
WG510* | Long-range pump cradle | PA12 | 41 | secondary | WG031* 1
WG511 | Pitot mast sleeve | ASA | 21 | none | WG001L 1 offset_days=4
WG591* | Drill jig, flap hinges | PETG | 260 | tooling | WG010* 1 per=order
WG592* | Bonding stop, spar root | PLA | 150 | tooling | WG020* 2 per=order
"""

BOUGHT = """
WG701 | Fuel filler cap, lockable | TESS | 42 | 140 | 15 | WG010* 1
+ WG010* 1 with_option=LONGRANGE | cover_days=15
WG702 | Fuel level sender, capacitive | TESS | 88 | 120 | 25 | WG030* 1; WG031* 1 | cover_days=15
WG703 | Tank finger strainer | FELL | 14 | 35 | 10 | WG030* 1; WG031* 1 | cover_days=15 multiple=5
WG704 | Tank drain valve | FELL | 9.5 | 22 | 10 | WG030* 1; WG031* 1; KT004 2
+ | cover_days=15 multiple=5
WG705 | Transfer pump, long-range tank | FELL | 112 | 310 | 30 | WG031* 1 | safety_days=3
WG706 | Transfer valve, check type | FELL | 24 | 60 | 15 | WG031* 1 | cover_days=15
WG707 | Spherical plain bearing, 8 mm | MEES | 7.8 | 14 | 10 | WG457* 2; WG453* 1; UC452 1
+ TL452* 1 | cover_days=15 multiple=10 safety_stock=10
WG708 | Ball bearing, 10 x 26 mm | MEES | 5.2 | 19 | 10 | WG454* 1; CK451 2; TL451 1
+ | cover_days=15 multiple=10 safety_stock=10
WG709 | Rod end, M8, female | MEES | 11.6 | 42 | 12 | WG458* 1; FU001 6; CK030 4
+ | cover_days=15 multiple=10 safety_stock=8 structure_class=primary
WG710 | Rod end, M6, male | MEES | 9.3 | 26 | 12 | WG458* 1; FU001 4; TL001 2; CK030 2; UC002 2
+ | cover_days=15 multiple=10 safety_stock=8
WG711 | Flap actuator, 12 V, with position sensor | TESS | 238 | 1450 | 35 | FU001 1 | safety_days=5
WG712 | Tie-down ring, wing, folding | HARR | 8.4 | 55 | 8 | WG001* 1 offset_days=4 | cover_days=20
WG713 | Pitot and static mast, heated | TESS | 164 | 260 | 30 | WG001L 1 offset_days=4
+ | safety_days=3
WG714 | Stall warning switch, vane | TESS | 57 | 60 | 20 | WG001L 1 offset_days=4 |
WG715 | Autopilot servo, roll | ORIQ | 690 | 620 | 40 | WG001R 1 with_option=AUTOPILOT
+ | safety_days=5
WG716 | Autopilot servo linkage, roll | ORIQ | 74 | 90 | 40 | WG001R 1 with_option=AUTOPILOT |
WG717 | Gap seal tape, 22 mm | RUBB | 1.1 | 6 | 6 | WG001* 560cm waste=0.08 offset_days=4 | unit=m
WG718 | Fuel line elbow, bulkhead, 8 mm | FELL | 8.8 | 28 | 10 | WG030* 2; WG031* 2; PP001 1
+ | cover_days=15 multiple=10
"""

PASTE = """
WG031* | WG010* 1 with_option=LONGRANGE offset_days=1
WG168* | WG010* 1 with_option=LONGRANGE
MA304 | WG010* 1.4kg waste=0.15; WG020* 520g waste=0.15; WG021* 160g waste=0.15
+ WG022* 210g waste=0.15
MA305 | WG010* 180g waste=0.1; WG021* 30g waste=0.1; WG022* 40g waste=0.1
MA306 | WG010* 140g waste=0.1; WG020* 60g waste=0.1
MA301 | WG020* 520g waste=0.15; WG010* 300g waste=0.2
MA302 | WG020* 145g waste=0.15; WG010* 84g waste=0.2
MA101 | WG010* 1.4m2 waste=0.18 note=tapes+over+bond+lines
MA307 | WG030* 260g waste=0.1; WG031* 170g waste=0.1
MA308 | WG030* 320g waste=0.15; WG031* 210g waste=0.15
MA321 | WG001* 1.3l waste=0.2
MA322 | WG001* 1.5l waste=0.2
MA323 | WG001* 120ml waste=0.25
MA324 | WG001* 850ml waste=0.2
MA325 | WG001* 0.7l waste=0.1; WG001* 500ml per=order note=rinsing+the+gun
MA326 | WG001* 420g waste=0.2
MA310 | WG001* 3ml waste=0.1
"""


def add_wing(sample: Sample) -> None:
    """Add both wings: assemblies, laminated, machined, printed and bought parts."""
    add_assemblies(sample, ASSEMBLIES)
    add_laminates(sample, LAMINATES)
    add_machined(sample, MACHINED)
    add_prints(sample, PRINTED)
    add_purchases(sample, BOUGHT)
    add_uses(sample, PASTE)
