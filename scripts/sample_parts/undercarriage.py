"""The undercarriage, with standard or tundra wheels, and its brakes."""

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
UC001 | Main undercarriage, with brakes | assemble | 5 | 9 | primary | FENLARK 1 offset_days=1
UC002 | Nose undercarriage | assemble | 5 | 6 | primary | FENLARK 1 offset_days=1
UC011* | Main wheel, 6.00-6, with brake | assemble | 3 | 1.6 | primary |
+ UC001 1 without_option=TUNDRA
UC012* | Main wheel, tundra, with brake | assemble | 3 | 1.8 | primary |
+ UC001 1 with_option=TUNDRA
UC013 | Nose wheel, 5.00-5 | assemble | 3 | 0.9 | primary | UC002 1 without_option=TUNDRA
UC014 | Nose wheel, tundra | assemble | 3 | 1.0 | primary | UC002 1 with_option=TUNDRA
UC020 | Nose fork with damper | assemble | 4 | 3.2 | primary | UC002 1
"""

LAMINATES = """
UC101* | Main gear leg | leg | 0.23 | primary | UC001 1
UC102* | Main wheel fairing, front half | fairing | 0.32 | secondary |
+ UC001 1 without_option=TUNDRA offset_days=3
UC103* | Main wheel fairing, rear half | fairing | 0.30 | secondary |
+ UC001 1 without_option=TUNDRA offset_days=3
UC104* | Nose wheel fairing half | fairing | 0.26 | secondary |
+ UC002 1 without_option=TUNDRA offset_days=3
UC105* | Gear-leg fairing | fairing | 0.18 | secondary | UC001 1 offset_days=3
UC106 | Nose mudguard, tundra | fairing | 0.20 | secondary |
+ UC002 1 with_option=TUNDRA offset_days=3
"""

MACHINED = """
UC450* | Axle stub | steel | 1.90kg | 680 | 1.8 | primary | UC001 1
UC451* | Gear-leg clamp plate | alu | 0.80kg | 260 | 1.2 | primary | UC001 2
UC452 | Nose fork, welded and finished | steel | 3.10kg | 1380 | 3.5 | primary | UC020 1
UC453 | Nose-leg tube | steel | 2.40kg | 1080 | 2.2 | primary | UC020 1
UC454 | Nose axle | steel | 0.70kg | 290 | 0.8 | primary | UC002 1
UC455* | Steering rod | tube | 0.62m | 210 | 0.6 | primary | UC002 1
UC456* | Brake torque plate | alu | 0.42kg | 150 | 0.9 | primary | UC001 1
UC457* | Tundra fork spacer | alu | 0.22kg | 80 | 0.5 | primary | UC002 1 with_option=TUNDRA
"""

PRINTED = """
UC501* | Wheel fairing bracket, outer | PA12 | 52 | secondary | UC001 1 without_option=TUNDRA
UC502* | Brake hose clip, gear leg | PA12 | 6 | none | UC001 4
UC503 | Nose fairing bracket | PA12 | 47 | secondary | UC002 2 without_option=TUNDRA
UC504 | Steering gaiter ring | PETG | 33 | none | UC002 1
UC506 | Tundra mudguard stay | PA12 | 58 | secondary | UC002 2 with_option=TUNDRA
UC591* | Drill jig, gear-leg clamp | PETG | 180 | tooling | UC001 1 per=order
"""

BOUGHT = """
UC701 | Main tyre, 6.00-6, 6 ply | WIEL | 92 | 2450 | 15 | UC011* 1; KT003 2 | cover_days=15
UC702 | Main inner tube, 6.00-6 | WIEL | 34 | 720 | 15 | UC011* 1; KT003 2 | cover_days=15
UC703 | Main wheel rim, split, 6 inch | WIEL | 148 | 1020 | 20 | UC011* 1 | safety_days=3
UC704 | Tundra tyre, 8.00-6 | WIEL | 131 | 4800 | 20 | UC012* 1 | safety_days=3
UC705 | Tundra inner tube, 8.00-6 | WIEL | 41 | 980 | 20 | UC012* 1 | safety_days=3
UC706 | Tundra wheel rim, split, wide | WIEL | 176 | 1600 | 25 | UC012* 1 | safety_days=3
UC707 | Brake disc, 160 mm | WIEL | 47 | 590 | 15 | UC011* 1; UC012* 1; KT003 2 | cover_days=10
UC708 | Brake calliper, twin piston | WIEL | 118 | 560 | 20 | UC011* 1; UC012* 1 | safety_days=3
UC709 | Brake pad pair | WIEL | 19 | 90 | 10 | UC011* 1; UC012* 1; KT003 4
+ | cover_days=15 multiple=10
UC710 | Wheel bearing, taper | MEES | 14 | 110 | 10 | UC011* 2; UC012* 2; UC013 2; UC014 2; KT002 2
+ | cover_days=15 multiple=10 safety_stock=10
UC711 | Wheel bearing seal | RUBB | 2.4 | 8 | 8 | UC011* 2; UC012* 2; UC013 2; UC014 2; KT002 2
+ | cover_days=15 multiple=20
UC712 | Nose tyre, 5.00-5, 6 ply | WIEL | 78 | 1900 | 15 | UC013 1 | cover_days=15
UC713 | Nose inner tube, 5.00-5 | WIEL | 29 | 560 | 15 | UC013 1 | cover_days=15
UC714 | Nose wheel rim, 5 inch | WIEL | 109 | 900 | 20 | UC013 1 | safety_days=3
UC715 | Tundra nose tyre, 6.00-6 | WIEL | 92 | 3100 | 20 | UC014 1 | safety_days=3
UC716 | Tundra nose rim, 6 inch | WIEL | 124 | 1150 | 25 | UC014 1 | safety_days=3
UC717 | Damper element, elastomer, nose leg | RUBB | 12 | 75 | 12 | UC020 4; KT002 4
+ | cover_days=15 multiple=20
UC718 | Shimmy damper, friction ring set | RUBB | 26 | 130 | 12 | UC020 1; KT002 1 | cover_days=15
UC719 | Steering gaiter | RUBB | 15 | 120 | 12 | UC002 1; KT002 1 | cover_days=15
UC720 | Brake master cylinder | WIEL | 84 | 390 | 20 | CK030 2 | safety_days=3
UC721 | Brake fluid reservoir | WIEL | 17 | 90 | 10 | FU001 1 | cover_days=20
UC722 | Parking brake valve | WIEL | 66 | 210 | 20 | FU001 1 | safety_days=2
UC723 | Brake hose, braided, gear leg, 1.6 m | FELL | 27 | 180 | 10 | UC001 2 ; KT003 2
+ | cover_days=15
UC724 | Brake line, nylon, 6 mm | FELL | 1.9 | 24 | 8 | FU001 560cm waste=0.08 | unit=m multiple=25
UC725 | Brake fluid, mineral | FELL | 14 | 870 | 6 | FU001 0.4l waste=0.1; KT003 0.5l
+ | unit=l multiple=1 cover_days=20
UC726 | Wheel bearing grease | HARR | 18 | 900 | 6 | UC011* 15g; UC012* 15g; UC013 12g; UC014 12g
+ | unit=kg multiple=0.5 cover_days=20
"""

PASTE = """
MA321 | UC001 180ml waste=0.2 offset_days=2; UC002 90ml waste=0.2 offset_days=2
MA322 | UC001 260ml waste=0.2 offset_days=2; UC002 130ml waste=0.2 offset_days=2
MA324 | UC001 120ml waste=0.2 offset_days=2; UC002 60ml waste=0.2 offset_days=2
MA310 | UC001 3ml waste=0.1; UC002 2ml waste=0.1
"""


def add_undercarriage(sample: Sample) -> None:
    """Add the undercarriage: assemblies, laminated, machined, printed and bought parts."""
    add_assemblies(sample, ASSEMBLIES)
    add_laminates(sample, LAMINATES)
    add_machined(sample, MACHINED)
    add_prints(sample, PRINTED)
    add_purchases(sample, BOUGHT)
    add_uses(sample, PASTE)
