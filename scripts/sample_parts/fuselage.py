"""The fuselage with its doors, fin and interior."""

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
FU001 | Fuselage, equipped | assemble | 8 | 46 | primary | FENLARK 1
FU010 | Fuselage, painted | paint | 4 | 22 | primary | FU001 1
FU020 | Fuselage shell with fin, bonded | bond | 4 | 34+2 | primary | FU010 1
FU030* | Door, bonded | bond | 3 | 4.5+1 | secondary | FU010 1
"""

SHELL = """
FU101* | Fuselage half shell | shell | 4.5 | primary | FU020 1
FU102 | Firewall bulkhead | bulkhead | 0.55 | primary | FU020 1
FU103 | Instrument bulkhead frame | frame | 0.28 | primary | FU020 1
FU104 | Carry-through bulkhead, front | bulkhead | 0.58 | primary | FU020 1
FU105 | Carry-through bulkhead, rear | bulkhead | 0.58 | primary | FU020 1
FU106 | Seat-back bulkhead | rib | 0.66 | primary | FU020 1
FU107 | Baggage bulkhead | rib | 0.55 | secondary | FU020 1
FU108 | Tail frame, station 1 | frame | 0.24 | primary | FU020 1
FU109 | Tail frame, station 2 | frame | 0.18 | primary | FU020 1
FU110 | Tail frame, station 3 | frame | 0.12 | primary | FU020 1
FU111 | Fin post frame | frame | 0.25 | primary | FU020 1
FU112* | Longeron, upper | beam | 0.36 | primary | FU020 1
FU113* | Longeron, lower | beam | 0.40 | primary | FU020 1
FU114 | Keel channel | beam | 0.55 | primary | FU020 1
FU115* | Door sill beam | beam | 0.42 | primary | FU020 1
FU116* | Gear-leg pocket | frame | 0.32 | primary | FU020 1
FU117 | Nose-leg box | frame | 0.34 | primary | FU020 1
FU118* | Wing root rib, fuselage side | bulkhead | 0.40 | primary | FU020 1
FU119 | Roll-over arch | beam | 0.48 | primary | FU020 1
FU120* | Windscreen pillar channel | beam | 0.16 | primary | FU020 1
FU121 | Cabin roof beam | beam | 0.24 | primary | FU020 1
FU122 | Parachute box | frame | 0.46 | primary | FU020 1
FU123 | Parachute box lid, frangible | fairing | 0.13 | secondary | FU010 1
FU124* | Harness anchor doubler | doubler | 0.05 | primary | FU020 2
FU125* | Bridle channel, parachute | fairing | 0.20 | secondary | FU020 1
FU126 | Shell joint strip, upper | beam | 0.28 | primary | FU020 1
FU127 | Shell joint strip, lower | beam | 0.30 | primary | FU020 1
FU129 | Tail cone closing plate | rib | 0.08 | secondary | FU020 1
FU130 | Ventral fin | fairing | 0.36 | secondary | FU010 1
FU131* | Tailplane mounting rib | frame | 0.10 | primary | FU020 1
FU132 | Fin spar, front | web | 0.22 | primary | FU020 1
FU133 | Fin spar, rear | web | 0.24 | primary | FU020 1
FU134 | Fin rib, lower | rib | 0.08 | primary | FU020 1
FU135 | Fin rib, upper | rib | 0.05 | primary | FU020 1
FU136 | Fin tip | fairing | 0.09 | secondary | FU010 1
FU151* | Door skin, outer | skin | 0.62 | secondary | FU030* 1
FU152* | Door frame, inner | frame | 0.24 | secondary | FU030* 1
FU153* | Door latch pocket | fairing | 0.06 | secondary | FU030* 1
FU150* | Door opening frame | beam | 0.34 | primary | FU020 1
"""

INTERIOR = """
FU140* | Seat shell | seat | 0.62 | secondary | FU001 1 offset_days=4
FU141* | Seat-back shell | seat | 0.55 | secondary | FU001 1 offset_days=4
FU142* | Cabin floor panel | panel | 0.46 | secondary | FU001 1 offset_days=3
FU143 | Centre tunnel cover | panel | 0.62 | none | FU001 1 offset_days=4
FU144 | Baggage floor | panel+kit | 0.95 | secondary | FU001 1 offset_days=3
FU145* | Baggage side lining | duct | 0.45 | none | FU001 1 offset_days=4
FU146* | Cabin side lining | duct | 0.55 | none | FU001 1 offset_days=4
FU148 | Glare shield | fairing | 0.42 | none | FENLARK 1 offset_days=6
FU149 | Roof lining | duct | 0.70 | none | FU001 1 offset_days=4
FU156* | Cabin air duct | duct | 0.20 | none | FU001 1
FU157* | Screen demisting duct | duct | 0.14 | none | FU001 1
FU159 | Battery tray | frame | 0.11 | secondary | FU001 1
FU161* | Wing root fairing, upper | fairing | 0.28 | secondary | FENLARK 1 offset_days=9
FU162* | Wing root fairing, lower | fairing | 0.25 | secondary | FENLARK 1 offset_days=9
FU165 | Tail inspection cover | fairing | 0.07 | secondary | FENLARK 1 offset_days=10
FU167 | Belly fairing | fairing | 0.44 | secondary | FENLARK 1 offset_days=10
FU169* | Heel plate | fairing | 0.09 | none | FU001 1 offset_days=4
FU170 | Avionics tray | rib | 0.16 | secondary | FU001 1
"""

MACHINED = """
FU450* | Wing pin bush, main, fuselage side | steel | 0.42kg | 160 | 0.8 | primary | FU020 2
FU451* | Drag pin bush, fuselage side | steel | 0.18kg | 60 | 0.5 | primary | FU020 1
FU452* | Harness anchor plate | steel | 0.30kg | 110 | 0.6 | primary | FU020 2
FU453 | Parachute bridle shackle plate | steel | 0.36kg | 140 | 0.7 | primary | FU020 2
FU454* | Door hinge arm | alu | 0.36kg | 120 | 1.1 | secondary | FU030* 2
FU455* | Door latch bolt | steel | 0.12kg | 45 | 0.4 | secondary | FU030* 2
FU456* | Seat rail | alu | 0.75kg | 330 | 1.2 | secondary | FU001 2 offset_days=3
FU457 | Nose-leg bearing plate | alu | 0.90kg | 320 | 1.3 | primary | FU020 2
FU458* | Rudder pedal arm | alu | 0.40kg | 150 | 1.0 | primary | CK030 2
FU459 | Firewall sheet, fire side | sheet | 0.5m2 | 900 | 1.4 | secondary | FU020 1
"""

PRINTED = """
FU501 | Rudder cable guide, tail | PA12 | 14 | secondary | FU001 4
FU502 | Elevator push-rod fairlead | PA12 | 22 | secondary | FU001 3
FU503 | Harness clip, 12 mm | PA12 | 4 | none | FU001 26
FU504 | Harness clip, 20 mm | PA12 | 7 | none | FU001 14
FU505 | Cabin air outlet, eyeball | ASA | 48 | none | FU001 4 offset_days=4
FU506 | Demisting nozzle | ASA | 62 | none | FU001 2
FU507* | Door handle, inner | ASA | 85 | none | FU030* 1
FU508* | Door latch guide | PA12 | 18 | secondary | FU030* 2
FU510 | Fresh-air intake scoop | ASA | 72 | none | FU010 2
FU511 | Battery strap guide | PETG | 12 | none | FU001 2
FU512 | Headset hook | ASA | 11 | none | FU001 2 offset_days=4
FU513* | Map pocket frame | ASA | 66 | none | FU001 1 offset_days=4
FU514 | Fire extinguisher cradle | PA12 | 88 | secondary | FU001 1 offset_days=4
FU515 | Beacon base, fin tip | ASA | 38 | none | FU010 1
FU517 | Static port housing | ASA | 8 | none | FU010 2
FU518 | Locator beacon antenna mount | PA12 | 31 | none | FU001 1
FU519 | Seat rail end stop | PA12 | 10 | secondary | FU001 4 offset_days=3
FU520 | Lining clip | PETG | 3 | none | FU001 40 offset_days=4
FU591 | Drill jig, carry-through bushes | PETG | 410 | tooling | FU020 1 per=order
FU592 | Drill jig, door hinges | PETG | 230 | tooling | FU030L 1 per=order
FU593 | Drill jig, tailplane mount | PETG | 190 | tooling | FU020 1 per=order
FU594 | Locating stop, seat rails | PLA | 120 | tooling | FU001 2 per=order
"""

BOUGHT = """
0047123 | Windscreen, blown acrylic, 4 mm | HELD | 410 | 2700 | 25 | FU010 1
+ | safety_days=5 minimum=2
FU702* | Door window, acrylic, 3 mm | HELD | 118 | 950 | 25 | FU030* 1 | safety_days=5
FU703* | Rear side window, acrylic, 3 mm | HELD | 74 | 420 | 25 | FU010 1
+ | safety_days=5 minimum=4
FU704 | Roof window, tinted, 3 mm | HELD | 96 | 700 | 25 | FU010 1 | safety_days=5
FU705 | Door seal, hollow profile | RUBB | 4.20 | 110 | 8 | FU030* 310cm waste=0.05; KT001 7m
+ KT004 2m | unit=m cover_days=15 multiple=25
FU706 | Gas strut, 150 N | RUBB | 17 | 190 | 10 | FU030* 1; KT001 2 | cover_days=15 multiple=2
FU707 | Door lock cylinder, two keys | HARR | 21 | 70 | 10 | FU030* 1 | cover_days=15
FU708* | Seat cushion and back cover | SEAT | 265 | 1550 | 20 | FU001 1 offset_days=4
+ | safety_days=3
FU709* | Four-point harness | SEAT | 148 | 1350 | 20 | FU001 1 offset_days=5 | safety_days=3
FU710 | Cabin carpet set | SEAT | 132 | 1350 | 15 | FU001 1 offset_days=5 |
FU711 | Lining fabric | SEAT | 14 | 190 | 10 | FU001 5.5m2 waste=0.2 offset_days=3
+ | unit=m2 multiple=20
FU712 | Baggage net | SEAT | 23 | 240 | 10 | FU001 1 offset_days=5 | cover_days=15
FU713 | Sound-damping mat, 8 mm | SEAT | 19 | 450 | 10 | FU001 1.6m2 waste=0.15 | unit=m2 multiple=5
FU714 | Fire extinguisher, 1 kg | HARR | 58 | 1650 | 10 | FU001 1 offset_days=5 | cover_days=15
FU715 | First-aid pouch | HARR | 16 | 310 | 6 | FENLARK 1 offset_days=12 | cover_days=15
"""

RESCUE = """
0008850 | Rescue parachute, rocket-deployed | BRIN | 3450 | 10400 | 45 | FENLARK 1 offset_days=7 |
FU717 | Parachute bridle set, aramid | BRIN | 290 | 1400 | 45 | FU001 1 offset_days=2 |
FU718 | Activation handle with cable, 2.4 m | BRIN | 145 | 420 | 45 | FU001 1 offset_days=2 |
FU719 | Safety pin with streamer | BRIN | 9 | 20 | 15 | FENLARK 1 offset_days=10 | cover_days=20
FU720 | Ceramic felt, firewall, 3 mm | RUBB | 31 | 900 | 12 | FU020 0.55m2 waste=0.15 | unit=m2
FU721 | Tie-down ring, tail | HARR | 6 | 60 | 8 | FU010 1 | cover_days=20
FU722 | Inspection window, clear, 60 mm | HELD | 3 | 12 | 10 | FENLARK 3 offset_days=10 |
"""

PASTE = """
MA303 | FU020 3.4kg waste=0.15 to_date=2027-01-31 note=old+grade,+used+up+until+January
MA304 | FU020 3.2kg waste=0.15 from_date=2027-02-01 note=toughened+grade; FU030* 260g waste=0.15
MA305 | FU020 600g waste=0.1; FU030* 60g waste=0.1
MA306 | FU020 450g waste=0.1
MA309 | FU001 0.9l waste=0.1 offset_days=3
MA321 | FU010 2.6l waste=0.2
MA322 | FU010 2.9l waste=0.2
MA323 | FU010 350ml waste=0.25
MA324 | FU010 1.7l waste=0.2
MA325 | FU010 1.5l waste=0.1; FU010 1l per=order note=rinsing+the+gun
MA326 | FU010 520g waste=0.2
MA327 | FU020 700ml waste=0.15
MA101 | FU020 3.6m2 waste=0.18 note=joint+wet-up+strips
MA301 | FU020 0.9kg waste=0.2 note=joint+wet-up
MA302 | FU020 250g waste=0.2 note=joint+wet-up
MA401 | FU020 6m2 waste=0.1
MA310 | FU001 8ml waste=0.1
"""


def add_fuselage(sample: Sample) -> None:
    """Add the fuselage: assemblies, laminated, machined, printed and bought parts."""
    add_assemblies(sample, ASSEMBLIES)
    add_laminates(sample, SHELL)
    add_laminates(sample, INTERIOR)
    add_machined(sample, MACHINED)
    add_prints(sample, PRINTED)
    add_purchases(sample, BOUGHT)
    add_purchases(sample, RESCUE)
    add_uses(sample, PASTE)
