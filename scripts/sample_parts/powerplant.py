"""The engine with mount, fuel, cooling, exhaust, cowlings and propeller."""

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
PP001 | Engine installation, ready to hang | assemble | 6 | 24 | secondary | FENLARK 1 offset_days=5
PP010 | Cowling, fitted pair, painted | paint | 4 | 6.5 | secondary | FENLARK 1 offset_days=8
PP020 | Propeller with spinner, balanced | assemble | 2 | 2.2 | primary | FENLARK 1 offset_days=9
PP030 | Oil cooling set, pressure-tested | test | 2 | 1.5 | secondary | PP001 1
PP040 | Fuel pump panel, tested | test | 3 | 2.5 | secondary | FU001 1
"""

LAMINATES = """
PP101 | Cowling, upper | cowl | 0.92 | secondary | PP010 1
PP102 | Cowling, lower | cowl | 1.15 | secondary | PP010 1
PP103 | Oil door | fairing | 0.05 | secondary | PP010 1
PP104 | Ram-air duct | duct | 0.16 | secondary | PP001 1
PP105* | Cylinder cooling duct | duct | 0.22 | secondary | PP001 1
PP106 | Cooling plenum | fairing | 0.34 | secondary | PP001 1
PP107 | Radiator duct | fairing | 0.30 | secondary | PP001 1
PP108 | Air box | fairing | 0.26 | secondary | PP001 1
PP109 | Oil cooler duct | duct | 0.12 | secondary | PP030 1
"""

MACHINED = """
PP450 | Radiator bracket | sheet | 0.05m2 | 110 | 0.5 | secondary | PP001 2
PP451 | Oil tank bracket | sheet | 0.06m2 | 150 | 0.6 | secondary | PP001 1
PP452 | Throttle cable bracket | sheet | 0.02m2 | 40 | 0.4 | secondary | PP001 2
PP453 | Oil cooler bracket, old cooler | sheet | 0.04m2 | 90 | 0.5 | secondary |
+ PP001 1 to_serial=FN-069
PP454 | Oil cooler bracket, large cooler | sheet | 0.05m2 | 110 | 0.5 | secondary |
+ PP001 1 from_serial=FN-070
PP455 | Exhaust heat shield | sheet | 0.11m2 | 260 | 0.7 | secondary | PP001 2
PP456 | Propeller spacer, 40 mm | alu | 1.60kg | 520 | 1.6 | primary | PP020 1
PP457 | Pump mounting plate | sheet | 0.05m2 | 130 | 0.4 | secondary | PP040 1
"""

PRINTED = """
PP501 | Ignition lead comb | PA12 | 8 | none | PP001 4
PP502 | Coolant hose clip saddle | PA12 | 11 | none | PP001 6
PP503 | Fuel pump cradle | PA12 | 54 | secondary | PP040 1
PP504 | Cowling air outlet grille | ASA | 76 | none | PP010 2
PP505 | Oil door latch housing | ASA | 13 | none | PP010 1
PP506 | Air filter retainer ring | PA12 | 44 | secondary | PP001 1
PP507 | Firewall grommet plate | PA12 | 26 | secondary | PP001 2
PP508 | Regulator cooling shroud | ABS | 92 | none | PP001 1
PP509 | Air-box drain elbow | ABS | 14 | none | PP001 1
PP510 | Carburettor drip-tray nozzle | PA12 | 10 | secondary | PP001 2
PP511 | Inlet duct adapter | ABS | 64 | none | PP001 2
PP591 | Drill jig, cowling fasteners | PETG | 330 | tooling | PP010 1 per=order
"""

BOUGHT = """
0031006 | Four-cylinder engine, 100 hp class | KEST | 16850 | 59800 | 60 | PP001 1 | safety_days=5
PP702 | Engine mount, welded, powder-coated | PIJP | 540 | 3300 | 30 | PP001 1
+ | safety_days=5 structure_class=primary
PP703 | Engine mount rubber set | RUBB | 58 | 640 | 12 | PP001 1; KT004 1 | cover_days=15
PP704 | Exhaust manifold set, stainless | PIJP | 495 | 3300 | 30 | PP001 1 | safety_days=5
PP705 | Muffler with heater jacket | PIJP | 365 | 2300 | 30 | PP001 1 | safety_days=5
PP706 | Exhaust spring, 60 mm | PIJP | 3.2 | 18 | 10 | PP001 8; KT004 8 | multiple=50 cover_days=20
PP707 | Coolant radiator | KEST | 188 | 1450 | 25 | PP001 1 | safety_days=3
PP731 | Oil cooler, 9 rows | KEST | 142 | 980 | 25 | PP001 1 to_serial=FN-069 | safety_days=3
PP732 | Oil cooler, 13 rows | KEST | 169 | 1240 | 25 | PP001 1 from_serial=FN-070 | safety_days=3
PP709 | Oil tank with dipstick | KEST | 128 | 1100 | 25 | PP001 1 | safety_days=3
PP710 | Oil filter | KEST | 17 | 310 | 8 | PP001 1; KT004 1 | cover_days=15 safety_stock=6
PP711 | Air filter, conical | KEST | 44 | 420 | 8 | PP001 1; KT004 1 | cover_days=15 safety_stock=3
PP712 | Spark plug | KEST | 4.6 | 34 | 8 | KT004 8 | multiple=10 cover_days=20
PP713 | Expansion bottle, coolant | KEST | 23 | 160 | 10 | PP001 1 | cover_days=15
PP714 | Overflow bottle, coolant | KEST | 9 | 80 | 10 | PP001 1 | cover_days=20
PP715 | Thermostat valve, oil | KEST | 74 | 260 | 20 | PP030 1 | cover_days=10
PP716 | Coolant hose, formed, set | KEST | 86 | 650 | 20 | PP001 1 | safety_days=2
PP717 | Oil hose, braided, 12 mm | FELL | 19 | 420 | 10 | PP030 180cm waste=0.08
+ | unit=m multiple=10
PP718 | Hose end, straight, 12 mm | FELL | 11 | 55 | 10 | PP030 4 | cover_days=15 multiple=10
PP719 | Hose end, 90 degrees, 12 mm | FELL | 16 | 70 | 10 | PP030 2 | cover_days=15 multiple=10
PP720 | Fuel hose, fire-sleeved, 8 mm | FELL | 14 | 240 | 10 | PP001 210cm waste=0.08
+ FU001 340cm waste=0.08; PP040 45cm waste=0.08; KT004 60cm | unit=m multiple=20 cover_days=15
PP721 | Fuel hose clip, 14 mm | FELL | 0.8 | 9 | 8 | PP001 12; FU001 10; PP040 6; KT004 4
+ | multiple=100 cover_days=15
PP722 | Fuel filter, cleanable | FELL | 32 | 110 | 12 | PP040 1; KT004 1 | cover_days=15
PP723 | Fuel pump, electric, 12 V | FELL | 68 | 340 | 20 | PP040 1 | cover_days=10 safety_days=2
PP724 | Fuel selector valve, left and right | FELL | 97 | 380 | 25 |
+ FU001 1 without_option=LONGRANGE | safety_days=3
PP725 | Fuel selector valve, four-way | FELL | 134 | 450 | 25 | FU001 1 with_option=LONGRANGE
+ | safety_days=3
PP726 | Fuel flow sender | TESS | 118 | 140 | 30 | PP001 1 with_option=LONGRANGE+AUTOPILOT |
PP727 | Fuel pressure sender | TESS | 46 | 60 | 20 | PP040 1 | cover_days=10
PP728 | Throttle cable, 1.9 m | CORD | 31 | 190 | 12 | PP001 2 | cover_days=15
PP729 | Choke cable, 1.9 m | CORD | 27 | 170 | 12 | PP001 1 | cover_days=15
PP730 | Heater valve with flap | FELL | 52 | 310 | 15 | PP001 1 | cover_days=10
PP733 | Air duct hose, 50 mm | FELL | 8.5 | 160 | 8 | PP001 130cm waste=0.1; FU001 240cm waste=0.1
+ | unit=m multiple=10 cover_days=15
PP734 | Voltage regulator | KEST | 136 | 330 | 20 | PP001 1 | safety_days=2
PP735 | Starter relay | KEST | 24 | 140 | 15 | PP001 1 | cover_days=15
PP736 | Slipper clutch service shim set | KEST | 29 | 40 | 15 | KT004 1 | cover_days=20
0029310 | Propeller, three-blade, ground-adjustable | LUCH | 2280 | 8700 | 40 | PP020 1
+ | safety_days=5
PP738 | Spinner, 260 mm, with back plate | LUCH | 310 | 980 | 30 | PP020 1
+ | safety_days=3 minimum=2
PP739 | Propeller bolt set, drilled, M8 | LUCH | 64 | 420 | 20 | PP020 1 | cover_days=10
PP740 | Leading-edge protection tape | LUCH | 12 | 25 | 10 | PP020 2.4m waste=0.05
+ | unit=m multiple=10 cover_days=20
PP741 | Cowling quick-release fastener | HARR | 4.4 | 11 | 10 | PP010 28; KT004 6
+ | multiple=50 cover_days=15
PP742 | Engine oil, four-stroke | HARR | 13 | | 6 | FENLARK 3.2l offset_days=9; KT004 3l
+ | unit=l multiple=20 cover_days=15
PP743 | Coolant, ready-mixed | HARR | 6 | | 6 | FENLARK 2.5l offset_days=9
+ | unit=l multiple=20 cover_days=15
PP744 | Fire sleeve, 25 mm | FELL | 11 | 130 | 10 | PP001 160cm waste=0.1
+ | unit=m multiple=15 cover_days=20
"""

PASTE = """
MA321 | PP010 350ml waste=0.2
MA322 | PP010 420ml waste=0.2
MA323 | PP010 90ml waste=0.25
MA324 | PP010 240ml waste=0.2
MA326 | PP010 110g waste=0.2
MA310 | PP001 6ml waste=0.1; PP020 2ml waste=0.1
"""


def add_powerplant(sample: Sample) -> None:
    """Add the engine installation: assemblies, laminated, machined, printed and bought parts."""
    add_assemblies(sample, ASSEMBLIES)
    add_laminates(sample, LAMINATES)
    add_machined(sample, MACHINED)
    add_prints(sample, PRINTED)
    add_purchases(sample, BOUGHT)
    add_uses(sample, PASTE)
